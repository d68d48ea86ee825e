using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Weighing;

namespace Fourpatch.Web;

/// <summary>A guide that the page offers.</summary>
/// <param name="Id">What the page calls it.</param>
/// <param name="Title">What the person sees.</param>
/// <param name="Words">The command.</param>
/// <param name="UsesVehicle">Whether it takes <c>--vehicle</c>.</param>
/// <param name="UsesUnit">Whether it takes <c>--unit</c>.</param>
internal sealed record Guide(string Id, string Title, string[] Words, bool UsesVehicle, bool UsesUnit)
{
    /// <summary>True for one that starts from the loads that stand there, and needs no rig of its own.</summary>
    public bool UsesLoads { get; init; }

    /// <summary>True for one that takes the layout of a dolly that goes round.</summary>
    public bool UsesDolly { get; init; }
}

/// <summary>The guides of the page: which commands, and what the rig and the car of the session add to them.</summary>
internal static class Guides
{
    /// <summary>All of them, in the order of the job.</summary>
    public static IReadOnlyList<Guide> All { get; } =
    [
        new("one-by-one", "Weigh one corner at a time", ["weigh", "--method", "one-by-one"], true, true) { UsesDolly = true },
        new("by-axle", "Weigh with two pads", ["weigh", "--method", "by-axle"], true, true),
        new("perch", "Set the perches", ["perch", "--repeat"], true, true) { UsesLoads = true },
        new("check", "Check the rig", ["check"], false, false),
        .. Enumerable.Range(1, 4).Select(cell => new Guide($"cal-cell-{cell}", $"Calibrate cell {cell}", ["cal", "cell", cell.ToString(CultureInfo.InvariantCulture)], false, true)),
        new("cal-rotate", "Calibrate by moving the pads round", ["cal", "rotate"], true, true),
        new("bringup", "First power-up", ["bringup"], false, false),
    ];

    /// <summary>The command line of a guide.</summary>
    /// <param name="guide">Which.</param>
    /// <param name="rig">Options that name the rig.</param>
    /// <param name="vehicleFile">The vehicle file.</param>
    /// <param name="unit">Of what is typed and shown.</param>
    /// <param name="view">What stands there now.</param>
    /// <param name="corners">The same as <c>--corners</c> takes it; empty when not all is known and still.</param>
    /// <param name="target">Cross share to reach; empty: what the vehicle file says.</param>
    public static Result<IReadOnlyList<string>> Args(Guide guide, IReadOnlyList<string> rig, string vehicleFile, MassUnit unit, LiveView view, string corners, string target)
    {
        List<string> args = [.. guide.Words];
        if (guide.UsesVehicle)
        {
            args.Add($"--vehicle={vehicleFile}");
        }

        if (guide.UsesUnit)
        {
            args.Add($"--unit={unit.Symbol()}");
        }

        if (!guide.UsesLoads)
        {
            args.AddRange(rig);
            return args;
        }

        if (corners.Length == 0)
        {
            return new InputError(ErrorCode.Missing, "not every wheel is known and still", "", "let held figures go and the car come to rest, then start again");
        }

        double largestKg = view.Result.Loads.Max(load => load.LoadKg!.StandardUncertainty);
        args.AddRange([$"--corners={corners}", string.Create(CultureInfo.InvariantCulture, $"--u-corner={Math.Max(largestKg, 0.001):0.000}kg")]);
        if (target.Length > 0)
        {
            // In one piece with its option: what was typed at a page must never become an option of its own.
            if (!Typed.Share(target).TryGet(out _, out InputError? error))
            {
                return error;
            }

            args.Add($"--target-cross={target}");
        }

        return args;
    }
}
