using Fourpatch.Core.Cells;

namespace Fourpatch.Core.Wire
{
    /// <summary>The fixed numbers of the wire. PROTOCOL.md beside this file is the normative text.</summary>
    public static class WireFormat
    {
        /// <summary>Version of the protocol; in the identify answer.</summary>
        public const int ProtocolVersion = 1;

        /// <summary>Cells of one board.</summary>
        public const int CellCount = 4;

        /// <summary>Longest line in bytes, line end included, in both directions.</summary>
        public const int LineBytesMax = 160;

        /// <summary>Hexadecimal digits of the checksum.</summary>
        public const int ChecksumDigits = 8;

        /// <summary>Speed of the serial line.</summary>
        public const int BitsPerSecond = 115200;

        /// <summary>Microseconds per step of a conversion's time offset in a sample line.</summary>
        public const int OffsetStepMicroseconds = 4;

        /// <summary>Largest time offset in a sample line: three hexadecimal digits.</summary>
        public const int OffsetStepsMax = 0xFFF;

        /// <summary>Shortest time from one sample line to the next: no more than 100 leave in a second.</summary>
        public const int SampleLineSpacingMicroseconds = 10000;

        /// <summary>Longest name of a board or cell.</summary>
        public const int NameLengthMax = 12;

        /// <summary>Largest command number; 0 belongs to the bare identify.</summary>
        public const int CommandNumberMax = 9999;

        /// <summary>Kinds of line.</summary>
        public const char SampleKind = 'S';

        /// <summary>Heartbeat.</summary>
        public const char HeartbeatKind = 'H';

        /// <summary>Counters of one cell.</summary>
        public const char CountersKind = 'C';

        /// <summary>Loads for a person with a bare terminal.</summary>
        public const char LoadsKind = 'L';

        /// <summary>A stretch in which the amplifiers were not read, with its reason.</summary>
        public const char GapKind = 'G';

        /// <summary>Answer to a command.</summary>
        public const char AnswerKind = 'A';

        /// <summary>Command of the host.</summary>
        public const char CommandKind = 'Q';

        /// <summary>The letter of a status on the wire; '?' for a value that is none.</summary>
        public static char LetterOf(SampleStatus status)
        {
            switch (status)
            {
                case SampleStatus.Ok: return 'k';
                case SampleStatus.Settling: return 's';
                case SampleStatus.SaturatedHigh: return 'h';
                case SampleStatus.SaturatedLow: return 'l';
                case SampleStatus.NoDevice: return 'n';
                case SampleStatus.Desync: return 'd';
                case SampleStatus.ClockStretched: return 'c';
                case SampleStatus.Overlapped: return 'o';
                case SampleStatus.Stuck: return 'u';
                default: return '?';
            }
        }

        /// <summary>The status a letter stands for.</summary>
        /// <returns>False for a letter that stands for none.</returns>
        public static bool TryStatusOf(int letter, out SampleStatus status)
        {
            switch (letter)
            {
                case 'k': status = SampleStatus.Ok; return true;
                case 's': status = SampleStatus.Settling; return true;
                case 'h': status = SampleStatus.SaturatedHigh; return true;
                case 'l': status = SampleStatus.SaturatedLow; return true;
                case 'n': status = SampleStatus.NoDevice; return true;
                case 'd': status = SampleStatus.Desync; return true;
                case 'c': status = SampleStatus.ClockStretched; return true;
                case 'o': status = SampleStatus.Overlapped; return true;
                case 'u': status = SampleStatus.Stuck; return true;
                default: status = SampleStatus.NoDevice; return false;
            }
        }
    }
}
