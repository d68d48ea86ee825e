using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;
using Fourpatch.Weighing.Raised;
using MathNet.Numerics.LinearAlgebra;

namespace Fourpatch.Tests.Weighing.Raised;

/// <summary>
/// A car drawn at random, truly standing on four springs on an uneven floor, and one dolly that is read under each corner with a remedy. The truth is the
/// virtual rig's (<see cref="FourSprings"/> with everything that tilts); the fit knows none of it.
/// </summary>
internal sealed class SimulatedLifts
{
    private const double UReadingKg = 0.25, USpan = 0.0008, UHeightM = 0.0008, URates = 0.1, LogRateSpread = 0.5;
    private const double LowRiseM = 0.03, HighRiseM = 0.075, RiseM = 0.05;

    private readonly RandomStream _draws;
    private readonly CarStatics _statics;
    private readonly double _spanError, _blockErrorM;
    private readonly Corners<double[]> _riseErrorsM;
    private readonly Scenario _scenario;
    private readonly Vehicle _true;

    public SimulatedLifts(ulong seed)
    {
        _draws = new(seed, "lifts");
        double rate = 40e3 * Math.Exp(LogRateSpread * Math.Clamp(_draws.Normal(), -1.4, 1.4));
        double tyre = _draws.Even(150e3, 250e3);
        bool bars = _draws.Even() < 0.5;
        double front = rate * _draws.Even(0.8, 1.25), rear = rate * _draws.Even(0.8, 1.25);
        Vehicle geometry = new() { Name = "Wren", WheelbaseM = _draws.Even(2.1, 2.7), TrackFrontM = _draws.Even(1.25, 1.55), TrackRearM = _draws.Even(1.25, 1.55) };
        Stated = geometry with
        {
            WheelRateFrontNPerM = front, WheelRateRearNPerM = rear, AntiRollFrontNPerM = bars ? 0.3 * front : null, AntiRollRearNPerM = bars ? 0.15 * rear : null,
            ChassisTorsionNmPerRad = double.PositiveInfinity,
            Uncertainty = new() { WheelRateFrontNPerM = URates * front, WheelRateRearNPerM = URates * rear },
        };
        Bare = geometry;
        _true = Stated with
        {
            WheelRateFrontNPerM = front * (1 + URates * _draws.Normal()), WheelRateRearNPerM = rear * (1 + URates * _draws.Normal()),
            TyreRateFrontNPerM = tyre, TyreRateRearNPerM = tyre,
        };
        _scenario = new()
        {
            VehiclePath = "", Build = RigBuild.OneDolly, RateHz = 10, Boards = [],
            Car = new()
            {
                // Heavy enough for its springs that none of the heights lifts a wheel: what happens then is tested elsewhere.
                MassKg = Math.Max(_draws.Even(500, 1100), rate / 40), CgBehindFrontAxleM = geometry.WheelbaseM * _draws.Even(0.45, 0.55),
                CgLeftOfCentreM = _draws.Even(-0.03, 0.03), CgHeightM = _draws.Even(0.3, 0.7),
            },
            FloorM = Corners.Each(_ => _draws.Even(-0.0075, 0.0075)),
        };
        _statics = new(_scenario, _true);
        TruthKg = _statics.OnFloorKg();
        _spanError = USpan * _draws.Normal();
        _blockErrorM = UHeightM * _draws.Normal();
        _riseErrorsM = Corners.Each(_ => new[] { UHeightM * _draws.Normal(), UHeightM * _draws.Normal() });
    }

    /// <summary>What the vehicle file says, with rates.</summary>
    public Vehicle Stated { get; }

    /// <summary>What it says without.</summary>
    public Vehicle Bare { get; }

    /// <summary>Loads on the floor as it is.</summary>
    public Corners<double> TruthKg { get; }

    /// <summary>The fit of readings with a remedy, and the plain sum of what was read.</summary>
    public (RaisedFit Fit, double NaiveKg) Weigh(Remedy remedy)
    {
        double[] rises = remedy == Remedy.TwoRises ? [LowRiseM, HighRiseM] : [RiseM];
        List<RaisedReading> readings = [];
        foreach (Corner corner in Corners.All)
        {
            for (int i = 0; i < rises.Length; i++)
            {
                double trueKg = StandingKg(corner, RemedyForecast.RisesM(remedy, corner, rises[i]), i, _scenario.Car!.CgHeightM);
                double kg = trueKg * (1 + _spanError) + UReadingKg * _draws.Normal();
                readings.Add(new(corner, ReadingOf(corner, i, kg), HeightsOf(remedy, corner, i, rises[i]), Corners.Same(false).With(corner, true)));
            }
        }

        double totalKg = TruthKg.ToArray().Sum();
        Measured? total = remedy == Remedy.KnownTotal ? Measured.From(totalKg + 2 * _draws.Normal(), new("total", "total"), 2) : null;
        RaisedFit fit = RaisedFit.Of(RaisedCar.Of(remedy == Remedy.Rates ? Stated : Bare), readings, total);
        return (fit, Corners.All.Sum(corner => readings.First(reading => reading.Corner == corner).Kg.Value));
    }

    /// <summary>
    /// U of each corner (1.96 standard uncertainties) of the best linear estimate that one could make who knew the car: what rises and tilt do taken from the
    /// truth by small differences, the errors as they were drawn, and beforehand known what the vehicle file tells.
    /// </summary>
    public double[] BestU(Remedy remedy)
    {
        double[] rises = remedy == Remedy.TwoRises ? [LowRiseM, HighRiseM] : [RiseM];
        (Corner Corner, int I)[] rows = [.. Corners.All.SelectMany(corner => rises.Select((_, i) => (corner, i)))];
        double cg = _scenario.Car!.CgHeightM;
        int extra = remedy == Remedy.KnownTotal ? 3 : 2;
        Matrix<double> a = Matrix<double>.Build.Dense(rows.Length + extra, 6), v = Matrix<double>.Build.Dense(rows.Length + extra, rows.Length + extra);
        for (int row = 0; row < rows.Length; row++)
        {
            (Corner corner, int i) = rows[row];
            Corners<double> h = RemedyForecast.RisesM(remedy, corner, rises[i]);
            double here = StandingKg(corner, h, i, cg) - TruthKg[corner], higher = StandingKg(corner, h, i, cg + 0.01) - FloorKg(cg + 0.01)[corner];
            double tilt = (higher - here) / 0.01;
            a[row, (int)corner] = 1;
            a[row, 4] = here - tilt * (cg - 0.3);
            a[row, 5] = tilt;
            double blockSlope = (StandingKg(corner, h.Select((wheel, rise) => wheel != corner && rise > 0 ? rise + 0.001 : rise), i, cg) - here - TruthKg[corner]) / 0.001;
            double riseSlope = (StandingKg(corner, h.With(corner, h[corner] + 0.001), i, cg) - here - TruthKg[corner]) / 0.001;
            v[row, row] += Math.Pow(UReadingKg, 2) + Math.Pow(UHeightM * riseSlope, 2) + Math.Pow(UHeightM * blockSlope, 2);
            for (int other = 0; other < rows.Length; other++)
            {
                v[row, other] += USpan * USpan * TruthKg[corner] * TruthKg[rows[other].Corner];
            }
        }

        // Beforehand: the stiffness as a factor of itself, the height of the centre of gravity.
        (a[rows.Length, 4], v[rows.Length, rows.Length]) = (1, Math.Pow(remedy == Remedy.Rates ? URates / Math.Sqrt(2) : LogRateSpread, 2));
        (a[rows.Length + 1, 5], v[rows.Length + 1, rows.Length + 1]) = (1, Math.Pow(0.2 / Math.Sqrt(3), 2));
        if (extra == 3)
        {
            for (int i = 0; i < 4; i++) a[rows.Length + 2, i] = 1;
            v[rows.Length + 2, rows.Length + 2] = 4;
        }

        Matrix<double> covariance = a.TransposeThisAndMultiply(v.Solve(a)).Inverse();
        return [.. Enumerable.Range(0, 4).Select(i => 1.96 * Math.Sqrt(covariance[i, i]))];
    }

    private double StandingKg(Corner corner, Corners<double> risesM, int i, double cgHeightM)
    {
        Corners<Footing> footings = Corners.Each(wheel => wheel == corner
            ? new Footing(0, risesM[wheel] + _riseErrorsM[wheel][i])
            : new Footing(risesM[wheel] == 0 ? 0 : risesM[wheel] + _blockErrorM, null));
        return StaticsAt(cgHeightM).StandingKg(footings)[corner];
    }

    private Corners<double> FloorKg(double cgHeightM) => StaticsAt(cgHeightM).OnFloorKg();

    private CarStatics StaticsAt(double cgHeightM) =>
        cgHeightM == _scenario.Car!.CgHeightM ? _statics : new(_scenario with { Car = _scenario.Car with { CgHeightM = cgHeightM } }, _true);

    private static Measured ReadingOf(Corner corner, int i, double kg) => Measured.From(kg,
    [
        new(new($"noise {corner} {i}", "noise"), UReadingKg), new(new("span of the dolly", "span of the dolly"), USpan * kg),
    ]);

    private static Corners<Measured> HeightsOf(Remedy remedy, Corner corner, int i, double riseM) => RemedyForecast.RisesM(remedy, corner, riseM).Select((wheel, h) =>
        h == 0 ? Measured.Exact(0)
        : Measured.From(h, wheel == corner ? new Cause($"rise {corner} {i}", "rise") : new Cause("blocks", "blocks"), UHeightM));
}
