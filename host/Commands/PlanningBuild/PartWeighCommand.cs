using System.CommandLine;
using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Planning;
using Fourpatch.Reports;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.PlanningBuild;

/// <summary><c>part weigh NAME</c>: a part on one station of the rig, on two, or on any scale, into its row of the parts list.</summary>
internal sealed class PartWeighCommand
{
    private const double LeastApartM = 0.05, MostApartM = 10, MostUApartM = 0.1;

    // Standard uncertainties, in a row of the list, are told to the gram.
    private const int Decimals = 3;

    private readonly Argument<string> _item = PartCommand.Item();
    private readonly Option<string?> _parts = PlanningInputs.Parts();
    private readonly Option<string?> _vehicle = Opts.Vehicle();
    private readonly Option<string[]> _ports = Opts.Ports();
    private readonly Option<string?> _layout = Opts.Layout();
    private readonly Option<string> _controlLines = Opts.ControlLines();
    private readonly Option<string?> _seconds = Opts.Seconds("length of the window that is averaged, 3 to 120; 10 unless said otherwise");
    private readonly Option<string?> _on = new("--on") { Description = "the pad or dolly it lies on: FL; a long part on two: FL,FR", HelpName = "STATION" };
    private readonly Option<string?> _reading = new("--reading") { Description = "instead of the rig: what any scale shows, may be a sum 38.4-3.0; a long part on two scales: 20.1,18.3", HelpName = "KG" };
    private readonly TypedLoadOptions _typed = new("--reading");
    private readonly Option<string?> _apart = new("--apart") { Description = "a long part: distance between its two supports", HelpName = "MM" };
    private readonly Option<string?> _uApart = new("--u-apart") { Description = "standard uncertainty of that distance; 2 mm unless said otherwise", HelpName = "MM" };
    private readonly Option<string?> _firstBehind = new("--first-behind") { Description = "a long part: where its first support will be in the car, behind the front axle, the second one further back; gives its place", HelpName = "MM" };
    private readonly Option<string?> _note = new("--note") { Description = "what else to note: with oil, without starter", HelpName = "TEXT" };
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private PartWeighCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var weigh = new PartWeighCommand(context);
        var command = new Command("weigh", "Weigh one part on the rig or on any scale, and write mass, how sure, date and note into its row of the parts list.")
        {
            weigh._item, weigh._parts, weigh._vehicle, weigh._ports, weigh._layout, weigh._on, weigh._reading,
            weigh._apart, weigh._uApart, weigh._firstBehind, weigh._note, weigh._seconds, weigh._controlLines, weigh._unit, weigh._json,
        };
        foreach (Option said in weigh._typed.Said)
        {
            command.Add(said);
        }

        command.SetAction(weigh.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        var chosen = new Chosen(parsed, _context);
        Vehicle vehicle = chosen.ReadVehicle(_vehicle);
        PartsList list = PartsList.Read(parsed, _parts, _item, vehicle, _context);
        if (list.Part.Action == PartAction.BallastSpot)
        {
            throw Refuse(ErrorCode.Contradiction, _item.Name, $"{InputError.Quote(list.Part.Item)} is a ballast-spot, which has no mass yet", "a part", "weigh what is bolted on there, in a row of its own");
        }

        bool isTyped = parsed.GetValue(_reading) is not null;
        RefuseStrays(parsed, isTyped);
        IReadOnlyList<Measured>? typed = isTyped ? ReadTyped(parsed, unit) : null;
        string[] on = isTyped ? (typed!.Count == 2 ? ["the first scale", "the second scale"] : ["the scale"]) : ReadOn(parsed);
        Measured? apartM = ReadApart(parsed, on.Length);
        double? firstBehindM = ReadFirstBehind(parsed, on.Length);
        string? note = parsed.GetValue(_note) is { } text ? RecordSaving.ReadText(text, _note.Name, "a note") : null;
        (IReadOnlyList<Measured?> loads, IReadOnlyList<Reason> reasons) = isTyped
            ? (typed!, TypedWeighing.Assumed(_typed.ReadSaid(parsed, unit)))
            : await FromRigAsync(parsed, chosen, vehicle, on, cancel).ConfigureAwait(false);

        WeighedPart? weighed = loads.Any(load => load is null) ? null : WeighedPart.Of([.. loads.Select(load => load!)], apartM);
        if (weighed is not null && !(weighed.MassKg.Value > weighed.MassKg.Expand().HalfWidth))
        {
            reasons = [.. reasons, new Reason(ReasonCode.NegativeLoad, null, $"no part can be told on {string.Join(" and ", on)}: what is read is no more than how sure it is; put the part on, or take the zero with nothing on")];
        }

        if (weighed is not null && Doubt(list.Part, weighed, unit) is { } doubt)
        {
            reasons = [.. reasons, doubt];
        }

        var weighing = new PartWeighing(list.Part, Changed(list.Part, weighed, on, firstBehindM, note), weighed, on, reasons, IsWritten: false);
        if (weighing.IsAcceptable)
        {
            list.Write(_ => weighing.Now);
            weighing = weighing with { IsWritten = true };
        }

        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(PartAnswer.Of(weighing, list.File).Put("vehicle", chosen.VehicleObject).Put("rig", chosen.RigObject).ToText());
        }
        else
        {
            WeighingText.WriteWrapped(_context.Terminal.Out, chosen.Line, _context.Terminal.Width);
            new PartText(_context.Terminal.Out, unit, _context.Terminal.Width).Write(weighing, list.File);
        }

        if (isTyped)
        {
            chosen.Remember([]);
        }

        return weighing.IsAcceptable ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    // Grams for kilograms, or a pad that was not empty before.
    private static Reason? Doubt(Part part, WeighedPart weighed, MassUnit unit)
    {
        const double Factor = 5;
        double listKg = part.MassKg ?? 0, foundKg = weighed.MassKg.Value;
        return listKg > 0 && (foundKg > Factor * listKg || foundKg < listKg / Factor)
            ? new Reason(ReasonCode.Inconsistent, null, $"found {unit.Format(foundKg, 2)}, the list says {unit.Format(listKg, 2)}: was the unit meant otherwise, or did something else lie there? If the list is wrong, correct its mass there first, then weigh again")
            : null;
    }

    /// <summary>The row as it will be: what an earlier weighing wrote into the note gives way.</summary>
    private Part Changed(Part part, WeighedPart? weighed, string[] on, double? firstBehindM, string? note)
    {
        if (weighed is null)
        {
            return part;
        }

        string date = TimeZoneInfo.ConvertTime(_context.Clock.GetUtcNow(), _context.Clock.LocalTimeZone).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        string balance = weighed.BalanceM is { } at ? string.Create(CultureInfo.InvariantCulture, $", balances {at.Value * 1000:0} mm from {on[0]} towards {on[1]}") : "";
        string words = $"weighed {date} on {string.Join(" and ", on)}{balance}";
        IEnumerable<string> kept = (part.Note ?? "").Split("; ", StringSplitOptions.RemoveEmptyEntries).Where(one => !one.StartsWith("weighed 20", StringComparison.Ordinal) && one != note);
        return part with
        {
            MassKg = Math.Round(weighed.MassKg.Value, Decimals),
            UMassKg = Math.Max(Math.Round(weighed.MassKg.StandardUncertainty, Decimals), Math.Pow(10, -Decimals)),
            BehindFrontAxleM = firstBehindM is double first && weighed.BalanceM is { } balanceM ? Math.Round(first + balanceM.Value, Decimals + 1) : part.BehindFrontAxleM,
            Note = string.Join("; ", note is null ? [.. kept, words] : [.. kept, note, words]),
        };
    }

    private async Task<(IReadOnlyList<Measured?> Loads, IReadOnlyList<Reason> Reasons)> FromRigAsync(
        ParseResult parsed, Chosen chosen, Vehicle vehicle, string[] on, CancellationToken cancel)
    {
        IReadOnlyList<PortAddress> ports = chosen.ReadPorts(_ports, _controlLines, _layout);
        RigLayout? layout = chosen.ReadLayout(vehicle, _ => true, "", "", "");
        TimeSpan window = Opts.ReadSeconds(parsed, _seconds, 10, 3, 120);
        if (layout?.IsRoamingDolly == true)
        {
            // One dolly is one scale.
            layout = layout with { Stations = [new StationLayout { Name = layout.Dollies[0].Name, Dolly = layout.Dollies[0].Name }] };
        }

        await using RigSession rig = await RigSession.ConnectAsync(ports, layout, _context.Links, _context.Clock, cancel).ConfigureAwait(false);
        chosen.Connected(rig);
        string[] known = [.. rig.Layout.Stations.Select(station => station.Name)];
        if (on.FirstOrDefault(name => !known.Contains(name)) is { } strange)
        {
            throw Refuse(ErrorCode.UnknownName, _on.Name, $"{InputError.Quote(strange)} is no station", string.Join(", ", known), Nearest.AmongThem(strange, known));
        }

        if (!parsed.GetValue(_json))
        {
            _context.Terminal.Note(SafetyText.Lifting);
            await _context.Terminal.ErrorOut.WriteLineAsync(string.Create(CultureInfo.InvariantCulture, $"Hands off; measuring for {window.TotalSeconds:0.#} s ...")).ConfigureAwait(false);
        }

        // The stations the part lies on, and no other: what is wrong with those does not matter.
        var reader = new StationReader(rig.Layout with { Stations = [.. on.Select(name => rig.Layout.Stations.First(station => station.Name == name))] }, new CellAssumptions());
        IReadOnlyList<StationReading> readings = await AllAtOnce.ReadAsync(
            reader, rig, new WeighSettings(window, (3 * window) + TimeSpan.FromSeconds(10)), _context.Terminal.ErrorOut.WriteLine, cancel).ConfigureAwait(false);
        return ([.. readings.Select(reading => reading.LoadKg)], [.. readings.SelectMany(reading => reading.Reasons)]);
    }

    private IReadOnlyList<Measured> ReadTyped(ParseResult parsed, MassUnit unit)
    {
        string[] typed = parsed.GetValue(_reading)!.Split(',');
        if (typed.Length > 2)
        {
            throw Refuse(ErrorCode.Syntax, _reading.Name, $"found {InputError.Quote(parsed.GetValue(_reading)!)}", "one reading, or two of a long part", "write a decimal point, not a comma");
        }

        TypedUncertainty said = _typed.ReadSaid(parsed, unit);
        return [.. typed.Select((text, at) =>
        {
            TypedMass mass = Typed.Mass(text, unit).OrRefuse(_reading.Name);
            return TypedWeighing.MeasuredOf(typed.Length == 1 ? "the part" : at == 0 ? "the first end" : "the second end", new TypedLoad(mass.MassKg, mass.LastDigitKg), said);
        })];
    }

    private string[] ReadOn(ParseResult parsed)
    {
        string[] on = [.. (parsed.GetValue(_on) ?? "").Split(',', StringSplitOptions.TrimEntries)];
        return on switch
        {
            [""] => throw Refuse(ErrorCode.Missing, _on.Name, "where the part lies was not said", "--on STATION, or --reading KG", "say --on FL; for a long part on two supports --on FL,FR --apart MM"),
            [_] => on,
            [var first, var second] when first != second && first.Length > 0 && second.Length > 0 => on,
            _ => throw Refuse(ErrorCode.Syntax, _on.Name, $"found {InputError.Quote(parsed.GetValue(_on)!)}", "one station, or two different ones", "write it like FL or FL,FR"),
        };
    }

    private Measured? ReadApart(ParseResult parsed, int supports)
    {
        Option? given = new[] { _apart, _uApart }.FirstOrDefault(option => parsed.GetValue(option) is not null);
        if (supports == 1)
        {
            return given is null ? null : throw Refuse(ErrorCode.Contradiction, given.Name, $"{given.Name} goes with a part on two supports", "two supports", "name both, as --on FL,FR or --reading 20.1,18.3; a decimal is written with a point");
        }

        if (parsed.GetValue(_apart) is not { } typed)
        {
            throw Refuse(ErrorCode.Missing, _apart.Name, "how far the two supports are apart was not said", "--apart MM", "measure from edge to edge where the part touches; a decimal is written with a point, not a comma");
        }

        double apartM = Typed.Length(typed).OrRefuse(_apart.Name).LengthM;
        double uM = parsed.GetValue(_uApart) is { } typedU ? Typed.Length(typedU).OrRefuse(_uApart.Name).LengthM : WeighedPart.DefaultUApartM;
        return apartM is not (>= LeastApartM and <= MostApartM) ? throw Refuse(ErrorCode.OutOfRange, _apart.Name, $"found {InputError.Quote(typed)}", "50 mm to 10 m", "correct it")
            : uM is not (> 0 and <= MostUApartM) ? throw Refuse(ErrorCode.OutOfRange, _uApart.Name, $"found {InputError.Quote(parsed.GetValue(_uApart)!)}", "more than 0, up to 100 mm", "correct it")
            : Measured.From(apartM, new Cause("distance between the supports", "distance between the two supports", remedy: "measure it again, with the supports as edges"), uM);
    }

    private double? ReadFirstBehind(ParseResult parsed, int supports) => parsed.GetValue(_firstBehind) is not { } typed ? null
        : supports == 2 ? Typed.Length(typed).OrRefuse(_firstBehind.Name).LengthM
        : throw Refuse(ErrorCode.Contradiction, _firstBehind.Name, $"{_firstBehind.Name} goes with a part on two supports", "two supports", "leave it out, or lay the part on two");

    // An option that would be silently ignored is a misunderstanding.
    private void RefuseStrays(ParseResult parsed, bool isTyped)
    {
        IEnumerable<Option> strays = isTyped ? [_ports, _layout, _on, _seconds] : _typed.Said;
        if (strays.FirstOrDefault(option => parsed.GetResult(option) is { Implicit: false }) is { } stray)
        {
            throw Refuse(ErrorCode.Contradiction, stray.Name, $"{stray.Name} {(isTyped ? "does not go" : "goes")} with --reading", "", "leave it out");
        }
    }

    private static RefusalException Refuse(ErrorCode code, string field, string problem, string expected, string remedy) =>
        new(new InputError(code, problem, expected, remedy) { Field = field });
}
