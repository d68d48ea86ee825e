using Fourpatch.Uncertainty;
using Fourpatch.Core.Cells;
using Fourpatch.Rigs;

namespace Fourpatch.Weighing;

/// <summary>Says in words why a cell's mean is missing or not steady.</summary>
internal static class StationNoise
{
    /// <summary>
    /// Standard deviation of one conversion, in counts, that is no cause for alarm: five times the chip's own noise at
    /// 80 samples/s and 3.3 V (90 nV rms at gain 128 is 58.6 counts; HX711 datasheet, "input noise").
    /// </summary>
    public const double AllowedCounts = 5 * 58.6;

    // A car on its springs sways for seconds: in less than this a sway looks like a drift (common practice, no source).
    private static readonly TimeSpan ShortLook = TimeSpan.FromSeconds(5);

    // A good line loses one in a thousand; one in a hundred hides a plug that is loose (common practice, no source).
    private const double LostShare = 0.01;

    /// <summary>What is to be said of conversions missing inside the window; null when there are hardly any.</summary>
    public static Reason? WhyLost(CellMean mean, string station)
    {
        int all = mean.Used + mean.Rejected + mean.Missing;
        return mean.Missing <= LostShare * all ? null : new(ReasonCode.SamplesLost, station, FormattableString.Invariant(
            $"{station}: of cell {mean.Id} {mean.Missing} of {all} readings never came; check its board's plug and cable, or in a log what 'fourpatch log summary' says of it"));
    }

    /// <summary>In words, why a mean is missing or not steady.</summary>
    public static string Why(CellMean mean) => (mean.HasValue ? WhyNotSettled(mean, "") : WhyNoValue(mean, "")).Text.TrimStart(':', ' ');

    /// <summary>The reason a cell has no mean.</summary>
    public static Reason WhyNoValue(CellMean mean, string station) => mean.Status switch
    {
        SampleStatus.SaturatedHigh or SampleStatus.SaturatedLow => new(ReasonCode.Saturated, station,
            $"{station}: cell {mean.Id} is at the end of its range; overload, or a broken or wrong wire"),
        SampleStatus.Stuck => new(ReasonCode.Stuck, station, $"{station}: cell {mean.Id} sends the same counts again and again; check its plug and its amplifier"),
        SampleStatus.NoDevice => new(ReasonCode.NotAvailable, station, $"{station}: the amplifier of cell {mean.Id} does not answer; check its plug and its supply"),
        SampleStatus.Settling => new(ReasonCode.NotSettled, station, $"{station}: the amplifier of cell {mean.Id} has just started; wait a second"),
        SampleStatus.Ok => new(ReasonCode.NotSettled, station, $"{station}: too few readings of cell {mean.Id}; wait, or look longer"),
        _ => new(ReasonCode.NotAvailable, station, $"{station}: cell {mean.Id} is not read rightly; check the wires between amplifier and board"),
    };

    /// <summary>The reason a mean is not steady.</summary>
    /// <param name="mean">The mean.</param>
    /// <param name="station">Whose.</param>
    /// <param name="kgPerCount">Span, when there is one: then it is said how fast the load moves.</param>
    public static Reason WhyNotSettled(CellMean mean, string station, double? kgPerCount = null)
    {
        string tooShort = mean.Window > TimeSpan.Zero && mean.Window < ShortLook ? FormattableString.Invariant($", as far as {mean.Window.TotalSeconds:0.#} s can tell; look for 10 s. Then") : ";";
        return mean.Verdict == SettlingVerdict.TooNoisy
            ? new(ReasonCode.TooNoisy, station, $"{station}: cell {mean.Id} is too noisy to tell whether it stands still{tooShort} hands off, no wind, laptop off its charger, or look longer")
            : new(ReasonCode.NotSettled, station, $"{station}: the load on cell {mean.Id} is still moving{Speed(mean, kgPerCount)}{tooShort} wait, or find what moves it");
    }

    private static string Speed(CellMean mean, double? kgPerCount) => kgPerCount is double span && Math.Abs(mean.SlopeCountsPerSecond * span * 60) is >= 0.05 and var kg
        ? FormattableString.Invariant($" by {Math.Sign(mean.SlopeCountsPerSecond * span) * kg:+0.0;-0.0} kg a minute")
        : "";
}
