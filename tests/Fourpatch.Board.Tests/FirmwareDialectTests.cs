using Fourpatch.Tests;
using Fourpatch.Tests.Gate.Dialect;

namespace Fourpatch.Board.Tests;

/// <summary>The firmware as compiled against the board's own mscorlib and the exact members of the other packages.</summary>
public class FirmwareDialectTests
{
    private const string Bank = "Fourpatch.Firmware.AmplifierBank";
    private const string Port = "Fourpatch.Firmware.SerialBytePort";

    private static readonly string Firmware = Repository.BuiltFor("nano-gate/firmware", "netstandard2.0", "Fourpatch.NanoGate.Firmware");

    private static readonly string[] CoreTypes =
    [
        "Fourpatch.Core.Rig.IClock", "Fourpatch.Core.Rig.Conversion", "Fourpatch.Core.Cells.BridgeCounts", "Fourpatch.Core.Arithmetic.Quotient",
    ];

    // What the packages do behind these calls is theirs; hardware-notes say what they may allocate. SpanByte is a struct.
    private static readonly string[] Packages =
    [
        "System.SpanByte", "System.Device.Spi.SpiDevice", "System.Device.Gpio.GpioPin", "System.Device.Gpio.PinValue", "System.IO.Ports.SerialPort",
        "nanoFramework.Hardware.Esp32.HighResTimer", "System.Array", "System.Threading.Interlocked",
    ];

    [Fact]
    public void The_firmware_holds_nothing_the_board_cannot_run()
        => Assert.Empty(NanoDialect.Inspect(Firmware, ["mscorlib", "Fourpatch.NanoGate", "Fourpatch.NanoDeclarations"], []));

    [Theory]
    [InlineData(Bank, "TryTake")]
    [InlineData(Bank, "Health")]
    [InlineData(Port, "Read")]
    [InlineData(Port, "TryWrite")]
    [InlineData("Fourpatch.Firmware.Clock", "get_NowMicroseconds")]
    [InlineData("Fourpatch.Firmware.Supervisor", "NoteProgress")]
    public void What_runs_for_every_sample_allocates_nothing_that_shows(string type, string method)
        => Assert.DoesNotContain(SamplePath.Inspect(Firmware, type, method, [.. CoreTypes, .. Packages]), finding => !IsTheRestart(finding) && !IsASpan(finding));

    [Fact]
    public void A_path_that_does_allocate_is_seen_to()
        => Assert.Contains(
            SamplePath.Inspect(Firmware, "Fourpatch.Firmware.FlashRecordStore", "TryWrite", [.. CoreTypes, .. Packages]),
            finding => finding.Rule == NanoRule.NewObject && finding.Detail.StartsWith("System.IO.FileStream", StringComparison.Ordinal));

    [Theory]
    [InlineData("Fourpatch.Firmware.Amplifiers.AmplifierLine::Read")]
    [InlineData("Fourpatch.Firmware.Amplifiers.AmplifierLine::Restart")]
    [InlineData("Fourpatch.Firmware.Amplifiers.ChannelSelector::Select")]
    [InlineData("Fourpatch.Firmware.Amplifiers.ConversionPhase::Enter")]
    [InlineData("Fourpatch.Firmware.Amplifiers.AmplifierChannel::Enter")]
    public void The_inspected_path_reaches_what_it_is_said_to(string method)
        => Assert.Contains(method, SamplePath.MethodsReached(Firmware, Bank, "TryTake", [.. CoreTypes, .. Packages]));

    // Making a struct makes no object; where the firmware makes one is told apart from an object by its type.
    private static bool IsASpan(Finding finding) => finding.Rule == NanoRule.NewObject && finding.Detail.StartsWith("System.SpanByte", StringComparison.Ordinal);

    // The package's power-down train makes an array of four; only a restart sends it, at most once a second.
    private static bool IsTheRestart(Finding finding) => finding.Detail.StartsWith("Iot.Device.Hx711.Scale::PowerDown()", StringComparison.Ordinal);
}
