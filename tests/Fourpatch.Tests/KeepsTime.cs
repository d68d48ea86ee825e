namespace Fourpatch.Tests;

/// <summary>
/// Tests that hold something to a clock, though not to a speed: they run by themselves, after all others, so that a busy machine
/// does not eat the patience they test.
/// </summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public class KeepsTime
{
    public const string Name = "keeps time";
}
