using System.Globalization;
using System.Text;
using Fourpatch.Planning;
using Fourpatch.Vehicles;

namespace Fourpatch.Files;

/// <summary>Cells of one row of a parts list changed, every other row left as it is, letter by letter.</summary>
public static class PartsFileEdit
{
    // Finer than any scale or tape, in kg, lb, mm and inches.
    private const int Decimals = 4;

    /// <summary>The list with the row of one part changed.</summary>
    /// <param name="text">The list as it is.</param>
    /// <param name="file">What errors call it.</param>
    /// <param name="vehicle">Whose parts.</param>
    /// <param name="item">Name of the part, as in the list.</param>
    /// <param name="change">The row as it is to be. Only action, mass, its uncertainty, the distance behind and the note may differ.</param>
    public static Result<string> Replace(string text, string file, Vehicle vehicle, string item, Func<Part, Part> change) =>
        PartsFile.Parse(text, file, vehicle).Then<string>(parts =>
        {
            Part old = parts.First(part => part.Item.Equals(item, StringComparison.OrdinalIgnoreCase));
            Part now = change(old);
            double markM = now.FromMark is { } mark ? vehicle.MarksM[mark] : 0;
            var cells = new List<(string Column, string Text, double? Number)>();
            if (now.Action != old.Action) cells.Add(("action", Words.Of(now.Action), null));
            if (now.MassKg != old.MassKg) cells.Add(("mass_kg", "", now.MassKg));
            if (now.UMassKg != old.UMassKg) cells.Add(("u_mass_kg", "", now.UMassKg));
            if (now.BehindFrontAxleM != old.BehindFrontAxleM) cells.Add(("behind_front_axle_mm", "", (now.BehindFrontAxleM - markM) * 1000));
            if (now.Note != old.Note) cells.Add(("note", now.Note ?? "", null));

            // What was written must be read back as a list with that one part changed, or nothing is.
            return Set(text, file, old.Item, cells).Then<string>(edited => PartsFile.Parse(edited, file, vehicle).Then<string>(read =>
                read.Zip(parts).All(pair => pair.First == pair.Second || pair.Second == old) && read.Count == parts.Count
                    ? edited
                    : new InputError(ErrorCode.Internal, "the list could not be changed in one row alone", "", "change the row by hand") { File = file }));
        });

    private static Result<string> Set(string text, string file, string item, IReadOnlyList<(string Column, string Text, double? Number)> cells)
    {
        if (!CsvTable.Parse(text, file, PartsFile.Columns).TryGet(out CsvTable? table, out InputError? error))
        {
            return error;
        }

        List<string> lines = LinesOf(text);
        int line = table.Rows.First(row => row.Text("item")!.Equals(item, StringComparison.OrdinalIgnoreCase)).Line - 1;
        int header = lines.FindIndex(one => one.Trim().Length > 0 && !one.StartsWith('#'));
        int columns = table.HeaderLength;

        // Where commas stand in numbers, a point would make a text of a number.
        bool isPoint = table.Separator != ';' || table.Rows.Any(row => row.Cells.Any(cell => cell.Contains('.', StringComparison.Ordinal) && double.TryParse(cell, CultureInfo.InvariantCulture, out _)));
        foreach ((string column, string words, double? number) in cells)
        {
            // A column nobody used yet goes behind the last heading; rows without a cell for it are blank there.
            var place = table.Find(column) ?? (columns++, column, 1);
            if (place.Index >= table.HeaderLength)
            {
                lines[header] = WithCell(lines[header], table.Separator, place.Index, column);
            }

            lines[line] = WithCell(lines[line], table.Separator, place.Index, number is double value ? NumberText(value / place.Factor, isPoint) : CsvTable.TextCell(words));
        }

        return string.Concat(lines);
    }

    private static string NumberText(double value, bool isPoint)
    {
        string text = FileNumbers.Plain(Math.Round(value, Decimals));
        return isPoint ? text : text.Replace('.', ',');
    }

    // Each with its own line end.
    private static List<string> LinesOf(string text)
    {
        var lines = new List<string>();
        int start = 0;
        for (int at = 0; at < text.Length; at++)
        {
            if (text[at] == '\n' || (text[at] == '\r' && (at + 1 == text.Length || text[at + 1] != '\n')))
            {
                lines.Add(text[start..(at + 1)]);
                start = at + 1;
            }
        }

        lines.Add(text[start..]);
        return lines;
    }

    private static string WithCell(string line, char separator, int index, string cell)
    {
        string content = line.TrimEnd('\r', '\n');
        var cells = new List<string>();
        var open = new StringBuilder();
        bool quoted = false;
        foreach (char letter in content)
        {
            quoted ^= letter == '"';
            if (letter == separator && !quoted)
            {
                cells.Add(open.ToString());
                open.Clear();
            }
            else
            {
                open.Append(letter);
            }
        }

        cells.Add(open.ToString());
        while (cells.Count <= index)
        {
            cells.Add("");
        }

        cells[index] = cell;
        return string.Join(separator, cells) + line[content.Length..];
    }
}
