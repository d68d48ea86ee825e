using System.Globalization;

namespace Fourpatch.Tests.Files;

/// <summary>A culture that writes 1.234,5 for the length of a test; built by hand, for the program carries no culture data.</summary>
internal sealed class CommaCulture : IDisposable
{
    private readonly CultureInfo _before = CultureInfo.CurrentCulture;

    public CommaCulture()
    {
        var comma = (CultureInfo)CultureInfo.InvariantCulture.Clone();
        comma.NumberFormat.NumberDecimalSeparator = ",";
        comma.NumberFormat.NumberGroupSeparator = ".";
        comma.NumberFormat.NegativeSign = "~";
        CultureInfo.CurrentCulture = comma;
        Assert.Equal("1,5", 1.5.ToString(CultureInfo.CurrentCulture));
    }

    public void Dispose() => CultureInfo.CurrentCulture = _before;
}
