namespace Fourpatch.Tests.Commands.Interviews;

/// <summary>Equal but for rounding.</summary>
internal sealed class Near(double tolerance) : IEqualityComparer<double>
{
    public bool Equals(double a, double b) => Math.Abs(a - b) <= tolerance;

    public int GetHashCode(double value) => 0;
}
