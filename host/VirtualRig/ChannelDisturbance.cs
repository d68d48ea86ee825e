namespace Fourpatch.VirtualRig;

/// <summary>What reaches one channel besides its load: drift, 1/f noise and mains pick-up. Each has a stream of its own. Not thread-safe.</summary>
internal sealed class ChannelDisturbance
{
    private readonly ScenarioNoise _noise;
    private readonly FlickerNoise _flicker;
    private readonly double _mainsKg;
    private readonly double _mainsPhaseRad;
    private readonly double _kgPerCount;

    /// <summary>The disturbances of a channel.</summary>
    /// <param name="noise">Their sizes.</param>
    /// <param name="amplifier">Whose filter lets only part of the mains pass.</param>
    /// <param name="kgPerCount">Span of the cell at that channel.</param>
    /// <param name="seed">Of the whole rig.</param>
    /// <param name="name">Of the channel, such as "B1:2".</param>
    public ChannelDisturbance(ScenarioNoise noise, Amplifier amplifier, double kgPerCount, ulong seed, string name)
    {
        _noise = noise;
        _kgPerCount = kgPerCount;
        _flicker = new(noise.FlickerCountsRms, new(seed, $"{name} flicker"));
        _mainsKg = noise.MainsKg * amplifier.Passes(noise.MainsHz);
        _mainsPhaseRad = new RandomStream(seed, $"{name} mains").Even(0, 2 * Math.PI);
    }

    /// <summary>Counts to add to what comes out of the filter.</summary>
    public double CountsAt(double timeS)
    {
        var kg = _noise.DriftKgPerH * timeS / 3600;
        if (_mainsKg != 0) kg += _mainsKg * Math.Sin(2 * Math.PI * _noise.MainsHz * timeS + _mainsPhaseRad);
        return _flicker.At(timeS) + kg / _kgPerCount;
    }
}
