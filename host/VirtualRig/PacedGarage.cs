namespace Fourpatch.VirtualRig;

/// <summary>A garage whose simulated time follows a clock, from the moment this is made. Safe to use from several threads.</summary>
public sealed class PacedGarage
{
    /// <summary>How often what serves a board looks: a few bytes' time at 115200 baud would be too often for any scheduler.</summary>
    internal static readonly TimeSpan Turn = TimeSpan.FromMilliseconds(5);

    private readonly long _startTimestamp;
    private readonly TimeSpan _startNow;

    /// <summary>Ties a garage to a clock.</summary>
    public PacedGarage(VirtualGarage garage, TimeProvider clock)
    {
        ArgumentNullException.ThrowIfNull(garage);
        ArgumentNullException.ThrowIfNull(clock);
        Garage = garage;
        Clock = clock;
        _startTimestamp = clock.GetTimestamp();
        _startNow = garage.Now;
    }

    /// <summary>The garage.</summary>
    public VirtualGarage Garage { get; }

    /// <summary>The clock it follows.</summary>
    public TimeProvider Clock { get; }

    /// <summary>Brings the garage up to the clock.</summary>
    public void CatchUp()
    {
        lock (Garage.Gate) Garage.AdvanceTo((_startNow + Clock.GetElapsedTime(_startTimestamp)).TotalMicroseconds);
    }
}
