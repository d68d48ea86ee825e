using Fourpatch.Files;

namespace Fourpatch.Tests.Browser;

/// <summary>A test that looks at a page in a real browser; where none is installed it is skipped and says why. Its class is in the collection <see cref="Browsers"/>.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class BrowserFactAttribute : FactAttribute
{
    public BrowserFactAttribute()
    {
        if (Browsers.Installed is null) Skip = Browsers.Missing;
    }
}

/// <summary>The same for several cases.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class BrowserTheoryAttribute : TheoryAttribute
{
    public BrowserTheoryAttribute()
    {
        if (Browsers.Installed is null) Skip = Browsers.Missing;
    }
}

/// <summary>All tests with a browser share one: starting it takes longer than most of them. <c>[Collection(Browsers.Name)]</c>, and a <see cref="BrowserFixture"/> in the constructor.</summary>
[CollectionDefinition(Name)]
public class Browsers : ICollectionFixture<BrowserFixture>
{
    public const string Name = "browser";

    public const string Missing = "Looks at pages in a browser: no Chromium or Chrome was found on the search path or in the usual places (Debian: apt install chromium).";

    internal static InstalledBrowser? Installed { get; } = InstalledBrowser.Find(Environment.GetEnvironmentVariable("PATH"), File.Exists);
}
