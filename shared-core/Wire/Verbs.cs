namespace Fourpatch.Core.Wire
{
    /// <summary>The words of commands and refusals.</summary>
    public static class Verbs
    {
        /// <summary>Who are you. Also understood bare, without number and checksum, in every protocol version.</summary>
        public const string Identify = "identify";

        /// <summary>stream,on or stream,off: whether sample lines are sent.</summary>
        public const string Stream = "stream";

        /// <summary>What flash holds for a cell.</summary>
        public const string Calibration = "calibration";

        /// <summary>Puts a whole calibration of a cell aside until commit.</summary>
        public const string Stage = "stage";

        /// <summary>Puts a new zero of an already calibrated cell aside until commit.</summary>
        public const string Zero = "zero";

        /// <summary>Reads the name of the board (0) or of a cell (1 to 4).</summary>
        public const string Name = "name";

        /// <summary>Puts a new name aside until commit.</summary>
        public const string StageName = "stage-name";

        /// <summary>Forgets what was put aside.</summary>
        public const string Discard = "discard";

        /// <summary>Writes what was put aside to flash, reads it back, and only then holds it.</summary>
        public const string Commit = "commit";

        /// <summary>Argument of stream.</summary>
        public const string On = "on";

        /// <summary>Argument of stream.</summary>
        public const string Off = "off";

        /// <summary>The command was done.</summary>
        public const string Ok = "ok";

        /// <summary>The command was refused; the reason follows.</summary>
        public const string No = "no";

        /// <summary>Refusal: no such command.</summary>
        public const string UnknownCommand = "unknown-command";

        /// <summary>Refusal: an argument is missing, too much, misspelt or out of range.</summary>
        public const string BadArguments = "bad-arguments";

        /// <summary>Refusal: flash is never written while samples are streamed.</summary>
        public const string StreamOn = "stream-on";

        /// <summary>Refusal: the cell has no span.</summary>
        public const string NotCalibrated = "not-calibrated";

        /// <summary>Refusal: the new zero is further from the old one than 4 % of the cell's capacity: something stands on it.</summary>
        public const string Loaded = "loaded";

        /// <summary>Refusal: flash could not be written, or did not read back what was written; the old values still hold.</summary>
        public const string FlashFailed = "flash-failed";
    }
}
