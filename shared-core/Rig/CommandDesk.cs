using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;

namespace Fourpatch.Core.Rig
{
    /// <summary>
    /// Answers the commands of the host. Every command may be sent again without harm: the second time finds done what
    /// the first one did, and answers the same. Not thread-safe.
    /// </summary>
    public sealed class CommandDesk
    {
        // A zero further off than this share of capacity is a load (common practice, no source).
        private const double LargestZeroMoveOfCapacity = 0.04;

        private const double KgPerGram = 0.001;

        private readonly BoardMemory _memory;
        private readonly Identity _identity = new Identity();
        private readonly FieldReader _fields = new FieldReader();
        private readonly CellCalibration _incoming = new CellCalibration();
        private readonly AsciiText _incomingName = new AsciiText(WireFormat.NameLengthMax);
        private LineWriter _answer;
        private int _number;

        /// <summary>A desk over the board's memory.</summary>
        public CommandDesk(BoardMemory memory, ResetReason resetReason, string firmwareVersion)
        {
            _memory = memory;
            _identity.ProtocolVersion = WireFormat.ProtocolVersion;
            _identity.ResetReason = resetReason;
            _identity.FirmwareVersion.TrySet(firmwareVersion);
        }

        /// <summary>True while the host wants sample lines.</summary>
        public bool IsStreaming { get; private set; }

        /// <summary>Lines from the host that could not be read.</summary>
        public uint BadLines { get; private set; }

        /// <summary>True when the last command wrote to flash.</summary>
        public bool HasWrittenFlash { get; private set; }

        /// <summary>Counts a line that was not even readable.</summary>
        public void CountBadLine()
        {
            BadLines++;
        }

        /// <summary>Does what a line asks and writes the answer.</summary>
        /// <param name="body">The line without checksum.</param>
        /// <param name="length">Its length.</param>
        /// <param name="isPlain">True when it came without a checksum; only the bare identify may.</param>
        /// <param name="answer">Receives the answer.</param>
        /// <returns>False when the line is no command; there is no answer then, and it is counted as bad.</returns>
        public bool TryAnswer(byte[] body, int length, bool isPlain, LineWriter answer)
        {
            _answer = answer;
            HasWrittenFlash = false;
            _fields.Begin(body, length);
            if (isPlain)
            {
                if (_fields.TryWord(Verbs.Identify) && _fields.AtEnd)
                {
                    _number = 0;
                    AnswerIdentify();
                    return true;
                }
            }
            else if (_fields.TryLiteral(WireFormat.CommandKind) && _fields.TryNext()
                && _fields.TryDecimal(1, WireFormat.CommandNumberMax, out _number) && _fields.TryNext())
            {
                Dispatch();
                return true;
            }

            BadLines++;
            return false;
        }

        private void Dispatch()
        {
            if (_fields.TryWord(Verbs.Identify))
            {
                if (EndsHere())
                {
                    AnswerIdentify();
                }
            }
            else if (_fields.TryWord(Verbs.Stream))
            {
                AnswerStream();
            }
            else if (_fields.TryWord(Verbs.Calibration))
            {
                AnswerCalibration();
            }
            else if (_fields.TryWord(Verbs.Stage))
            {
                AnswerStage();
            }
            else if (_fields.TryWord(Verbs.Zero))
            {
                AnswerZero();
            }
            else if (_fields.TryWord(Verbs.Name))
            {
                AnswerName();
            }
            else if (_fields.TryWord(Verbs.StageName))
            {
                AnswerStageName();
            }
            else if (_fields.TryWord(Verbs.Discard))
            {
                if (EndsHere())
                {
                    AnswerDiscard();
                }
            }
            else if (_fields.TryWord(Verbs.Commit))
            {
                if (EndsHere())
                {
                    AnswerCommit();
                }
            }
            else
            {
                Refuse(Verbs.UnknownCommand);
            }
        }

        private bool EndsHere()
        {
            if (_fields.AtEnd)
            {
                return true;
            }

            Refuse(Verbs.BadArguments);
            return false;
        }

        private void AnswerIdentify()
        {
            _identity.BoardId.CopyFrom(_memory.Held.BoardId);
            _identity.BootId = _memory.BootId;
            _identity.CommitNumber = _memory.Held.CommitNumber;
            _identity.CommitChecksum = _memory.HeldChecksum;
            Begin(Verbs.Identify);
            _identity.Write(_answer);
            _answer.End(true);
        }

        private void AnswerStream()
        {
            bool known = _fields.TryNext();
            bool on = known && _fields.TryWord(Verbs.On);
            known = known && (on || _fields.TryWord(Verbs.Off)) && _fields.AtEnd;
            if (!known)
            {
                Refuse(Verbs.BadArguments);
                return;
            }

            IsStreaming = on;
            Begin(Verbs.Stream);
            _answer.Next();
            _answer.AddWord(on ? Verbs.On : Verbs.Off);
            _answer.End(true);
        }

        private void AnswerCalibration()
        {
            if (!TryCell(1, out int cell) || !_fields.AtEnd)
            {
                Refuse(Verbs.BadArguments);
                return;
            }

            AddCalibration(Verbs.Calibration, cell, _memory.Held.Calibration(cell - 1));
        }

        private void AnswerStage()
        {
            if (!TryCell(1, out int cell) || !CalibrationFields.TryRead(_fields, _incoming))
            {
                Refuse(Verbs.BadArguments);
                return;
            }

            CellCalibration staged = _memory.Staged.Calibration(cell - 1);
            staged.CopyFrom(_incoming);
            AddCalibration(Verbs.Stage, cell, staged);
        }

        private void AnswerZero()
        {
            if (!TryCell(1, out int cell) || !_fields.TryNext()
                || !_fields.TryDecimal(-CellCalibration.LargestZeroSixteenths, CellCalibration.LargestZeroSixteenths, out int zeroSixteenths)
                || !_fields.TryNext()
                || !_fields.TryDecimal(0, CellCalibration.LargestZeroUncertaintySixteenths, out int uncertaintySixteenths)
                || !_fields.AtEnd)
            {
                Refuse(Verbs.BadArguments);
                return;
            }

            CellCalibration held = _memory.Held.Calibration(cell - 1);
            if (!held.IsCalibrated)
            {
                Refuse(Verbs.NotCalibrated);
                return;
            }

            if (IsLoaded(held, zeroSixteenths))
            {
                Refuse(Verbs.Loaded);
                return;
            }

            CellCalibration staged = _memory.Staged.Calibration(cell - 1);
            staged.ZeroSixteenths = zeroSixteenths;
            staged.ZeroUncertaintySixteenths = uncertaintySixteenths;
            AddCalibration(Verbs.Zero, cell, staged);
        }

        private static bool IsLoaded(CellCalibration held, int zeroSixteenths)
        {
            double moveKg = held.LoadKgOfSixteenths((long)zeroSixteenths - held.ZeroSixteenths);
            double limitKg = held.CapacityGrams * KgPerGram * LargestZeroMoveOfCapacity;
            return held.CapacityGrams > 0 && (moveKg > limitKg || moveKg < -limitKg);
        }

        private void AnswerName()
        {
            if (!TryCell(0, out int cell) || !_fields.AtEnd)
            {
                Refuse(Verbs.BadArguments);
                return;
            }

            AddName(Verbs.Name, cell, _memory.Held);
        }

        private void AnswerStageName()
        {
            if (!TryCell(0, out int cell) || !_fields.TryNext() || !_fields.TryText(_incomingName) || !_fields.AtEnd
                || (cell == 0 && _incomingName.Length == 0))
            {
                Refuse(Verbs.BadArguments);
                return;
            }

            NameOf(cell, _memory.Staged).CopyFrom(_incomingName);
            AddName(Verbs.StageName, cell, _memory.Staged);
        }

        private void AnswerDiscard()
        {
            _memory.Discard();
            Begin(Verbs.Discard);
            _answer.End(true);
        }

        private void AnswerCommit()
        {
            if (IsStreaming)
            {
                Refuse(Verbs.StreamOn);
                return;
            }

            bool committed = _memory.TryCommit(out bool hasWritten);
            HasWrittenFlash = hasWritten;
            if (!committed)
            {
                Refuse(Verbs.FlashFailed);
                return;
            }

            Begin(Verbs.Commit);
            _answer.Next();
            _answer.AddHex(_memory.Held.CommitNumber, 8);
            _answer.Next();
            _answer.AddHex(_memory.HeldChecksum, 8);
            _answer.End(true);
        }

        private bool TryCell(int lowest, out int cell)
        {
            cell = 0;
            return _fields.TryNext() && _fields.TryDecimal(lowest, WireFormat.CellCount, out cell);
        }

        private static AsciiText NameOf(int cell, BoardRecord record)
        {
            return cell == 0 ? record.BoardId : record.CellName(cell - 1);
        }

        private void AddName(string verb, int cell, BoardRecord record)
        {
            Begin(verb);
            _answer.Next();
            _answer.AddDecimal(cell);
            _answer.Next();
            _answer.AddText(NameOf(cell, record));
            _answer.End(true);
        }

        private void AddCalibration(string verb, int cell, CellCalibration calibration)
        {
            Begin(verb);
            _answer.Next();
            _answer.AddDecimal(cell);
            CalibrationFields.Write(_answer, calibration);
            _answer.End(true);
        }

        private void Begin(string verb)
        {
            BeginAnswer(Verbs.Ok);
            _answer.Next();
            _answer.AddWord(verb);
        }

        private void Refuse(string reason)
        {
            BeginAnswer(Verbs.No);
            _answer.Next();
            _answer.AddWord(reason);
            _answer.End(true);
        }

        private void BeginAnswer(string outcome)
        {
            _answer.Begin(WireFormat.AnswerKind);
            _answer.Next();
            _answer.AddDecimal(_number);
            _answer.Next();
            _answer.AddWord(outcome);
        }
    }
}
