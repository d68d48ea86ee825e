using System.CommandLine;
using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Files;

namespace Fourpatch.Commands.Calibration;

/// <summary>What the calibration commands read alike.</summary>
internal static class CalOptions
{
    public static int ReadCell(string? typed, string field = "CELL") => typed is "1" or "2" or "3" or "4"
        ? typed[0] - '0'
        : throw new RefusalException(new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed ?? "")}", "a cell from 1 to 4", "correct it") { Field = field });

    /// <summary>Day that a calibration made now states.</summary>
    public static DateOnly Today(CommandContext context) => DateOnly.FromDateTime(context.Clock.GetUtcNow().UtcDateTime);

    /// <summary>Stored readings only go into a board that is named.</summary>
    public static void CheckStore(ParseResult parsed, Chosen chosen, Option<bool> store, CalPort port)
    {
        // What is about to be overwritten is named by the person, not remembered.
        if (parsed.GetValue(store) && !port.IsGiven(parsed))
        {
            throw new RefusalException(new InputError(ErrorCode.Missing, "--store needs a board", "--port P", "name the board's port") { Field = "--store" });
        }

        if (!parsed.GetValue(store) && port.IsGiven(parsed))
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, "stored readings need no board", "--port with --store, or neither", "add --store to bring the result into the board, or leave --port out") { Field = "--port" });
        }
    }

    /// <summary>A file that could not be written in the end is refused before anybody has lifted a mass.</summary>
    public static void CheckPlace(string typed, CommandContext context, string field)
    {
        string path = context.Files.Resolve(typed);
        if (typed.Length == 0 || Directory.Exists(path) || !Directory.Exists(Path.GetDirectoryName(Path.GetFullPath(path))))
        {
            throw new RefusalException(new InputError(
                ErrorCode.CannotWrite, $"{InputError.Quote(typed)} cannot be written", "a file in a folder that is there", "name another file") { Field = field });
        }
    }

    /// <summary>What has no meaning in a dialogue.</summary>
    public static void CheckGuided(ParseResult parsed, Option<bool> json, Option<bool>? store = null)
    {
        if (parsed.GetValue(json))
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, "--json goes with --from", "", "a dialogue answers in words; leave --json out") { Field = "--json" });
        }

        if (store is not null && parsed.GetValue(store))
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, "--store goes with --from", "", "the dialogue asks before it stores; leave --store out") { Field = "--store" });
        }
    }

    public static double? ReadMass(ParseResult parsed, Option<string?> option, MassUnit unit)
    {
        if (parsed.GetValue(option) is not { } typed)
        {
            return null;
        }

        double massKg = Typed.Mass(typed, unit).OrRefuse(option.Name).MassKg;
        return massKg > 0 ? massKg : throw new RefusalException(new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", "more than 0", "correct it") { Field = option.Name });
    }

    public static double? ReadPositive(ParseResult parsed, Option<string?> option, double highest)
    {
        if (parsed.GetValue(option) is not { } typed)
        {
            return null;
        }

        return double.TryParse(typed, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double value) && value > 0 && value <= highest
            ? value
            : throw new RefusalException(new InputError(
                ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", FormattableString.Invariant($"a number above 0, up to {highest}"), "correct it") { Field = option.Name });
    }

    /// <summary>
    /// Stored readings as points. A row's own u_load_kg counts; without one the kind of mass given by <c>--mass</c> says how well its loads are
    /// known, in proportion; without that, a load counts as weighed on a shop scale.
    /// </summary>
    public static IReadOnlyList<CellPoint> PointsOf(IReadOnlyList<CellReading> readings, KnownMass? mass)
    {
        KnownMass kind = mass ?? KnownMass.ShopScale(1, "stored readings");
        double share = kind.StandardUncertaintyKg / kind.Kg;
        return
        [
            .. readings.Select(reading => new CellPoint(
                reading.LoadKg, reading.Counts, null, reading.Direction == LoadDirection.Up ? LoadedFrom.Below : LoadedFrom.Above,
                reading.ULoadKg ?? (share * reading.LoadKg), reading.LoadKg > 0 ? kind.Reference : "")),
        ];
    }
}
