using System.Globalization;
using System.Text;
using CsCheck;
using Fourpatch.Core.Rig;
using Fourpatch.Links;

namespace Fourpatch.Tests.Rig;

/// <summary>
/// Random sequences of commands, faults of flash, unplugging and reboots, against a model of what board, flash and laptop must hold. A
/// sequence that fails is shrunk and printed with its seed; once understood it becomes a test by name.
/// </summary>
public class BoardModelTests
{
    private const int Sequences = 3_000;

    [Fact]
    public void Board_flash_and_laptop_hold_what_a_simple_model_says_after_any_sequence()
        => Gen.Select(Gen.Enum<Deed>(), Gen.Int[1, 4], Gen.Int[0, 999]).List[1, 40].Sample(
            deeds =>
            {
                var bench = new ModelBench();
                foreach ((Deed deed, int cell, int number) in deeds)
                {
                    bench.Do(deed, cell, number);
                }

                return true;
            },
            iter: Environment.GetEnvironmentVariable("PROOF") == "full" ? 100 * Sequences : Sequences,
            print: deeds => string.Join(", ", deeds.Select(deed => $"{deed.Item1}({deed.Item2}, {deed.Item3})")));
}

/// <summary>What can be done to a board.</summary>
internal enum Deed
{
    Stage, Zero, StageCellName, StageBoardName, Discard, Commit, RefusedCommit, SpoiltCommit, StreamOn, StreamOff, Unplug, PlugIn, Run, Hang, Reboot, UncountedReboot, Nonsense,
}

/// <summary>A board and a laptop beside a model of both, which is held to them after every deed.</summary>
internal sealed class ModelBench
{
    private readonly FakeStore _store = new();
    private readonly BoardDecoder _decoder = new();
    private readonly long[] _heard = new long[4];
    private readonly bool[] _isUnplugged = new bool[4];
    private readonly HashSet<uint> _boots = [];
    private TestBoard _board;

    // The model: five names and four calibrations, held, put aside, and in flash.
    private Memory _held = new(), _staged = new(), _flash = new();
    private bool _isStreaming;
    private bool _isFlashUncertain;
    private uint _bootId = 1;
    private uint _countedBoots = 1;
    private int _commands;

    public ModelBench() => _board = Boot();

    public void Do(Deed deed, int cell, int number)
    {
        string calibration = string.Create(CultureInfo.InvariantCulture, $"{number * 16},{(number - 500L) * 1_000_000},{number % 2 * 500_000},20260412,{number},{number},{number},{number},mass {number}");
        switch (deed)
        {
            case Deed.Stage:
                Expect($"stage,{cell},{calibration}", $"ok,stage,{cell},{calibration}");
                _staged.Calibrations[cell - 1] = calibration;
                break;
            case Deed.Zero:
                DoZero(cell, number);
                break;
            case Deed.StageCellName:
                Expect($"stage-name,{cell},n{number}", $"ok,stage-name,{cell},n{number}");
                _staged.Names[cell] = $"n{number}";
                break;
            case Deed.StageBoardName:
                Expect($"stage-name,0,b{number}", $"ok,stage-name,0,b{number}");
                _staged.Names[0] = $"b{number}";
                break;
            case Deed.Discard:
                Expect("discard", "ok,discard");
                _staged = _held.Copy();
                break;
            case Deed.Commit:
                DoCommit(refuses: false, spoils: false);
                break;
            case Deed.RefusedCommit:
                DoCommit(refuses: true, spoils: false);
                break;
            case Deed.SpoiltCommit:
                DoCommit(refuses: false, spoils: true);
                break;
            case Deed.StreamOn or Deed.StreamOff:
                _isStreaming = deed == Deed.StreamOn;
                string word = _isStreaming ? "on" : "off";
                Expect($"stream,{word}", $"ok,stream,{word}");
                break;
            case Deed.Unplug or Deed.PlugIn:
                _isUnplugged[cell - 1] = deed == Deed.Unplug;
                _board.Bank.HealthOf[cell - 1] = _isUnplugged[cell - 1] ? Core.Cells.SampleStatus.NoDevice : Core.Cells.SampleStatus.Ok;
                break;
            case Deed.Run:
                _board.Run(number * 200L);
                break;
            case Deed.Hang:
                _board.Run(1, 30_000 + (number * 100));
                break;
            case Deed.Reboot or Deed.UncountedReboot:
                Reboot(isCounted: deed == Deed.Reboot);
                break;
            case Deed.Nonsense:
                Expect($"calibration,{cell + 4}", "no,bad-arguments");
                Expect($"weigh,{number}", "no,unknown-command");
                break;
        }

        Compare(deed);
    }

    private void DoZero(int cell, int number)
    {
        string[] held = Fields(_held.Calibrations[cell - 1]);
        if (held[1] == "0")
        {
            Expect($"zero,{cell},{number},7", "no,not-calibrated");
            return;
        }

        // 6.25e-14 kg a sixteenth and picokilogram; further than 4 % of the capacity is a load (PROTOCOL.md, section 6).
        double movedKg = Math.Abs((number - Number(held[0])) * (double)Number(held[1]) * 6.25e-14);
        if (held[2] != "0" && movedKg > 0.04 * Number(held[2]) / 1000)
        {
            Expect($"zero,{cell},{number},7", "no,loaded");
            return;
        }

        string[] staged = Fields(_staged.Calibrations[cell - 1]);
        (staged[0], staged[6]) = (number.ToString(CultureInfo.InvariantCulture), "7");
        _staged.Calibrations[cell - 1] = string.Join(',', staged);
        Expect($"zero,{cell},{number},7", $"ok,zero,{cell},{_staged.Calibrations[cell - 1]}");
    }

    private void DoCommit(bool refuses, bool spoils)
    {
        if (_isStreaming)
        {
            Expect("commit", "no,stream-on");
            return;
        }

        bool writes = _held.Commits == 0 || _isFlashUncertain || !_staged.IsSameAs(_held);
        byte[]? before = _store[BoardMemory.CalibrationRecord];
        (_store.RefusesWrites, _store.SpoilsWrites) = (refuses, spoils);
        if (writes && (refuses || spoils))
        {
            // What did not read back is no record: its file's checksum says so, and the one before it is the newest again.
            _isFlashUncertain = true;
            Expect("commit", "no,flash-failed");
            _store[BoardMemory.CalibrationRecord] = before;
        }
        else
        {
            _staged.Commits = writes ? _held.Commits + 1 : _held.Commits;
            _held = _staged.Copy();
            _flash = writes ? _held.Copy() : _flash;
            _isFlashUncertain &= !writes;
            ExpectStart("commit", string.Create(CultureInfo.InvariantCulture, $"ok,commit,{_held.Commits:X8},"));
        }

        (_store.RefusesWrites, _store.SpoilsWrites) = (false, false);
    }

    private void Reboot(bool isCounted)
    {
        Listen();
        _store.RefusesWrites = !isCounted;
        _board = Boot();
        _store.RefusesWrites = false;
        _bootId = _countedBoots + 1;
        _countedBoots = isCounted ? _bootId : _countedBoots;
        (_held, _staged, _isStreaming, _isFlashUncertain) = (_flash.Copy(), _flash.Copy(), false, false);
        for (int i = 0; i < 4; i++)
        {
            _board.Bank.HealthOf[i] = _isUnplugged[i] ? Core.Cells.SampleStatus.NoDevice : Core.Cells.SampleStatus.Ok;
        }
    }

    private TestBoard Boot()
    {
        var board = new TestBoard(_store);
        board.Shake(5);
        _decoder.Restart();
        Array.Clear(_heard);
        return board;
    }

    private void Compare(Deed deed)
    {
        Expect("identify", string.Create(CultureInfo.InvariantCulture, $"ok,identify,fourpatch,1,0.1.0,{_held.Names[0]},{_bootId:X8},power-or-external,{_held.Commits:X8},{_board.Controller.Memory.HeldChecksum:X8}"));
        for (int cell = 0; cell <= 4; cell++)
        {
            Expect($"name,{cell}", $"ok,name,{cell},{_held.Names[cell]}");
            if (cell > 0)
            {
                Expect($"calibration,{cell}", $"ok,calibration,{cell},{_held.Calibrations[cell - 1]}");
            }
        }

        // A commit left nothing half written: another boot on the same flash holds what the model's flash holds.
        var memory = new BoardMemory(new Copied(_store));
        memory.Load();
        Assert.Equal(_flash.Names[0], memory.Held.BoardId.ToString());
        Assert.Equal(_flash.Commits, memory.Held.CommitNumber);
        Assert.Equal(_isStreaming, _board.Controller.IsStreaming);
        Listen();
        for (int i = 0; i < 4; i++)
        {
            Core.Wire.CellCounters books = _board.Controller.Cell(i).Counters;
            Assert.True(books.Delivered == _heard[i], $"{deed}: cell {i + 1}: {books.Delivered} delivered, {_heard[i]} heard");
            Assert.Equal(_board.Bank.Taken[i], books.Read);
            Assert.Equal(0u, books.Unsent + books.Desynced + books.Overlapped + books.Settling);
        }
    }

    private void Listen()
    {
        var items = new List<BoardItem>();
        _decoder.Take(Encoding.Latin1.GetBytes(_board.Port.TakeText()), default, items, _ => { });
        foreach (BoardItem item in items)
        {
            if (item.Kind == BoardItemKind.Sample)
            {
                _heard[item.Sample.Cell - 1]++;
                Assert.False(_isUnplugged[item.Sample.Cell - 1] && item.Sample.Status == Core.Cells.SampleStatus.NoDevice);
            }
            else if (item.Detail is BoardPulse pulse)
            {
                Assert.Equal(_bootId, pulse.BootId);
                _boots.Add(pulse.BootId);
            }
        }

        Assert.Equal(0, _decoder.SkippedLines + _decoder.LostSampleLines);
    }

    private void Expect(string command, string answer) => Assert.Equal(answer, Ask(command));

    private void ExpectStart(string command, string answer) => Assert.StartsWith(answer, Ask(command), StringComparison.Ordinal);

    private string Ask(string command)
    {
        Listen();
        int number = (++_commands % 9999) + 1;
        _board.Port.Give(TestBoard.Frame($"Q,{number},{command}"));
        while (_board.Port.Waiting > 0)
        {
            _board.Clock.NowMicroseconds += 100;
            _board.Controller.Step(_board.Clock.NowMicroseconds);
        }

        string? said = null;
        var items = new List<BoardItem>();
        _decoder.Take(Encoding.Latin1.GetBytes(_board.Port.TakeText()), default, items, answer =>
        {
            Assert.Equal(number, answer.Number);
            said = $"{(answer.IsOk ? "ok" : "no")},{Encoding.ASCII.GetString(answer.Rest)}";
        });
        foreach (BoardItem item in items.Where(item => item.Kind == BoardItemKind.Sample))
        {
            _heard[item.Sample.Cell - 1]++;
        }

        return said ?? "";
    }

    private static string[] Fields(string calibration) => calibration.Split(',');

    private static long Number(string field) => long.Parse(field, CultureInfo.InvariantCulture);

    private sealed class Memory
    {
        public string[] Names { get; private init; } = [BoardMemory.DefaultBoardId, "", "", "", ""];

        public string[] Calibrations { get; private init; } = [.. Enumerable.Repeat("0,0,0,0,0,0,0,0,", 4)];

        public uint Commits { get; set; }

        public Memory Copy() => new() { Names = [.. Names], Calibrations = [.. Calibrations], Commits = Commits };

        public bool IsSameAs(Memory other) => Names.SequenceEqual(other.Names) && Calibrations.SequenceEqual(other.Calibrations);
    }

    /// <summary>Flash to look at; a boot that only looks is not counted.</summary>
    private sealed class Copied(FakeStore store) : IRecordStore
    {
        public int Read(int record, byte[] buffer) => store.Read(record, buffer);

        public bool TryWrite(int record, byte[] buffer, int count) => false;
    }
}
