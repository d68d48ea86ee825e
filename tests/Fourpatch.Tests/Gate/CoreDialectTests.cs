using Fourpatch.Tests.Gate.Dialect;

namespace Fourpatch.Tests.Gate;

/// <summary>The core as compiled against the board's own mscorlib.</summary>
public class CoreDialectTests
{
    private const string Controller = "Fourpatch.Core.Rig.RigController";

    private static readonly string Core = Repository.BuiltFor("nano-gate", "netstandard2.0", "Fourpatch.NanoGate");

    private static readonly string[] BoardInterfaces =
        ["Fourpatch.Core.Rig.IAmplifierBank", "Fourpatch.Core.Rig.IBytePort", "Fourpatch.Core.Rig.IRecordStore", "Fourpatch.Core.Rig.IClock"];

    [Fact]
    public void The_core_holds_nothing_the_board_cannot_run()
        => Assert.Empty(NanoDialect.Inspect(Core, ["mscorlib"], ["Fourpatch.Core.Arithmetic.Quotient"]));

    [Fact]
    public void The_sample_path_allocates_nothing()
        => Assert.Empty(SamplePath.Inspect(Core, Controller, "Step", BoardInterfaces));

    [Theory]
    [InlineData("Fourpatch.Core.Wire.SampleLine::TryWrite")]
    [InlineData("Fourpatch.Core.Rig.LoadsLine::TryWrite")]
    [InlineData("Fourpatch.Core.Rig.CellWatch::Enter")]
    [InlineData("Fourpatch.Core.Rig.CommandDesk::TryAnswer")]
    [InlineData("Fourpatch.Core.Rig.BoardMemory::TryCommit")]
    public void The_inspected_path_reaches_what_it_is_said_to(string method)
        => Assert.Contains(method, SamplePath.MethodsReached(Core, Controller, "Step", BoardInterfaces));

    [Theory]
    [InlineData("Fourpatch.Core.Cells.AsciiText::ToString")]
    [InlineData("Fourpatch.Core.Rig.BoardRecord::Clear")]
    public void The_inspected_path_stays_away_from_what_allocates(string method)
        => Assert.DoesNotContain(method, SamplePath.MethodsReached(Core, Controller, "Step", BoardInterfaces));

    [Fact]
    public void An_assembly_or_method_that_is_not_there_does_not_pass_for_clean()
    {
        Assert.Throws<FileNotFoundException>(() => NanoDialect.Inspect(Core + "x", ["mscorlib"], []));
        Assert.Throws<InvalidOperationException>(() => SamplePath.Inspect(Core, Controller, "Stop", BoardInterfaces));
    }
}
