using Fourpatch.Files;
using Fourpatch.Rigs;
using Fourpatch.VirtualRig;

namespace Fourpatch.Commands;

/// <summary>A layout over a virtual rig that is built otherwise: every load would be nonsense, and nothing else would say why.</summary>
internal static class VirtualRigMismatch
{
    /// <summary>What is wrong; null: nothing, or the rig is a physical one, whose build only the person knows.</summary>
    /// <param name="rig">What answered.</param>
    /// <param name="layout">What it is taken for.</param>
    /// <param name="layoutFile">Where that was read; null: it follows from the command.</param>
    public static InputError? Of(RigSession rig, RigLayout layout, string? layoutFile) =>
        rig.Boards.Select(board => Of(board.BoardId, VirtualFirmware.BuildOf(board.Connection.State.Identity?.FirmwareVersion), layout, layoutFile)).FirstOrDefault(error => error is not null);

    private static InputError? Of(string board, RigBuild? build, RigLayout layout, string? layoutFile)
    {
        bool isDollyMeant = layout.Dollies.Any(dolly => dolly.Cells.Any(cell => cell.Board == board));

        // A station may well add up all four cells of a dolly.
        bool arePadsMeant = layout.Stations.Any(station => station.Cells.Count(cell => cell.Board == board) is > 0 and < 4);
        return build switch
        {
            RigBuild.Pads or RigBuild.Lever when isDollyMeant => Refuse(
                $"a dolly was meant, but board {board} is a virtual rig of four {(build == RigBuild.Pads ? "pads" : "levers")}, one under each wheel of a car", "a virtual rig with a dolly",
                RigBuild.OneDolly, layoutFile is null ? "leave --method out" : "type --port alone for what is there"),
            RigBuild.OneDolly when arePadsMeant => Refuse(
                $"pads were meant, but board {board} is a virtual rig of one dolly on all four cells", "a virtual rig with pads",
                RigBuild.Pads, "a --layout with one [dolly.NAME] and no station"),
            _ => null,
        };

        InputError Refuse(string found, string expected, RigBuild wanted, string otherwise) => new(
            ErrorCode.Contradiction, found, expected, $"name a scenario with build = \"{Words.Of(wanted)}\" (--port virtual:FILE.toml, or simulate --scenario FILE.toml), or {otherwise}")
        {
            File = layoutFile,
        };
    }
}
