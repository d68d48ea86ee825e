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
