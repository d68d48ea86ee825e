namespace Fourpatch.Vehicles;

/// <summary>The corners of a four-wheeled vehicle, in the order used everywhere. Left is the driver's left.</summary>
public enum Corner
{
    /// <summary>Front left.</summary>
    FL = 0,

    /// <summary>Front right.</summary>
    FR = 1,

    /// <summary>Rear left.</summary>
    RL = 2,

    /// <summary>Rear right.</summary>
    RR = 3,
}
