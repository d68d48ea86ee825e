using System.Globalization;
using System.Text;

namespace Fourpatch.Files;

/// <summary>Puts a TOML file together: keys with their comments behind them, one blank line before every table.</summary>
internal sealed class TomlText
{
    private readonly StringBuilder _text = new();

    public void Comment(string comment) => _text.Append("# ").Append(comment).Append('\n');

    public void Table(string name, string? comment = null) => Header($"[{DottedKey(name)}]", comment);

    public void TableOfList(string name, string? comment = null) => Header($"[[{name}]]", comment);

    public void Text(string key, string value, string? comment = null) => Line(key, Quoted(value), comment);

    /// <summary>A value as it shall stand there.</summary>
    public void Written(string key, string written, string? comment = null) => Line(key, written, comment);

    public void Flag(string key, bool value, string? comment = null) => Line(key, value ? "true" : "false", comment);

    public void Items(string key, IEnumerable<string> written, string? comment = null) => Line(key, $"[{string.Join(", ", written)}]", comment);

    /// <summary>A length, in millimetres; nothing when it is null.</summary>
    public void Mm(string key, double? lengthM, string? comment = null) => Number(key, lengthM, FileNumbers.Mm, comment);

    /// <summary>A number as <paramref name="write"/> puts it; nothing when it is null.</summary>
    public void Number(string key, double? value, Func<double, string>? write = null, string? comment = null)
    {
        if (value is double number)
            Line(key, (write ?? FileNumbers.Plain)(number), comment);
    }

    public override string ToString() => _text.ToString();

    public static string Quoted(string value)
    {
        var quoted = new StringBuilder("\"");
        foreach (var symbol in value)
        {
            if (symbol is '"' or '\\')
                quoted.Append('\\').Append(symbol);
            else if (char.IsControl(symbol))
                quoted.Append(CultureInfo.InvariantCulture, $"\\u{(int)symbol:X4}");
            else
                quoted.Append(symbol);
        }

        return quoted.Append('"').ToString();
    }

    private void Header(string header, string? comment)
    {
        _text.Append('\n').Append(header);
        End(comment);
    }

    private void Line(string key, string value, string? comment)
    {
        _text.Append(Key(key)).Append(" = ").Append(value);
        End(comment);
    }

    private void End(string? comment)
    {
        if (comment is not null)
            _text.Append("  # ").Append(comment);
        _text.Append('\n');
    }

    private static string DottedKey(string name) => string.Join('.', name.Split('.').Select(Key));

    private static string Key(string name) =>
        name.Length > 0 && name.All(letter => char.IsAsciiLetterOrDigit(letter) || letter is '-' or '_') ? name : Quoted(name);
}
