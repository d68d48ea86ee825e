namespace Fourpatch.Calibrating;

/// <summary>How a load was reached.</summary>
public enum LoadedFrom
{
    /// <summary>By adding: the up run.</summary>
    Below,

    /// <summary>By taking off: the down run.</summary>
    Above,
}

/// <summary>The mean counts of one cell under one load.</summary>
/// <param name="LoadKg">The load; 0 for a reading of the zero.</param>
/// <param name="Counts">Mean of the counts.</param>
/// <param name="UCounts">Standard uncertainty of that mean; null when not known.</param>
/// <param name="From">How the load was reached.</param>
/// <param name="ULoadKg">Standard uncertainty of the load, kg.</param>
/// <param name="Reference">Name of the known mass: loads of the same name share their error.</param>
/// <param name="Settled">False when the load still moved.</param>
public sealed record CellPoint(
    double LoadKg,
    double Counts,
    double? UCounts = null,
    LoadedFrom From = LoadedFrom.Below,
    double ULoadKg = 0,
    string Reference = "",
    bool Settled = true)
{
    /// <summary>A reading without load.</summary>
    public static CellPoint Zero(double counts, double? uCounts = null, LoadedFrom from = LoadedFrom.Below) => new(0, counts, uCounts, from);

    /// <summary>A reading under a known mass.</summary>
    public static CellPoint Under(KnownMass mass, double counts, double? uCounts = null, LoadedFrom from = LoadedFrom.Below) =>
        new(mass.Kg, counts, uCounts, from, mass.StandardUncertaintyKg, mass.Reference);
}

/// <summary>What is known about the cell beforehand and what it is meant for.</summary>
/// <param name="CapacityKg">Rated capacity from the label; null when not known.</param>
/// <param name="LabelMillivoltsPerVolt">Rated output from the label; null when not known.</param>
/// <param name="ExpectedLoadKg">The corner load it must weigh; when null half the capacity, or the largest load without one.</param>
public sealed record CellPurpose(double? CapacityKg = null, double? LabelMillivoltsPerVolt = null, double? ExpectedLoadKg = null);
