using Fourpatch.Vehicles;

namespace Fourpatch.Weighing.Raised;

/// <summary>What was done just before a reading was taken.</summary>
public enum TakenAs
{
    /// <summary>Nothing in particular.</summary>
    Still,

    /// <summary>The body was pushed down and let go slowly: friction holds it low.</summary>
    PushedDown,

    /// <summary>The body was lifted and let go slowly: friction holds it high.</summary>
    LiftedUp,

    /// <summary>The dolly stood empty beside the car, before going under this corner.</summary>
    Empty,
}

/// <summary>One reading as it was taken: by cells, or a figure read off any scale. Immutable.</summary>
public sealed record TakenReading
{
    /// <summary>The wheel on the dolly or pad; for an empty dolly the one it goes under next.</summary>
    public required Corner Corner { get; init; }

    /// <summary>What was done before.</summary>
    public TakenAs As { get; init; }

    /// <summary>How far each wheel stood above where it stands on the floor, metres.</summary>
    public Corners<double> RisesM { get; init; } = Corners.Same(0.0);

    /// <summary>Standard uncertainties of those.</summary>
    public Corners<double> URisesM { get; init; } = Corners.Same(0.0);

    /// <summary>Wheels whose rise was measured at their centre.</summary>
    public Corners<bool> AtWheelCentre { get; init; } = Corners.Same(false);

    /// <summary>The cells under it; empty for a figure that was typed.</summary>
    public IReadOnlyList<CellEvidence> Cells { get; init; } = [];

    /// <summary>The figure that was typed, kg; null when cells were read.</summary>
    public double? TypedKg { get; init; }

    /// <summary>Standard uncertainty of that figure, kg.</summary>
    public double UTypedKg { get; init; }

    /// <summary>Why it was kept although it is not acceptable; null when it is.</summary>
    public string? KeptBecause { get; init; }

    /// <summary>Whether the wheels stood as for another reading of the same corner.</summary>
    public bool StandsLike(TakenReading other) => Corner == other.Corner && RisesM == other.RisesM;
}
