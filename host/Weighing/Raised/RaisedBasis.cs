using System.Globalization;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing.Raised;

/// <summary>A total known otherwise.</summary>
/// <param name="Kg">The total.</param>
/// <param name="UKg">Its standard uncertainty.</param>
public sealed record StatedTotal(double Kg, double UKg);

/// <summary>Everything a weighing with some wheels raised was computed from: corner after corner on one dolly, or pair after pair on two pads.</summary>
/// <param name="Method">one-by-one or by-axle.</param>
/// <param name="Taken">The readings in the order they were taken.</param>
/// <param name="Total">A total known otherwise; null when there is none.</param>
/// <param name="Layout">The dolly or the pads; null when every figure was typed.</param>
/// <param name="Assumed">What was assumed of the cells.</param>
/// <param name="Boards">Boards they were read from.</param>
public sealed record RaisedBasis(
    string Method, IReadOnlyList<TakenReading> Taken, StatedTotal? Total, RigLayout? Layout, CellAssumptions Assumed, IReadOnlyList<string> Boards) : WeighingBasis
{
    /// <summary>One dolly going from corner to corner.</summary>
    public const string OneByOne = "one-by-one";

    /// <summary>Two pads under one axle, or one side, then under the other.</summary>
    public const string ByAxle = "by-axle";

    // What is still moving has moved on by about as much again.
    private const double WindowS = 10;

    /// <inheritdoc/>
    public override IEnumerable<CellEvidence> Evidence => Taken.SelectMany(taken => taken.Cells);

    /// <inheritdoc/>
    public override RigLayout? Rig => Layout;

    /// <summary>The loads that were read, each over the empty dolly of its time.</summary>
    public IReadOnlyList<RaisedReading> Readings => Gather([]).Readings;

    /// <inheritdoc/>
    public override WeighingResult Compute(Vehicle vehicle)
    {
        var reasons = new List<Reason>();
        var (readings, frictionKg) = Gather(reasons);
        Measured? totalKg = Total is { } total ? Measured.From(total.Kg, new Cause("known total", "known total", remedy: "a better known total"), total.UKg) : null;
        WeighingResult result = RaisedWeighing.Of(vehicle, readings, totalKg, reasons).AgainstExpected();
        return result with
        {
            Method = Method,
            Boards = Boards,
            Basis = this,
            Raised = result.Raised is { } told ? told with { FrictionKg = frictionKg } : null,
        };
    }

    private (List<RaisedReading> Readings, Corners<double?> FrictionKg) Gather(List<Reason> reasons)
    {
        Measured?[] loads = [.. Taken.Select((taken, place) => LoadKg(taken, place, reasons))];
        var readings = new List<RaisedReading>();
        var frictionKg = Corners.Same<double?>(null);
        for (int place = 0; place < Taken.Count; place++)
        {
            if (Taken[place].As == TakenAs.Empty || OverEmptyKg(loads, place) is not { } load)
            {
                continue;
            }

            if (IsPair(place) && OverEmptyKg(loads, place + 1) is { } other)
            {
                double halfGapKg = Math.Abs(other.Value - load.Value) / 2;
                frictionKg = frictionKg.With(Taken[place].Corner, Math.Max(halfGapKg, frictionKg[Taken[place].Corner] ?? 0));
                readings.Add(ReadingOf(Taken[place], ((load + other) / 2).With(Friction(place), Cause.RectangleStandardUncertainty(halfGapKg))));
                place++;
                continue;
            }

            readings.Add(ReadingOf(Taken[place], load));
        }

        return (readings, frictionKg);
    }

    /// <summary>What one taken reading shows by itself, with what speaks against it.</summary>
    /// <param name="taken">A reading by cells.</param>
    public StationReading StationOf(TakenReading taken)
    {
        RigLayout layout = Layout ?? throw new InvalidOperationException("A reading by cells needs the layout they belong to.");
        var reader = new StationReader(layout, Assumed);
        StationLayout station = layout.Stations.FirstOrDefault(station => reader.CellsOf(station).Contains(taken.Cells[0].Id))
            ?? new StationLayout { Name = "", Dolly = layout.Dollies[0].Name };
        return reader.Join(station with { Name = taken.Corner.ToString() }, taken.Cells);
    }

    private Measured? LoadKg(TakenReading taken, int place, List<Reason> reasons)
    {
        string corner = taken.Corner.ToString();
        if (taken.TypedKg is double typed)
        {
            Cause cause = new(Key("reading", place), $"reading at {corner}", remedy: "a scale with smaller steps, or several readings");
            return taken.UTypedKg > 0 ? Measured.From(typed, cause, taken.UTypedKg) : Measured.Exact(typed);
        }

        StationReading reading = StationOf(taken);
        if (taken.KeptBecause is { } why)
        {
            reasons.Add(new(ReasonCode.KeptWithReason, corner, $"{corner}: kept although {string.Join("; ", reading.Reasons.Select(reason => WithoutCorner(reason.Text, corner)))} (\"{why}\")"));
            return reading.LoadKg?.With(new Cause(Key("still moving", place), $"load at {corner} that was still moving", shape: Shape.Rectangular), Cause.RectangleStandardUncertainty(MovementKg(taken)));
        }

        // Of an empty dolly only the difference counts: nothing that is said of a load speaks against it.
        reasons.AddRange(taken.As == TakenAs.Empty && reading.LoadKg is not null ? [] : reading.Reasons);
        return reading.LoadKg;
    }

    private static string WithoutCorner(string text, string corner) => text.StartsWith(corner + ": ", StringComparison.Ordinal) ? text[(corner.Length + 2)..] : text;

    private static double MovementKg(TakenReading taken) =>
        WindowS / 2 * Math.Abs(taken.Cells.Sum(cell => (cell.Mean?.SlopeCountsPerSecond ?? 0) * (cell.Calibration?.KgPerCount ?? 0)));

    /// <summary>A load less the empty dolly of the same time: the mean of that before and that after, half of what they differ by as what the zero may have been.</summary>
    private Measured? OverEmptyKg(Measured?[] loads, int place)
    {
        if (loads[place] is not { } load)
        {
            return null;
        }

        bool IsEmpty(int at) => Taken[at].As == TakenAs.Empty && loads[at] is not null && Taken[at].Cells.Select(cell => cell.Id).SequenceEqual(Taken[place].Cells.Select(cell => cell.Id));
        int before = Enumerable.Range(0, place).Reverse().FirstOrDefault(IsEmpty, -1);
        int after = Enumerable.Range(place, Taken.Count - place).FirstOrDefault(IsEmpty, -1);
        if (before < 0)
        {
            return load;
        }

        Measured empty = loads[before]!;
        if (after < 0)
        {
            return load - empty;
        }

        double halfKg = Math.Abs(loads[after]!.Value - empty.Value) / 2;
        return load - ((empty + loads[after]!) / 2).With(
            new Cause(Key("zero going round", before), "zero drift while going round the car", shape: Shape.Rectangular, remedy: "let the cells warm up in place, and go round quickly"),
            Cause.RectangleStandardUncertainty(halfKg));
    }

    private bool IsPair(int place) => place + 1 < Taken.Count && Taken[place].StandsLike(Taken[place + 1])
        && (Taken[place].As, Taken[place + 1].As) is (TakenAs.PushedDown, TakenAs.LiftedUp) or (TakenAs.LiftedUp, TakenAs.PushedDown);

    private Cause Friction(int place) => new(
        Key("friction", place), $"friction in the suspension at {Taken[place].Corner}", shape: Shape.Rectangular, remedy: "rock the car, roll it, or lay greased sheets under the tyres");

    private static RaisedReading ReadingOf(TakenReading taken, Measured load) => new(taken.Corner, load, Corners.Each(wheel => RiseM(taken, wheel)), taken.AtWheelCentre);

    // One measurement serves every reading made with it: a wheel's rise as long as it stands so, a block wherever it lies.
    private static Measured RiseM(TakenReading taken, Corner wheel)
    {
        double riseM = taken.RisesM[wheel];
        if (taken.URisesM[wheel] == 0)
        {
            return Measured.Exact(riseM);
        }

        string mm = (riseM * 1000).ToString("0.#", CultureInfo.InvariantCulture);
        Cause cause = taken.AtWheelCentre[wheel]
            ? new($"rise of {wheel}, {mm} mm", $"rise of the wheel centre at {wheel}", remedy: "measure the rise at the wheel centre again, to half a millimetre")
            : new($"blocks of {mm} mm", "height of the blocks", remedy: "measure the blocks under load");
        return Measured.From(riseM, cause, taken.URisesM[wheel]);
    }

    private static string Key(string what, int place) => string.Create(CultureInfo.InvariantCulture, $"{what} {place}");
}
