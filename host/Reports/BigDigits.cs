namespace Fourpatch.Reports;

/// <summary>Figures large enough to read across a garage, in plain characters: five rows, three dots wide, any number of times enlarged.</summary>
public static class BigDigits
{
    /// <summary>Rows of a figure that is not enlarged.</summary>
    public const int Rows = 5;

    private static readonly Dictionary<char, string[]> Shapes = new()
    {
        ['0'] = ["###", "# #", "# #", "# #", "###"],
        ['1'] = ["  #", "  #", "  #", "  #", "  #"],
        ['2'] = ["###", "  #", "###", "#  ", "###"],
        ['3'] = ["###", "  #", "###", "  #", "###"],
        ['4'] = ["# #", "# #", "###", "  #", "  #"],
        ['5'] = ["###", "#  ", "###", "  #", "###"],
        ['6'] = ["###", "#  ", "###", "# #", "###"],
        ['7'] = ["###", "  #", "  #", "  #", "  #"],
        ['8'] = ["###", "# #", "###", "# #", "###"],
        ['9'] = ["###", "# #", "###", "  #", "###"],
        ['-'] = ["   ", "   ", "###", "   ", "   "],
        ['.'] = [" ", " ", " ", " ", "#"],
    };

    /// <summary>Columns a figure takes.</summary>
    public static int Columns(string figure, int across) => figure.Sum(letter => Shape(letter)[0].Length + 1) * across - across;

    /// <summary>The figure.</summary>
    /// <param name="figure">Digits, point and minus; anything else is left blank.</param>
    /// <param name="across">Characters to a dot, 1 or more.</param>
    /// <param name="down">Rows to a dot, 1 or more.</param>
    /// <param name="ink">What it is drawn with.</param>
    public static IReadOnlyList<string> Draw(string figure, int across, int down, char ink)
    {
        var rows = new List<string>();
        for (int row = 0; row < Rows; row++)
        {
            string dots = string.Join(' ', figure.Select(letter => Shape(letter)[row]));
            string line = string.Concat(dots.Select(dot => new string(dot == '#' ? ink : ' ', across)));
            rows.AddRange(Enumerable.Repeat(line, down));
        }

        return rows;
    }

    private static string[] Shape(char letter) => Shapes.GetValueOrDefault(letter) ?? ["   ", "   ", "   ", "   ", "   "];
}
