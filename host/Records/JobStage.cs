namespace Fourpatch.Records;

/// <summary>A stage of setting a car up.</summary>
/// <param name="Key">As <c>--condition stage=KEY</c> notes it with a weighing.</param>
/// <param name="Title">In plain words.</param>
/// <param name="Tools">What it needs.</param>
/// <param name="Minutes">About.</param>
/// <param name="NeedsHelper">Whether a second person is needed.</param>
/// <param name="IsWeighing">Whether its result is four readings.</param>
public sealed record JobStage(string Key, string Title, string Tools, int Minutes, bool NeedsHelper = false, bool IsWeighing = false)
{
    /// <summary>Condition under which a weighing says how far the work had come.</summary>
    public const string Condition = "stage";

    /// <summary>The trade's order of work (common practice, no source): each stage spoils what a later one has set, never an earlier one. Nobody is alone with a car that is raised.</summary>
    public static IReadOnlyList<JobStage> Order { get; } =
    [
        new("tyres", "Pressures and tyres", "gauge, tape to go round each tyre", 10),
        new("bars-off", "Anti-roll bars off", "spanners, rated stands", 15, NeedsHelper: true),
        new("ride-height", "Ride height", "rule, spanner for the perches, rated stands", 20, NeedsHelper: true),
        new("level", "Four places level", "hose with water, straightedge or laser; shims", 30, NeedsHelper: true),
        new("weigh", "Weigh", "chocks, driver or ballast, fuel as it will be", 20, NeedsHelper: true, IsWeighing: true),
        new("perches", "Perches", "spanner for the perches, rated stands, paint to mark the collars", 40, NeedsHelper: true),
        new("weigh-perches", "Weigh again", "as before, nothing else changed", 15, NeedsHelper: true, IsWeighing: true),
        new("bars-on", "Bars on, without preload", "spanners; drop link adjusted until it slips in by hand; rated stands", 15, NeedsHelper: true),
        new("weigh-bars", "Weigh again", "the difference is the bars' preload", 15, NeedsHelper: true, IsWeighing: true),
        new("alignment", "Alignment", "string or gauges for toe and camber", 60),
        new("weigh-alignment", "Weigh a last time", "and keep it", 15, NeedsHelper: true, IsWeighing: true),
    ];
}
