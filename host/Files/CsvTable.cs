using System.Globalization;
using nietras.SeparatedValues;

namespace Fourpatch.Files;

/// <summary>What a table knows of one column. Names end in their unit; <c>_kg</c> may be headed <c>_lb</c>, <c>_mm</c> <c>_in</c>.</summary>
internal sealed record CsvColumn(string Name, bool Required = true);

/// <summary>
/// A table as any spreadsheet saves it: a header line with units, then rows. Comma, semicolon or tab between the cells
/// (told from the header), quotes as usual, blank lines and lines beginning with # skipped. In a file with semicolons a
/// comma inside a number is a decimal comma: such files come from places that write numbers so.
/// </summary>
internal sealed class CsvTable
{
    private readonly Dictionary<string, (int Index, string Heading, double Factor)> _columns = [];

    private CsvTable(string file, char separator)
    {
        Problems = new FileProblems(file);
        Separator = separator;
    }

    public FileProblems Problems { get; }

    public char Separator { get; }

    /// <summary>Number of cells of the header line, blank ones at its end left out.</summary>
    public int HeaderLength { get; private set; }

    public IReadOnlyList<CsvRow> Rows { get; private set; } = [];

    public static Result<CsvTable> Parse(string text, string file, IReadOnlyList<CsvColumn> columns)
    {
        var lines = text.ReplaceLineEndings("\n").Split('\n');
        // A quote in a comment must not open a quoted cell.
        for (var index = 0; index < lines.Length; index++)
        {
            if (lines[index].StartsWith('#') || (index == 0 && IsSeparatorLine(lines[0])))
                lines[index] = "";
        }

        var headerIndex = Array.FindIndex(lines, line => line.Trim().Length > 0);
        if (headerIndex < 0)
            return new InputError(ErrorCode.Missing, "the file is empty", Header(columns), "write the header line, then the rows") { File = file, Line = 1 };

        // Left to the parser, an open quote swallows the rows below it and the complaint comes somewhere else.
        var unclosed = Array.FindIndex(lines, line => line.Count(symbol => symbol == '"') % 2 != 0);
        if (unclosed >= 0)
            return new InputError(ErrorCode.Syntax, "a double quote is opened and not closed", "a closing quote on the same line", "close the quote, or write two quotes for one inside a text") { File = file, Line = unclosed + 1 };
        var separator = SeparatorOf(lines[headerIndex]);
        var table = new CsvTable(file, separator);
        var rows = new List<CsvRow>();
        try
        {
            using var reader = Sep.New(separator).Reader(options => options with { HasHeader = false, DisableColCountCheck = true, Unescape = true }).FromText(string.Join('\n', lines));
            var first = true;
            foreach (var row in reader)
            {
                // Sep looks one row ahead at the start and has counted on by then.
                var line = first ? 1 : row.LineNumberFrom;
                first = false;
                var cells = new string[row.ColCount];
                for (var index = 0; index < cells.Length; index++)
                    cells[index] = row[index].ToString().Trim();
                if (!cells.All(string.IsNullOrEmpty))
                    rows.Add(new CsvRow(table, line, cells));
            }
        }
        catch (Exception error) when (error is InvalidDataException or NotSupportedException or ArgumentException or FormatException)
        {
            // A row longer than the parser holds; nothing in a table of this kind comes near.
            return new InputError(ErrorCode.Syntax, error.Message, "short rows", "check that this is the file you meant") { File = file };
        }

        if (table.TakeHeader(rows[0], columns) is { } wrong)
            return wrong;
        foreach (var row in rows)
        {
            if (row.Cells.Select(Names.WhyNot).FirstOrDefault(unseen => unseen is not null) is { } unseen)
                return unseen with { File = file, Line = row.Line };
        }

        table.Rows = [.. rows.Skip(1)];
        return table.Rows.Count > 0
            ? table
            : new InputError(ErrorCode.Missing, "there is no row below the header", "at least one row", "add the readings") { File = file, Line = rows[0].Line };
    }

    public bool Has(string column) => _columns.ContainsKey(column);

    public (int Index, string Heading, double Factor)? Find(string column) => _columns.TryGetValue(column, out var found) ? found : null;

    private InputError? TakeHeader(CsvRow header, IReadOnlyList<CsvColumn> columns)
    {
        HeaderLength = header.Cells.Reverse().SkipWhile(string.IsNullOrEmpty).Count();
        for (var index = 0; index < HeaderLength; index++)
        {
            var heading = header.Cells[index];
            if (heading.Length == 0)
                continue;
            if (Match(heading, columns) is not var (name, factor))
                return new InputError(ErrorCode.UnknownKey, $"the column {InputError.Quote(heading)} is not known", Header(columns), Nearest.Remedy(heading, [.. columns.Select(column => column.Name)])) { File = Problems.File, Line = header.Line, Field = heading };
            if (!_columns.TryAdd(name, (index, heading, factor)))
                return new InputError(ErrorCode.Duplicate, $"the column {heading} is there twice", "every column once", "leave one of the two out") { File = Problems.File, Line = header.Line, Field = heading };
        }

        return columns.FirstOrDefault(column => column.Required && !_columns.ContainsKey(column.Name)) is { } missing
            ? new InputError(ErrorCode.Missing, $"the column {missing.Name} is missing", Header(columns), "add it to the header line") { File = Problems.File, Line = header.Line, Field = missing.Name }
            : null;
    }

    private static (string Name, double Factor)? Match(string heading, IReadOnlyList<CsvColumn> columns)
    {
        foreach (var column in columns)
        {
            if (heading.Equals(column.Name, StringComparison.OrdinalIgnoreCase))
                return (column.Name, 1);
            if (column.Name.EndsWith("_kg", StringComparison.Ordinal) && heading.Equals(column.Name[..^3] + "_lb", StringComparison.OrdinalIgnoreCase))
                return (column.Name, QuantityKind.KgPerLb);
            if (column.Name.EndsWith("_mm", StringComparison.Ordinal) && heading.Equals(column.Name[..^3] + "_in", StringComparison.OrdinalIgnoreCase))
                return (column.Name, QuantityKind.MPerInch * 1000);
        }

        return null;
    }

    private static string Header(IReadOnlyList<CsvColumn> columns) => "the columns " + string.Join(",", columns.Where(column => column.Required).Select(column => column.Name));

    // Some spreadsheets say before the header what stands between the cells; the header shows it, too.
    private static bool IsSeparatorLine(string line) => line.TrimEnd() is ['s' or 'S', 'e' or 'E', 'p' or 'P', '=', ',' or ';' or '\t'] or "sep=";

    private static char SeparatorOf(string header) =>
        header.Contains(',', StringComparison.Ordinal) ? ',' : header.Contains(';', StringComparison.Ordinal) ? ';' : header.Contains('\t', StringComparison.Ordinal) ? '\t' : ',';

    /// <summary>
    /// A text that people typed, for writing: a spreadsheet takes what begins with =, +, - or @ for a formula and may run it, so such a text gets an
    /// apostrophe before it, which a reader takes off again (OWASP, "CSV Injection"). Numbers are written with <see cref="Cell"/>.
    /// </summary>
    public static string TextCell(string text) => Cell(IsLikeFormula(text.TrimStart().TrimStart('\'')) ? "'" + text.Trim() : text);

    /// <summary>The text as it was before <see cref="TextCell"/>.</summary>
    internal static string TextOf(string cell) => cell.StartsWith('\'') && IsLikeFormula(cell.TrimStart('\'')) ? cell[1..] : cell;

    // The wide forms of the same signs are formulas, too, to some programs.
    private static bool IsLikeFormula(string text) => text.Length > 0 && text[0] is '=' or '+' or '-' or '@' or '\uFF1D' or '\uFF0B' or '\uFF0D' or '\uFF20';

    /// <summary>A cell for writing: on one line, without spaces around it, quoted where a separator, a quote or a leading # would be misread.</summary>
    public static string Cell(string text)
    {
        var line = string.Concat(text.Select(symbol => char.IsControl(symbol) ? ' ' : symbol)).Trim();
        return line.AsSpan().IndexOfAny(",;\"") >= 0 || line.StartsWith('#') ? $"\"{line.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : line;
    }
}

/// <summary>One row, asked for its cells by column; what is wrong goes to the table's problems with row and column.</summary>
internal sealed class CsvRow(CsvTable table, int line, IReadOnlyList<string> cells)
{
    public int Line { get; } = line;

    public IReadOnlyList<string> Cells { get; } = cells;

    /// <summary>The cell's text, null when it is blank or the column is not there.</summary>
    public string? Text(string column) =>
        table.Find(column) is var (index, _, _) && index < Cells.Count && Cells[index].Length > 0 ? CsvTable.TextOf(Cells[index]) : null;

    public string RequiredText(string column)
    {
        if (Text(column) is { } text)
            return text;
        Report(column, ErrorCode.Missing, "is blank", "a text", "fill in the cell");
        return "";
    }

    /// <summary>The number in kilograms, millimetres or whatever the column's own name says, whatever the heading's unit.</summary>
    public double? Number(string column, NumberRule rule)
    {
        if (Text(column) is not { } text)
            return null;
        var plain = table.Separator == ';' && !text.Contains('.', StringComparison.Ordinal) ? text.Replace(',', '.') : text;
        if (!double.TryParse(plain, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) || !double.IsFinite(number))
        {
            Report(column, ErrorCode.WrongType, $"found {InputError.Quote(text)}", rule.Expected, !text.Contains(',', StringComparison.Ordinal) ? "write a plain number; the unit belongs in the header" : table.Separator == ';' ? "leave out the marks between thousands" : "write a decimal point, not a comma; with semicolons between the cells commas are taken, too");
            return null;
        }

        number *= table.Find(column)!.Value.Factor;
        if (rule.Allows(number))
            return number;
        Report(column, ErrorCode.OutOfRange, $"found {InputError.Quote(text)}", rule.Expected, "correct the number");
        return null;
    }

    public double RequiredNumber(string column, NumberRule rule)
    {
        if (Text(column) is not null)
            return Number(column, rule) ?? 0;
        Report(column, ErrorCode.Missing, "is blank", rule.Expected, "fill in the cell");
        return 0;
    }

    public int? Whole(string column, int lowest, int highest, string what)
    {
        var rule = new NumberRule(what, lowest, highest);
        if (Number(column, rule) is not double number)
            return null;
        if (number == Math.Floor(number))
            return (int)number;
        Report(column, ErrorCode.WrongType, $"found {InputError.Quote(Text(column)!)}", rule.Expected, "write a whole number");
        return null;
    }

    public T? Word<T>(string column)
        where T : struct, Enum
    {
        if (Text(column) is not { } text)
            return null;
        if (Words.TryParse(text, out T word))
            return word;
        Report(column, ErrorCode.UnknownName, $"found {InputError.Quote(text)}", Words.List<T>(), Nearest.AmongThem(text, Words.All<T>()));
        return null;
    }

    public T RequiredWord<T>(string column)
        where T : struct, Enum
    {
        if (Text(column) is not null)
            return Word<T>(column) ?? default;
        Report(column, ErrorCode.Missing, "is blank", Words.List<T>(), "fill in the cell");
        return default;
    }

    /// <summary>Reports cells beyond the last heading: a comma too many shifts everything behind it.</summary>
    public void CheckLength(int headings)
    {
        if (Cells.Skip(headings).FirstOrDefault(cell => cell.Length > 0) is { } extra)
            Report(null, ErrorCode.Syntax, $"found {InputError.Quote(extra)} behind the last column", string.Create(CultureInfo.InvariantCulture, $"{headings} cells"), "put a text with commas in double quotes; numbers with decimal commas want semicolons between the cells");
    }

    public void Report(string? column, ErrorCode code, string problem, string expected, string remedy) =>
        table.Problems.Add(new InputError(code, problem, expected, remedy) { Line = Line, Field = column is null ? null : table.Find(column)?.Heading ?? column });
}
