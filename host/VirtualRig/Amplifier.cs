using Fourpatch.Core.Cells;

namespace Fourpatch.VirtualRig;

/// <summary>
/// One HX711 channel at gain 128 as it behaves at its pins: converts on a clock of its own, takes four conversions to settle,
/// adds its noise, stops at the ends of its range. Figures: HX711 datasheet V2.0, Table 2. Not thread-safe.
/// </summary>
internal sealed class Amplifier
{
    /// <summary>Conversions until the output is valid: 400 ms at 10/s, 50 ms at 80/s.</summary>
    public const int SettlingConversions = 4;

    /// <summary>Supply for which the scenario's noise is worked out, volts.</summary>
    public const double DefaultSupplyV = 5;

    private const double Gain = 128;
    private const double Codes = 1 << 24;
    private const double NoiseAt10VRms = 50e-9;
    private const double NoiseAt80VRms = 90e-9;

    // Settling in four conversions is what a fourth-order sinc does: a step reaches the output through a cubic B-spline,
    // of which these are the integrals over one conversion each, newest first.
    private static readonly double[] Taps = [1.0 / 24, 11.0 / 24, 11.0 / 24, 1.0 / 24];

    private readonly double _noiseCountsRms;
    private readonly RandomStream _random;
    private readonly double[] _inputs = new double[SettlingConversions];

    /// <summary>A channel switched on at time 0.</summary>
    /// <param name="rateHz">Conversions per second of this very chip.</param>
    /// <param name="phase">Part of a conversion already done at time 0.</param>
    /// <param name="noiseCountsRms">Its own white noise.</param>
    /// <param name="random">Its stream.</param>
    public Amplifier(double rateHz, double phase, double noiseCountsRms, RandomStream random)
    {
        PeriodUs = 1e6 / rateHz;
        NextReadyUs = PeriodUs * (1 - phase);
        _noiseCountsRms = noiseCountsRms;
        _random = random;
    }

    /// <summary>Time of one conversion.</summary>
    public double PeriodUs { get; }

    /// <summary>When the next conversion is done.</summary>
    public double NextReadyUs { get; private set; }

    /// <summary>The datasheet's noise in counts: 50 nV rms at 10/s, 90 nV rms at 80/s, one count being supply / gain / 2^24.</summary>
    public static double NoiseCountsRms(double rateHz, double supplyV) =>
        (rateHz < 40 ? NoiseAt10VRms : NoiseAt80VRms) / (supplyV / Gain / Codes);

    /// <summary>What is left of a sine at the input: the sinc's fourth power.</summary>
    public double Passes(double frequencyHz)
    {
        var x = Math.PI * frequencyHz * PeriodUs * 1e-6;
        return x == 0 ? 1 : Math.Pow(Math.Sin(x) / x, 4);
    }

    /// <summary>Finishes the conversion under way.</summary>
    /// <param name="inputCounts">What the bridge gives during it.</param>
    /// <param name="afterFilterCounts">Disturbances that are already given as they come out of the filter.</param>
    /// <returns>The 24-bit result.</returns>
    public int Convert(double inputCounts, double afterFilterCounts)
    {
        NextReadyUs += PeriodUs;
        for (var i = _inputs.Length - 1; i > 0; i--) _inputs[i] = _inputs[i - 1];
        _inputs[0] = inputCounts;
        var counts = afterFilterCounts + _noiseCountsRms * _random.Normal();
        for (var i = 0; i < _inputs.Length; i++) counts += Taps[i] * _inputs[i];
        return (int)Math.Clamp(Math.Round(counts), BridgeCounts.Lowest, BridgeCounts.Highest);
    }
}
