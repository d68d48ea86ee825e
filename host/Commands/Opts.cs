using System.CommandLine;
using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Rigs;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands;

/// <summary>Options that several commands share: one name, one meaning, one way to read each.</summary>
internal static class Opts
{
    public static Option<string[]> Ports() => new("--port")
    {
        Description = "serial path or COM name, tcp:HOST:PORT, replay:FILE or virtual[:SCENARIO.toml]; once for each board",
        HelpName = "P",
        Arity = ArgumentArity.OneOrMore,
        AllowMultipleArgumentsPerToken = false,
    };

    public static Option<string?> Layout() => new("--layout") { Description = "which cells make which station; without it cells 1 to 4 stand under FL, FR, RL and RR", HelpName = "FILE.toml" };

    public static Option<string?> Vehicle() => new("--vehicle") { Description = "wheelbase, tracks and what else is known of the vehicle", HelpName = "FILE.toml" };

    public static Option<string> Unit() => new("--unit") { Description = "kg, lb or N, for what is typed and shown", HelpName = "U", DefaultValueFactory = _ => "kg" };

    public static Option<string> ControlLines() => new("--control-lines")
    {
        Description = "asserted, released or leave: the two control lines of a serial port, which reset many boards",
        HelpName = "HOW",
        DefaultValueFactory = _ => "asserted",
    };

    public static Option<bool> Json() => new("--json") { Description = "answer as JSON, always in kg and mm" };

    public static Option<string?> Seconds(string description) => new("--seconds") { Description = description, HelpName = "N" };

    /// <summary>The ports given, at least one, and how their control lines are set.</summary>
    public static IReadOnlyList<PortAddress> Read(ParseResult parsed, Option<string[]> option, Option<string> controlLines)
    {
        ControlLines lines = parsed.GetValue(controlLines) switch
        {
            "asserted" => Links.ControlLines.Asserted,
            "released" => Links.ControlLines.Released,
            "leave" => Links.ControlLines.Leave,
            var other => throw new RefusalException(new InputError(
                ErrorCode.UnknownName, $"found {InputError.Quote(other ?? "")}", "asserted, released or leave", "choose one of the three") { Field = "--control-lines" }),
        };
        string[] typed = parsed.GetValue(option) ?? [];
        if (typed.Length == 0)
        {
            throw new RefusalException(new InputError(ErrorCode.Missing, "no port was given", "--port P", "run 'fourpatch ports' to see what is there, or use --port virtual") { Field = "--port" });
        }

        if (typed.GroupBy(port => port).FirstOrDefault(group => group.Count() > 1)?.Key is { } twice)
        {
            throw new RefusalException(new InputError(ErrorCode.Duplicate, $"{InputError.Quote(twice)} is given twice", "each board's own port", "leave one of the two out") { Field = "--port" });
        }

        return [.. typed.Select(port => ReadPort(port) with { ControlLines = lines })];
    }

    /// <summary>One port.</summary>
    public static PortAddress ReadPort(string typed) =>
        PortAddress.TryParse(typed, out PortAddress? address, out string problem)
            ? address!
            : throw new RefusalException(new InputError(ErrorCode.Syntax, problem, "", "correct the port") { Field = "--port" });

    /// <summary>The vehicle file, which must be given.</summary>
    public static Vehicle Read(ParseResult parsed, Option<string?> option, CommandContext context) =>
        parsed.GetValue(option) is { } path
            ? VehicleFile.Read(context.Files.Resolve(path)).OrRefuse()
            : throw new RefusalException(new InputError(
                ErrorCode.Missing, "no vehicle was given", "--vehicle FILE.toml", "write a file with name, wheelbase_mm, track_front_mm and track_rear_mm") { Field = "--vehicle" });

    /// <summary>The layout file for weighing a vehicle all at once, null when none was given. Its stations are named like the vehicle's wheels.</summary>
    public static RigLayout? ReadLayout(ParseResult parsed, Option<string?> option, Vehicle vehicle, CommandContext context)
    {
        if (parsed.GetValue(option) is not { } path)
        {
            return null;
        }

        RigLayout layout = LayoutFile.Read(context.Files.Resolve(path), [.. WeighingResult.StationNames(vehicle)]).OrRefuse();
        return layout.Stations.Count > 0
            ? layout
            : throw new RefusalException(new InputError(
                ErrorCode.Contradiction, "the layout has one dolly and no station", "a station under every wheel", "add [station.NAME] for each wheel") { File = path });
    }

    /// <summary>The folder the program keeps its own things in, for every command.</summary>
    public static Option<string?> Data() => new("--data") { Description = "folder for what is remembered, instead of your platform's own", HelpName = "DIR", Recursive = true };

    /// <summary>The unit of masses.</summary>
    public static MassUnit ReadUnit(ParseResult parsed, Option<string> option) => MassUnits.Parse(parsed.GetValue(option) ?? "kg").OrRefuse();

    /// <summary>A number of seconds between bounds, or what is taken when none was typed.</summary>
    public static TimeSpan ReadSeconds(ParseResult parsed, Option<string?> option, double otherwise, double lowest, double highest)
    {
        if (parsed.GetValue(option) is not { } typed)
        {
            return TimeSpan.FromSeconds(otherwise);
        }

        return double.TryParse(typed, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double seconds) && seconds >= lowest && seconds <= highest
            ? TimeSpan.FromSeconds(seconds)
            : throw new RefusalException(new InputError(
                ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", FormattableString.Invariant($"seconds from {lowest} to {highest}"), "correct it") { Field = option.Name });
    }
}
