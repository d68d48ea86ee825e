using Fourpatch.Core.Cells;
using Fourpatch.Core.Rig;
using Fourpatch.Core.Wire;
using Fourpatch.Firmware.Amplifiers;

namespace Fourpatch.Firmware
{
    /// <summary>
    /// Four HX711 behind one selector. A look at a cell costs one select-pin write and one SPI transfer, whether its
    /// amplifier lives or not; a result costs one transfer more. Called from one thread only.
    /// </summary>
    public sealed class AmplifierBank : IAmplifierBank
    {
        private const int LastCell = WireFormat.CellCount - 1;

        private readonly ChannelSelector _selector;
        private readonly AmplifierLine _line;
        private readonly IClock _clock;
        private readonly AmplifierChannel[] _channels = new AmplifierChannel[WireFormat.CellCount];

        /// <summary>A bank over its two wires and its selector. Call <see cref="Start"/> once.</summary>
        public AmplifierBank(ChannelSelector selector, AmplifierLine line, IClock clock)
        {
            _selector = selector;
            _line = line;
            _clock = clock;
            for (int i = 0; i < WireFormat.CellCount; i++)
            {
                _channels[i] = new AmplifierChannel();
            }
        }

        /// <summary>Restarts all four amplifiers, so that what they do next is known.</summary>
        public void Start()
        {
            for (int i = 0; i < WireFormat.CellCount; i++)
            {
                Restart(i);
            }
        }

        /// <inheritdoc/>
        public SampleStatus Health(int cellIndex)
        {
            return _channels[cellIndex].Health;
        }

        /// <inheritdoc/>
        public bool TryTake(int cellIndex, Conversion conversion)
        {
            AmplifierChannel channel = _channels[cellIndex];
            _selector.Select(cellIndex);
            long seen = _clock.NowMicroseconds;
            DataLevel level = _line.Look();
            if (level != DataLevel.Low)
            {
                if (level == DataLevel.High)
                {
                    channel.SawHigh(seen);
                }

                if (channel.MissesDeadline(seen))
                {
                    Restart(cellIndex);
                }

                return false;
            }

            if (!channel.MayRead(seen))
            {
                return false;
            }

            bool wasSilent = channel.IsSilent;
            conversion.Status = channel.IsDoubted ? ReadAndCompare(cellIndex, channel, seen) : channel.Enter(_line.Read(), seen, _clock.NowMicroseconds);
            conversion.Counts = _line.Counts;
            conversion.TimeMicroseconds = conversion.Status == SampleStatus.Ok ? channel.Phase.FallMicroseconds : seen;

            // A line that is simply low yields no conversions, so none are counted.
            return !(wasSilent && channel.IsSilent);
        }

        private void Restart(int cellIndex)
        {
            _selector.Select(cellIndex);
            _line.Restart();
            _channels[cellIndex].Restarted(_clock.NowMicroseconds);
        }

        // With a select line stuck, two addresses reach one amplifier, and its load would be shown for two cells. Reading it
        // lifts the data line of both at once, which separate amplifiers never do. Both addresses differ in one select line,
        // so they are neighbours in the Gray sequence. Only at first, because it takes several looks more.
        private SampleStatus ReadAndCompare(int cellIndex, AmplifierChannel channel, long seen)
        {
            int next = cellIndex == LastCell ? 0 : cellIndex + 1;
            int previous = cellIndex == 0 ? LastCell : cellIndex - 1;
            bool nextWasLow = LookAt(next) == DataLevel.Low;
            bool previousWasLow = LookAt(previous) == DataLevel.Low;
            _selector.Select(cellIndex);
            BurstResult result = _line.Read();
            long end = _clock.NowMicroseconds;
            if (result == BurstResult.Good)
            {
                bool isShared = EnterIfShared(next, nextWasLow, end);
                isShared = EnterIfShared(previous, previousWasLow, end) || isShared;
                if (isShared)
                {
                    channel.EnterShared(end);
                    return SampleStatus.Desync;
                }
            }

            return channel.Enter(result, seen, end);
        }

        private bool EnterIfShared(int cellIndex, bool wasLow, long nowMicroseconds)
        {
            // Twice, because an update lifts DOUT for 75 us, less than two looks take.
            if (!wasLow || LookAt(cellIndex) != DataLevel.High || LookAt(cellIndex) != DataLevel.High)
            {
                return false;
            }

            _channels[cellIndex].EnterShared(nowMicroseconds);
            return true;
        }

        private DataLevel LookAt(int cellIndex)
        {
            _selector.Select(cellIndex);
            return _line.Look();
        }
    }
}
