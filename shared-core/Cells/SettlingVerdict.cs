namespace Fourpatch.Core.Cells
{
    /// <summary>What a window of samples says about a load.</summary>
    public enum SettlingVerdict : byte
    {
        /// <summary>Too few samples, a window not yet filled, or a hole in it: nothing can be said.</summary>
        TooFew = 0,

        /// <summary>Shown to move by no more than allowed.</summary>
        Settled = 1,

        /// <summary>Moving, or not yet shown to be steady: waiting may help.</summary>
        Moving = 2,

        /// <summary>The noise is too large for the allowance: waiting does not help, a longer window or a quieter place does.</summary>
        TooNoisy = 3,
    }
}
