using Fourpatch.Core.Cells;

namespace Fourpatch.Calibrating;

/// <summary>The short name under which a board keeps what a cell was calibrated with; cells with the same name share its error.</summary>
public static class ReferenceName
{
    /// <summary>A name the board can hold: characters it cannot become a dash, what is too long is cut.</summary>
    public static string From(string text)
    {
        var allowed = text.Trim().Select(c => AsciiText.IsAllowed(c) ? c : '-').Take(CellCalibration.ReferenceCapacity).ToArray();
        return new string(allowed).TrimEnd();
    }
}
