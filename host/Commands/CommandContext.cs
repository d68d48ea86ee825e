using Fourpatch.Links;

namespace Fourpatch.Commands;

/// <summary>Everything a command may touch of the outside world.</summary>
/// <param name="Terminal">The person.</param>
/// <param name="Clock">Time.</param>
/// <param name="Links">Ports.</param>
/// <param name="Files">The folder that relative paths start from.</param>
public sealed record CommandContext(ITerminal Terminal, TimeProvider Clock, ILinkOpener Links, WorkFolder Files);

/// <summary>A folder that relative paths start from: the current one for a person, its own for a test.</summary>
/// <param name="path">Null for the current folder; paths are then passed on as typed.</param>
public sealed class WorkFolder(string? path = null)
{
    /// <summary>The path to open for a path as typed.</summary>
    public string Resolve(string typed) => path is null ? typed : Path.Combine(path, typed);
}
