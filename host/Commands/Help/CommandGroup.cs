namespace Fourpatch.Commands.Help;

/// <summary>Commands that belong to one part of the job, as the program's own help lists them.</summary>
/// <param name="Title">Heading.</param>
/// <param name="Commands">Names, in the order they are needed.</param>
internal sealed record CommandGroup(string Title, IReadOnlyList<string> Commands)
{
    /// <summary>Every command is in exactly one.</summary>
    public static IReadOnlyList<CommandGroup> All { get; } =
    [
        new("Begin here", ["guide", "demo", "help"]),
        new("Describe", ["vehicle", "rig", "parts"]),
        new("Choose and measure", ["choose", "lever", "floor", "cgheight"]),
        new("The rig", ["ports", "bringup", "check", "zero", "cal", "name", "log"]),
        new("Weigh", ["weigh", "watch", "serve"]),
        new("Plan the build", ["part", "plan", "place", "perch"]),
        new("Keep and show", ["job", "records", "report", "explain"]),
        new("Without a rig, and for your shell", ["simulate", "completion"]),
    ];
}
