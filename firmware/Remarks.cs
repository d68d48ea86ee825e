using Fourpatch.Core.Arithmetic;
using Fourpatch.Core.Rig;
using Fourpatch.Core.Wire;
using Fourpatch.Firmware.Amplifiers;

namespace Fourpatch.Firmware
{
    /// <summary>
    /// Lines of kind # for a person at a serial terminal, sent once at boot; a program skips them. One tells of the last
    /// restart by the supervisor, one what the board's calls cost, measured on the spot: the figures that every
    /// statement about reading four amplifiers in time rests on.
    /// </summary>
    public sealed class Remarks
    {
        private const char Kind = '#';
        private const int Repeats = 32;
        private const int LoopTurns = 1000;

        // What the loop below compiles to, per turn.
        private const int InstructionsPerTurn = 11;

        private readonly IBytePort _port;
        private readonly IClock _clock;
        private readonly LineWriter _writer = new LineWriter();
        private readonly byte[] _lineEnd = new byte[] { (byte)'\r', (byte)'\n' };

        /// <summary>Remarks over a port.</summary>
        public Remarks(IBytePort port, IClock clock)
        {
            _port = port;
            _clock = clock;
        }

        /// <summary>#,restarted,reason,uptime-ms: what the supervisor noted before this boot.</summary>
        public void TellOfRestart(int reason, uint uptimeMilliseconds)
        {
            _writer.Begin(Kind);
            _writer.Next();
            _writer.AddWord("restarted");
            Add("reason", reason);
            Add("uptime-ms", uptimeMilliseconds);
            Send();
        }

        /// <summary>#,timing,...: microseconds per pin write, SPI look and serial write, nanoseconds per instruction.</summary>
        public void TellTiming(ChannelSelector selector, AmplifierLine line)
        {
            long start = _clock.NowMicroseconds;
            for (int i = 0; i < Repeats; i++)
            {
                selector.Rewrite();
            }

            long afterPins = _clock.NowMicroseconds;
            for (int i = 0; i < Repeats; i++)
            {
                line.Look();
            }

            long afterLooks = _clock.NowMicroseconds;
            for (int i = 0; i < Repeats; i++)
            {
                _port.TryWrite(_lineEnd, 0, _lineEnd.Length);
            }

            long afterWrites = _clock.NowMicroseconds;
            int sum = Loop();
            long afterLoop = _clock.NowMicroseconds;

            _writer.Begin(Kind);
            _writer.Next();
            _writer.AddWord("timing");
            Add("pin-us", (afterPins - start) / Repeats);
            Add("spi-us", (afterLooks - afterPins) / Repeats);
            Add("serial-us", (afterWrites - afterLooks) / Repeats);
            Quotient.TryDivideRounded((afterLoop - afterWrites) * 1000, LoopTurns * InstructionsPerTurn, out long instructionNanoseconds);
            Add("instruction-ns", instructionNanoseconds);

            // The sum goes out too, so that no compiler may find the loop useless.
            Add("check", sum);
            Send();
        }

        private static int Loop()
        {
            int sum = 0;
            for (int i = 0; i < LoopTurns; i++)
            {
                sum += i;
            }

            return sum;
        }

        private void Add(string name, long value)
        {
            _writer.Next();
            _writer.AddWord(name);
            _writer.Next();
            _writer.AddDecimal(value);
        }

        private void Send()
        {
            if (_writer.End(true))
            {
                _port.TryWrite(_writer.Buffer, 0, _writer.Length);
            }
        }
    }
}
