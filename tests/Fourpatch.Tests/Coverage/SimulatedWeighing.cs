using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Rigs;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Coverage;

/// <summary>The mechanical builds whose uncertainties are held to the truth.</summary>
internal enum StudiedBuild
{
    FourPads,
    Lever,
    OneDolly,
    FourDollies,
    Typed,
}

/// <summary>One simulated weighing: what the program says, and what is true.</summary>
/// <param name="Result">As the program makes it.</param>
/// <param name="LoadsKg">True loads of the corners.</param>
/// <param name="True">The vehicle with its true dimensions.</param>
internal sealed record WeighingWithTruth(WeighingResult Result, Corners<double> LoadsKg, Vehicle True);

/// <summary>Draws a car and a rig, and weighs the one on the other.</summary>
internal sealed class SimulatedWeighing
{
    private const double WindowS = 10;
    private const double GiveUpS = 40;
    private const double LookEveryS = 0.25;
    private const double AllowedKg = 0.1;
    private const double BetweenCornersS = 300;
    private static readonly TimeSpan s_window = TimeSpan.FromSeconds(WindowS);
    private readonly RandomStream _draws;
    private readonly ulong _seed;
    private readonly Reality _reality;
    private readonly StatedRig _stated;
    private readonly double _referenceError;
    private readonly double _swayPhaseRad;
    private double _nowS;

    private SimulatedWeighing(ulong seed, Reality reality)
    {
        (_seed, _reality) = (seed, reality);
        _draws = new(seed, "weighing");
        _stated = DrawRig();
        _referenceError = _draws.Normal();
        _swayPhaseRad = _draws.Even(0, 2 * Math.PI);
    }

    /// <summary>One weighing.</summary>
    /// <param name="build">On what.</param>
    /// <param name="seed">Of all its chance.</param>
    /// <param name="reality">How far the truth is what is stated.</param>
    public static WeighingWithTruth Of(StudiedBuild build, ulong seed, Reality reality)
    {
        SimulatedWeighing weighing = new(seed, reality);
        Corners<double> loadsKg = weighing.DrawCar();
        Vehicle stated = new()
        {
            Name = "Wren", WheelbaseM = 2.18, TrackFrontM = 1.29, TrackRearM = 1.26,
            Uncertainty = new() { WheelbaseM = 0.0015, TrackFrontM = 0.002, TrackRearM = 0.002 },
        };
        Vehicle isTrue = stated with
        {
            WheelbaseM = stated.WheelbaseM + reality.Worse * 0.0015 * weighing._draws.Normal(),
            TrackFrontM = stated.TrackFrontM + reality.Worse * 0.002 * weighing._draws.Normal(),
            TrackRearM = stated.TrackRearM + reality.Worse * 0.002 * weighing._draws.Normal(),
        };
        var result = build switch
        {
            StudiedBuild.FourPads => weighing.OnPads(stated, loadsKg, lever: false),
            StudiedBuild.Lever => weighing.OnPads(stated, loadsKg, lever: true),
            StudiedBuild.OneDolly => weighing.OnOneDolly(stated, loadsKg),
            StudiedBuild.FourDollies => weighing.OnFourDollies(stated, loadsKg),
            _ => weighing.TypedIn(stated, loadsKg),
        };
        return new(result, loadsKg, isTrue);
    }

    // Plain cells, better ones, and such good ones that the noise of the readings is what matters.
    private StatedRig DrawRig()
    {
        int grade = _draws.Whole(3);
        double scale = new[] { 1, 0.2, 0.02 }[grade];
        CellAssumptions plain = new();
        CellAssumptions assumed = plain with
        {
            ErrorShareOfCapacity = scale * plain.ErrorShareOfCapacity,
            ZeroDriftShareOfCapacity = scale * plain.ZeroDriftShareOfCapacity,
            TemperatureShareOfLoad = scale * plain.TemperatureShareOfLoad,
            ExtrapolationShareOfExcess = scale * plain.ExtrapolationShareOfExcess,
        };
        ScenarioNoise noise = new()
        {
            WhiteCountsRms = grade == 2 ? _draws.Even(50, 150) : null,
            FlickerCountsRms = _draws.Even(0.5, grade == 2 ? 2 : 10),
            SwayKg = _draws.Even(0, 0.06),
            SwayHz = _draws.Even(1, 2.5),
            DriftKgPerH = assumed.ZeroDriftShareOfCapacity * _draws.Even(-250, 250),
            MainsKg = _draws.Even(0, 0.5),
            MainsHz = _draws.Even() < 0.5 ? 50 : 60,
        };
        return new(assumed, scale * _draws.Even(100e-6, 800e-6) + 2e-6, scale * _draws.Even(200e-6, 8000e-6) + 2e-6, _draws.Even(4, 15), noise, _draws.Even() < 0.1 ? 80 : 10);
    }

    private Corners<double> DrawCar()
    {
        double totalKg = _draws.Even(380, 900), front = _draws.Even(0.42, 0.58), left = _draws.Even(0.48, 0.52), wedge = _draws.Even(-0.01, 0.01);
        return new(
            totalKg * (front * left - wedge), totalKg * (front * (1 - left) + wedge),
            totalKg * ((1 - front) * left + wedge), totalKg * ((1 - front) * (1 - left) - wedge));
    }

    private WeighingResult OnPads(Vehicle vehicle, Corners<double> loadsKg, bool lever)
    {
        double heaviestKg = loadsKg.ToArray().Max();
        var stations = new StationLayout[4];
        var cells = new SimulatedCell[4][];
        var felt = new Func<double, double>[4][];
        foreach (var corner in Corners.All)
        {
            int i = (int)corner;
            double factor = lever ? _draws.Even(2, 4) : 1, uFactor = lever ? factor * _draws.Even(0.0005, 0.003) : 0, trueFactor = factor + _reality.Worse * uFactor * _draws.Normal();
            double tareKg = _draws.Even(0, 4), uTareKg = _draws.Even(0, 0.1), trueTareKg = tareKg + _reality.Worse * uTareKg * _draws.Normal();
            double capacityKg = lever ? 2 * heaviestKg / factor : 2 * heaviestKg;
            stations[i] = new() { Name = corner.ToString(), Cells = [new("B1", i + 1)], TareKg = tareKg, UTareKg = uTareKg, LeverFactor = factor, ULeverFactor = uFactor };
            cells[i] = [Cell("B1", i + 1, capacityKg)];
            felt[i] = [t => (loadsKg[corner] + SwayKg(corner, t)) / trueFactor + trueTareKg];
        }
        return ResultOf(vehicle, new() { Stations = stations }, Take(new() { Stations = stations }, stations, cells, felt));
    }

    private WeighingResult OnFourDollies(Vehicle vehicle, Corners<double> loadsKg)
    {
        RigLayout layout = new()
        {
            Stations = [.. Corners.All.Select(corner => new StationLayout { Name = corner.ToString(), Dolly = $"d{corner}" })],
            Dollies = [.. Corners.All.Select(corner => Dolly($"d{corner}", $"B{(int)corner + 1}"))],
        };
        double heaviestKg = loadsKg.ToArray().Max();
        SimulatedCell[][] cells = [.. Corners.All.Select(corner => Enumerable.Range(1, 4).Select(cell => Cell($"B{(int)corner + 1}", cell, heaviestKg)).ToArray())];
        return ResultOf(vehicle, layout, Take(layout, layout.Stations, cells, [.. Corners.All.Zip(layout.Dollies).Select(one => OnDolly(one.Second, TrueTareKg(one.Second), loadsKg, one.First))]));
    }

    // Corners one after the other with the same four cells; a perfect block under the partner wheel, so that no corner is over-read.
    private WeighingResult OnOneDolly(Vehicle vehicle, Corners<double> loadsKg)
    {
        DollyLayout dolly = Dolly("d", "B1");
        RigLayout layout = new() { Dollies = [dolly] };
        double heaviestKg = loadsKg.ToArray().Max();
        SimulatedCell[] cells = [.. Enumerable.Range(1, 4).Select(cell => Cell("B1", cell, heaviestKg))];
        double tareKg = TrueTareKg(dolly);
        List<StationReading> readings = [];
        foreach (var corner in Corners.All)
        {
            StationLayout station = new() { Name = corner.ToString(), Dolly = dolly.Name };
            readings.AddRange(Take(layout, [station], [cells], [OnDolly(dolly, tareKg, loadsKg, corner)]));
            _nowS += BetweenCornersS;
        }
        return ResultOf(vehicle, layout, readings);
    }

    private DollyLayout Dolly(string name, string board) => new()
    {
        Name = name,
        Cells = [.. Enumerable.Range(1, 4).Select(cell => new CellId(board, cell))],
        TareKg = 12,
        UTareKg = _draws.Even(0, 0.1),
        UCastorShare = _draws.Even(0, 0.001),
    };

    private double TrueTareKg(DollyLayout dolly) => dolly.TareKg + _reality.Worse * dolly.UTareKg * _draws.Normal();

    // The wheel stands somewhere on the frame, and the floor twists it: the cells carry unlike parts that add up to one.
    private Func<double, double>[] OnDolly(DollyLayout dolly, double tareKg, Corners<double> loadsKg, Corner corner)
    {
        double castors = 1 + _reality.Worse * dolly.UCastorShare * _draws.Normal();
        double along = _draws.Even(-0.25, 0.25), across = _draws.Even(-0.25, 0.25), twist = _draws.Even(-0.15, 0.15);
        double[] parts = [0.25 * (1 - along) * (1 + across), 0.25 * (1 - along) * (1 - across), 0.25 * (1 + along) * (1 + across), 0.25 * (1 + along) * (1 - across)];
        return [.. parts.Select<double, Func<double, double>>((part, i) => t => tareKg / 4 + castors * (part + (i is 0 or 3 ? twist / 4 : -twist / 4)) * (loadsKg[corner] + SwayKg(corner, t)))];
    }

    private SimulatedCell Cell(string board, int cell, double capacityKg) => new(
        new(board, cell), capacityKg, capacityKg * _draws.Even(0.15, 0.8), _stated, _referenceError, _reality, _seed);

    private double SwayKg(Corner corner, double atS) =>
        (corner.IsLeft() ? 1 : -1) * _stated.Noise.SwayKg * Math.Sin(2 * Math.PI * _stated.Noise.SwayHz * atS + _swayPhaseRad);

    // As AllAtOnce does it: looks every quarter of a second from a full window on, until every station stands still or the time is up.
    private StationReading[] Take(RigLayout layout, IReadOnlyList<StationLayout> stations, SimulatedCell[][] cells, Func<double, double>[][] feltKg)
    {
        StationReader reader = new(layout, _stated.Assumed);
        void Each(Action<SimulatedCell, Func<double, double>> action)
        {
            for (int i = 0; i < cells.Length; i++)
                for (int j = 0; j < cells[i].Length; j++) action(cells[i][j], feltKg[i][j]);
        }

        StationReading[] Read(double allowedKg) => [.. stations.Select((station, i) =>
            reader.Join(station, [.. cells[i].Select(cell => cell.Evidence(s_window, allowedKg / cells[i].Length / station.LeverFactor))]))];

        double startS = _nowS;
        Each((cell, kg) => cell.Load(kg, startS));
        for (double lookedS = WindowS; ; lookedS += LookEveryS)
        {
            _nowS = startS + lookedS;
            Each((cell, kg) => cell.Run(kg, _nowS));
            StationReading[] readings = Read(AllowedKg);
            double quarterKg = readings.Max(reading => reading.LoadKg is { } load ? load.Expand().HalfWidth / 4 : 0);
            if (quarterKg > AllowedKg) readings = Read(quarterKg);
            if (readings.All(reading => reading.IsSettled) || lookedS >= GiveUpS) return readings;
        }
    }

    private static WeighingResult ResultOf(Vehicle vehicle, RigLayout layout, IReadOnlyList<StationReading> readings) =>
        WeighingResult.Of(vehicle, readings.ToDictionary(reading => reading.Station, reading => reading.LoadKg), [.. readings.SelectMany(reading => reading.Reasons)]) with { Boards = layout.Boards };

    // Scales of any kind, read off and typed as text.
    private WeighingResult TypedIn(Vehicle vehicle, Corners<double> loadsKg)
    {
        double stepKg = new[] { 0.1, 0.2, 0.5, 1 }[_draws.Whole(4)];
        TypedUncertainty said = _draws.Whole(4) switch
        {
            0 => new(ResolutionKg: stepKg),
            1 => new(UCornerKg: _draws.Even(0.1, 1)),
            2 => new(ResolutionKg: stepKg, IsSameScale: true, USpanShare: _draws.Even(0.001, 0.005)),
            _ => new(UCornerKg: _draws.Even(0.1, 0.5), ResolutionKg: stepKg, USpanShare: _draws.Even(0.0005, 0.002)),
        };
        double spanError = _draws.Normal();
        string typed = string.Join(',', Corners.All.Select(corner =>
        {
            if (!said.IsSameScale) spanError = _draws.Normal();
            double shownKg = loadsKg[corner] * (1 + _reality.Worse * spanError * (said.USpanShare ?? 0)) + _reality.Worse * _draws.Normal() * (said.UCornerKg ?? 0);

            // A step that is not rounded off is not there: what was said of the scale as a whole contains it.
            if (said.ResolutionKg is { } step) shownKg = Math.Round((shownKg + (_reality.Worse - 1) * _draws.Even(-step / 2, step / 2)) / step) * step;
            return $"{corner}={shownKg.ToString("F2", CultureInfo.InvariantCulture)}";
        }));
        var loads = CornerList.ParseNamed(typed, ["FL", "FR", "RL", "RR"], value => Fourpatch.Files.Typed.Mass(value, MassUnit.Kg)).Value;
        return TypedWeighing.Of(vehicle, loads.ToDictionary(load => load.Key, load => new TypedLoad(load.Value.MassKg, load.Value.LastDigitKg)), said);
    }
}
