using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Reports.Plots;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Commands.WeighingCar;

/// <summary><c>weigh --method by-axle</c> and <c>one-by-one</c>: from stored readings, or leading a person round the car.</summary>
/// <param name="context">The outside world.</param>
/// <param name="parsed">The command line.</param>
/// <param name="options">Its options for these two.</param>
/// <param name="saving">Keeping of the result.</param>
/// <param name="chosen">Vehicle and rig.</param>
/// <param name="report">How the result is shown.</param>
/// <param name="plot">Whether it is drawn.</param>
internal sealed class RaisedWeigh(CommandContext context, ParseResult parsed, RaisedOptions options, RecordSaving saving, Chosen chosen, WeighReport report, PlotOption plot)
{
    private readonly Dialogue _dialogue = new(context.Terminal);

    /// <summary>Computes from a file.</summary>
    /// <param name="file">As typed.</param>
    /// <param name="vehicle">The car.</param>
    /// <param name="method">by-axle or one-by-one.</param>
    public int FromFile(string file, Vehicle vehicle, WeighMethod method)
    {
        CheckCorners(vehicle);
        (StatedTotal? total, IReadOnlyList<Reason> assumed) = options.ReadTotal(parsed, report.Unit);
        BlockUnder block = options.ReadBlock(parsed) ?? BlockUnder.None;
        PairsOf pairs = options.ReadPairs(parsed);
        RaisedBasis basis = RaisedFromFile.BasisOf(ReadingsFile.OneByOne(context.Files.Resolve(file)).OrRefuse(), method, block, pairs, total);
        using PendingRecord pending = saving.Prepare(parsed, context);
        WeighingResult computed = basis.Compute(vehicle);
        options.RefuseFarTotal(total, computed.Raised?.NaiveTotalKg);
        WeighingResult result = pending.WithConditions(computed.Saying(assumed));
        Draw(result);
        int code = report.Write(result, pending);
        chosen.Remember([]);
        return code;
    }

    /// <summary>Leads a person round the car.</summary>
    /// <param name="ports">Where the rig is.</param>
    /// <param name="vehicle">The car.</param>
    /// <param name="method">by-axle or one-by-one.</param>
    /// <param name="window">Length of each reading.</param>
    /// <param name="cancel">Ctrl-C.</param>
    public async Task<int> GuidedAsync(IReadOnlyList<PortAddress> ports, Vehicle vehicle, WeighMethod method, TimeSpan window, CancellationToken cancel)
    {
        CheckCorners(vehicle);
        if (report.IsJson)
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, "--json goes with --from", "", "a dialogue answers in words; leave --json out") { Field = "--json" });
        }

        BlockUnder? block = options.ReadBlock(parsed);
        PairsOf pairs = options.ReadPairs(parsed);
        (StatedTotal? total, IReadOnlyList<Reason> assumed) = options.ReadTotal(parsed, report.Unit);
        RigLayout? layout = method == WeighMethod.OneByOne
            ? chosen.ReadLayout(vehicle, found => found.IsRoamingDolly, "the layout is not that of one dolly going round", "one [dolly.NAME] and no station", "name the dolly's with --layout, or type --port alone when cells 1 to 4 of the board carry the dolly")
            : chosen.ReadLayout(vehicle, found => found.Stations.Count == 2, "the layout is not that of two pads", "two stations", "name the pads' with --layout, or type --port alone when cells 1 and 2 of the board carry the two pads");
        using PendingRecord early = saving.Prepare(parsed, context);
        await using RigSession rig = await RigSession.ConnectAsync(ports, layout, context.Links, context.Clock, cancel).ConfigureAwait(false);
        layout ??= LayoutOf(rig, method);
        chosen.Connected(rig, layout);
        using RecordStore? store = context.DataFolder is null ? null : RecordOptions.Open(context);
        var kept = new KeptReadings(_dialogue, store, context.Clock, Begin(store, vehicle, method, layout, rig, method == WeighMethod.ByAxle ? Words.Of(pairs) : ""));
        try
        {
            var figures = new Figures(report.Unit);
            var taker = new LoadTaker(_dialogue, rig, kept, figures, window);
            if (method == WeighMethod.ByAxle)
            {
                await new ByAxleGuide(_dialogue, taker, kept).TakeAsync(cancel).ConfigureAwait(false);
            }
            else
            {
                RaisedCar car = RaisedCar.Of(vehicle);
                var guide = new OneByOneGuide(_dialogue, taker, kept, car, new RaisedText(figures));
                if (kept.Weighing.Way.Length == 0)
                {
                    guide.Plan(RemedyOf(block, car, total), total);
                }

                await guide.TakeAsync(cancel).ConfigureAwait(false);
            }

            return End(kept, vehicle, early, assumed);
        }
        catch (Exception left) when (left is LeftDialogueException or OperationCanceledException)
        {
            _dialogue.Say(SafetyText.LowerFirst);
            _dialogue.Say(kept.Loads == 0 ? "Nothing was taken yet."
                : store is null ? $"There is no folder to keep what was read in: {Words.Count(kept.Loads, "reading")}."
                : $"{Words.Count(kept.Loads, "reading")} {(kept.Loads == 1 ? "is" : "are")} kept: 'fourpatch weigh --method {Words.Of(method)}' goes on from there.");
            throw;
        }
    }

    private static void CheckCorners(Vehicle vehicle)
    {
        if (!vehicle.HasFourCorners)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, $"{vehicle.Name} does not stand on four corners", "a car or kart", "weigh it all at once") { Field = "--vehicle" });
        }
    }

    private static Remedy? RemedyOf(BlockUnder? block, RaisedCar car, StatedTotal? total) => block switch
    {
        BlockUnder.Partner => Remedy.PartnerBlock,
        BlockUnder.All => Remedy.EqualBlocks,
        BlockUnder.None => car.KnowsStiffness ? Remedy.Rates : total is not null ? Remedy.KnownTotal : Remedy.None,
        _ => null,
    };

    // What a board is taken for when no layout says otherwise.
    private static RigLayout LayoutOf(RigSession rig, WeighMethod method)
    {
        string board = rig.Boards[0].BoardId;
        return method == WeighMethod.OneByOne
            ? new RigLayout { Dollies = [new DollyLayout { Name = "dolly", Cells = [.. Enumerable.Range(1, 4).Select(cell => new CellId(board, cell))] }] }
            : new RigLayout { Stations = [.. RigLayout.FourPads(board).Stations.Take(2)] };
    }

    /// <summary>A weighing that was left before its end, when it is this car's and the person wants to go on; else a new one.</summary>
    private UnfinishedWeighing Begin(RecordStore? store, Vehicle vehicle, WeighMethod method, RigLayout layout, RigSession rig, string way)
    {
        string[] boards = [.. rig.Boards.Select(board => board.BoardId)];
        var fresh = new UnfinishedWeighing(context.Clock.GetUtcNow(), vehicle, new RaisedBasis(Words.Of(method), [], null, layout, new CellAssumptions(), boards), way, []);
        if (KeptReadings.Unfinished(store, Words.Of(method), vehicle) is not [var left, ..])
        {
            return fresh;
        }

        string what = string.Join(", ", Corners.All.Select(corner => (Corner: corner, Count: left.Readings.Taken.Count(taken => taken.Corner == corner && taken.As != TakenAs.Empty)))
            .Where(one => one.Count > 0).Select(one => one.Count == 1 ? $"{one.Corner}" : $"{one.Corner} {one.Count} times"));
        if (!_dialogue.AskYesNo($"A weighing of {vehicle.Name} was left before its end ({RecordOptions.LocalTime(left.Begun, context)}: {what}). Go on with it?"))
        {
            SayKept("A new set begins", KeptReadings.SetAside(store!, left, "left before its end, and begun anew"));
            return fresh;
        }

        if (!left.Readings.Boards.SequenceEqual(boards))
        {
            SayKept(
                $"That was taken with board {string.Join(", ", left.Readings.Boards)}, this is {string.Join(", ", boards)}: a new set begins",
                KeptReadings.SetAside(store!, left, "left before its end, and begun anew with another board"));
            return fresh;
        }

        if (_dialogue.AskYesNo("Has the car been moved or lifted since, or anything in it changed?"))
        {
            SayKept("Then its wheels stand otherwise now: a new set begins", KeptReadings.SetAside(store!, left, "left before its end, the car moved or lifted since"));
            return fresh with { Way = left.Way, RisesM = left.RisesM, Readings = fresh.Readings with { Total = left.Readings.Total } };
        }

        return left with { Vehicle = vehicle };
    }

    private void SayKept(string what, string id) => _dialogue.Say($"{what}. The old one is kept as {id}; 'fourpatch records show {id}' shows it.");

    /// <summary>Shows the result, keeps it when that is wanted, and only then forgets that it was unfinished.</summary>
    private int End(KeptReadings kept, Vehicle vehicle, PendingRecord early, IReadOnlyList<Reason> assumed)
    {
        WeighingResult result = kept.Weighing.Readings.Compute(vehicle).Saying(assumed);
        report.Show(early.WithConditions(result));
        string? name = saving.IsAsked(parsed) || context.DataFolder is null ? null : AskName();
        using PendingRecord asked = name is null ? early : saving.Prepare(parsed, context, name);
        PendingRecord pending = !result.IsAcceptable && asked.WantsReason && _dialogue.Ask("It is not acceptable. Type a reason to keep it all the same, or press Enter not to.") is { Length: > 0 } why
            ? asked.WithReason(InputError.Clean(why))
            : asked;
        report.Keep(pending.WithConditions(result), pending, kept.Key);
        kept.Forget();
        Draw(result);
        return result.IsAcceptable ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    private void Draw(WeighingResult result) => plot.Write(parsed, context, () => WeightPlots.LoadAgainstRise(RiseReadings.Of(result), report.Unit));

    private string? AskName()
    {
        while (true)
        {
            string typed = _dialogue.Ask("Keep it under which name? Enter: do not keep it.");
            if (typed.Length == 0)
            {
                return null;
            }

            try
            {
                return RecordSaving.ReadName(typed);
            }
            catch (RefusalException refusal)
            {
                _dialogue.Say(refusal.Error.OneLine);
            }
        }
    }
}
