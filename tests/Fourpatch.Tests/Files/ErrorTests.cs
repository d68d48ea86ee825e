using Fourpatch.Files;

namespace Fourpatch.Tests.Files;

public class ErrorTests
{
    private static readonly InputError Sample = new(ErrorCode.OutOfRange, "found -3", "a mass in kg, at least 0", "correct the number");

    [Fact]
    public void The_line_names_file_line_field_finding_expectation_and_remedy_in_this_order() =>
        Assert.Equal("wren.toml:7: budget_kg: found -3, expected a mass in kg, at least 0; correct the number", Sample.At("wren.toml", 7, "budget_kg").OneLine);

    [Fact]
    public void A_place_once_filled_in_is_not_overwritten() =>
        Assert.Equal("a.toml:1: x: found -3, expected a mass in kg, at least 0; correct the number", Sample.At("a.toml", 1, "x").At("b.toml", 2, "y").OneLine);

    [Theory]
    [InlineData("--port", "--port does not go with --from", "--port does not go with --from; leave it out")]
    [InlineData("--port", "--portal is not known", "--port: --portal is not known; leave it out")]
    [InlineData("FL", "found \"FL\"", "FL: found \"FL\"; leave it out")]
    public void A_sentence_that_begins_with_its_field_does_not_name_it_twice(string field, string problem, string line) =>
        Assert.Equal(line, new InputError(ErrorCode.Contradiction, problem, "", "leave it out") { Field = field }.OneLine);

    [Fact]
    public void A_place_inside_a_larger_one_stands_behind_it()
    {
        Assert.Equal("--typed FL: found -3, expected a mass in kg, at least 0; correct the number", (Sample with { Field = "FL" }).Inside("--typed").OneLine);
        Assert.Equal("--typed: found -3, expected a mass in kg, at least 0; correct the number", Sample.Inside("--typed").OneLine);
    }

    [Theory]
    [InlineData("a\nb")]
    [InlineData("a\r\nb")]
    [InlineData("a\u2028b")]
    [InlineData("\u001b[31mred")]
    [InlineData("\ud800")]
    [InlineData("a\u202Eb")]
    [InlineData("a\u200Bb")]
    public void Nothing_found_can_break_the_line_or_colour_the_terminal(string found)
    {
        var line = new InputError(ErrorCode.Syntax, $"found {found}", found, found) { File = found, Field = found }.OneLine;
        Assert.DoesNotContain(line, symbol => char.IsControl(symbol) || char.IsSurrogate(symbol) || symbol is '\u2028' or '\u202E' or '\u200B');
        Assert.DoesNotContain('\n', InputError.Quote(found));
    }

    /// <summary>Formatting characters by the Unicode Character Database; joiners as UAX #31, 2.3, has them between letters of scripts that need them.</summary>
    [Theory]
    [InlineData("Wren", null)]
    [InlineData("\u0416\u0443\u043A 2", null)]
    [InlineData("\u30DF\u30CB", null)]
    [InlineData("\u0645\u06CC\u200C\u062E\u0648\u0627\u0647\u0645", null)]
    [InlineData("\U0001F3CE\uFE0F evening", null)]
    [InlineData("\U0001F468\u200D\U0001F527", null)]
    [InlineData("Wren\u200D", "U+200D")]
    [InlineData("Wr\u200Den", "U+200D")]
    [InlineData("Wr\u200Ben", "U+200B")]
    [InlineData("\u202Enerw", "U+202E")]
    [InlineData("\u2066Wren", "U+2066")]
    [InlineData("Wren\u3164", "U+3164")]
    [InlineData("Wr\ten", "U+0009")]
    public void A_name_may_be_of_any_script_and_hide_nothing(string name, string? hidden)
    {
        InputError? error = Names.WhyNot(name);
        Assert.Equal(hidden is not null, error is not null);
        Assert.Contains(hidden ?? "", error?.OneLine ?? "", StringComparison.Ordinal);
        Assert.Equal(hidden is null, Names.Visible(name) == name);
    }

    // Not a case above: an attribute cannot hold half a pair.
    [Fact]
    public void Half_a_sign_is_no_sign() => Assert.Contains("U+D800", Names.WhyNot("Wren" + (char)0xD800)!.OneLine, StringComparison.Ordinal);

    [Fact]
    public void What_was_found_is_shortened() => Assert.Equal(42, InputError.Quote(new string('x', 1000)).Length);

    [Fact]
    public void A_result_carries_its_value_or_its_error_through_the_next_step()
    {
        Result<int> good = 4;
        Result<int> bad = Sample;
        Assert.Equal(5, good.Then<int>(value => value + 1).Value);
        Assert.Same(Sample, bad.Then<int>(value => value + 1).Error);
        Assert.False(bad.TryGet(out _, out var error));
        Assert.Same(Sample, error);
        Assert.Throws<InvalidOperationException>(() => bad.Value);
        Assert.Equal("x", bad.At(field: "x").Error!.Field);
    }

    [Theory]
    [InlineData("wheelbase_m", "wheelbase_mm")]
    [InlineData("weelbase_mm", "wheelbase_mm")]
    [InlineData("WHEELBASE_MM", "wheelbase_mm")]
    [InlineData("tarck_rear_mm", "track_rear_mm")]
    [InlineData("zzz", null)]
    public void The_nearest_known_name_is_found_but_no_wild_guess(string typed, string? expected) =>
        Assert.Equal(expected, Nearest.To(typed, ["name", "wheelbase_mm", "track_front_mm", "track_rear_mm"]));
}
