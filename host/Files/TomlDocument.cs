using Tomlyn;
using Tomlyn.Parsing;
using Tomlyn.Syntax;

namespace Fourpatch.Files;

/// <summary>
/// A TOML file as a tree of sections that know their lines. Grammar is the library's business, the meaning of keys that
/// of the reader asking (<see cref="TomlSection"/>); this class only joins headers, dotted keys and inline tables.
/// </summary>
internal static class TomlDocument
{
    /// <summary>No file has keys of more than three parts.</summary>
    private const int MostParts = 16;

    private static readonly string SyntaxHelp = "write KEY = VALUE, one on a line, text in double quotes, numbers with a decimal point";

    /// <summary>Parses <paramref name="text"/>; the error, if any, carries <paramref name="file"/> and its line.</summary>
    public static Result<TomlSection> Parse(string text, string file)
    {
        DocumentSyntax document;
        try
        {
            document = SyntaxParser.Parse(text, file, validate: true);
        }
        catch (TomlException)
        {
            // The library throws only for nesting beyond 64 levels, and does not say where.
            return new InputError(ErrorCode.Syntax, "nests lists or tables more than 64 deep", "a flat list of keys and tables", SyntaxHelp) { File = file, Line = LineTooDeep(text, file) };
        }
        catch (ArgumentOutOfRangeException)
        {
            // The library means to quote the character behind a backslash, and there is none: the text ends with it.
            var end = text.Count(letter => letter == '\n') + 1;
            return new InputError(ErrorCode.Syntax, "ends behind a backslash, in the middle of a text", "\\\\ for a backslash, and a closing quotation mark", SyntaxHelp) { File = file, Line = end };
        }

        if (document.Diagnostics.Where(message => message.Kind == DiagnosticMessageKind.Error).MinBy(message => message.Span.Start.Line) is { } first)
        {
            // What the library says of grammar is for those who write grammars; the line itself tells more.
            var line = first.Span.Start.Line;
            return first.Message.Contains("already defined", StringComparison.Ordinal)
                ? new InputError(ErrorCode.Duplicate, first.Message.TrimEnd('.'), "every key once", "leave one of the two out") { File = file, Line = line + 1 }
                : new InputError(ErrorCode.Syntax, $"cannot read {InputError.Quote(LineOf(text, line))}", "KEY = VALUE or [TABLE]", SyntaxHelp) { File = file, Line = line + 1 };
        }

        var root = new TomlSection("", 1, new FileProblems(file));
        AddItems(root, document.KeyValues);
        foreach (var table in document.Tables)
            AddItems(Open(root, table), table.Items);
        return root;
    }

    private static string LineOf(string text, int index) => text.Split('\n') is { } lines && index < lines.Length ? lines[index].Trim() : "";

    // The first line with which the text is too deep: what is before it is not, what goes on behind it is.
    private static int LineTooDeep(string text, string file)
    {
        var lines = text.Split('\n');
        var (good, bad) = (0, lines.Length);
        while (bad - good > 1)
        {
            var middle = (good + bad) / 2;
            try
            {
                SyntaxParser.Parse(string.Join('\n', lines.Take(middle)), file, validate: false);
                good = middle;
            }
            catch (TomlException)
            {
                bad = middle;
            }
            catch (ArgumentOutOfRangeException)
            {
                good = middle;
            }
        }

        return bad;
    }

    private static TomlSection Open(TomlSection root, TableSyntaxBase table)
    {
        var line = table.Span.Start.Line + 1;
        var names = NamesOf(table.Name!, root, line);
        var section = root;
        for (var index = 0; index < names.Count - 1; index++)
            section = Descend(section, names[index], line);
        return table is TableArraySyntax ? section.AddToList(names[^1], line) : Descend(section, names[^1], line);
    }

    private static TomlSection Descend(TomlSection section, string name, int line) => section.OpenSection(name, line);

    private static void AddItems(TomlSection section, IEnumerable<KeyValueSyntax> items)
    {
        foreach (var item in items)
        {
            var line = item.Span.Start.Line + 1;
            var names = NamesOf(item.Key!, section, line);
            var target = section;
            for (var index = 0; index < names.Count - 1; index++)
                target = Descend(target, names[index], line);
            if (item.Value is InlineTableSyntax inline)
                AddInline(Descend(target, names[^1], line), inline);
            else
                target.Add(names[^1], line, ValueOf(item.Value, target, names[^1], line));
        }
    }

    private static void AddInline(TomlSection section, InlineTableSyntax inline) =>
        AddItems(section, inline.Items.Select(item => item.KeyValue!));

    private static object ValueOf(SyntaxNode? value, TomlSection section, string name, int line) => value switch
    {
        StringValueSyntax text => text.Value ?? "",
        IntegerValueSyntax integer => (double)integer.Value,
        FloatValueSyntax number => number.Value,
        BooleanValueSyntax flag => flag.Value,
        ArraySyntax array => Items(array, section, name, line),
        _ => new TomlOther(value?.ToString()?.Trim() ?? ""),
    };

    private static object Items(ArraySyntax array, TomlSection section, string name, int line)
    {
        var items = new List<object>();
        foreach (var item in array.Items)
        {
            if (item.Value is InlineTableSyntax inline)
            {
                var inner = section.Inner(name, line);
                AddInline(inner, inline);
                items.Add(inner);
            }
            else
            {
                items.Add(ValueOf(item.Value, section, name, line));
            }
        }

        // [{...}, {...}] means the same as [[name]] twice.
        return items.Count > 0 && items.All(item => item is TomlSection) ? items.Cast<TomlSection>().ToList() : items;
    }

    // Each part is a table in the one before it, and each knows its whole path: of very many the first stands for all.
    private static List<string> NamesOf(KeySyntax key, TomlSection section, int line)
    {
        var first = NameOf(key.Key);
        if (key.DotKeys.ChildrenCount < MostParts)
            return [first, .. key.DotKeys.Select(dotted => NameOf(dotted.Key))];
        section.Problems.Add(new InputError(ErrorCode.Syntax, $"found a key of {key.DotKeys.ChildrenCount + 1} parts with dots between them", $"at most {MostParts}", SyntaxHelp) { Line = line });
        return [first];
    }

    private static string NameOf(BareKeyOrStringValueSyntax? name) => name switch
    {
        BareKeySyntax bare => bare.Key?.Text ?? "",
        StringValueSyntax quoted => quoted.Value ?? "",
        _ => "",
    };
}

/// <summary>A value no reader asks for (a date); kept as written, to be shown.</summary>
internal sealed record TomlOther(string Written);
