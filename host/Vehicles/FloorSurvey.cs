using Fourpatch.Uncertainty;

namespace Fourpatch.Vehicles;

/// <summary>By what the heights were taken; each has an ordinary uncertainty of its own.</summary>
public enum LevelMethod
{
    /// <summary>A laser that levels itself, and a rule at each place.</summary>
    Laser,

    /// <summary>A clear hose with water.</summary>
    Hose,

    /// <summary>A straightedge with a bubble level, from place to place.</summary>
    Straightedge,
}

/// <summary>
/// How uncertain heights are that were taken by one method, as limits to either side (common practice, no source): reading a rule at a fuzzy line or a
/// meniscus 1 to 2 mm, a levelling laser out by 0.3 mm per metre, a bubble by 0.5 mm per metre.
/// </summary>
/// <param name="HeightM">Standard uncertainty of each height, metres.</param>
/// <param name="SlopeMPerM">Standard uncertainty of how level the level line itself is, along and across, metres per metre.</param>
public sealed record LevelDoubt(double HeightM, double SlopeMPerM)
{
    /// <summary>The ordinary one of a method.</summary>
    public static LevelDoubt Of(LevelMethod method) => method switch
    {
        LevelMethod.Laser => new(Cause.RectangleStandardUncertainty(0.001), Cause.RectangleStandardUncertainty(0.0003)),
        LevelMethod.Hose => new(Cause.RectangleStandardUncertainty(0.001), 0),
        _ => new(Cause.RectangleStandardUncertainty(0.002), Cause.RectangleStandardUncertainty(0.0005)),
    };
}

/// <summary>
/// Heights of the four places a car stands on: the best plane through them and what is left of them, the twist. Immutable.
/// </summary>
public sealed record FloorSurvey
{
    private FloorSurvey(Vehicle vehicle, Corners<Measured> heightsM)
    {
        Vehicle = vehicle;
        HeightsM = heightsM;
    }

    /// <summary>Whose places.</summary>
    public Vehicle Vehicle { get; }

    /// <summary>Height of each place over the level line, metres; only their differences mean anything.</summary>
    public Corners<Measured> HeightsM { get; }

    /// <summary>How stiff the car on it is in twist, newton metres per radian, when a plate under one wheel has shown it; null: its spring rates tell, or nothing does.</summary>
    public Measured? TwistStiffnessNmPerRad { get; private init; }

    /// <summary>The same with the twist stiffness that a plate has shown.</summary>
    /// <param name="nmPerRad">Newton metres per radian.</param>
    /// <param name="standardUncertainty">Of it.</param>
    public FloorSurvey Learnt(double nmPerRad, double standardUncertainty) => this with
    {
        TwistStiffnessNmPerRad = Measured.From(
            nmPerRad, new Cause($"vehicle {Vehicle.Name}: twist stiffness by a plate", "how stiff the car is in twist, by the plate", remedy: "weigh again with a thicker plate"), standardUncertainty),
    };

    /// <summary>A survey of heights that carry their doubt.</summary>
    /// <exception cref="ArgumentException">The vehicle does not stand on four corners.</exception>
    public static FloorSurvey Of(Vehicle vehicle, Corners<Measured> heightsM) => vehicle.HasFourCorners
        ? new(vehicle, heightsM) { TwistStiffnessNmPerRad = vehicle.MeasuredTwistStiffnessNmPerRad() }
        : throw new ArgumentException($"{vehicle.Name} does not stand on four corners.", nameof(vehicle));

    /// <summary>A survey of heights as read off, with the doubt of the method.</summary>
    /// <param name="vehicle">Whose places.</param>
    /// <param name="heightsM">Heights over the level line.</param>
    /// <param name="doubt">How sure each is.</param>
    /// <param name="place">Name of the place: the same survey is the same cause wherever it is used.</param>
    public static FloorSurvey Of(Vehicle vehicle, Corners<double> heightsM, LevelDoubt doubt, string place)
    {
        const string Again = "survey the floor again, twice, with a finer rule";
        Cause along = new($"floor {place}: level line lengthways", "how level the level line was, lengthways", remedy: "turn the level round and take the mean");
        Cause across = new($"floor {place}: level line sideways", "how level the level line was, sideways", remedy: "turn the level round and take the mean");
        return Of(vehicle, heightsM.Select((corner, height) =>
        {
            List<Contribution> contributions = [];
            if (doubt.HeightM > 0) contributions.Add(new(new($"floor {place}: height {corner}", $"height of the floor at {corner}", remedy: Again), doubt.HeightM));
            if (doubt.SlopeMPerM > 0)
            {
                contributions.Add(new(along, doubt.SlopeMPerM * BehindM(vehicle, corner)));
                contributions.Add(new(across, doubt.SlopeMPerM * LeftM(vehicle, corner)));
            }
            return Measured.From(height, contributions.Where(c => c.Amount != 0));
        }));
    }

    /// <summary>Slope of the best plane along the car: positive when the front stands higher.</summary>
    public Measured PitchSlope => (Front - Rear) / Vehicle.MeasuredWheelbaseM();

    /// <summary>Slope of the best plane across the car: positive when the left stands higher. Least squares over the four places.</summary>
    public Measured RollSlope
    {
        get
        {
            var (tf, tr) = (Vehicle.MeasuredTrackFrontM(), Vehicle.MeasuredTrackRearM());
            return ((HeightsM.FL - HeightsM.FR) * tf + (HeightsM.RL - HeightsM.RR) * tr) / (tf * tf + tr * tr);
        }
    }

    /// <summary>Pitch in radians, positive: the front stands higher.</summary>
    public Measured PitchRad => Measured.Evaluate([PitchSlope], slope => Math.Atan(slope[0]));

    /// <summary>Roll in radians, positive: the left stands higher.</summary>
    public Measured RollRad => Measured.Evaluate([RollSlope], slope => Math.Atan(slope[0]));

    /// <summary>Steepest slope of the best plane, metres per metre; the first-order doubt of a floor that is dead level is that of its two slopes.</summary>
    public Measured Slope
    {
        get
        {
            Measured pitch = PitchSlope, roll = RollSlope;
            var steepest = Math.Sqrt(pitch.Value * pitch.Value + roll.Value * roll.Value);
            return steepest == 0
                ? Measured.Propagate(0, [pitch, roll], [1, 1])
                : Measured.Propagate(steepest, [pitch, roll], [pitch.Value / steepest, roll.Value / steepest]);
        }
    }

    /// <summary>How far FL stands above the plane of the other three, metres: (hFL - hFR) - (hRL - hRR) tf/tr.</summary>
    public Measured TwistM => (HeightsM.FL - HeightsM.FR) - (HeightsM.RL - HeightsM.RR) * (Vehicle.MeasuredTrackFrontM() / Vehicle.MeasuredTrackRearM());

    /// <summary>Which way it runs down: the corner or end towards which the floor falls; null when the slope is nothing.</summary>
    public string? Downhill
    {
        get
        {
            var (pitch, roll) = (PitchSlope.Value, RollSlope.Value);
            if (pitch == 0 && roll == 0) return null;

            // Within a quarter of the other it is that one's direction.
            const double Quarter = 0.25;
            var along = Math.Abs(pitch) < Quarter * Math.Abs(roll) ? "" : pitch > 0 ? "rear" : "front";
            var across = Math.Abs(roll) < Quarter * Math.Abs(pitch) ? "" : roll > 0 ? "right" : "left";
            return $"{along} {across}".Trim();
        }
    }

    /// <summary>The survey with every place raised by some amount.</summary>
    public FloorSurvey Raised(Corners<double> byM) =>
        new(Vehicle, HeightsM.Zip(byM, (height, rise) => height + rise)) { TwistStiffnessNmPerRad = TwistStiffnessNmPerRad };

    private Measured Front => (HeightsM.FL + HeightsM.FR) * 0.5;

    private Measured Rear => (HeightsM.RL + HeightsM.RR) * 0.5;

    private static double BehindM(Vehicle vehicle, Corner corner) => corner.IsFront() ? 0 : vehicle.WheelbaseM;

    private static double LeftM(Vehicle vehicle, Corner corner) =>
        (corner.IsFront() ? vehicle.TrackFrontM : vehicle.TrackRearM) / 2 * (corner.IsLeft() ? 1 : -1);
}
