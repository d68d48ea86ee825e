using Fourpatch.Links;

namespace Fourpatch.Tests.Links;

public class PortAddressTests
{
    [Theory]
    [InlineData("/dev/ttyUSB0", PortKind.Serial, "/dev/ttyUSB0", 0)]
    [InlineData("COM7", PortKind.Serial, "COM7", 0)]
    [InlineData("tcp:localhost:4150", PortKind.Tcp, "localhost", 4150)]
    [InlineData("TCP:10.0.0.7:65535", PortKind.Tcp, "10.0.0.7", 65535)]
    [InlineData("tcp:::1:1", PortKind.Tcp, "::1", 1)]
    [InlineData("replay:evening 3.csv", PortKind.Replay, "evening 3.csv", 0)]
    [InlineData("virtual", PortKind.Virtual, "", 0)]
    [InlineData("virtual:my/pads.toml", PortKind.Virtual, "my/pads.toml", 0)]
    public void A_port_is_understood_and_written_back(string typed, PortKind kind, string target, int tcpPort)
    {
        Assert.True(PortAddress.TryParse(typed, out PortAddress? address, out string problem));
        Assert.Equal("", problem);
        Assert.Equal((kind, target, tcpPort), (address!.Kind, address.Target, address.TcpPort));
        Assert.Equal(typed, address.ToString(), ignoreCase: true);
    }

    [Theory]
    [InlineData("")]
    [InlineData("  ")]
    [InlineData("/dev/tty\u0007")]
    [InlineData("tcp:")]
    [InlineData("tcp:localhost")]
    [InlineData("tcp::4150")]
    [InlineData("tcp:localhost:+1")]
    [InlineData("tcp:localhost:99999")]
    [InlineData("replay:")]
    public void What_is_no_port_is_one_line_with_a_remedy(string typed)
    {
        Assert.False(PortAddress.TryParse(typed, out PortAddress? address, out string problem));
        Assert.Null(address);
        Assert.NotEqual("", problem);
        Assert.DoesNotContain('\n', problem);
    }

    [Fact]
    public async Task Where_nobody_listens_it_is_said()
    {
        var refused = await Assert.ThrowsAsync<LinkUnavailableException>(async () => await TcpLink.OpenAsync(new PortAddress(PortKind.Tcp, "127.0.0.1", 1), default));
        Assert.StartsWith("cannot connect to tcp:127.0.0.1:1: ", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_device_that_is_not_there_is_named_with_the_true_reason()
    {
        if (!OperatingSystem.IsWindows())
        {
            var refused = Assert.Throws<LinkUnavailableException>(() => SerialLink.Open("/dev/no-such-port", ControlLines.Asserted));
            Assert.Equal("cannot open /dev/no-such-port: No such file or directory", refused.Message);
        }
    }
}
