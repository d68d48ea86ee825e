using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Planning;

namespace Fourpatch.Reports;

/// <summary>Which cells to buy, in words.</summary>
public static class ChoiceText
{
    private static readonly string[] Kinds =
    [
        "beam bolted at one end: cheap and flat; wants a stiff flat seat, a spacer so that only its end touches, the maker's bolts and torque",
        "symmetric platform cell: tolerates a load off centre; small platform; pads",
        "compression button: very low; hates side load and moments: never under castors",
        "three-wire half cells: four of them make one station; one reading, no separate corners; rated 40 or 50 kg each",
    ];

    /// <summary>Writes it.</summary>
    public static void Write(TextWriter output, CellWish wish, IReadOnlyList<CellChoice> choices, MassUnit unit, int width)
    {
        Line($"A car of {unit.Format(wish.MassKg, 0)} with driver and fuel, {Percent(wish.FrontShare)} % on the front: the heaviest wheel carries {unit.Format(wish.HeaviestKg, 0)}.");
        foreach (CellChoice choice in choices)
        {
            output.WriteLine();
            string rating = choice.RatingKg is { } size ? $"rated {unit.Format(size, 0)}" : "of a size that is not usual";
            Line($"{NameOf(choice.Kind)}: {choice.Cells} cells {rating} (at least {unit.Format(choice.LeastRatingKg, 0)}), {choice.Boards} board{(choice.Boards == 1 ? "" : "s")}; {CostOf(choice.Kind)}.");
            Line(string.Create(CultureInfo.InvariantCulture,
                $"  noise {Grams(choice.NoiseKg)} a reading, smallest change a 10 s mean tells {Grams(choice.SmallestChangeKg)}, zero drift {Grams(choice.DriftKgPerK)} per degree"));
            Line($"  what stops first: {StopsFirst(choice.Kind)}");
        }

        output.WriteLine();
        output.WriteLine("Kinds of cell:");
        foreach (string kind in Kinds)
        {
            Line("- " + kind);
        }

        Line("Overload stop: a bolt under the free end, its gap as large as the cell bends at 120 to 150 % of its rating (its data sheet says how far).");
        Line("Ratings hold for everything in the way of the load: castors, bolts, welds, boards and beams too. A cell that breaks drops the car.");

        void Line(string sentence) => WeighingText.WriteWrapped(output, sentence, width);
    }

    /// <summary>What a build costs against the others (common practice, no source).</summary>
    public static string CostOf(RigKind kind) => kind switch
    {
        RigKind.TwoPads => "lowest cost",
        RigKind.Pads or RigKind.Lever => "low cost",
        RigKind.OneDolly => "middling cost: frame and castors",
        _ => "highest cost: four frames, sixteen cells",
    };

    /// <summary>What limits the answer, or the build, before the cells do.</summary>
    public static string StopsFirst(RigKind kind) => kind switch
    {
        RigKind.Pads => "the floor under the pads, and tyres that stand sideways; not the cells",
        RigKind.TwoPads => "moving the car between readings: friction and tyres settle anew; boards of pad height under the other axle",
        RigKind.Lever => "where the wheel stands on the beam, and its level; not the cell",
        RigKind.OneDolly => "the height of the raised wheel, which springs turn into load; a block under its partner cures it",
        _ => "a sloping floor: four dollies are refused above 2 %",
    };

    private static string NameOf(RigKind kind) => kind switch
    {
        RigKind.Pads => "Four pads",
        RigKind.TwoPads => "Two pads, one axle at a time",
        RigKind.Lever => "Four pads with lever beams",
        RigKind.OneDolly => "One dolly, corner by corner",
        _ => "Four dollies",
    };

    private static string Percent(double share) => (share * 100).ToString("0.#", CultureInfo.InvariantCulture);

    private static string Grams(double kg) => string.Create(CultureInfo.InvariantCulture, $"{kg * 1000:0.0} g");
}
