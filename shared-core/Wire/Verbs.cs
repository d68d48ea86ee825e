namespace Fourpatch.Core.Wire
{
    /// <summary>
    /// The words of commands and refusals. Fields, not constants: on the board a literal makes a new string object
    /// each time it is met, a field is one object for good.
    /// </summary>
    public static class Verbs
    {
        /// <summary>Who are you. Also understood bare, without number and checksum, in every protocol version.</summary>
        public static readonly string Identify = "identify";

        /// <summary>stream,on or stream,off: whether sample lines are sent.</summary>
        public static readonly string Stream = "stream";

        /// <summary>What flash holds for a cell.</summary>
        public static readonly string Calibration = "calibration";

        /// <summary>Puts a whole calibration of a cell aside until commit.</summary>
        public static readonly string Stage = "stage";

        /// <summary>Puts a new zero of an already calibrated cell aside until commit.</summary>
        public static readonly string Zero = "zero";

        /// <summary>Reads the name of the board (0) or of a cell (1 to 4).</summary>
        public static readonly string Name = "name";

        /// <summary>Puts a new name aside until commit.</summary>
        public static readonly string StageName = "stage-name";

        /// <summary>Forgets what was put aside.</summary>
        public static readonly string Discard = "discard";

        /// <summary>Writes what was put aside to flash, reads it back, and only then holds it.</summary>
        public static readonly string Commit = "commit";

        /// <summary>Argument of stream.</summary>
        public static readonly string On = "on";

        /// <summary>Argument of stream.</summary>
        public static readonly string Off = "off";

        /// <summary>The command was done.</summary>
        public static readonly string Ok = "ok";

        /// <summary>The command was refused; the reason follows.</summary>
        public static readonly string No = "no";

        /// <summary>Refusal: no such command.</summary>
        public static readonly string UnknownCommand = "unknown-command";

        /// <summary>Refusal: an argument is missing, too much, misspelt or out of range.</summary>
        public static readonly string BadArguments = "bad-arguments";

        /// <summary>Refusal: flash is never written while samples are streamed.</summary>
        public static readonly string StreamOn = "stream-on";

        /// <summary>Refusal: the cell has no span.</summary>
        public static readonly string NotCalibrated = "not-calibrated";

        /// <summary>Refusal: the new zero is further from the old one than 4 % of the cell's capacity: something stands on it.</summary>
        public static readonly string Loaded = "loaded";

        /// <summary>Refusal: flash could not be written, or did not read back what was written; the old values still hold.</summary>
        public static readonly string FlashFailed = "flash-failed";
    }
}
