using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Reports;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.Measuring;

/// <summary><c>lever</c>: a wheel heavier than the scale, weighed through a beam; and which beam that takes.</summary>
internal sealed class LeverCommand
{
    // A tape read on a beam, and a wheel rolled on to a chalk mark (common practice, no source).
    private const double UsualTapeM = 0.001, UsualPlacementM = 0.005, UsualLevelM = 0.003;
    private const double ShortestM = 0.01, LongestM = 10;

    private readonly Option<string?> _reading = new("--reading") { Description = "what the scale shows with the wheel on the beam", HelpName = "KG" };
    private readonly Option<string?> _wheel = new("--wheel-to-block") { Description = "from the middle of the block to the middle of the wheel", HelpName = "MM" };
    private readonly Option<string?> _scale = new("--scale-to-block") { Description = "from the middle of the block to the middle of the scale", HelpName = "MM" };
    private readonly Option<string?> _beam = new("--beam-kg") { Description = "mass of the beam; leave it out when the scale was set to nothing with the beam on it", HelpName = "KG" };
    private readonly Option<string?> _centre = new("--beam-centre-to-block") { Description = "from the block to where the beam balances; midway unless said otherwise", HelpName = "MM" };
    private readonly Option<string?> _placement = new("--placement-mm") { Description = "how far off its mark the wheel may stand, to either side; 5 unless said otherwise", HelpName = "MM" };
    private readonly Option<string?> _tape = new("--u-length") { Description = "standard uncertainty of each length; 1 mm unless said otherwise", HelpName = "MM" };
    private readonly Option<string?> _level = new("--level-mm") { Description = "how much higher one end of the beam may stand; 3 unless said otherwise", HelpName = "MM" };
    private readonly Option<string?> _height = new("--contact-height") { Description = "height of the tyre's contact over the line of the two pivots; 120 unless said otherwise", HelpName = "MM" };
    private readonly Option<string?> _side = new("--side-force") { Description = "newtons the tyre may push along the beam, either way; not counted unless given", HelpName = "N" };
    private readonly Option<string?> _resolution = new("--resolution") { Description = "smallest step of the scale", HelpName = "KG" };
    private readonly Option<string?> _u = new("--u-reading") { Description = "standard uncertainty of the reading", HelpName = "KG" };
    private readonly Option<string?> _corner = new("--corner") { Description = "the load that is expected under the heaviest wheel, for the ratio it takes", HelpName = "KG" };
    private readonly Option<string?> _capacity = new("--capacity") { Description = "what the scale or cell is rated for", HelpName = "KG" };
    private readonly Option<string?> _margin = new("--margin") { Description = "how many times over it shall carry the load; 2 unless said otherwise", HelpName = "TIMES" };
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<bool> _json = Opts.Json();
    private readonly LeverPort _port;
    private readonly CommandContext _context;

    private LeverCommand(CommandContext context)
    {
        _context = context;
        _port = new LeverPort(context);
    }

    public static Command Build(CommandContext context)
    {
        var lever = new LeverCommand(context);
        var command = new Command("lever", "Work out a wheel's load from a scale under one end of a beam, and which beam a scale needs.")
        {
            lever._reading, lever._wheel, lever._scale, lever._beam, lever._centre, lever._placement, lever._tape, lever._level, lever._height, lever._side,
            lever._resolution, lever._u, lever._corner, lever._capacity, lever._margin, lever._unit, lever._json,
        };
        lever._port.AddTo(command);
        command.SetAction(lever.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        List<Reason> reasons = [];
        LeverBeam beam = ReadBeam(parsed, unit, reasons);
        bool isLive = _port.IsGiven(parsed);
        RefuseStrays(parsed, isLive);
        double? cornerKg = MeasuredOptions.Mass(parsed, _corner, unit)?.MassKg;
        double? capacityKg = MeasuredOptions.Mass(parsed, _capacity, unit)?.MassKg;
        double margin = MeasuredOptions.Number(parsed, _margin, 1, 10, "a number") ?? LeverBeam.UsualMargin;
        Measured? readingKg = isLive ? null : ReadReading(parsed, unit, reasons);
        if (!isLive && readingKg is null && cornerKg is null)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Missing, "neither a reading nor an expected load was given", "--reading KG or --corner KG", "say what the scale shows; or, before anything is built, what the heaviest wheel carries") { Field = _reading.Name });
        }

        var chosen = new Chosen(parsed, _context);
        if (isLive)
        {
            StationReading live = await _port.ReadAsync(parsed, chosen, parsed.GetValue(_json), cancel).ConfigureAwait(false);
            readingKg = live.LoadKg;
            reasons.AddRange(live.Reasons);
        }

        var answer = LeverResult.Of(beam, readingKg, cornerKg, capacityKg, margin, reasons);
        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(LeverAnswer.Of(answer).Put("rig", chosen.RigObject).ToText());
        }
        else
        {
            LeverText.Write(_context.Terminal.Out, answer, unit, _context.Terminal.Width);
        }

        return answer.IsAcceptable ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private void RefuseStrays(ParseResult parsed, bool isLive)
    {
        if (isLive && new Option[] { _reading, _resolution, _u }.FirstOrDefault(option => parsed.GetResult(option) is { Implicit: false }) is { } stray)
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, $"{stray.Name} does not go with --port", "", "a cell says itself what it carries and how sure that is; leave it out") { Field = stray.Name });
        }
    }

    private LeverBeam ReadBeam(ParseResult parsed, MassUnit unit, List<Reason> reasons)
    {
        double wheelM = MeasuredOptions.Needed(MeasuredOptions.LengthM(parsed, _wheel, ShortestM, LongestM), _wheel, "the wheel's place", "measure from the middle of the block to the middle of the tyre's print");
        double scaleM = MeasuredOptions.Needed(MeasuredOptions.LengthM(parsed, _scale, ShortestM, LongestM), _scale, "the scale's place", "measure from the middle of the block to the middle of the scale's support");
        if (wheelM >= scaleM)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, "the wheel stands beyond the scale", "block, wheel, scale, in this order", "measure both from the block") { Field = _wheel.Name });
        }

        double? centreM = MeasuredOptions.LengthM(parsed, _centre, -LongestM, LongestM);
        TypedMass? beamKg = MeasuredOptions.Mass(parsed, _beam, unit, mayBeNothing: true);
        if (centreM is not null && beamKg is null)
        {
            throw new RefusalException(new InputError(ErrorCode.Missing, $"{_centre.Name} says nothing by itself", $"{_beam.Name} KG beside it", "say what the beam weighs, or leave it out") { Field = _centre.Name });
        }

        double uM = MeasuredOptions.LengthM(parsed, _tape, 0, 0.1) ?? UsualTapeM;
        double? placementM = MeasuredOptions.LengthM(parsed, _placement, 0, 0.5);
        if (placementM is null)
        {
            reasons.Add(new(ReasonCode.LeverPlacement, null, "nothing was said of how well the wheel stands on its mark: 5 mm to either side were taken; say --placement-mm"));
        }

        double? sideN = MeasuredOptions.Number(parsed, _side, 0, 20_000, "newtons");
        if (sideN is null)
        {
            reasons.Add(new(ReasonCode.Scrub, null, "what the tyre pushes along the beam is not counted: two greased sheets under the tyre keep it small; say --side-force to count some"));
        }

        if (beamKg is null)
        {
            reasons.Add(new(ReasonCode.UncertaintyAssumed, null, "nothing was said of the beam: its own weight was left out, which is right only when the scale was set to nothing with the beam on it; else say --beam-kg"));
        }

        return new LeverBeam
        {
            WheelToBlockM = LengthOf(wheelM, "wheel to block", uM),
            ScaleToBlockM = LengthOf(scaleM, "scale to block", uM),
            BeamKg = beamKg is { } kg ? MeasuredOptions.Within(kg.MassKg, kg.LastDigitKg / 2, "mass of the beam", "mass of the beam", "weigh the beam on a finer scale") : Measured.Exact(0),
            BeamCentreToBlockM = centreM is { } middle ? LengthOf(middle, "centre of the beam", uM) : null,
            PlacementM = MeasuredOptions.Within(0, placementM ?? UsualPlacementM, "place of the wheel", "place of the wheel on the beam", "mark the beam and roll the wheel on to the mark"),
            OutOfLevelM = MeasuredOptions.Within(0, MeasuredOptions.LengthM(parsed, _level, 0, 0.2) ?? UsualLevelM, "level of the beam", "level of the beam", "level the beam with the wheel on it"),
            SideForceN = MeasuredOptions.Within(0, sideN ?? 0, "push of the tyre", "push of the tyre along the beam", "two greased sheets under the tyre, brake off"),
            ContactHeightM = MeasuredOptions.LengthM(parsed, _height, -0.5, 1) ?? LeverBeam.UsualContactHeightM,
        };
    }

    private static Measured LengthOf(double metres, string name, double uM) => uM == 0
        ? Measured.Exact(metres)
        : Measured.From(metres, new Cause($"length {name}", $"the length {name}", remedy: "measure it again, more carefully; a longer beam helps too"), uM);

    private Measured? ReadReading(ParseResult parsed, MassUnit unit, List<Reason> reasons)
    {
        if (MeasuredOptions.Mass(parsed, _reading, unit, mayBeNothing: true) is not { } reading)
        {
            return null;
        }

        double? stepKg = MeasuredOptions.Mass(parsed, _resolution, unit)?.MassKg;
        double? uKg = MeasuredOptions.Mass(parsed, _u, unit)?.MassKg;
        if (stepKg is null && uKg is null)
        {
            reasons.Add(new(ReasonCode.ResolutionAssumed, null, "nothing was said about the scale: the reading is taken as right to half its last digit; say --resolution or --u-reading"));
        }

        Measured kg = MeasuredOptions.Within(reading.MassKg, (stepKg ?? (uKg is null ? reading.LastDigitKg : 0)) / 2, "scale's last digit", "last digit of the scale", "a scale that shows smaller steps");
        return uKg is { } u ? kg.With(new Cause("scale", "the scale", remedy: "a better scale"), u) : kg;
    }
}
