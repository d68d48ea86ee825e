using System.Globalization;
using System.Text;

namespace Fourpatch.Files;

/// <summary>The closed list of what can be wrong; in JSON the same words with dashes (<c>unknown-key</c>).</summary>
public enum ErrorCode
{
    /// <summary>The file does not exist, may not be read, or is not text.</summary>
    CannotRead,

    /// <summary>The file or folder may not be written, or the disk is full.</summary>
    CannotWrite,

    /// <summary>The text does not follow the grammar of its format.</summary>
    Syntax,

    /// <summary>A key, column or option nobody knows.</summary>
    UnknownKey,

    /// <summary>A key, column or option that has to be there is not.</summary>
    Missing,

    /// <summary>A name, key or corner given twice.</summary>
    Duplicate,

    /// <summary>Text where a number belongs, a number where a table belongs, and the like.</summary>
    WrongType,

    /// <summary>A number outside what is possible.</summary>
    OutOfRange,

    /// <summary>Possible, but most likely a slip (a wheelbase of 260 mm).</summary>
    Implausible,

    /// <summary>A unit that is not known, or is missing where a bare number has two meanings.</summary>
    Unit,

    /// <summary>A name that names nothing: a corner, a fault, a mark, a vehicle, a record.</summary>
    UnknownName,

    /// <summary>Two statements that cannot both hold.</summary>
    Contradiction,

    /// <summary>The rig could not be reached, or stopped answering (exit code 3).</summary>
    RigUnreachable,

    /// <summary>A fault of the program itself; the message says how to report it.</summary>
    Internal,
}

/// <summary>
/// The one shape of every refusal of bad input, of a reader, a writer or a typed value, and the content of
/// <c>fourpatch.error/1</c>. It says what was found, where, what was expected and what to do, always on one line:
/// whatever a file contained, control characters and line ends are made visible or dropped.
/// </summary>
/// <param name="Code">From the closed list.</param>
/// <param name="Problem">What is wrong, with what was found in quotes.</param>
/// <param name="Expected">What would have been right; empty when nothing could be (a full disk).</param>
/// <param name="Remedy">What to do about it, as an order.</param>
public sealed record InputError(ErrorCode Code, string Problem, string Expected, string Remedy)
{
    public string Problem { get; } = Clean(Problem);

    public string Expected { get; } = Clean(Expected);

    public string Remedy { get; } = Clean(Remedy);

    /// <summary>The file, as the person named it; null for something typed.</summary>
    public string? File { get; init; }

    /// <summary>Line of the file, the first being 1; null where a line has no meaning.</summary>
    public int? Line { get; init; }

    /// <summary>Key with its table (<c>wheel_rate_n_per_mm.front</c>), column, option or corner; null when none is at fault.</summary>
    public string? Field { get; init; }

    /// <summary>Problem, expectation and remedy in one sentence, without the place.</summary>
    public string Message => Expected.Length == 0 ? $"{Problem.TrimEnd('.')}; {Remedy}" : $"{Problem.TrimEnd('.')}, expected {Expected.TrimEnd('.')}; {Remedy}";

    /// <summary>What a person sees: <c>wren.toml:12: wheelbase_mm: found "abc", expected ...; write ...</c>.</summary>
    public string OneLine
    {
        get
        {
            var line = new StringBuilder();
            if (File is not null)
            {
                line.Append(Clean(File));
                if (Line is int number)
                    line.Append(CultureInfo.InvariantCulture, $":{number}");
                line.Append(": ");
            }

            // A sentence that begins with the field's own name has said it.
            if (Field is not null && !Problem.StartsWith(Clean(Field) + " ", StringComparison.Ordinal))
                line.Append(Clean(Field)).Append(": ");
            return line.Append(Message).ToString();
        }
    }

    /// <summary>The same error with its place filled in where it was still open.</summary>
    public InputError At(string? file = null, int? line = null, string? field = null) =>
        this with { File = File ?? file, Line = Line ?? line, Field = Field ?? field };

    /// <summary>The same error as part of something larger: of the option that holds a list, with the corner behind it (<c>--typed FL</c>).</summary>
    public InputError Inside(string field) => this with { Field = Field is null ? field : $"{field} {Field}" };

    public override string ToString() => OneLine;

    /// <summary>What was found, quoted, shortened to 40 characters, with nothing that could break the line.</summary>
    public static string Quote(string found)
    {
        ArgumentNullException.ThrowIfNull(found);
        var clean = Clean(found);
        return clean.Length <= 40 ? $"\"{clean}\"" : $"\"{clean[..(char.IsHighSurrogate(clean[36]) ? 36 : 37)]}...\"";
    }

    /// <summary>The text with a question mark for everything that could break a line or cannot be printed.</summary>
    internal static string Clean(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return Names.Visible(text);
    }
}
