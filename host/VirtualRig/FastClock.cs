namespace Fourpatch.VirtualRig;

/// <summary>
/// A clock that runs faster than another. A paced garage and everything that talks to its boards share one, and an evening's job
/// passes in a minute with every deadline and window in its usual proportion. Thread-safe when the other clock is.
/// </summary>
/// <param name="inner">The other clock.</param>
/// <param name="factor">How many times faster, above 0.</param>
public sealed class FastClock(TimeProvider inner, double factor) : TimeProvider
{
    // Timers of the system know whole milliseconds; rounded down to none they would spin.
    private static readonly TimeSpan ShortestWait = TimeSpan.FromMilliseconds(1);

    private readonly DateTimeOffset _startUtc = inner.GetUtcNow();
    private readonly long _startTimestamp = inner.GetTimestamp();
    private readonly double _factor = factor > 0 && double.IsFinite(factor) ? factor : throw new ArgumentOutOfRangeException(nameof(factor), factor, "Above 0.");

    /// <inheritdoc/>
    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    /// <inheritdoc/>
    public override TimeZoneInfo LocalTimeZone => inner.LocalTimeZone;

    /// <inheritdoc/>
    public override long GetTimestamp() => (inner.GetElapsedTime(_startTimestamp) * _factor).Ticks;

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => _startUtc + TimeSpan.FromTicks(GetTimestamp());

    /// <inheritdoc/>
    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) =>
        new FastTimer(inner.CreateTimer(callback, state, Scaled(dueTime), Scaled(period)), this);

    private TimeSpan Scaled(TimeSpan wait)
    {
        if (wait <= TimeSpan.Zero) return wait;
        var scaled = wait / _factor;
        return scaled < ShortestWait ? ShortestWait : scaled;
    }

    private sealed class FastTimer(ITimer timer, FastClock clock) : ITimer
    {
        public bool Change(TimeSpan dueTime, TimeSpan period) => timer.Change(clock.Scaled(dueTime), clock.Scaled(period));

        public void Dispose() => timer.Dispose();

        public ValueTask DisposeAsync() => timer.DisposeAsync();
    }
}
