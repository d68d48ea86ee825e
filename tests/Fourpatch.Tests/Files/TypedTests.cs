using CsCheck;
using Fourpatch.Files;
using UnitsNet;

namespace Fourpatch.Tests.Files;

public class TypedTests
{
    // NIST SP 811:2008 App. B.8/B.9 and the 1959 yard and pound agreement; every figure is exact.
    [Theory]
    [InlineData("1lb", 0.45359237)]
    [InlineData("1oz", 0.028349523125)]
    [InlineData("1st", 6.35029318)]
    [InlineData("1kg", 1)]
    [InlineData("1lbf", 0.45359237)]
    public void Masses_have_the_factors_of_the_1959_agreement(string text, double massKg) =>
        Assert.Equal(massKg, Typed.Mass(text).Value.MassKg);

    [Fact]
    public void A_newton_is_what_a_mass_weighs_at_standard_gravity_9_80665() =>
        Assert.Equal(100, Typed.Mass("980.665N").Value.MassKg, 12);

    [Theory]
    [InlineData("1in", 0.0254)]
    [InlineData("1ft", 0.3048)]
    [InlineData("1m", 1)]
    [InlineData("1cm", 0.01)]
    [InlineData("1", 0.001)]
    public void Lengths_have_the_exact_factors(string text, double lengthM) =>
        Assert.Equal(lengthM, Typed.Length(text).Value.LengthM);

    // lbf/in = 175.126835246476378 N/m, kgf/mm = 9806.65 N/m: NIST SP 811:2008 App. B.8.
    [Theory]
    [InlineData("1lb/in", 175.126835246476378)]
    [InlineData("1lbf/in", 175.126835246476378)]
    [InlineData("1kgf/mm", 9806.65)]
    [InlineData("35 N/mm", 35000)]
    public void Spring_rates_have_the_exact_factors(string text, double nPerM) =>
        Assert.Equal(nPerM, Typed.SpringRateNPerM(text).Value, 1e-12 * nPerM);

    // kg to lb 2.20462262184877581, NIST SP 811:2008 App. B.9.
    [Fact]
    public void What_is_shown_goes_by_the_reciprocal_factors()
    {
        Assert.Equal(2.20462262184877581, MassUnit.Lb.FromKg(1), 15);
        Assert.Equal(9.80665, MassUnit.N.FromKg(1));
        Assert.Equal("541.2 lb", MassUnit.Lb.Format(245.5, 1));
        Assert.Equal("2407.5 N", MassUnit.N.Format(245.5, 1));
        Assert.Equal("0.0 kg", MassUnit.Kg.Format(-0.04, 1));
        Assert.Equal("-0.1 kg", MassUnit.Kg.Format(-0.06, 1));
    }

    [Fact]
    public void All_factors_agree_with_an_independent_library() => Gen.Double[0.001, 1e5].Sample(number =>
    {
        var text = number.ToString("F6", System.Globalization.CultureInfo.InvariantCulture);
        number = double.Parse(text, System.Globalization.CultureInfo.InvariantCulture);
        Same(Mass.FromPounds(number).Kilograms, Typed.Mass(text + "lb").Value.MassKg);
        // The library carries these three to six and eight digits only; the exact figures are checked above.
        Same(Mass.FromStone(number).Kilograms, Typed.Mass(text + "st").Value.MassKg, 1e-6);
        Same(ForcePerLength.FromPoundsForcePerInch(number).NewtonsPerMeter, Typed.SpringRateNPerM(text + "lb/in").Value, 1e-8);
        Same(ForcePerLength.FromKilogramsForcePerMillimeter(number).NewtonsPerMeter, Typed.SpringRateNPerM(text + "kgf/mm").Value, 1e-8);
        Same(Mass.FromOunces(number).Kilograms, Typed.Mass(text + "oz").Value.MassKg);
        Same(Length.FromInches(number).Meters, Typed.Length(text + "in").Value.LengthM);
        Same(Length.FromFeet(number).Meters, Typed.Length(text + "ft").Value.LengthM);
        Same(Force.FromNewtons(number).KilogramsForce, Typed.Mass(text + "N").Value.MassKg);
        Same(Volume.FromUsGallons(number).Liters, Typed.VolumeL(text + "usgal").Value);
        Same(Volume.FromImperialGallons(number).Liters, Typed.VolumeL(text + "impgal").Value);
        Same(Angle.FromDegrees(number).Radians, Typed.AngleRad(text + "deg").Value);
    });

    [Theory]
    [InlineData("2600", 2.6)]
    [InlineData("260cm", 2.6)]
    [InlineData("2.6 m", 2.6)]
    [InlineData("102.4in", 2.60096)]
    [InlineData("8ft 6 3/8in", 8 * 0.3048 + 6.375 * 0.0254)]
    [InlineData("8' 6 3/8\"", 8 * 0.3048 + 6.375 * 0.0254)]
    [InlineData("8ft6in", 2.5908)]
    [InlineData("3/8in", 0.009525)]
    [InlineData("-350", -0.35)]
    [InlineData("\u2212350", -0.35)]
    [InlineData("2700-100", 2.6)]
    [InlineData(".5in", 0.0127)]
    [InlineData("260CM", 2.6)]
    public void Lengths_are_read_as_people_write_them(string text, double lengthM) =>
        Assert.Equal(lengthM, Typed.Length(text).Value.LengthM, 14);

    [Theory]
    [InlineData("92.4+88.1-3.0", 177.5)]
    [InlineData(" 92.4 + 88.1 - 3.0 ", 177.5)]
    [InlineData("12st 4lb", 12 * 6.35029318 + 4 * 0.45359237)]
    [InlineData("10 lb + 1 kg", 5.5359237)]
    [InlineData("250g", 0.25)]
    public void Masses_may_be_sums_and_differences(string text, double massKg) =>
        Assert.Equal(massKg, Typed.Mass(text).Value.MassKg, 12);

    [Fact]
    public void A_bare_mass_is_in_the_unit_chosen()
    {
        Assert.Equal(245.39347217, Typed.Mass("541", MassUnit.Lb).Value.MassKg, 8);
        Assert.Equal(541, Typed.Mass("541kg", MassUnit.Lb).Value.MassKg);
    }

    [Theory]
    [InlineData("245", 1)]
    [InlineData("245.5", 0.1)]
    [InlineData("245.50", 0.01)]
    [InlineData("541lb", 0.45359237)]
    [InlineData("12st 4lb", 0.45359237)]
    [InlineData("92.4+88", 1)]
    public void The_last_digit_typed_is_the_resolution(string text, double lastDigitKg) =>
        Assert.Equal(lastDigitKg, Typed.Mass(text).Value.LastDigitKg, 12);

    // A rectangle of half-width a has the standard uncertainty a / sqrt(3): JCGM 100:2008, 4.3.7.
    [Fact]
    public void Every_term_of_a_sum_is_rounded_by_itself()
    {
        Assert.Equal(0.05 / Math.Sqrt(3), Typed.Mass("245.5").Value.URoundingKg, 14);
        Assert.Equal(0.05, Typed.Mass("92.4+88.1-3.0").Value.URoundingKg, 14);
    }

    [Fact]
    public void A_fraction_resolves_to_its_denominator() =>
        Assert.Equal(0.0254 / 8, Typed.Length("8ft 6 3/8in").Value.LastDigitM, 14);

    [Theory]
    [InlineData("52%", 0.52)]
    [InlineData("52 %", 0.52)]
    [InlineData("0.52", 0.52)]
    [InlineData("0", 0)]
    [InlineData("100%", 1)]
    public void Shares_are_percent_or_fractions(string text, double share) => Assert.Equal(share, Typed.Share(text).Value, 15);

    [Fact]
    public void A_bare_52_is_asked_about() => Assert.Contains("did you mean 52%?", Typed.Share("52").Error!.OneLine, StringComparison.Ordinal);

    [Theory]
    [InlineData("1.5", 0.0015)]
    [InlineData("1.5mm", 0.0015)]
    [InlineData("16tpi", 0.0015875)]
    [InlineData("16 TPI", 0.0015875)]
    public void Thread_pitches_are_mm_or_threads_per_inch(string text, double pitchM) => Assert.Equal(pitchM, Typed.ThreadPitchM(text).Value, 15);

    [Fact]
    public void Percentages_are_fractions_inside() => Assert.Equal(0.001, Typed.PercentAsFraction("0.1%").Value, 15);

    [Fact]
    public void Nothing_depends_on_the_culture()
    {
        using var comma = new CommaCulture();
        Assert.Equal(177.5, Typed.Mass("92.4+88.1-3.0").Value.MassKg, 12);
        Assert.Equal(2.60096, Typed.Length("102.4in").Value.LengthM, 12);
        Assert.Equal(0.525, Typed.Share("52.5%").Value, 12);
        Assert.Equal("245.5 kg", MassUnit.Kg.Format(245.5, 1));
        Assert.False(Typed.Mass("92,4").IsOk);
        Assert.Contains("found 260 mm", Plausibility.WheelbaseM(0.26)!.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public void No_text_whatever_makes_a_reader_throw()
    {
        var symbols = "0123456789.,+-/ ='\"%\u00b0kgmlbftinstNFLRop\n\0\ud83d\u2212".ToCharArray();
        Gen.Int[0, symbols.Length - 1].Select(index => symbols[index]).Array[0, 30].Select(letters => new string(letters)).Sample(text =>
        {
            _ = Typed.Mass(text);
            _ = Typed.Length(text);
            _ = Typed.Share(text);
            _ = Typed.ThreadPitchM(text);
            _ = Typed.SpringRateNPerM(text);
            _ = Typed.AngleRad(text);
            _ = Typed.VolumeL(text);
            _ = Typed.PercentAsFraction(text);
            _ = CornerList.Masses(text);
            _ = FaultOption.Parse(text);
            return Typed.Mass(text) is var mass && (mass.IsOk ? double.IsFinite(mass.Value.MassKg) && mass.Value.URoundingKg > 0 : !mass.Error.OneLine.Contains('\n', StringComparison.Ordinal));
        });
    }

    private static void Same(double expected, double actual, double relative = 1e-12) => Assert.Equal(expected, actual, relative * Math.Abs(expected));
}
