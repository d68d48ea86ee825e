using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A weighing as a person reads it in a terminal.</summary>
public static class WeighingText
{
    /// <summary>Every answer ends with this.</summary>
    public const string NotForTrade = "A garage measurement, not a legal-for-trade weight.";

    /// <summary>Writes it.</summary>
    /// <param name="output">Where to.</param>
    /// <param name="result">The weighing.</param>
    /// <param name="unit">For masses.</param>
    /// <param name="width">Columns of the screen.</param>
    /// <param name="more">Writes what was asked for besides, before the last line.</param>
    public static void Write(TextWriter output, WeighingResult result, MassUnit unit, int width, Action<TextWriter>? more = null)
    {
        var figures = new Figures(unit);
        WriteWrapped(output, result.Vehicle.Name, width);
        output.WriteLine();
        output.Write(PlanViewText.Of(result, figures, width));
        WriteLargestCause(output, result, width);
        if (result.Raised is { } raised)
        {
            RaisedText.WriteTelling(output, raised, figures, width);
        }

        WriteReasons(output, result, width);
        more?.Invoke(output);
        output.WriteLine();
        WriteWrapped(output, NotForTrade, width);
    }

    /// <summary>Writes what is to be said about a result; nothing when there is nothing.</summary>
    public static void WriteReasons(TextWriter output, WeighingResult result, int width) => WriteReasons(output, result.Reasons, result.IsAcceptable, width);

    /// <summary>The same of any other answer.</summary>
    public static void WriteReasons(TextWriter output, IReadOnlyList<Reason> reasons, bool isAcceptable, int width)
    {
        if (reasons.Count == 0)
        {
            return;
        }

        // What a refusal rests on stands under its head; where no reason forbids by itself, all of them together did.
        Reason[] against = isAcceptable ? [] : [.. reasons.Where(reason => Acceptance.Forbids(reason.Code))];
        if (!isAcceptable)
        {
            WriteList("NOT ACCEPTABLE:", against.Length > 0 ? against : reasons);
        }

        if (isAcceptable || (against.Length > 0 && against.Length < reasons.Count))
        {
            WriteList("To know:", [.. reasons.Except(against)]);
        }

        void WriteList(string head, IReadOnlyList<Reason> list)
        {
            output.WriteLine();
            output.WriteLine(head);
            foreach (IGrouping<string, Reason> alike in list.GroupBy(AfterCorner))
            {
                string corners = alike.First().Text.Length == alike.Key.Length ? "" : string.Join(", ", alike.Select(reason => reason.Corner));
                WriteWrapped(output, $"- {corners}{alike.Key}", width);
            }
        }
    }

    // What is said of several wheels in the same words is said once.
    private static string AfterCorner(Reason reason) =>
        reason.Corner is { } corner && reason.Text.StartsWith(corner + ": ", StringComparison.Ordinal) ? reason.Text[corner.Length..] : reason.Text;

    /// <summary>Writes a sentence in lines no longer than the screen is wide.</summary>
    public static void WriteWrapped(TextWriter output, string text, int width)
    {
        foreach (string line in Wrapped(text, width))
        {
            output.WriteLine(line);
        }
    }

    /// <summary>A sentence in lines no longer than the screen is wide; blanks before it indent all of them.</summary>
    public static IEnumerable<string> Wrapped(string text, int width)
    {
        int room = Math.Max(20, width - 1);
        string words = text.TrimStart(' ');
        string indent = text[..^words.Length];
        string line = "";
        foreach (string word in words.Split(' '))
        {
            if (line.Length > 0 && line.Length + 1 + word.Length > room)
            {
                yield return line;
                line = indent + "  " + word;
            }
            else
            {
                line = line.Length == 0 ? indent + word : $"{line} {word}";
            }
        }

        yield return line;
    }

    /// <summary>Names the largest cause of doubt in shares and total, with what would shrink it.</summary>
    public static void WriteLargestCause(TextWriter output, WeighingResult result, int width)
    {
        (string share, Measured? value) = result.Totals.CrossShare is { } cross ? ("cross", cross) : ("front", result.Totals.FrontShare);
        if (result.Vehicle.HasFourCorners && value?.Largest is { } largest)
        {
            WriteWrapped(output, $"most of the doubt in the {share} share: {largest.Cause.Name}{Remedy(largest.Cause)}", width);
        }

        if (result.Totals.TotalKg?.Largest is { } total)
        {
            WriteWrapped(output, $"most of the doubt in the total: {total.Cause.Name}{Remedy(total.Cause)}", width);
        }
    }

    private static string Remedy(Cause cause) => cause.Remedy is null ? "" : $" (would help: {cause.Remedy})";
}
