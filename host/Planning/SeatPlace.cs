namespace Fourpatch.Planning;

/// <summary>Where the adjustable seat of a spring is, which decides which way to turn it.</summary>
public enum SeatPlace
{
    /// <summary>Below the spring, as on most coil-overs: screwed up, it raises the corner.</summary>
    Below,

    /// <summary>Above the spring: screwed down, it raises the corner.</summary>
    Above,
}
