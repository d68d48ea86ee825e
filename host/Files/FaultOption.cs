using System.Globalization;
using Fourpatch.VirtualRig;

namespace Fourpatch.Files;

/// <summary>
/// Reads <c>--fault NAME[:CELL][@SECONDS]</c>. With several boards the cell may carry its board (<c>stuck:B2:3</c>) and a
/// fault of a board just the board (<c>silence:B2</c>).
/// </summary>
public static class FaultOption
{
    private const string Expected = "NAME[:CELL][@SECONDS]";

    public static Result<ScenarioFault> Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var rest = text.Trim();
        var atS = 0.0;
        var at = rest.IndexOf('@', StringComparison.Ordinal);
        if (at >= 0)
        {
            var seconds = rest[(at + 1)..].Trim();
            seconds = seconds.EndsWith('s') ? seconds[..^1] : seconds;
            if (!double.TryParse(seconds, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out atS) || !double.IsFinite(atS))
                return Refuse(text, ErrorCode.Syntax, "write the start in seconds behind @, for example stuck:2@30");
            rest = rest[..at];
        }

        var parts = rest.Split(':');
        if (!Words.TryParse(parts[0], out FaultKind kind))
            return Refuse(text, ErrorCode.UnknownName, Nearest.Remedy(parts[0], Words.All<FaultKind>()));

        var fault = new ScenarioFault { Kind = kind, AtS = atS };
        switch (parts.Length)
        {
            case 1:
                return fault;
            case 2 when fault.StrikesBoard && Names.IsName(parts[1]) && !IsCell(parts[1]):
                return fault with { Board = parts[1] };
            case 2 when !fault.StrikesBoard && IsCell(parts[1]):
                return fault with { Cell = parts[1][0] - '0' };
            case 3 when !fault.StrikesBoard && Names.IsName(parts[1]) && IsCell(parts[2]):
                return fault with { Board = parts[1], Cell = parts[2][0] - '0' };
            default:
                return Refuse(text, ErrorCode.Syntax, fault.StrikesBoard ? $"{parts[0]} strikes the whole board: leave the cell out" : "name a cell from 1 to 4 behind the colon");
        }
    }

    private static bool IsCell(string text) => text.Length == 1 && text[0] is >= '1' and <= '4';

    private static InputError Refuse(string text, ErrorCode code, string remedy) =>
        new(code, $"found {InputError.Quote(text)}", Expected, remedy) { Field = "--fault" };
}
