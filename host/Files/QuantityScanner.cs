using System.Globalization;

namespace Fourpatch.Files;

/// <summary>One number with its unit as typed. <c>LastDigit</c> is the worth of the last digit typed, in that unit.</summary>
internal readonly record struct QuantityPart(double Number, double LastDigit, string Unit);

/// <summary>One term of a sum: parts written one after the other (<c>8ft 6 3/8in</c>) add up.</summary>
internal sealed record QuantityTerm(int Sign, IReadOnlyList<QuantityPart> Parts);

/// <summary>
/// Takes typed text apart: <c>sum = [sign] term {sign term}; term = part {part}; part = number [unit];
/// number = digits [. digits] [digits/digits]</c>. Knows no unit and no meaning.
/// </summary>
internal sealed class QuantityScanner
{
    private const int LongestText = 200;
    private const double SmallestWrittenOut = 1e-3, LargestWrittenOut = 1e6;

    private readonly string _text;
    private int _at;

    private QuantityScanner(string text) => _text = text;

    public static Result<IReadOnlyList<QuantityTerm>> Scan(string text, string expected, string example)
    {
        // A typographic minus comes in by copy and paste.
        if (text.Length <= LongestText && HasExponent(text))
        {
            var meant = double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && Math.Abs(number) is >= SmallestWrittenOut and <= LargestWrittenOut
                ? string.Create(CultureInfo.InvariantCulture, $"did you mean {number}? ")
                : "";
            return new InputError(ErrorCode.Syntax, $"found {InputError.Quote(text)}", expected, $"{meant}write the number out, without an exponent, like {example}");
        }

        var scanner = new QuantityScanner(text.Replace('\u2212', '-').Trim());
        return text.Length <= LongestText && scanner.Sum() is { } terms
            ? terms
            : new InputError(ErrorCode.Syntax, $"found {InputError.Quote(text)}", expected, scanner.Hint(example));
    }

    // 1e308 is a number to a computer and a slip of the finger to a person.
    private static bool HasExponent(string text)
    {
        for (int at = 1; at + 1 < text.Length; at++)
        {
            if (text[at] is 'e' or 'E' && (char.IsAsciiDigit(text[at - 1]) || text[at - 1] == '.') && (char.IsAsciiDigit(text[at + 1]) || (text[at + 1] is '+' or '-' && at + 2 < text.Length && char.IsAsciiDigit(text[at + 2]))))
                return true;
        }

        return false;
    }

    private string Hint(string example) =>
        _text.Length == 0 ? $"write it, for example {example}"
        : _at < _text.Length && _text[_at] == ',' ? "write a decimal point, not a comma"
        : $"write it like {example}";

    private List<QuantityTerm>? Sum()
    {
        var terms = new List<QuantityTerm>();
        var sign = Sign() ?? 1;
        while (true)
        {
            if (Term() is not { } parts)
                return null;
            terms.Add(new QuantityTerm(sign, parts));
            if (_at == _text.Length)
                return terms;
            if (Sign() is not int next)
                return null;
            sign = next;
        }
    }

    private int? Sign()
    {
        SkipSpaces();
        if (_at == _text.Length || _text[_at] is not ('+' or '-'))
            return null;
        return _text[_at++] == '-' ? -1 : 1;
    }

    private List<QuantityPart>? Term()
    {
        var parts = new List<QuantityPart>();
        while (true)
        {
            SkipSpaces();
            if (Number() is not var (number, lastDigit))
                return null;
            SkipSpaces();
            parts.Add(new QuantityPart(number, lastDigit, Unit()));
            SkipSpaces();
            if (_at == _text.Length || !IsNumberStart(_text[_at]))
                return parts;
        }
    }

    private (double Number, double LastDigit)? Number()
    {
        var whole = Digits();
        var decimals = 0;
        if (_at < _text.Length && _text[_at] == '.')
        {
            _at++;
            var fraction = Digits();
            if (whole.Length + fraction.Length == 0)
                return null;
            decimals = fraction.Length;
            return Finite($"{whole}.{fraction}0", Math.Pow(10, -decimals));
        }

        if (whole.Length == 0)
            return null;
        if (Slash() is { } below)
            return Fraction("0", whole, below);

        var mark = _at;
        SkipSpaces();
        if (_at > mark && Digits() is { Length: > 0 } above && Slash() is { } under)
            return Fraction(whole, above, under);
        _at = mark;
        return Finite(whole, 1);
    }

    private static (double Number, double LastDigit)? Fraction(string whole, string above, string below)
    {
        if (Finite(whole, 1) is not var (integer, _) || Finite(above, 1) is not var (numerator, _) || Finite(below, 1) is not var (denominator, _))
            return null;
        return denominator == 0 || numerator >= denominator ? null : (integer + numerator / denominator, 1 / denominator);
    }

    private static (double Number, double LastDigit)? Finite(string digits, double lastDigit) =>
        double.TryParse(digits, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number) ? (number, lastDigit) : null;

    /// <summary>The digits behind a slash, or null when there is no slash with digits behind it.</summary>
    private string? Slash()
    {
        if (_at + 1 >= _text.Length || _text[_at] != '/' || !char.IsAsciiDigit(_text[_at + 1]))
            return null;
        _at++;
        return Digits();
    }

    private string Digits()
    {
        var start = _at;
        while (_at < _text.Length && char.IsAsciiDigit(_text[_at]))
            _at++;
        return _text[start.._at];
    }

    private string Unit()
    {
        var start = _at;
        while (_at < _text.Length && (char.IsLetter(_text[_at]) || _text[_at] is '\'' or '"' or '%' or '\u00b0' || (_at > start && _text[_at] == '/')))
            _at++;
        return _text[start.._at];
    }

    private void SkipSpaces()
    {
        while (_at < _text.Length && char.IsWhiteSpace(_text[_at]))
            _at++;
    }

    private static bool IsNumberStart(char symbol) => char.IsAsciiDigit(symbol) || symbol == '.';
}
