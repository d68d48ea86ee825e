namespace Fourpatch.VirtualRig;

/// <summary>
/// What a virtual board states as the version of its firmware: by it whoever is at the other end of the wire knows what its cells stand under, which of a
/// physical rig only the person knows.
/// </summary>
public static class VirtualFirmware
{
    /// <summary>The version a board of this build states; no longer than the wire allows.</summary>
    public static string VersionOf(RigBuild build) => build switch
    {
        RigBuild.Pads => "sim-pads",
        RigBuild.Lever => "sim-levers",
        RigBuild.OneDolly => "sim-dolly",
        _ => "sim-dollies",
    };

    /// <summary>The build behind a version; null: not a virtual board's.</summary>
    public static RigBuild? BuildOf(string? version) => Enum.GetValues<RigBuild>().Cast<RigBuild?>().FirstOrDefault(build => VersionOf(build!.Value) == version);
}
