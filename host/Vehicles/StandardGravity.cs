namespace Fourpatch.Vehicles;

/// <summary>The agreed acceleration by which loads kept in kilograms become forces for springs, and back.</summary>
public static class StandardGravity
{
    /// <summary>Metres per second squared, exact by definition (3rd CGPM, 1901). Newtons per kilogram-force.</summary>
    public const double MPerS2 = 9.80665;
}
