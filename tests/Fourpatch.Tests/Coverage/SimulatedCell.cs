using Fourpatch.Core.Cells;
using Fourpatch.Links;
using Fourpatch.Rigs;
using Fourpatch.VirtualRig;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Coverage;

/// <summary>What is stated of the cells of one rig, and the disturbances that are on while it is read.</summary>
/// <param name="Assumed">As the budget takes the cells.</param>
/// <param name="OwnShare">Span, from each cell's own calibration readings.</param>
/// <param name="ReferenceShare">Span, from the mass that calibrated all cells.</param>
/// <param name="ZeroCounts">Standard uncertainty of each stored zero.</param>
/// <param name="Noise">What is on during the readings.</param>
/// <param name="RateHz">10 or 80.</param>
internal sealed record StatedRig(CellAssumptions Assumed, double OwnShare, double ReferenceShare, double ZeroCounts, ScenarioNoise Noise, double RateHz);

/// <summary>How the truth departs from what is stated.</summary>
/// <param name="Worse">1: every cause as stated; 1.5: each half as large again.</param>
/// <param name="AsMade">
/// False: what a cell is off is drawn anew for every loading, as the budget states it. True: it is a bow, a gap and a creep of this cell, the
/// same whenever it carries the same load.
/// </param>
internal sealed record Reality(double Worse = 1, bool AsMade = false);

/// <summary>
/// One load cell with its amplifier as it truly is, and the calibration its board holds. How far the two are apart is drawn from the distributions
/// that the budget states; the way from load to counts is the virtual rig's, the way from counts to the mean is the program's own.
/// </summary>
internal sealed class SimulatedCell
{
    private const string Reference = "weighed cans";
    private readonly RandomStream _draws;
    private readonly Amplifier _amplifier;
    private readonly ChannelDisturbance _disturbance;
    private readonly CellFeed _feed;
    private readonly StatedRig _stated;
    private readonly double _capacityKg;
    private readonly Reality _reality;
    private readonly double _bowKg;
    private readonly double _gapKg;
    private readonly double _creepShare;
    private readonly double _trueZeroCounts;
    private readonly double _trueKgPerCount;
    private readonly double _zeroDriftKg;
    private readonly double _temperatureShare;
    private readonly double _extrapolationShare;
    private double _cellErrorKg;
    private double _pausedS;

    /// <param name="id">Which.</param>
    /// <param name="capacityKg">Rated.</param>
    /// <param name="largestLoadKg">Largest load of its calibration.</param>
    /// <param name="stated">What is said of it.</param>
    /// <param name="referenceError">What the common mass was off, in units of its standard uncertainty.</param>
    /// <param name="reality">How far that is true.</param>
    /// <param name="seed">Of its chance.</param>
    public SimulatedCell(CellId id, double capacityKg, double largestLoadKg, StatedRig stated, double referenceError, Reality reality, ulong seed)
    {
        string name = id.ToString();
        _draws = new(seed, name + " errors");
        _stated = stated;
        _capacityKg = capacityKg;
        _reality = reality;
        _feed = new(id);
        Calibration = new()
        {
            ZeroSixteenths = (int)_draws.Even(-500_000, 500_000),
            SpanPicokilograms = (long)((_draws.Even() < 0.25 ? -1 : 1) * _draws.Even(0.95, 1.05) * capacityKg / (2 * BridgeCounts.PerMillivoltPerVolt) * 1e12),
            CapacityGrams = (int)(capacityKg * 1000),
            SpanOwnPpm = (int)(stated.OwnShare * 1e6),
            SpanReferencePpm = (int)(stated.ReferenceShare * 1e6),
            ZeroUncertaintySixteenths = (int)(stated.ZeroCounts * 16),
            LargestLoadGrams = (int)(largestLoadKg * 1000),
        };
        Calibration.Reference.TrySet(Reference);

        _trueZeroCounts = Calibration.ZeroCounts - reality.Worse * _draws.Normal() * Calibration.ZeroUncertaintySixteenths / 16;
        _trueKgPerCount = Calibration.KgPerCount / (1 + reality.Worse * 1e-6 * (_draws.Normal() * Calibration.SpanOwnPpm + referenceError * Calibration.SpanReferencePpm));
        _zeroDriftKg = Within(stated.Assumed.ZeroDriftShareOfCapacity * capacityKg);
        _temperatureShare = Within(stated.Assumed.TemperatureShareOfLoad);
        _extrapolationShare = Within(stated.Assumed.ExtrapolationShareOfExcess);

        double errorKg = stated.Assumed.ErrorShareOfCapacity * capacityKg;
        (_bowKg, _gapKg, _creepShare) = (Within(0.5 * errorKg), _draws.Even(0, 0.5) * errorKg * reality.Worse, Within(0.25 * errorKg / capacityKg));

        double rateHz = stated.RateHz * (1 + _draws.Even(-0.005, 0.005));
        double whiteCounts = stated.Noise.WhiteCountsRms ?? Amplifier.NoiseCountsRms(stated.RateHz, Amplifier.DefaultSupplyV);
        _amplifier = new(rateHz, _draws.Even(), whiteCounts, new(seed, name + " noise"));
        _disturbance = new(stated.Noise, _amplifier, _trueKgPerCount, seed, name);
    }

    /// <summary>What the board holds.</summary>
    public CellCalibration Calibration { get; }

    /// <summary>A load is put on: non-linearity, hysteresis and creep are what they are for this one. What was read before is forgotten.</summary>
    /// <param name="loadKg">True load, by seconds.</param>
    /// <param name="atS">When; what lies between this and the last reading is passed over.</param>
    public void Load(Func<double, double> loadKg, double atS)
    {
        double anewKg = Within(_stated.Assumed.ErrorShareOfCapacity * _capacityKg);
        _cellErrorKg = _reality.AsMade ? MadeErrorKg(loadKg(atS)) : anewKg;
        _pausedS += Math.Max(0, atS - NextReadyS);
        for (int i = 0; i < Amplifier.SettlingConversions; i++) Convert(loadKg);
        _feed.Clear();
    }

    /// <summary>Reads up to a moment.</summary>
    public void Run(Func<double, double> loadKg, double untilS)
    {
        while (NextReadyS <= untilS)
        {
            long atUs = (long)(NextReadyS * 1e6);
            int counts = Convert(loadKg);
            _feed.Take(new Sample(_feed.Id.Cell, BridgeCounts.RangeStatus(counts), counts, atUs, 0));
        }
    }

    /// <summary>What is known of the cell now, as <see cref="StationReader"/> takes it.</summary>
    public CellEvidence Evidence(TimeSpan window, double allowedMovementKg) =>
        new(_feed.Id, _feed.Mean(window, allowedMovementKg / Math.Abs(Calibration.KgPerCount), StationNoise.AllowedCounts), Calibration);

    private double NextReadyS => _pausedS + _amplifier.NextReadyUs * 1e-6;

    private int Convert(Func<double, double> loadKg)
    {
        double atS = NextReadyS;
        double kg = loadKg(atS);
        double excessKg = Math.Max(0, kg - Calibration.LargestLoadGrams / 1000.0);
        double felt = kg * (1 + _temperatureShare) + excessKg * _extrapolationShare + _zeroDriftKg + _cellErrorKg;
        return _amplifier.Convert(_trueZeroCounts + felt / _trueKgPerCount, _disturbance.CountsAt(atS));
    }

    // Against the line through zero and the largest calibrated load; the bow is a parabola, the gap belongs to a load that was put on from below.
    private double MadeErrorKg(double loadKg)
    {
        double largestKg = Calibration.LargestLoadGrams / 1000.0;
        double Bow(double kg) => 4 * kg / _capacityKg * (1 - kg / _capacityKg);
        return (_bowKg - _gapKg / 2) * (Bow(loadKg) - loadKg / largestKg * Bow(largestKg)) + _creepShare * loadKg;
    }

    private double Within(double halfWidth) => _reality.Worse * _draws.Even(-halfWidth, halfWidth);
}
