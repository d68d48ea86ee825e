namespace Fourpatch.VirtualRig;

/// <summary>
/// One load cell: what its bridge gives, in counts of an ideal amplifier, for the load on it, with the errors real cells have.
/// It remembers where its load came from (hysteresis) and how long it has been there (creep). Not thread-safe.
/// </summary>
internal sealed class Bridge
{
    // Creep follows a load like a first-order lag; the figure on a data sheet is its state after half an hour (common practice, no source).
    private const double CreepTimeS = 400;
    private const double CreepStatedAfterS = 1800;

    // The load must turn back by this part of capacity before the reading stands on the other branch of the hysteresis loop.
    private const double HysteresisReachOfCapacity = 0.01;

    private readonly ScenarioCell _cell;
    private readonly double _kgPerCount;
    private readonly double _creepOfLoad;
    private double _lastS;
    private double _creepKg;
    private double _playKg;

    public Bridge(ScenarioCell cell)
    {
        _cell = cell;
        _kgPerCount = cell.TrueKgPerCount;
        _creepOfLoad = cell.CreepPercent / 100 / (1 - Math.Exp(-CreepStatedAfterS / CreepTimeS));
    }

    /// <summary>Kilograms of load that one kilogram of disturbance at the input stands for, per count.</summary>
    public double KgPerCount => _kgPerCount;

    /// <summary>Counts at a moment.</summary>
    /// <param name="loadKg">True load on the cell.</param>
    /// <param name="timeS">Never less than at the last call, else it counts as that.</param>
    /// <param name="temperatureRiseK">Temperature less that of the calibration.</param>
    public double Counts(double loadKg, double timeS, double temperatureRiseK)
    {
        var elapsedS = Math.Max(0, timeS - _lastS);
        _lastS += elapsedS;
        if (_creepOfLoad != 0) _creepKg += (loadKg * _creepOfLoad - _creepKg) * (1 - Math.Exp(-elapsedS / CreepTimeS));

        var capacityKg = _cell.CapacityKg;
        var part = loadKg / capacityKg;

        // The parabola through 0 and capacity: its top, at half capacity, is the stated figure.
        var bow = 4 * part * (1 - part);
        var kg = loadKg + _creepKg + _cell.NonlinearityPercent / 100 * capacityKg * bow;
        if (_cell.HysteresisPercent != 0) kg += _cell.HysteresisPercent / 200 * capacityKg * Branch(loadKg) * Math.Max(0, bow);
        kg += (_cell.TempZeroPercentPerK * capacityKg + _cell.TempSpanPercentPerK * loadKg) / 100 * temperatureRiseK;
        return _cell.ZeroCounts + kg / _kgPerCount;
    }

    /// <summary>-1 while the load grows, +1 while it shrinks, in between just after it turned (a play, as of a loose gear).</summary>
    private double Branch(double loadKg)
    {
        var reachKg = HysteresisReachOfCapacity * _cell.CapacityKg;
        _playKg = Math.Clamp(_playKg, loadKg - reachKg, loadKg + reachKg);
        return (_playKg - loadKg) / reachKg;
    }
}
