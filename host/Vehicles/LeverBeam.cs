using Fourpatch.Uncertainty;

namespace Fourpatch.Vehicles;

/// <summary>
/// A beam between a block and a scale (or a cell) with one wheel on it: the scale shows a known part of the wheel. Each of its results follows from
/// the moments about the block: reading x (scale to block) = wheel x (wheel to block) + beam x (its centre to block) + side force x height.
/// </summary>
/// <remarks>Source: statics of a beam on two supports. Lengths are horizontal, so the beam must be level.</remarks>
public sealed record LeverBeam
{
    /// <summary>Height of the tyre's contact over the line of the two pivots when none is given, metres (common practice, no source).</summary>
    public const double UsualContactHeightM = 0.12;

    /// <summary>Loads a build should stand: twice what it carries at worst.</summary>
    public const double UsualMargin = 2;

    /// <summary>Distance of the wheel's middle from the block, metres; above 0.</summary>
    public required Measured WheelToBlockM { get; init; }

    /// <summary>Distance of the scale from the block, metres; more than <see cref="WheelToBlockM"/>.</summary>
    public required Measured ScaleToBlockM { get; init; }

    /// <summary>Mass of the beam; 0 when the scale was set to nothing with the beam on it.</summary>
    public Measured BeamKg { get; init; } = Measured.Exact(0);

    /// <summary>Distance of the beam's own centre of gravity from the block, metres; null: midway between block and scale.</summary>
    public Measured? BeamCentreToBlockM { get; init; }

    /// <summary>How far off its mark the wheel stands along the beam, metres, away from the block: 0 with its doubt.</summary>
    public Measured PlacementM { get; init; } = Measured.Exact(0);

    /// <summary>How much higher the block's end stands, metres: 0 with its doubt. What lies over the pivots leans towards the lower end.</summary>
    public Measured OutOfLevelM { get; init; } = Measured.Exact(0);

    /// <summary>Push of the tyre along the beam towards the scale, newtons: 0 with its doubt.</summary>
    public Measured SideForceN { get; init; } = Measured.Exact(0);

    /// <summary>Height of the tyre's contact over the line of the two pivots, metres.</summary>
    public double ContactHeightM { get; init; } = UsualContactHeightM;

    /// <summary>Wheel load per load that the scale shows of it; above 1.</summary>
    public Measured Factor => ScaleToBlockM / (WheelToBlockM + PlacementM + (ContactHeightM * OutOfLevelM / ScaleToBlockM));

    /// <summary>What the scale shows of the beam by itself, kg: the beam's own share, to be taken off before the factor.</summary>
    public Measured BeamShareKg => BeamKg * (BeamCentreToBlockM ?? ScaleToBlockM * 0.5) / ScaleToBlockM;

    /// <summary>The wheel's load from a reading, kg.</summary>
    public Measured WheelKg(Measured readingKg) => (readingKg - BeamShareKg - SideShareKg(SideForceN)) * Factor;

    /// <summary>What the block carries, kg: block and scale together carry the wheel and the beam.</summary>
    public Measured BlockKg(Measured readingKg) => WheelKg(readingKg) + BeamKg - readingKg;

    /// <summary>What the scale will show under a wheel of a given load, kg.</summary>
    public Measured ReadingKg(Measured wheelKg) => (wheelKg / Factor) + BeamShareKg + SideShareKg(SideForceN);

    /// <summary>The wheel load at which the scale carries all it is rated for, kg; 0 when the beam alone is too much.</summary>
    public double WheelAtRatingKg(double ratingKg) => Math.Max(0, (ratingKg - BeamShareKg.Value) * Factor.Value);

    /// <summary>The least factor with which a scale carries a wheel and the beam's share within its rating; null when the beam alone is too much for it.</summary>
    /// <param name="wheelKg">Load of the heaviest wheel.</param>
    /// <param name="ratingKg">Rating of the scale or cell.</param>
    /// <param name="beamShareKg">What it carries of the beam.</param>
    /// <param name="margin">How many times over it must carry them; 1: just.</param>
    public static double? LeastFactor(double wheelKg, double ratingKg, double beamShareKg = 0, double margin = 1) =>
        ratingKg / margin - beamShareKg is > 0 and var left ? Math.Max(1, wheelKg / left) : null;

    /// <summary>By how much the wheel is misread when it stands one metre further from the block than measured, kg per metre.</summary>
    public double PlacementEffectKgPerM(double wheelKg) => wheelKg / WheelToBlockM.Value;

    /// <summary>By how much the wheel is misread when the block's end stands one metre higher than the scale's, kg per metre.</summary>
    public double LevelEffectKgPerM(double wheelKg) => wheelKg * ContactHeightM / (ScaleToBlockM.Value * WheelToBlockM.Value);

    /// <summary>By how much the wheel is misread when its tyre pushes along the beam with one newton, kg per newton.</summary>
    public double SideForceEffectKgPerN() => SideShareKg(Measured.Exact(1)).Value * Factor.Value;

    private Measured SideShareKg(Measured forceN) => forceN * (ContactHeightM / StandardGravity.MPerS2) / ScaleToBlockM;
}
