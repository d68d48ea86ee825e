namespace Fourpatch.Files;

/// <summary>A typed quantity in the unit its kind counts in, with the worth of the last digit typed.</summary>
internal readonly record struct TypedQuantity(double Value, double LastDigit, double URounding);

/// <summary>
/// One kind of quantity: the units people write for it, each with its exact factor, and which units may stand one
/// behind the other (feet and inches). Factors: NIST SP 811:2008 App. B.8/B.9, the 1959 yard and pound agreement.
/// </summary>
internal sealed class QuantityKind
{
    private readonly string _expected;
    private readonly string _example;
    // As multiplier and divisor, so that 2600 mm become 2.6 m to the last bit.
    private readonly Dictionary<string, Factor> _factors = new(StringComparer.OrdinalIgnoreCase);
    private readonly HashSet<(Factor Large, Factor Small)> _compounds = [];

    private QuantityKind(string expected, string example)
    {
        _expected = expected;
        _example = example;
    }

    public const double KgPerLb = 0.45359237;
    public const double MPerInch = 0.0254;

    /// <summary>Standard gravity, m/s2, exact by definition.</summary>
    public const double StandardGravity = 9.80665;

    private static readonly Factor Inch = new(254, 10000);
    private static readonly Factor Foot = new(3048, 10000);
    private static readonly Factor Pound = new(45359237, 1e8);
    private static readonly Factor Ounce = new(45359237, 16e8);
    private static readonly Factor Stone = new(14 * 45359237.0, 1e8);

    /// <summary>Counts in metres.</summary>
    public static QuantityKind Length { get; } = new QuantityKind("a length in mm, cm, m, in or ft", "2600, 260cm, 102.4in or 8ft 6 3/8in")
        .With(new(1, 1000), "mm").With(new(1, 100), "cm").With(new(1), "m").With(Inch, "in", "inch", "inches", "\"").With(Foot, "ft", "foot", "feet", "'")
        .Compound(Foot, Inch);

    /// <summary>Counts in kilograms; newtons are what a mass weighs at standard gravity.</summary>
    public static QuantityKind Mass { get; } = new QuantityKind("a mass in kg, g, t, lb, oz, st or N", "245.5, 541lb, 12st 4lb or 92.4+88.1-3.0")
        .With(new(1), "kg", "kgf").With(new(1, 1000), "g").With(new(1000), "t", "tonne", "tonnes").With(Pound, "lb", "lbs", "lbf").With(Ounce, "oz").With(Stone, "st", "stone").With(new(1, StandardGravity), "N")
        .Compound(Stone, Pound).Compound(Pound, Ounce);

    /// <summary>Counts in N/m. A bare number has two common meanings, so it is asked about.</summary>
    public static QuantityKind SpringRate { get; } = new QuantityKind("a spring rate with its unit, N/mm, lb/in or kgf/mm", "35N/mm, 200lb/in or 3.6kgf/mm")
        .With(new(1000), "N/mm").With(new(1), "N/m").With(new(KgPerLb * StandardGravity, MPerInch), "lb/in", "lbf/in", "lbs/in").With(new(9806.65), "kgf/mm", "kg/mm");

    /// <summary>Counts in radians.</summary>
    public static QuantityKind Angle { get; } = new QuantityKind("an angle in deg or rad", "1.5, 1.5deg or 0.026rad")
        .With(new(Math.PI, 180), "deg", "\u00b0", "degree", "degrees").With(new(1), "rad");

    /// <summary>Counts in litres.</summary>
    public static QuantityKind Volume { get; } = new QuantityKind("a volume in l, ml, usgal or impgal", "45, 45l or 12usgal")
        .With(new(1), "l", "litre", "litres", "liter", "liters").With(new(1, 1000), "ml").With(new(3.785411784), "usgal").With(new(4.54609), "impgal");

    /// <summary>Reads <paramref name="text"/>; a bare number is taken in <paramref name="bareUnit"/>, or refused when that is null.</summary>
    public Result<TypedQuantity> Parse(string text, string? bareUnit)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (!QuantityScanner.Scan(text, _expected, _example).TryGet(out var terms, out var error))
            return error;

        var parts = terms.SelectMany(term => term.Parts).ToList();
        if (parts.FirstOrDefault(part => part.Unit.Length > 0 && !_factors.ContainsKey(part.Unit)) is { Unit: { } unknown })
            return Refuse(text, $"unit {InputError.Quote(unknown)} in {InputError.Quote(text)}", ErrorCode.Unit, Nearest.Remedy(unknown, _factors.Keys));
        var bareCount = parts.Count(part => part.Unit.Length == 0);
        if (bareCount > 0 && bareCount < parts.Count)
            return Refuse(text, $"a number without a unit in {InputError.Quote(text)}", ErrorCode.Unit, "write the unit behind every number, or behind none");
        if (bareCount > 0 && bareUnit is null)
            return Refuse(text, $"found {InputError.Quote(text)} without a unit", ErrorCode.Unit, $"add the unit, as in {_example}");

        double value = 0, lastDigit = 0, variance = 0;
        for (var index = 0; index < terms.Count; index++)
        {
            var (sign, typed) = (terms[index].Sign, terms[index].Parts);
            for (var j = 0; j < typed.Count; j++)
            {
                var factor = FactorOf(typed[j], bareUnit);
                if (j > 0 && !_compounds.Contains((FactorOf(typed[j - 1], bareUnit), factor)))
                    return Refuse(text, $"found {InputError.Quote(text)}", ErrorCode.Syntax, $"put + between numbers that add up, or write it like {_example}");
                value += sign * factor.Times(typed[j].Number);
            }

            // 8ft-6in: some mean "and six inches", the sign means "less": neither may be guessed.
            if (index > 0 && sign < 0 && bareCount == 0 && _compounds.Contains((FactorOf(terms[index - 1].Parts[^1], bareUnit), FactorOf(typed[0], bareUnit))))
                return Refuse(text, $"found {InputError.Quote(text)}", ErrorCode.Syntax, "write a space instead of the dash if the two add up, or both in one unit if not");

            // Each term was read off by itself: a rectangle of half its own last digit to either side.
            var digit = FactorOf(typed[^1], bareUnit).Times(typed[^1].LastDigit);
            lastDigit = Math.Max(lastDigit, digit);
            variance += digit * digit / 12;
        }

        return double.IsFinite(value)
            ? new TypedQuantity(value, lastDigit, Math.Sqrt(variance))
            : Refuse(text, $"found {InputError.Quote(text)}", ErrorCode.OutOfRange, "leave out some digits");
    }

    private Factor FactorOf(QuantityPart part, string? bareUnit) => _factors[part.Unit.Length == 0 ? bareUnit! : part.Unit];

    private InputError Refuse(string text, string problem, ErrorCode code, string remedy) => new(code, problem, _expected, remedy);

    private QuantityKind With(Factor factor, params ReadOnlySpan<string> names)
    {
        foreach (var name in names)
            _factors.Add(name, factor);
        return this;
    }

    private QuantityKind Compound(Factor large, Factor small)
    {
        _compounds.Add((large, small));
        return this;
    }

    private readonly record struct Factor(double Multiplier, double Divisor = 1)
    {
        public double Times(double number) => number * Multiplier / Divisor;
    }
}
