using System.Globalization;
using Fourpatch.Vehicles;

namespace Fourpatch.Files;

/// <summary>Which numbers a key takes, in the file's unit, and how to say so.</summary>
/// <param name="What">The quantity with its unit: "a length in mm".</param>
/// <param name="Lowest">Allowed itself unless <paramref name="LowestExcluded"/>.</param>
/// <param name="Highest">Allowed itself.</param>
/// <param name="LowestExcluded">Whether the number must be above <paramref name="Lowest"/>.</param>
/// <param name="MayBeInfinite">Whether <c>inf</c> has a meaning here: rigid.</param>
internal sealed record NumberRule(string What, double Lowest = double.NegativeInfinity, double Highest = double.PositiveInfinity, bool LowestExcluded = false, bool MayBeInfinite = false)
{
    public string Expected => (double.IsNegativeInfinity(Lowest), double.IsPositiveInfinity(Highest)) switch
    {
        (true, true) => What,
        (false, true) => $"{What}, {(LowestExcluded ? "above" : "at least")} {Text(Lowest)}",
        (true, false) => $"{What}, at most {Text(Highest)}",
        _ => $"{What}, {(LowestExcluded ? "above" : "from")} {Text(Lowest)} {(LowestExcluded ? "up " : "")}to {Text(Highest)}",
    };

    public bool Allows(double value) =>
        (MayBeInfinite && double.IsPositiveInfinity(value)) || (double.IsFinite(value) && (LowestExcluded ? value > Lowest : value >= Lowest) && value <= Highest);

    private static string Text(double value) => value.ToString(CultureInfo.InvariantCulture);
}

/// <summary>
/// One table of a TOML file, asked for its keys by name. What is missing, of the wrong type or out of range goes to the
/// file's problems and a harmless value comes back, so that a reader runs straight through; <see cref="End"/> then names
/// every key nobody asked for.
/// </summary>
internal sealed class TomlSection(string path, int line, FileProblems problems)
{
    private readonly Dictionary<string, (int Line, object Value)> _entries = [];
    private readonly List<string> _asked = [];

    public string Path { get; } = path;

    public int Line { get; } = line;

    public FileProblems Problems { get; } = problems;

    public IReadOnlyCollection<string> Keys => _entries.Keys;

    public int LineOf(string key) => _entries.TryGetValue(key, out var entry) ? entry.Line : Line;

    public string FieldOf(string key) => Path.Length == 0 ? key : $"{Path}.{key}";

    public bool Has(string key) => _entries.ContainsKey(key);

    // Building, by TomlDocument.

    public void Add(string name, int line, object value)
    {
        if (!_entries.TryAdd(name, (line, value)))
            Report(name, line, ErrorCode.Duplicate, "is given twice", "every key once", "leave one of them out");
    }

    public TomlSection Inner(string name, int line) => new(FieldOf(name), line, Problems);

    public TomlSection OpenSection(string name, int line)
    {
        if (_entries.TryGetValue(name, out var entry))
        {
            if (entry.Value is TomlSection section)
                return section;
            if (entry.Value is List<TomlSection> list)
                return list[^1];
        }

        var opened = Inner(name, line);
        Add(name, line, opened);
        return opened;
    }

    public TomlSection AddToList(string name, int line)
    {
        var added = Inner(name, line);
        if (_entries.TryGetValue(name, out var entry) && entry.Value is List<TomlSection> list)
            list.Add(added);
        else
            Add(name, line, new List<TomlSection> { added });
        return added;
    }

    // Asking, by the readers.

    public double? Number(string key, NumberRule rule)
    {
        if (!Ask(key, out var value))
            return null;
        if (value is not double number)
            return Wrong<double?>(key, value, rule.Expected, "write a plain number without quotes or unit");
        if (rule.Allows(number))
            return number;
        Report(key, LineOf(key), ErrorCode.OutOfRange, $"found {Show(number)}", rule.Expected, "correct the number");
        return null;
    }

    public double RequiredNumber(string key, NumberRule rule) => Require(key, rule.Expected) ? Number(key, rule) ?? 1 : 1;

    public string? Text(string key, string expected = "a text in double quotes")
    {
        if (!Ask(key, out var value))
            return null;
        if (value is not string text)
            return Wrong<string?>(key, value, expected, "put it in double quotes");
        if (text.Trim().Length == 0)
            Report(key, LineOf(key), ErrorCode.OutOfRange, $"found {InputError.Quote(text)}", expected, "write one line of text");
        else if (Names.WhyNot(text) is { } unseen)
            Report(key, unseen);
        else
            return text;
        return null;
    }

    public string RequiredText(string key, string expected = "a text in double quotes") => Require(key, expected) ? Text(key, expected) ?? "" : "";

    /// <summary>A text that must be there but may be empty.</summary>
    public string PossiblyEmptyText(string key, string expected = "a text in double quotes") =>
        Require(key, expected) && Ask(key, out object value) ? value as string ?? Wrong<string>(key, value, expected, "put it in double quotes") ?? "" : "";

    public bool? Flag(string key) =>
        !Ask(key, out var value) ? null : value is bool flag ? flag : Wrong<bool?>(key, value, "true or false", "write true or false without quotes");

    /// <summary>A text, a number, or true or false, as text: <c>yes</c> and <c>no</c> for the last; null when it is not there or something else.</summary>
    public string? Plain(string key)
    {
        if (!Ask(key, out var value))
            return null;
        return value switch
        {
            string => Text(key),
            double number => number.ToString("R", CultureInfo.InvariantCulture),
            bool flag => flag ? "yes" : "no",
            _ => Wrong<string?>(key, value, "a text, a number, true or false", "write NAME = VALUE without tables or lists"),
        };
    }

    /// <summary>One of a closed list of words, or null.</summary>
    public T? Word<T>(string key)
        where T : struct, Enum
    {
        if (Text(key, Words.List<T>()) is not { } text)
            return null;
        if (Words.TryParse(text, out T word))
            return word;
        Report(key, LineOf(key), ErrorCode.UnknownName, $"found {InputError.Quote(text)}", Words.List<T>(), Nearest.AmongThem(text, Words.All<T>()));
        return null;
    }

    public TomlSection? Section(string key) =>
        !Ask(key, out var value) ? null : value is TomlSection section ? section : Wrong<TomlSection?>(key, value, $"a table [{FieldOf(key)}]", "write its keys below a header in square brackets");

    public IReadOnlyList<TomlSection> SectionList(string key)
    {
        if (!Ask(key, out var value))
            return [];
        return value is List<TomlSection> list ? list : Wrong<List<TomlSection>>(key, value, $"a table [[{FieldOf(key)}]]", "write its header in double square brackets") ?? [];
    }

    /// <summary>The tables below <c>[key.NAME]</c>, each with its name, in the order of the file.</summary>
    public IReadOnlyList<(string Name, TomlSection Section)> NamedSections(string key)
    {
        var found = new List<(string, TomlSection)>();
        if (Section(key) is not { } parent)
            return found;
        foreach (var name in parent.Keys)
        {
            if (parent.Section(name) is { } section)
                found.Add((name, section));
        }

        return found;
    }

    public IReadOnlyDictionary<string, double> NamedNumbers(string key, NumberRule rule)
    {
        var found = new Dictionary<string, double>();
        if (Section(key) is not { } section)
            return found;
        foreach (var name in section.Keys)
        {
            if (section.Number(name, rule) is double number)
                found.Add(name, number);
        }

        return found;
    }

    /// <summary>The four corners of a table; all four must be there.</summary>
    public Corners<double>? CornerNumbers(string key, NumberRule rule)
    {
        if (Section(key) is not { } section)
            return null;
        var corners = Corners.Each(corner => section.RequiredNumber(corner.ToString(), rule));
        section.End();
        return corners;
    }

    /// <summary>An array whose items are all of one type; null when it is not there or not such an array.</summary>
    public IReadOnlyList<T>? Items<T>(string key, string expected)
        where T : notnull
    {
        if (!Ask(key, out var value))
            return null;
        if (value is List<object> list && list.All(item => item is T))
            return [.. list.Cast<T>()];
        return Wrong<IReadOnlyList<T>?>(key, value, expected, "write the items in square brackets, with commas between them");
    }

    /// <summary>Reports every key nobody asked for, with the nearest one somebody did.</summary>
    public void End()
    {
        foreach (var (key, entry) in _entries)
        {
            if (!_asked.Contains(key))
                Report(key, entry.Line, ErrorCode.UnknownKey, "is not a key of this file", _asked.Count == 0 ? "no keys here" : "a known key", _asked.Count == 0 ? "leave it out" : Nearest.Remedy(key, _asked));
        }
    }

    public void Report(string key, int line, ErrorCode code, string problem, string expected, string remedy) =>
        Problems.Add(new InputError(code, problem, expected, remedy) { Line = line, Field = FieldOf(key) });

    public void Report(string key, InputError? error)
    {
        if (error is not null)
            Problems.Add(error.At(line: LineOf(key), field: FieldOf(key)));
    }

    private bool Require(string key, string expected)
    {
        if (_entries.ContainsKey(key))
            return true;
        Ask(key, out _);
        Report(key, Line, ErrorCode.Missing, "is missing", expected, Path.Length == 0 ? $"add a line {key} = ..." : $"add {key} = ... below [{Path}]");
        return false;
    }

    private bool Ask(string key, out object value)
    {
        if (!_asked.Contains(key))
            _asked.Add(key);
        var found = _entries.TryGetValue(key, out var entry);
        value = entry.Value;
        return found;
    }

    private T? Wrong<T>(string key, object found, string expected, string remedy)
    {
        Report(key, LineOf(key), ErrorCode.WrongType, $"found {Show(found)}", expected, remedy);
        return default;
    }

    private static string Show(object value) => value switch
    {
        string text => InputError.Quote(text),
        double number => number.ToString(CultureInfo.InvariantCulture),
        bool flag => flag ? "true" : "false",
        TomlOther other => InputError.Quote(other.Written),
        TomlSection => "a table",
        List<TomlSection> => "a list of tables",
        _ => "a list",
    };
}
