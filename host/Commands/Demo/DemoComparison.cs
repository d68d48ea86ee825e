using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.Demo;

/// <summary>Holds a weighing against what the virtual garage knows to be true.</summary>
internal static class DemoComparison
{
    /// <summary>A table: found, how sure, true, and whether the truth lies inside.</summary>
    public static void Write(TextWriter output, WeighingResult result, Truth truth, MassUnit unit)
    {
        double perKg = unit.FromKg(1);
        string mass = unit.Symbol();
        CornerTotals totals = result.Totals;
        output.WriteLine($"  {"",-20}{"found",9}{"+/-",8}{"true",10}");
        foreach (Corner corner in Corners.All)
        {
            WriteRow(output, $"{corner} {mass}", result.Loads[(int)corner].LoadKg, truth.CornersKg[corner], perKg);
        }

        WriteRow(output, $"total {mass}", totals.TotalKg, truth.TotalKg, perKg);
        WriteRow(output, "front %", totals.FrontShare, truth.FrontShare, 100);
        WriteRow(output, "left %", totals.LeftShare, truth.LeftShare, 100);
        WriteRow(output, "cross %", totals.CrossShare, truth.CrossShare, 100);
        WriteRow(output, "CG behind axle mm", totals.CgBehindFrontAxleM, truth.CgBehindFrontAxleM, 1000);
        WriteRow(output, "CG left of centre mm", totals.CgLeftOfCentreM, truth.CgLeftOfCentreM, 1000);
    }

    /// <summary>The truth by the names of the answer.</summary>
    public static JsonObject TruthObject(Truth truth) => new()
    {
        ["corners_kg"] = new JsonObject(Corners.All.Select(corner => KeyValuePair.Create(corner.ToString(), (JsonNode?)truth.CornersKg[corner]))),
        ["total_kg"] = truth.TotalKg,
        ["front_share"] = truth.FrontShare,
        ["left_share"] = truth.LeftShare,
        ["cross_share"] = truth.CrossShare,
        ["diagonal_difference_kg"] = truth.DiagonalDifferenceKg,
        ["cg_behind_front_axle_mm"] = truth.CgBehindFrontAxleM * 1000,
        ["cg_left_of_centre_mm"] = truth.CgLeftOfCentreM * 1000,
    };

    private static void WriteRow(TextWriter output, string name, Measured? found, double? truth, double scale)
    {
        if (found is null || truth is not double known)
        {
            output.WriteLine($"  {name,-20}{"--",9}");
            return;
        }

        Measured shown = found * scale;
        double u = shown.Expand().HalfWidth;
        DisplayRounding rounding = DisplayRounding.For(u);
        string verdict = Math.Abs(shown.Value - (known * scale)) <= u ? "inside" : "OUTSIDE";
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"  {name,-20}{rounding.Text(shown.Value),9}{rounding.UncertaintyText(u),8}{(known * scale).ToString("F" + (rounding.Decimals + 1), CultureInfo.InvariantCulture),10}  {verdict}"));
    }
}
