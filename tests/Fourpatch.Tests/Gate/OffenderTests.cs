using System.Reflection;
using Fourpatch.Tests.Gate.Dialect;

namespace Fourpatch.Tests.Gate;

/// <summary>The inspection is itself inspected: it must find every planted breach, and nothing else.</summary>
public class OffenderTests
{
    private const string Space = "Fourpatch.Offenders.";

    private static readonly string Offenders = Repository.BuiltFor("nano-gate-offenders", "netstandard2.0", "Fourpatch.NanoGateOffenders");

    private static readonly List<Finding> Findings = NanoDialect.Inspect(Offenders, ["mscorlib"], []);

    private static readonly NanoRule[] PathRules =
        [NanoRule.NewObject, NanoRule.NewArray, NanoRule.Boxing, NanoRule.StringLiteral, NanoRule.OutsideCall];

    // What the compiler itself refuses against the board's mscorlib is planted in this assembly.
    private static readonly NanoRule[] HostRules = [NanoRule.Volatile, NanoRule.ThreadStatic, NanoRule.Async, NanoRule.InOnVirtual];

    public static TheoryData<NanoRule> PlantedRules
        => new(Enum.GetValues<NanoRule>().Except(PathRules).Except(HostRules).Except([NanoRule.ForeignAssembly]));

    [Theory]
    [MemberData(nameof(PlantedRules))]
    public void Each_offender_breaks_the_rule_of_its_name_and_no_other(NanoRule rule)
    {
        NanoRule[] broken = Findings.Where(finding => finding.Type == Space + rule).Select(finding => finding.Rule).Distinct().ToArray();
        Assert.Equal([rule], broken);
    }

    [Fact]
    public void Every_breach_found_lies_in_a_class_named_after_it()
    {
        string[] misplaced = Findings
            .Where(finding => finding.Type != Space + finding.Rule && finding.Rule != NanoRule.ForeignAssembly)
            .Select(finding => finding.ToString())
            .ToArray();
        Assert.Empty(misplaced);
    }

    [Theory]
    [InlineData(NanoRule.EnumText, 2)]
    [InlineData(NanoRule.FloatingPointText, 3)]
    [InlineData(NanoRule.FormattedText, 2)]
    [InlineData(NanoRule.NumberPattern, 2)]
    [InlineData(NanoRule.CheckedArithmetic, 2)]
    [InlineData(NanoRule.HiddenVirtual, 2)]
    [InlineData(NanoRule.UnsafeDivision, 5)]
    [InlineData(NanoRule.NotANumber, 3)]
    [InlineData(NanoRule.ForeignStatics, 2)]
    public void Every_variant_of_a_breach_is_found(NanoRule rule, int members)
        => Assert.Equal(members, Findings.Where(finding => finding.Rule == rule).Select(finding => (finding.Member, finding.Detail)).Distinct().Count());

    [Fact]
    public void Another_assembly_is_named()
        => Assert.Equal("Fourpatch.NanoGate", Assert.Single(Findings, finding => finding.Rule == NanoRule.ForeignAssembly).Detail);

    [Fact]
    public void A_type_that_may_divide_is_let_divide()
        => Assert.DoesNotContain(NanoDialect.Inspect(Offenders, ["mscorlib"], [Space + "UnsafeDivision"]), finding => finding.Rule == NanoRule.UnsafeDivision);

    [Theory]
    [InlineData(NanoRule.Volatile)]
    [InlineData(NanoRule.ThreadStatic)]
    [InlineData(NanoRule.Async)]
    [InlineData(NanoRule.InOnVirtual)]
    public void What_the_compiler_refuses_is_found_too(NanoRule rule)
    {
        List<Finding> findings = NanoDialect.Inspect(Assembly.GetExecutingAssembly().Location, ["mscorlib"], []);
        Assert.Contains(findings, finding => finding.Rule == rule && finding.Type == $"{typeof(OffenderTests).Namespace}.{rule}Offender");
        Assert.DoesNotContain(findings, finding => finding.Rule == rule && finding.Type == typeof(SecondInspectionTarget).FullName);
    }

    [Theory]
    [InlineData(NanoRule.NewObject, "Step", 1)]
    [InlineData(NanoRule.NewObject, "Delegate", 1)]
    [InlineData(NanoRule.NewArray, "Step", 1)]
    [InlineData(NanoRule.Boxing, "Step", 1)]
    [InlineData(NanoRule.StringLiteral, "Step", 1)]
    [InlineData(NanoRule.OutsideCall, "Step", 1)]
    [InlineData(NanoRule.OutsideCall, "Text", 1)]
    public void An_allocation_on_the_path_is_found(NanoRule rule, string method, int times)
        => Assert.Equal(Enumerable.Repeat(rule, times), SamplePath.Inspect(Offenders, Space + rule, method, []).Select(finding => finding.Rule));

    [Fact]
    public void Calls_through_interfaces_and_virtuals_are_followed()
        => Assert.Equal(
            [NanoRule.NewArray, NanoRule.NewObject],
            SamplePath.Inspect(Offenders, Space + "InterfaceDispatch", "Step", []).Select(finding => finding.Rule).Order().Reverse());

    [Fact]
    public void A_boundary_is_not_looked_behind()
    {
        Assert.Empty(SamplePath.Inspect(Offenders, Space + "Boundary", "Step", [Space + "Boundary+IBoard"]));
        Assert.Single(SamplePath.Inspect(Offenders, Space + "Boundary", "Step", []));
    }

    [Fact]
    public void A_path_that_allocates_nothing_passes()
        => Assert.Empty(SamplePath.Inspect(Offenders, Space + "Innocent", "Step", []));
}
