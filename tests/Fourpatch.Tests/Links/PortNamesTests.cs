using Fourpatch.Links;

namespace Fourpatch.Tests.Links;

/// <summary>Ports by the names that each platform gives them.</summary>
public class PortNamesTests
{
    [Theory]
    [InlineData(true, false, "COM5", "device manager")]
    [InlineData(false, true, "/dev/cu.usbserial-110", "/dev/cu.*")]
    [InlineData(false, false, "/dev/ttyUSB0", "dialout")]
    public void Each_platform_has_its_own(bool isWindows, bool isMacOs, string example, string where)
    {
        Assert.Equal(example, PortNames.ExampleOn(isWindows, isMacOs));
        Assert.Contains(where, PortNames.WhereToLookOn(isWindows, isMacOs), StringComparison.Ordinal);
    }

    [Fact]
    public void Numbers_are_in_the_order_of_numbers()
    {
        string[] names = ["COM10", "/dev/ttyUSB1", "COM9", "/dev/ttyUSB0", "COM1", "/dev/ttyACM0", "/dev/serial/by-id/adapter"];
        Array.Sort(names, PortNames.Compare);
        Assert.Equal(["/dev/serial/by-id/adapter", "/dev/ttyACM0", "/dev/ttyUSB0", "/dev/ttyUSB1", "COM1", "COM9", "COM10"], names);
    }

    [Fact]
    public void Of_two_names_of_one_port_the_one_that_does_not_wait_for_a_carrier_is_listed() =>
        Assert.Equal(["/dev/cu.usbserial-110", "COM3", "/dev/ttyUSB0"], PortNames.Usable(["/dev/tty.usbserial-110", "/dev/cu.usbserial-110", "COM3", "/dev/ttyUSB0"]));
}
