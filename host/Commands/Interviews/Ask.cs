using System.Globalization;
using Fourpatch.Files;

namespace Fourpatch.Commands.Interviews;

/// <summary>The kinds of questions.</summary>
internal static class Ask
{
    private const int LongestText = 60;

    /// <summary>Anything a reader takes.</summary>
    public static Question For<T>(string key, string prompt, string help, Func<string, Result<T>> read, Func<T, string> show)
        where T : notnull => new()
        {
            Key = key,
            Prompt = prompt,
            Help = help,
            Read = typed => read(typed).Then<Answer>(value => new Answer(typed, value, show(value))),
        };

    /// <summary>A short text on one line.</summary>
    public static Question Text(string key, string prompt, string help) => For(key, prompt, help, ReadText, text => text);

    /// <summary>A name that is safe in files and on command lines.</summary>
    public static Question Name(string key, string prompt, string help) => For(key, prompt, help, ReadName, name => name);

    /// <summary>A length in metres, in any unit; bare numbers are millimetres.</summary>
    /// <param name="key">Names the answer.</param>
    /// <param name="prompt">A few words.</param>
    /// <param name="help">What to measure.</param>
    /// <param name="check">What cannot be; null: anything above 0.</param>
    /// <param name="tapeStartM">Where the tape was held: taken off what was read.</param>
    public static Question Length(string key, string prompt, string help, Func<double, InputError?>? check = null, double tapeStartM = 0) =>
        For(key, prompt, help, typed => ReadLength(typed, check, tapeStartM), Mm);

    /// <summary>A distance with a direction in metres: a sign, or one of two words behind it.</summary>
    public static Question Place(string key, string prompt, string help, string positive, string negative, double furthestM) =>
        For(key, prompt, help, typed => ReadPlace(typed, positive, negative, furthestM), placeM => SaidPlace(placeM, positive, negative));

    /// <summary>A mass in kilograms, in any unit.</summary>
    public static Question Mass(string key, string prompt, string help, MassUnit unit, bool mayBeZero = false) =>
        For(key, prompt, help, typed => ReadMass(typed, unit, mayBeZero), massKg => unit.Format(massKg, 3).TrimEndZeros());

    /// <summary>A share from 0 to 1.</summary>
    public static Question Share(string key, string prompt, string help) =>
        For(key, prompt, help, Typed.Share, share => string.Create(CultureInfo.InvariantCulture, $"{share * 100:0.###} %"));

    /// <summary>
    /// A rate in N/m, from 0.1 to 10,000 N/mm: at a wheel, by any lever there is, a vehicle file takes what comes of it; with <paramref name="mayBeRigid"/> also
    /// "rigid", with <paramref name="mayBeNone"/> also 0 without a unit.
    /// </summary>
    public static Question Rate(string key, string prompt, string help, bool mayBeRigid = false, bool mayBeNone = false) => For(
        key, prompt, help,
        typed => mayBeNone && typed.Trim() is "0" ? 0.0 : mayBeRigid && typed.Trim().Equals("rigid", StringComparison.OrdinalIgnoreCase) ? double.PositiveInfinity : ReadRate(typed),
        rate => double.IsPositiveInfinity(rate) ? "rigid" : string.Create(CultureInfo.InvariantCulture, $"{rate / 1000:0.###} N/mm"));

    /// <summary>A plain number between bounds.</summary>
    public static Question Number(string key, string prompt, string help, double lowest, double highest) => For(
        key, prompt, help, typed => ReadNumber(typed, lowest, highest), number => number.ToString("0.####", CultureInfo.InvariantCulture));

    public static Question YesNo(string key, string prompt, string help, string otherwise) =>
        For(key, prompt, help, ReadYesNo, yes => yes ? "yes" : "no") with { Words = "yes, no", Default = otherwise };

    /// <summary>One of a few words; its number or its beginning will do.</summary>
    public static Question Choice(string key, string prompt, string help, IReadOnlyList<string> words) =>
        For(key, prompt, help, typed => ReadChoice(typed, words), word => word) with { Words = string.Join(", ", words) };

    /// <summary>A file to be written; one that is there is asked about.</summary>
    public static Question NewFile(string key, string prompt, string ending, WorkFolder files) =>
        For(key, prompt, $"The file this interview writes, ending in {ending}. One that is there already is replaced only when you say so.", typed => ReadFileName(typed, ending), path => path) with
        {
            Doubt = answer => File.Exists(files.Resolve((string)answer.Value!))
                ? new InputError(ErrorCode.CannotWrite, "there is such a file already", "", "yes replaces it, no lets you name another") { File = (string)answer.Value! }
                : null,
        };

    /// <summary>"2600 mm".</summary>
    public static string Mm(double lengthM) => string.Create(CultureInfo.InvariantCulture, $"{Math.Round(lengthM * 1000, 1)} mm");

    /// <summary>"350 mm ahead".</summary>
    public static string SaidPlace(double placeM, string positive, string negative) => $"{Mm(Math.Abs(placeM))} {(placeM < 0 ? negative : positive)}";

    public static Result<bool> ReadYesNo(string typed) => typed.Trim().ToLowerInvariant() switch
    {
        "y" or "yes" => true,
        "n" or "no" => false,
        _ => new InputError(ErrorCode.UnknownName, $"found {InputError.Quote(typed)}", "yes or no", "type one of the two"),
    };

    /// <summary>A board's, wheel's or dolly's name.</summary>
    public static Result<string> ReadName(string typed) => Names.IsName(typed.Trim())
        ? typed.Trim()
        : new InputError(ErrorCode.Syntax, $"found {InputError.Quote(typed)}", Names.Expected, "choose a shorter or plainer name");

    private static Result<string> ReadText(string typed)
    {
        string text = typed.Trim();
        return text.Length is > 0 and <= LongestText ? Names.WhyNot(text) is { } unseen ? unseen : text
            : new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", $"1 to {LongestText} characters", "write one short line");
    }

    private static Result<double> ReadRate(string typed) => Typed.SpringRateNPerM(typed).Then<double>(rate => rate is >= 100 and <= 1e7
        ? rate
        : new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", "a rate from 0.1 to 10000 N/mm", "check the unit"));

    private static Result<double> ReadLength(string typed, Func<double, InputError?>? check, double tapeStartM) =>
        Typed.Length(typed, mayBeNegative: false).Then<double>(length =>
        {
            // A nanometre: what inches and differences leave behind it nobody measured.
            double lengthM = Math.Round(length.LengthM - tapeStartM, 9);
            // What was read off the tape shows a slip of unit better than what is left of it.
            InputError? wrong = lengthM > 0 ? check?.Invoke(lengthM) is { } refused ? check(length.LengthM) ?? refused : null : new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", "a length above 0", "measure again");
            return wrong is null ? lengthM : wrong;
        });

    private static Result<double> ReadPlace(string typed, string positive, string negative, double furthestM)
    {
        string text = typed.Trim();
        int sign = 1;
        if (text.EndsWith(positive, StringComparison.OrdinalIgnoreCase))
        {
            text = text[..^positive.Length];
        }
        else if (text.EndsWith(negative, StringComparison.OrdinalIgnoreCase))
        {
            (text, sign) = (text[..^negative.Length], -1);
        }

        return Typed.Length(text).Then<double>(length => Math.Abs(length.LengthM) <= furthestM
            ? sign * length.LengthM
            : new InputError(ErrorCode.Implausible, $"found {Mm(length.LengthM)}", $"at most {Mm(furthestM)}", "check the unit, and measure again"));
    }

    private static Result<double> ReadMass(string typed, MassUnit unit, bool mayBeZero) =>
        Typed.Mass(typed, unit).Then<double>(mass => mass.MassKg > 0 || mayBeZero
            ? mass.MassKg
            : new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", "a mass above 0", "weigh it, or estimate it"));

    private static Result<double> ReadNumber(string typed, double lowest, double highest) =>
        double.TryParse(typed, NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign | NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out double number)
        && number >= lowest && number <= highest
            ? number
            : new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", FormattableString.Invariant($"a number from {lowest} to {highest}"), "write it with a decimal point");

    private static Result<string> ReadChoice(string typed, IReadOnlyList<string> words)
    {
        string text = typed.Trim();
        string[] begin = [.. words.Where(word => text.Length > 0 && word.StartsWith(text, StringComparison.OrdinalIgnoreCase))];
        string? whole = begin.FirstOrDefault(word => word.Equals(text, StringComparison.OrdinalIgnoreCase));
        if ((whole ?? (begin.Length == 1 ? begin[0] : null)) is { } word)
        {
            return word;
        }

        return int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number >= 1 && number <= words.Count
            ? words[number - 1]
            : new InputError(ErrorCode.UnknownName, $"found {InputError.Quote(typed)}", string.Join(", ", words), begin.Length > 1 ? "type more of the word" : Nearest.AmongThem(text, words));
    }

    private static Result<string> ReadFileName(string typed, string ending)
    {
        string text = typed.Trim();
        if (text.Length == 0 || text.IndexOfAny(Path.GetInvalidPathChars()) >= 0 || text.Any(char.IsControl))
        {
            return new InputError(ErrorCode.Syntax, $"found {InputError.Quote(typed)}", "a file name", $"write one ending in {ending}");
        }

        return text.EndsWith(ending, StringComparison.OrdinalIgnoreCase) ? text : text + ending;
    }

    private static string TrimEndZeros(this string withUnit)
    {
        int space = withUnit.IndexOf(' ', StringComparison.Ordinal);
        return withUnit[..space].TrimEnd('0').TrimEnd('.') + withUnit[space..];
    }
}
