using Fourpatch.Vehicles;

namespace Fourpatch.VirtualRig;

/// <summary>The mechanical build a scenario stands on.</summary>
public enum RigBuild
{
    /// <summary>One cell under each wheel.</summary>
    Pads,

    /// <summary>Each wheel on a beam between a support and a cell.</summary>
    Lever,

    /// <summary>Four cells under one dolly that goes round the car.</summary>
    OneDolly,

    /// <summary>Four boards, four dollies, sixteen cells.</summary>
    FourDollies,
}

/// <summary>What can be made to go wrong.</summary>
public enum FaultKind
{
    /// <summary>The cell's plug is out: the amplifier's input floats and its counts wander.</summary>
    Unplugged,

    /// <summary>The input is beyond the amplifier's range: full-scale counts.</summary>
    Saturated,

    /// <summary>The same counts again and again.</summary>
    Stuck,

    /// <summary>Signal wires exchanged: the sign turns round.</summary>
    SwappedSignal,

    /// <summary>The plug of this cell and of the next one (of 4: the first) are exchanged.</summary>
    ExchangedPlugs,

    /// <summary>The clock line of the amplifier is disturbed now and then and bits slip.</summary>
    SlippedBits,

    /// <summary>The board starts again.</summary>
    BoardReset,

    /// <summary>Bytes on the line are altered, lost or added.</summary>
    LineNoise,

    /// <summary>The board says nothing.</summary>
    Silence,
}

/// <summary>One fault of a scenario.</summary>
public sealed record ScenarioFault
{
    public required FaultKind Kind { get; init; }

    /// <summary>Board id; null means the first board.</summary>
    public string? Board { get; init; }

    /// <summary>Cell 1 to 4; null means cell 1 for a fault of a cell, and nothing for a fault of a board.</summary>
    public int? Cell { get; init; }

    /// <summary>Start, seconds after the board's start.</summary>
    public double AtS { get; init; }

    /// <summary>Length in seconds; null means to the end (a reset has no length).</summary>
    public double? ForS { get; init; }

    /// <summary>True for the faults that strike the whole board: reset, line noise, silence.</summary>
    public bool StrikesBoard => Kind is FaultKind.BoardReset or FaultKind.LineNoise or FaultKind.Silence;
}

/// <summary>The car as it truly is, where its loads are computed from its mass and centre of gravity.</summary>
public sealed record ScenarioCar
{
    public required double MassKg { get; init; }

    public required double CgBehindFrontAxleM { get; init; }

    public double CgLeftOfCentreM { get; init; }

    /// <summary>Height of the centre of gravity above the ground; default 0.45 m, an ordinary low car.</summary>
    public double CgHeightM { get; init; } = 0.45;
}

/// <summary>One load cell with its amplifier channel, its true characteristic and how far the stored calibration is off.</summary>
public sealed record ScenarioCell
{
    /// <summary>Rated capacity; default 500 kg.</summary>
    public double CapacityKg { get; init; } = 500;

    /// <summary>Rated output at capacity, mV per V of excitation; default 2.</summary>
    public double MvPerV { get; init; } = 2;

    /// <summary>True counts of the unloaded cell; default 0.</summary>
    public double ZeroCounts { get; init; }

    /// <summary>
    /// True span; negative for a cell mounted upside down. Null means: what the rated output gives on a 24-bit
    /// amplifier at gain 128, capacity / (mV/V x 1e-3 x 128 x 2^24), about 1.16e-4 kg per count for 500 kg and 2 mV/V.
    /// </summary>
    public double? KgPerCount { get; init; }

    /// <summary>False: the board holds no calibration for this cell. Default true.</summary>
    public bool Calibrated { get; init; } = true;

    /// <summary>Stored zero less true zero, counts; default 0.</summary>
    public double ZeroErrorCounts { get; init; }

    /// <summary>Stored span over true span, less one, in percent; default 0.</summary>
    public double SpanErrorPercent { get; init; }

    /// <summary>Greatest departure from the straight line, percent of capacity, at half capacity; default 0.</summary>
    public double NonlinearityPercent { get; init; }

    /// <summary>Greatest gap between loading and unloading, percent of capacity; default 0.</summary>
    public double HysteresisPercent { get; init; }

    /// <summary>Growth of a steady load's reading after 30 minutes, percent of that load; default 0.</summary>
    public double CreepPercent { get; init; }

    /// <summary>Zero shift, percent of capacity per kelvin away from the calibration's temperature; default 0.</summary>
    public double TempZeroPercentPerK { get; init; }

    /// <summary>Span shift, percent of reading per kelvin away from the calibration's temperature; default 0.</summary>
    public double TempSpanPercentPerK { get; init; }

    /// <summary>The true span with its default worked out, kg per count.</summary>
    public double TrueKgPerCount => KgPerCount ?? CapacityKg / (MvPerV * 1e-3 * 128 * 16777216.0);
}

/// <summary>A board of the scenario with its one to four cells.</summary>
public sealed record ScenarioBoard
{
    /// <summary>Board id as in the layout: letters, digits, dash, underscore.</summary>
    public required string Id { get; init; }

    public required IReadOnlyList<ScenarioCell> Cells { get; init; }

    /// <summary>How much this board's amplifiers run faster than the nominal rate, percent; default 0.</summary>
    public double RateErrorPercent { get; init; }
}

/// <summary>The frame of a dolly: what stands between its cells and the floor.</summary>
public sealed record ScenarioDolly
{
    /// <summary>Places of cells 1 to 4 from the frame's middle; default a rectangle of 0.5 m along by 0.4 m across: front left, front right, rear left, rear right.</summary>
    public IReadOnlyList<Rigs.FramePoint> CellsAt { get; init; } =
        [new(-0.25, 0.2), new(-0.25, -0.2), new(0.25, 0.2), new(0.25, -0.2)];

    /// <summary>How far each castor stands too high for the plane of the others, metres; default 0.</summary>
    public IReadOnlyList<double> CastorHeightsM { get; init; } = [0, 0, 0, 0];

    /// <summary>Load one castor gains per metre its own height is raised while the frame is held at the others, N/m; default 1e6.</summary>
    public double FrameStiffnessNPerM { get; init; } = 1e6;

    /// <summary>The empty dolly's mass as its cells feel it; default 12 kg.</summary>
    public double TareKg { get; init; } = 12;

    /// <summary>How far the dolly lifts the wheel centre; default 0.05 m.</summary>
    public double WheelCentreRiseM { get; init; } = 0.05;
}

/// <summary>Disturbances, each a named source; 0 switches a source off.</summary>
public sealed record ScenarioNoise
{
    /// <summary>
    /// White noise, counts rms. Null means the amplifier's datasheet figure: 50 nV rms at 10/s and 90 nV rms at 80/s,
    /// which at gain 128 and 5 V are 21.5 and 38.7 counts rms (HX711 datasheet V2.0; 2^24 counts are 5 V/128).
    /// </summary>
    public double? WhiteCountsRms { get; init; }

    /// <summary>Amplitude of the car swaying on its springs; default 0 kg.</summary>
    public double SwayKg { get; init; }

    /// <summary>Frequency of the sway; default 1.5 Hz.</summary>
    public double SwayHz { get; init; } = 1.5;

    /// <summary>Steady drift of the zero; default 0 kg per hour.</summary>
    public double DriftKgPerH { get; init; }

    /// <summary>1/f noise, counts rms per decade of frequency; default 0.</summary>
    public double FlickerCountsRms { get; init; }

    /// <summary>Amplitude of mains pick-up before the amplifier samples it; default 0 kg.</summary>
    public double MainsKg { get; init; }

    /// <summary>Mains frequency; default 50 Hz.</summary>
    public double MainsHz { get; init; } = 50;
}

/// <summary>
/// One evening in the virtual garage: the car, the rig, what is not ideal about either, and what goes wrong. Holds the
/// truth; nothing in it is an estimate.
/// </summary>
public sealed record Scenario
{
    /// <summary>Path of the vehicle file; when relative, from the scenario file's own folder.</summary>
    public required string VehiclePath { get; init; }

    public required RigBuild Build { get; init; }

    /// <summary>Nominal conversions per second and cell: 10 or 80; default 10.</summary>
    public double RateHz { get; init; } = 10;

    /// <summary>Length in seconds; null means without end.</summary>
    public double? DurationS { get; init; }

    /// <summary>True: nothing stands on the rig; default false, the car does.</summary>
    public bool StartsEmpty { get; init; }

    /// <summary>The car from which loads are computed; null when <see cref="TruthKg"/> gives them.</summary>
    public ScenarioCar? Car { get; init; }

    /// <summary>True load at each corner, kg; only for pads and levers, and never together with <see cref="Car"/>.</summary>
    public Corners<double>? TruthKg { get; init; }

    /// <summary>Height of the floor under each wheel above a level plane, metres; default level.</summary>
    public Corners<double> FloorM { get; init; } = Corners.Same(0.0);

    /// <summary>Station load / cell load at each corner; 1 unless <see cref="Build"/> is <see cref="RigBuild.Lever"/>, where 3 is the default.</summary>
    public Corners<double> LeverFactor { get; init; } = Corners.Same(1.0);

    /// <summary>The dolly or dollies; has a meaning for the dolly builds only.</summary>
    public ScenarioDolly Dolly { get; init; } = new();

    /// <summary>
    /// One board with four cells for pads (in corner order), levers and one dolly; four boards (in corner order) for
    /// four dollies. When the file names none: boards B1 (to B4), all cells at their defaults.
    /// </summary>
    public required IReadOnlyList<ScenarioBoard> Boards { get; init; }

    /// <summary>Temperature less the calibration's temperature, kelvin; default 0.</summary>
    public double TemperatureRiseK { get; init; }

    public ScenarioNoise Noise { get; init; } = new();

    public IReadOnlyList<ScenarioFault> Faults { get; init; } = [];
}
