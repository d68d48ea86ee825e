using Fourpatch.Files;
using Fourpatch.Links;

namespace Fourpatch.Commands;

/// <summary>Everything a command may touch of the outside world.</summary>
/// <param name="Terminal">The person.</param>
/// <param name="Clock">Time.</param>
/// <param name="Links">Ports.</param>
/// <param name="Files">The folder that relative paths start from.</param>
/// <param name="DataFolder">Where the program keeps what the next command is to know; null: nowhere, nothing is remembered.</param>
public sealed record CommandContext(ITerminal Terminal, TimeProvider Clock, ILinkOpener Links, WorkFolder Files, string? DataFolder = null)
{
    /// <summary>Finds the browser that prints pages; null: none is installed.</summary>
    public Func<InstalledBrowser?> FindBrowser { get; init; } = () => null;

    /// <summary>Commands of rooms above this one, which this one does not know.</summary>
    public IReadOnlyList<Func<CommandContext, System.CommandLine.Command>> More { get; init; } = [];

    /// <summary>The platform's folder for a person's data: <c>~/.local/share</c>, <c>~/Library/Application Support</c>, <c>%LOCALAPPDATA%</c>, each with <c>fourpatch</c> in it.</summary>
    public static string StandardDataFolder =>
        Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify), "fourpatch");
}

/// <summary>A folder that relative paths start from: the current one for a person, its own for a test.</summary>
/// <param name="path">Null for the current folder; paths are then passed on as typed.</param>
public sealed class WorkFolder(string? path = null)
{
    /// <summary>The path to open for a path as typed.</summary>
    public string Resolve(string typed) => path is null ? typed : Path.Combine(path, typed);
}
