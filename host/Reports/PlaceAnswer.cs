using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>Moves and ballast as <c>fourpatch.place/1</c>.</summary>
public static class PlaceAnswer
{
    private const double MmPerM = 1000;

    /// <summary>The whole answer.</summary>
    /// <param name="placement">What goes where.</param>
    /// <param name="after">The vehicle then.</param>
    /// <param name="result">The same in the form of a weighing.</param>
    /// <param name="vehicleFile">Path of the vehicle file as typed.</param>
    public static JsonAnswer Of(Placement placement, Prediction after, WeighingResult result, string? vehicleFile)
    {
        var answer = new JsonAnswer("place")
            .Put("vehicle", PlanAnswer.VehicleOf(result, vehicleFile))
            .Put("moves", placement.Parts.Where(part => part.MovementM > 0).Select(part => new JsonObject
            {
                ["item"] = part.Movable.Part.Item,
                ["behind_front_axle_mm"] = part.BehindM * MmPerM,
                ["left_of_centre_mm"] = part.LeftM * MmPerM,
                ["mass_kg"] = part.Movable.MassKg,
                ["from_behind_mm"] = part.Movable.Part.BehindFrontAxleM * MmPerM,
                ["from_left_mm"] = part.Movable.Part.LeftOfCentreM * MmPerM,
            }))
            .Put("ballast", placement.Ballast.Where(ballast => ballast.MassKg > 0).Select(ballast => new JsonObject
            {
                ["item"] = ballast.Spot.Item,
                ["behind_front_axle_mm"] = ballast.Spot.BehindFrontAxleM * MmPerM,
                ["left_of_centre_mm"] = ballast.Spot.LeftOfCentreM * MmPerM,
                ["mass_kg"] = ballast.MassKg,
            }))
            .Put("added_mass_kg", placement.AddedKg)
            .Put("binding", placement.Binding.Select(limit => new JsonObject { ["item"] = limit.Item, ["text"] = limit.Text }))
            .Put("levers", placement.Levers().Select(lever => new JsonObject
            {
                ["item"] = lever.Item,
                ["front_kg"] = PlaceText.PerTenth(lever.FrontPerKg),
                ["left_kg"] = PlaceText.PerTenth(lever.LeftPerKg),
                ["front_mm_back"] = PlaceText.PerTenth(lever.FrontPerM) * MmPerM,
                ["left_mm_left"] = PlaceText.PerTenth(lever.LeftPerM) * MmPerM,
            }));
        PlanAnswer.PutPrediction(answer, result, after);
        return answer.PutQuality(result.IsAcceptable, result.Reasons);
    }
}
