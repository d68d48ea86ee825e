using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Records;

/// <summary>Where a part of a diagonal difference comes from.</summary>
public enum DiagonalSource
{
    /// <summary>The floor it was weighed on.</summary>
    Floor,

    /// <summary>Tyres of unlike rolling circumference.</summary>
    TyreSizes,

    /// <summary>Preload of the anti-roll bars.</summary>
    Bars,

    /// <summary>The driver.</summary>
    Driver,

    /// <summary>Spring seats that do not stand alike.</summary>
    Perches,

    /// <summary>What none of these explains: left in the springs and the chassis.</summary>
    Rest,
}

/// <summary>One part of a diagonal difference.</summary>
/// <param name="Source">Where it comes from.</param>
/// <param name="Kg">Its part of (FR+RL) - (FL+RR).</param>
/// <param name="How">How it is known, in a few words.</param>
public sealed record DiagonalPart(DiagonalSource Source, Measured Kg, string How);

/// <summary>Two weighings of one car that differ in one thing alone.</summary>
/// <param name="Without">The one without it.</param>
/// <param name="With">The one with it: often the one to be explained.</param>
public sealed record WeighingPair(WeighingRecord Without, WeighingRecord With)
{
    /// <summary>Whether another pair is of the same two weighings, whichever of them comes first.</summary>
    public bool IsOfTheSame(WeighingPair other) => new[] { Without.Id, With.Id }.ToHashSet().SetEquals([other.Without.Id, other.With.Id]);
}

/// <summary>What is known besides the weighing itself.</summary>
public sealed record DiagonalEvidence
{
    /// <summary>Name and survey of the floor; null: not surveyed.</summary>
    public (string Place, FloorSurvey Survey)? Floor { get; init; }

    /// <summary>Rolling circumference of each tyre, metres; null: not measured.</summary>
    public Corners<Measured>? CircumferencesM { get; init; }

    /// <summary>Height of each spring seat on its thread, metres, upwards lifting the car; null: not measured.</summary>
    public Corners<Measured>? SeatsM { get; init; }

    /// <summary>The same car with the bars off and on; null: not weighed.</summary>
    public WeighingPair? Bars { get; init; }

    /// <summary>The same car without the driver and with; null: not weighed.</summary>
    public WeighingPair? Driver { get; init; }
}

/// <summary>
/// Where the diagonal difference of a kept weighing comes from. Floor, tyre radius and perches are all the same: heights h that the springs answer
/// with n (n.h)/(n'Cn); bars and driver are differences of two weighings. The rest is what is left. Immutable.
/// </summary>
public sealed record DiagonalExplanation
{
    private DiagonalExplanation(WeighingRecord record, Measured total, IReadOnlyList<DiagonalPart> parts, IReadOnlyList<string> unknown)
    {
        Record = record;
        TotalKg = total;
        Parts = parts;
        Unknown = unknown;
    }

    /// <summary>The weighing.</summary>
    public WeighingRecord Record { get; }

    /// <summary>Its (FR+RL) - (FL+RR).</summary>
    public Measured TotalKg { get; }

    /// <summary>The parts, the rest last; they sum to <see cref="TotalKg"/>.</summary>
    public IReadOnlyList<DiagonalPart> Parts { get; }

    /// <summary>What could not be told, and what would tell it.</summary>
    public IReadOnlyList<string> Unknown { get; }

    /// <summary>What none of the known parts explains.</summary>
    public DiagonalPart Rest => Parts[^1];

    /// <summary>Takes it apart.</summary>
    /// <param name="record">The weighing.</param>
    /// <param name="vehicle">The car as its file describes it now: what was learnt of its springs counts.</param>
    /// <param name="evidence">What is known besides.</param>
    /// <returns>An error when there is no diagonal or it is not known, or a second weighing is of another car.</returns>
    public static Result<DiagonalExplanation> Of(WeighingRecord record, Vehicle vehicle, DiagonalEvidence evidence)
    {
        if (record.Result.Totals.DiagonalDifferenceKg is not { } difference || !vehicle.HasFourCorners)
        {
            return new InputError(ErrorCode.Contradiction, $"{record.Id} has no diagonal difference", "a weighing of all four corners", "weigh it again, or name another record");
        }

        // One naming of the causes throughout, so that what two parts have in common counts once.
        var own = new LastingCauses(record);
        Measured total = own.Own(difference)!;
        Corners<Measured> loads = Corners.From<Measured>([.. record.Result.Loads.Select(load => own.Own(load.LoadKg)!)]);
        List<DiagonalPart> parts = [];
        List<string> unknown = [];
        SpringEstimate? springs = SpringEstimate.Of(vehicle);
        Measured? stiffness = evidence.Floor?.Survey.TwistStiffnessNmPerRad ?? vehicle.MeasuredTwistStiffnessNmPerRad();
        if (springs is null && stiffness is null)
        {
            unknown.Add("how stiff the car is in twist: give [wheel_rate_n_per_mm] in the vehicle file, or survey the floor with --shim, for floor, tyre sizes and perches");
        }

        AddFloor(parts, unknown, evidence, loads);
        AddHeights(parts, unknown, (vehicle, springs, stiffness), DiagonalSource.TyreSizes, evidence.CircumferencesM?.Select(around => around / (2 * Math.PI)), "rolling circumferences",
            "tyre sizes: measure the rolling circumferences and say --tyres FL=..,FR=..,RL=..,RR=..");
        if (!AddRecord(parts, unknown, DiagonalSource.Bars, record, evidence.Bars, "the one with the bars off", "bars: weigh with the bars off and say --bars-off ID").TryGet(out _, out InputError? bars))
        {
            return bars;
        }

        if (!AddRecord(parts, unknown, DiagonalSource.Driver, record, evidence.Driver, "the one without the driver", "driver: weigh without the driver and say --without-driver ID").TryGet(out _, out InputError? driver))
        {
            return driver;
        }

        AddPerches(parts, unknown, (vehicle, springs, stiffness), evidence.SeatsM);
        Measured rest = parts.Aggregate(total, (left, part) => left - part.Kg);
        parts.Add(new(DiagonalSource.Rest, rest, "what is left: springs, chassis, friction, and what nobody measured"));
        return new DiagonalExplanation(record, total, parts, unknown);
    }

    private static void AddFloor(List<DiagonalPart> parts, List<string> unknown, DiagonalEvidence evidence, Corners<Measured> loads)
    {
        if (evidence.Floor is not { } floor)
        {
            unknown.Add("floor: survey the place with 'fourpatch floor --save PLACE' and say --floor PLACE");
        }
        else if (FloorEffect.ChangesKg(floor.Survey, loads) is { } changes)
        {
            parts.Add(new(DiagonalSource.Floor, changes.FR + changes.RL - changes.FL - changes.RR, $"survey of \"{floor.Place}\""));
        }
    }

    private static void AddPerches(List<DiagonalPart> parts, List<string> unknown, (Vehicle Vehicle, SpringEstimate? Springs, Measured? Stiffness) car, Corners<Measured>? seatsM)
    {
        Vehicle vehicle = car.Vehicle;
        const string Way = "perches: measure how far each seat stands up its thread and say --seats FL=..,FR=..,RL=..,RR=..";
        if (seatsM is not null && vehicle is not { SpringTravelPerWheelTravelFront: not null, SpringTravelPerWheelTravelRear: not null })
        {
            unknown.Add("perches: what a seat does at the wheel is not known; give spring_travel_per_wheel_travel_front and _rear below [perch] in the vehicle file");
            return;
        }

        // Only what differs within an axle tells in the diagonal, and of that a bar leaves a part.
        Corners<Measured> part = SpringEstimate.SeatParts(vehicle);
        AddHeights(parts, unknown, car, DiagonalSource.Perches, seatsM?.Select((corner, seat) =>
            part[corner] * seat / (corner.IsFront() ? vehicle.SpringTravelPerWheelTravelFront!.Value : vehicle.SpringTravelPerWheelTravelRear!.Value)), "heights of the spring seats", Way);
    }

    private static void AddHeights(List<DiagonalPart> parts, List<string> unknown, (Vehicle Vehicle, SpringEstimate? Springs, Measured? Stiffness) car, DiagonalSource source, Corners<Measured>? heightsM, string how, string way)
    {
        if (heightsM is null)
        {
            unknown.Add(way);
        }
        else if (car.Stiffness is { } stiffness)
        {
            parts.Add(new(source, FloorEffect.TwistDiagonalKg(car.Vehicle, heightsM, stiffness), how));
        }
        else if (car.Springs is { } springs)
        {
            Measured kg = springs.Evaluate(heightsM.ToArray(), (at, heights) =>
            {
                Corners<double> loads = at.TwistLoadsN(Corners.From(heights));
                return [(loads.FR + loads.RL - loads.FL - loads.RR) / StandardGravity.MPerS2];
            })[0];
            parts.Add(new(source, kg, how));
        }
    }

    private static Result<Comparison> AddRecord(List<DiagonalPart> parts, List<string> unknown, DiagonalSource source, WeighingRecord record, WeighingPair? pair, string what, string way)
    {
        if (pair is null)
        {
            unknown.Add(way);
            return Comparison.Of(record, record);
        }

        if (new[] { pair.With, pair.Without }.FirstOrDefault(one => one.Result.Vehicle.Name != record.Result.Vehicle.Name) is { } other)
        {
            return new InputError(ErrorCode.Contradiction, $"{other.Id} is a weighing of {other.Result.Vehicle.Name}, {record.Id} one of {record.Result.Vehicle.Name}", "weighings of one car", "name another record");
        }

        return Comparison.Of(pair.Without, pair.With).Then<Comparison>(comparison =>
        {
            if (comparison.Result("diagonal_difference_kg").Change is not { } change)
            {
                return new InputError(ErrorCode.Missing, $"{pair.Without.Id} or {pair.With.Id} has no diagonal difference", "a weighing of all four corners", "name another record");
            }

            parts.Add(new(source, change, $"{(pair.With.Id == record.Id ? "this" : pair.With.Id)} less {what} ({pair.Without.Id})"));
            return comparison;
        });
    }
}
