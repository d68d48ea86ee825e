namespace Fourpatch.Reports;

/// <summary>In which order a car is set up (common practice, no source): each step spoils what came after it when it is done late.</summary>
public static class OrderOfWork
{
    /// <summary>The steps.</summary>
    public static IReadOnlyList<string> Steps { get; } =
    [
        "pressures and tyres", "bars off", "ride height", "level places", "weigh", "perches", "weigh", "bars on without preload", "weigh", "alignment", "weigh",
    ];

    /// <summary>All of them in one sentence.</summary>
    public static string Text => string.Join(" - ", Steps) + ".";
}
