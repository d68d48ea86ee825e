using System.CommandLine;
using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Links;

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

    public static Option<string> Unit() => new("--unit") { Description = "kg, lb or N, for what is typed and shown", HelpName = "U", CompletionSources = { _ => Words.All<MassUnit>() }, DefaultValueFactory = _ => "kg" };

    public static Option<string> ControlLines() => new("--control-lines")
    {
        Description = "asserted, released or leave: the two control lines of a serial port, which reset many boards",
        HelpName = "HOW", CompletionSources = { _ => Words.All<ControlLines>() },
        DefaultValueFactory = _ => "asserted",
    };

    public static Option<bool> Json() => new("--json") { Description = "answer as JSON, always in kg and mm" };

    public static Option<string> Sound() => new("--sound") { Description = "on or off", HelpName = "HOW", CompletionSources = { "on", "off" }, DefaultValueFactory = _ => "on" };

    public static Option<string?> Seconds(string description) => new("--seconds") { Description = description, HelpName = "N" };

    /// <summary>The ports typed, at least one, where the one used last is not good enough.</summary>
    public static IReadOnlyList<PortAddress> Read(ParseResult parsed, Option<string[]> option, Option<string> controlLines) =>
        PortsOf(parsed.GetValue(option) ?? [], parsed.GetValue(controlLines) ?? "");

    /// <summary>Ports, at least one, and how their control lines are set.</summary>
    public static IReadOnlyList<PortAddress> PortsOf(IReadOnlyList<string> typed, string controlLines)
    {
        ControlLines lines = ControlLinesOf(controlLines);
        if (typed.Count == 0)
        {
            throw new RefusalException(new InputError(ErrorCode.Missing, "no port was given", "--port P", "run 'fourpatch ports' to see what is there, or use --port virtual") { Field = "--port" });
        }

        if (typed.GroupBy(port => port).FirstOrDefault(group => group.Count() > 1)?.Key is { } twice)
        {
            throw new RefusalException(new InputError(ErrorCode.Duplicate, $"{InputError.Quote(twice)} is given twice", "each board's own port", "leave one of the two out") { Field = "--port" });
        }

        return [.. typed.Select(port => ReadPort(port) with { ControlLines = lines })];
    }

    /// <summary>How the control lines are set, also where no port is opened: a wrong word is never passed over.</summary>
    public static ControlLines ControlLinesOf(string typed) => typed switch
    {
        "asserted" => Links.ControlLines.Asserted,
        "released" => Links.ControlLines.Released,
        "leave" => Links.ControlLines.Leave,
        _ => throw new RefusalException(new InputError(
            ErrorCode.UnknownName, $"found {InputError.Quote(typed)}", "asserted, released or leave", "choose one of the three") { Field = "--control-lines" }),
    };

    /// <summary>One port.</summary>
    public static PortAddress ReadPort(string typed) =>
        PortAddress.TryParse(typed, out PortAddress? address, out string problem)
            ? address!
            : throw new RefusalException(new InputError(ErrorCode.Syntax, problem, "", "correct the port") { Field = "--port" });

    /// <summary>The folder the program keeps its own things in, for every command.</summary>
    public static Option<string?> Data() => new("--data") { Description = "folder for what is remembered and for records, instead of your platform's own", HelpName = "DIR", Recursive = true };

    /// <summary>Whether anything is to be heard.</summary>
    public static bool ReadSound(ParseResult parsed, Option<string> option) => parsed.GetValue(option) switch
    {
        "on" or null => true,
        "off" => false,
        { } typed => throw new RefusalException(new InputError(ErrorCode.UnknownName, $"found {InputError.Quote(typed)}", "on or off", "choose one of the two") { Field = option.Name }),
    };

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
