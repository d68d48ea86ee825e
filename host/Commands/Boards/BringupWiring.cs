using System.Globalization;
using Fourpatch.Files;

namespace Fourpatch.Commands.Boards;

/// <summary>The ohmmeter before the first power: which two of a cell's four wires are the supply.</summary>
internal static class BringupWiring
{
    // Common practice, no source: bridges of 120 to 2000 ohm; supply pairs some percent above signal pairs because of resistors inside the cell.
    private const double OpenOhm = 20_000;
    private const double ShortOhm = 20;
    private const double AlikeShare = 0.02;

    private static readonly string[] Table =
    [
        "Before any power: board and amplifiers unplugged, ohmmeter on the bare wires of the cell.",
        "  Six readings between four wires (usual figures of a 350 ohm cell):",
        "    two pairs with no wire in common read most:   about 405 and 350 ohm",
        "    the four other readings:                      about 260 to 300 ohm",
        "    a reading that does not come (open):          a broken wire, or not this cell's",
        "    the metal of the cell against any wire:       must be open",
        "  The pair with the larger resistance is the supply (E+ and E-), the other one the signal (A+ and A-).",
        "  Three wires: a half cell; four of them make one station.",
    ];

    /// <summary>Shows the table and takes down two figures for each cell.</summary>
    public static void MeasureWires(Dialogue dialogue, IReadOnlyList<int> cells)
    {
        dialogue.Say("First power-up, one cell at a time. \"quit\" leaves at any time; nothing is stored here.");
        dialogue.Say("Never weld with cells or board connected. Mains-powered parts: ready-made certified supplies only; anything else by a licensed person where the local code asks for it.");
        foreach (string line in Table)
        {
            dialogue.Say(line);
        }

        foreach (int cell in cells)
        {
            Ohms? ohms = dialogue.Ask(string.Create(CultureInfo.InvariantCulture, $"Cell {cell}: ohms of the two pairs, as 405 350; or Enter to leave it out."), Read).Value;
            if (ohms is not null)
            {
                dialogue.Say("  " + WordsFor(ohms));
            }
        }
    }

    private static Result<Answer> Read(string typed)
    {
        if (typed.Length == 0)
        {
            return new Answer(null);
        }

        string[] words = typed.Split([' ', ',', '/'], StringSplitOptions.RemoveEmptyEntries);
        double[] ohms = [.. words.Select(word => double.TryParse(word, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double ohm) ? ohm : -1)];
        return ohms.Length == 2 && ohms.All(ohm => ohm >= 0)
            ? new Answer(new Ohms(ohms[0], ohms[1]))
            : new InputError(ErrorCode.Syntax, $"found {InputError.Quote(typed)}", "two figures in ohm, as 405 350", "write both, or nothing");
    }

    private static string WordsFor(Ohms ohms)
    {
        double larger = Math.Max(ohms.First, ohms.Second), smaller = Math.Min(ohms.First, ohms.Second);
        string which = ohms.First >= ohms.Second ? "first" : "second";
        return (larger, smaller) switch
        {
            ( > OpenOhm, _) => "that is open: a broken wire, or two wires that are no pair; measure again before you connect it.",
            (_, < ShortOhm) => "that is nearly a short: wires touch, or the cell is broken; do not connect it.",
            _ when larger - smaller < AlikeShare * larger => "as good as alike: either may be the supply. If the number hardly moves in the press test, exchange the pairs.",
            _ => $"the {which} pair is the supply (E+ and E-), the other one the signal (A+ and A-).",
        };
    }

    private sealed record Ohms(double First, double Second);

    private sealed record Answer(Ohms? Value);
}
