namespace Fourpatch.VirtualRig;

/// <summary>
/// 1/f noise as a sum of first-order processes, two to a decade of frequency, all of one variance: between the slowest and the
/// fastest their spectra add up to 1/f within a few percent (McWhorter's explanation of flicker noise, 1957). Not thread-safe.
/// </summary>
internal sealed class FlickerNoise
{
    private const double SlowestHz = 1e-4;
    private const int PerDecade = 2;
    private const int Count = 11;

    private readonly RandomStream _random;
    private readonly double _eachRms;
    private readonly double[] _state = new double[Count];
    private double _lastS;

    /// <summary>A source that has been on for ever.</summary>
    /// <param name="rmsPerDecade">Standard deviation that one decade of frequency contributes.</param>
    /// <param name="random">Its stream.</param>
    public FlickerNoise(double rmsPerDecade, RandomStream random)
    {
        _random = random;
        _eachRms = rmsPerDecade / Math.Sqrt(PerDecade);
        for (var i = 0; i < Count; i++) _state[i] = _eachRms * random.Normal();
    }

    /// <summary>The value at a moment, in the unit of the rms.</summary>
    /// <param name="timeS">Never less than at the last call, else it counts as that.</param>
    public double At(double timeS)
    {
        if (_eachRms == 0) return 0;
        var elapsedS = Math.Max(0, timeS - _lastS);
        _lastS += elapsedS;
        var sum = 0.0;
        for (var i = 0; i < Count; i++)
        {
            var cornerHz = SlowestHz * Math.Pow(10, (double)i / PerDecade);
            var kept = Math.Exp(-2 * Math.PI * cornerHz * elapsedS);
            _state[i] = _state[i] * kept + _eachRms * Math.Sqrt(1 - kept * kept) * _random.Normal();
            sum += _state[i];
        }
        return sum;
    }
}
