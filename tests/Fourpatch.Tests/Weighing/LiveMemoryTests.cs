using Fourpatch.Tests.Commands;
using Fourpatch.Uncertainty;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Weighing;

/// <summary>The highest loads, and loads that creep while they seem to stand still.</summary>
public class LiveMemoryTests
{
    private readonly LiveMemory _memory = new();
    private DateTimeOffset _now = DateTimeOffset.UnixEpoch;

    [Fact]
    public void The_highest_load_stays_until_it_is_forgotten_and_a_tare_takes_nothing_off_it()
    {
        Assert.Null(Look(null).Stations[0].PeakKg);
        Look(150);
        Assert.Equal(150, Look(120).Stations[0].PeakKg);
        Assert.Equal(150, Look(null).Stations[0].PeakKg);
        Assert.Equal(160, Look(60, tareKg: 100).Stations[0].PeakKg);
        _memory.ForgetPeaks();
        Assert.Equal(118, Look(118).Stations[0].PeakKg);
    }

    [Fact]
    public void A_load_that_stands_still_by_every_look_and_is_elsewhere_after_a_minute_creeps()
    {
        LiveView view = Look(120);
        for (int second = 1; second <= 59; second++)
        {
            view = Look(120 + (second * 0.005));
            Assert.Empty(view.Warnings);
        }

        view = Look(120.3);
        Assert.StartsWith("RL: creeps, by +0.3 kg in the last minute; ", Assert.Single(view.Warnings), StringComparison.Ordinal);

        // A load that was moved on purpose begins anew.
        Look(140, LiveState.Moving);
        Assert.Empty(Look(140).Warnings);
    }

    [Fact]
    public void What_trembles_within_its_allowance_does_not_creep()
    {
        for (int second = 0; second < 180; second++)
        {
            Assert.Empty(Look(120 + (second % 2 == 0 ? 0.04 : -0.04)).Warnings);
        }
    }

    private LiveView Look(double? kg, LiveState state = LiveState.Settled, double tareKg = 0)
    {
        _now += TimeSpan.FromSeconds(1);
        var reading = new StationReading { Station = "RL", LoadKg = kg is { } known ? Measured.Exact(known) : null };
        return _memory.Look(new LiveView
        {
            Time = _now,
            Result = WeighingResult.Of(Garages.Plain, new Dictionary<string, Measured?>(), []),
            Stations = [new LiveStation(reading, kg is null ? LiveState.NotKnown : state, tareKg)],
            Verdict = LiveVerdict.Settled,
        });
    }
}
