using Xunit.Abstractions;

[assembly: TestCollectionOrderer("Fourpatch.Tests.LongestFirst", "Fourpatch.Tests")]

namespace Fourpatch.Tests;

/// <summary>
/// Tests that hold something to a clock, though not to a speed: one after the other, so that they do not eat each other's patience. Others
/// run beside them, since most of their time is waiting.
/// </summary>
[CollectionDefinition(Name)]
public class KeepsTime
{
    public const string Name = "keeps time";
}

/// <summary>What must run one after the other begins first, and all the rest beside it: else it is what everything ends up waiting for.</summary>
public sealed class LongestFirst : ITestCollectionOrderer
{
    /// <inheritdoc/>
    public IEnumerable<ITestCollection> OrderTestCollections(IEnumerable<ITestCollection> testCollections) =>
        testCollections.OrderByDescending(collection => collection.DisplayName == KeepsTime.Name).ThenBy(collection => collection.DisplayName, StringComparer.Ordinal);
}
