using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Reports;
using Fourpatch.Rigs;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.Demo;

/// <summary><c>demo</c>: the whole job on the virtual rig, in a minute, without hardware.</summary>
internal sealed class DemoCommand
{
    private const string DefaultFolder = "fourpatch-demo";
    private readonly Option<string> _out = new("--out") { Description = "folder for what it writes", HelpName = "DIR", DefaultValueFactory = _ => DefaultFolder };
    private readonly Option<string?> _seed = new("--seed") { Description = "of all chance; 1 unless said otherwise", HelpName = "N" };
    private readonly Option<string?> _vehicle = Opts.Vehicle();
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private DemoCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var demo = new DemoCommand(context);
        var command = new Command("demo", "Play the whole job on the virtual rig: calibrate four cells, weigh a car, compare with the truth.")
        {
            demo._out, demo._seed, demo._vehicle, demo._unit, demo._json,
        };
        command.SetAction(demo.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        ulong seed = ReadSeed(parsed.GetValue(_seed));
        string? vehicleFile = parsed.GetValue(_vehicle);
        (Scenario scenario, Vehicle vehicle) = vehicleFile is null ? InsideLinks.BuiltIn() : OwnCar(parsed);
        bool quiet = parsed.GetValue(_json);
        TextWriter output = quiet ? TextWriter.Null : _context.Terminal.Out;
        var garage = new DemoGarage(scenario, vehicle, seed);
        string path = parsed.GetValue(_out) is { Length: > 0 } named ? named : throw new RefusalException(new InputError(
            ErrorCode.Missing, "no folder was given", "--out DIR", "name one, or leave --out away") { Field = "--out" });
        var folder = new DemoFolder(_context.Files.Resolve(path));
        folder.Open();

        SafetyText.Write(output, _context.Terminal.Width);
        output.WriteLine();
        WeighingText.WriteWrapped(output, $"1. The virtual garage: {vehicle.Name}, four pads, one board that knows nothing yet.", _context.Terminal.Width);
        if (vehicleFile is not null)
        {
            WeighingText.WriteWrapped(output, DemoScenario.WhatIsInvented(vehicle), _context.Terminal.Width);
        }

        await using RigSession rig = await RigSession.ConnectAsync([new PortAddress(PortKind.Virtual, "")], null, garage, _context.Clock, cancel).ConfigureAwait(false);

        garage.TakeCarOff();
        var calibration = new DemoCalibration(garage, rig, scenario);
        WeighingText.WriteWrapped(output, $"2. Calibrating each cell with {calibration.Mass.Description} ...", _context.Terminal.Width);
        IReadOnlyList<CellFit> fits = await calibration.RunAsync(DateOnly.FromDateTime(_context.Clock.GetUtcNow().UtcDateTime), cancel).ConfigureAwait(false);
        WriteFits(output, fits, _context.Terminal.Width);

        WeighingText.WriteWrapped(output, $"3. {vehicle.Name} is pushed on to the pads; hands off ...", _context.Terminal.Width);
        output.WriteLine();
        garage.PutCarOn();
        await garage.SettleAsync(rig, cancel).ConfigureAwait(false);
        WeighingResult result = await AllAtOnce.TakeAsync(
            rig, vehicle, new CellAssumptions(), new WeighSettings(TimeSpan.FromSeconds(10), TimeSpan.FromSeconds(40)), null, cancel).ConfigureAwait(false);
        WeighingText.Write(output, result, unit, _context.Terminal.Width);

        output.WriteLine();
        WeighingText.WriteWrapped(output, "4. What only the simulation knows (about one line in twenty may lie outside):", _context.Terminal.Width);
        DemoComparison.Write(output, result, garage.Truth, unit);
        IReadOnlyList<string> files = folder.Write(vehicle, scenario, calibration, result, WeighingAnswer.Of(result, vehicleFile, _context.Clock.GetUtcNow()), unit);
        output.WriteLine();
        WeighingText.WriteWrapped(output, $"Written to {folder.Path}: {string.Join(", ", files)}", _context.Terminal.Width);
        if (quiet)
        {
            WriteJson(seed, folder, files, calibration, fits, result, garage.Truth, vehicleFile);
        }

        return result.IsAcceptable ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private (Scenario Scenario, Vehicle Vehicle) OwnCar(ParseResult parsed)
    {
        Vehicle vehicle = new Chosen(parsed, _context).ReadVehicle(_vehicle);
        return vehicle.HasFourCorners
            ? (DemoScenario.For(vehicle), vehicle)
            : throw new RefusalException(new InputError(ErrorCode.Contradiction, $"{vehicle.Name} does not stand on four corners", "a car or kart", "the demo weighs those only") { Field = "--vehicle" });
    }

    private static ulong ReadSeed(string? typed)
    {
        if (typed is null)
        {
            return 1;
        }

        return ulong.TryParse(typed, NumberStyles.None, CultureInfo.InvariantCulture, out ulong seed)
            ? seed
            : throw new RefusalException(new InputError(ErrorCode.WrongType, $"found {InputError.Quote(typed)}", "a whole number from 0", "correct it") { Field = "--seed" });
    }

    private static void WriteFits(TextWriter output, IReadOnlyList<CellFit> fits, int width)
    {
        for (int i = 0; i < fits.Count; i++)
        {
            CellFit fit = fits[i];
            string upsideDown = fit.KgPerCount < 0 ? ", counts down under load (allowed)" : "";
            WeighingText.WriteWrapped(output, string.Create(
                CultureInfo.InvariantCulture,
                $"   cell {i + 1}: {1 / Math.Abs(fit.KgPerCount!.Value):0} counts/kg, {fit.Sensitivity?.MillivoltsPerVolt:0.000} mV/V, rest {fit.ResidualKgRms * 1000:0} g rms{upsideDown}"), width);
        }

        output.WriteLine("   stored in the board, read back, the same.");
    }

    private void WriteJson(
        ulong seed, DemoFolder folder, IReadOnlyList<string> files, DemoCalibration calibration, IReadOnlyList<CellFit> fits, WeighingResult result, Truth truth, string? vehicleFile)
    {
        var calibrated = new JsonObject
        {
            ["zero_counts"] = new JsonArray([.. fits.Select(fit => (JsonNode?)fit.ZeroCounts)]),
            ["kg_per_count"] = new JsonArray([.. fits.Select(fit => (JsonNode?)fit.KgPerCount)]),
            ["reference"] = calibration.Mass.Description,
        };
        JsonNode? weighed = JsonNode.Parse(WeighingAnswer.Of(result, vehicleFile, _context.Clock.GetUtcNow()).ToText());
        _context.Terminal.Out.Write(new JsonAnswer("demo")
            .Put("seed", (long)Math.Min(seed, long.MaxValue))
            .Put("out", folder.Path)
            .Put("files", files)
            .Put("steps", new[]
            {
                new JsonObject { ["name"] = "calibrate", ["answer"] = calibrated },
                new JsonObject { ["name"] = "weigh", ["answer"] = weighed, ["truth"] = DemoComparison.TruthObject(truth) },
            })
            .PutQuality(result.IsAcceptable, result.Reasons)
            .ToText());
    }
}
