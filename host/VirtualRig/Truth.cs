using Fourpatch.Core.Corners;
using Fourpatch.Vehicles;

namespace Fourpatch.VirtualRig;

/// <summary>What the wheels truly carry, and what follows from it by statics alone. Shares and centre of gravity are null when the wheels carry nothing.</summary>
public sealed record Truth
{
    private readonly CornerLoads _loads;
    private readonly Vehicle _vehicle;

    internal Truth(Corners<double> cornersKg, Vehicle vehicle)
    {
        CornersKg = cornersKg;
        _vehicle = vehicle;
        _loads = new(cornersKg.FL, cornersKg.FR, cornersKg.RL, cornersKg.RR);
    }

    /// <summary>The four loads, kg.</summary>
    public Corners<double> CornersKg { get; }

    /// <summary>Their sum, kg.</summary>
    public double TotalKg => _loads.TotalKg;

    /// <summary>(FL + FR) / total.</summary>
    public double? FrontShare => _loads.TryFrontShare(out var share) ? share : null;

    /// <summary>(FL + RL) / total.</summary>
    public double? LeftShare => _loads.TryLeftShare(out var share) ? share : null;

    /// <summary>(FR + RL) / total.</summary>
    public double? CrossShare => _loads.TryCrossShare(out var share) ? share : null;

    /// <summary>(FR + RL) - (FL + RR), kg.</summary>
    public double DiagonalDifferenceKg => _loads.DiagonalDifferenceKg;

    /// <summary>Centre of gravity behind the front axle line, metres.</summary>
    public double? CgBehindFrontAxleM => _loads.TryCentreBehindFrontAxleM(_vehicle.WheelbaseM, out var behindM) ? behindM : null;

    /// <summary>Centre of gravity left of the centre line, metres.</summary>
    public double? CgLeftOfCentreM => _loads.TryCentreLeftM(_vehicle.TrackFrontM, _vehicle.TrackRearM, out var leftM) ? leftM : null;
}
