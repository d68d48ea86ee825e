using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Tests.Commands;
using Fourpatch.Tests.Records;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Reports;

/// <summary>Reports of every sort: typed and from the rig, good and not, planned, with hostile, endless and right-to-left names. All invented.</summary>
internal static class ReportCases
{
    private const string Endless = "Wren of the long evening in the garage at the end of the lane with a name that no form has ever had room for and that goes on and on and on and on until the page is full";

    public static IReadOnlyDictionary<string, WeighingReport> All { get; } = new Dictionary<string, WeighingReport>
    {
        ["rig"] = Report(Rig("after the engine", [118.4, 109.9, 127.3, 131.6], 60, ("driver", "aboard"), ("fuel_l", "12"), ("tyres_bar", "1.6 cold"))) with
        {
            Since = Comparison.Of(Rig("as found", [106.1, 100.7, 116.5, 115.2], 0, ("driver", "out"), ("fuel_l", "4")), Rig("after the engine", [118.4, 109.9, 127.3, 131.6], 60, ("driver", "aboard"), ("fuel_l", "12"))).Value,
            SinceWhen = "2026-11-24 19:05",
        },
        ["typed"] = Report(Samples.Typed("typed", [400, 380, 330, 310], new TypedUncertainty(0.7, 0.2, true, 0.002))),
        ["planned"] = Planned(),
        ["not-acceptable"] = Report(Samples.Weighing("kept", Missing(), "the light was going")),
        ["three-wheeler"] = Report(Samples.Weighing("three", new TypedBasis(
            new Dictionary<string, TypedLoad> { ["front-left"] = new(92.4, 0.1), ["front-right"] = new(90, 1), ["rear"] = new(140.1, 0.1) }, new TypedUncertainty(0.3)).Compute(Samples.ThreeWheeler))),
        ["markup"] = Named("<script>alert('x')</script><img src=http://example.invalid/x.png> & \"Sons\"", "</title><b>bold</b>", "</pre><iframe src=http://example.invalid>"),
        ["endless"] = Named(Endless, new string('M', 200), string.Concat(Enumerable.Repeat("unbreakable", 18))),
        ["right-to-left"] = Named("\u05E2\u05E4\u05E8\u05D5\u05E0\u05D9 12", "\u0628\u0639\u062F \u0627\u0644\u0645\u062D\u0631\u0643", "\u202Eturned\u202C"),
        ["kart"] = Of("kart"),
        ["truck"] = Of("truck"),
        ["trailer"] = Of("trailer"),
        ["motorcycle"] = Of("motorcycle"),
        ["wide"] = Of("wide"),
    };

    public static WeighingReport Report(WeighingRecord record) => new(record with { Id = "k7f3-m2qa" }, MassUnit.Kg, "2026-11-24 20:05");

    private static WeighingRecord Rig(string name, double[] loadsKg, int minutes, params (string Name, string Value)[] conditions) => Samples.Weighing(
        name,
        Samples.Pads(loadsKg).Compute(Samples.Plain with { Name = "Wren" }) with { Conditions = conditions.ToDictionary(one => one.Name, one => one.Value) },
        minutes: minutes);

    private static WeighingReport Of(string plan)
    {
        WeighingResult result = PlanViewCases.All[plan];
        var loads = result.Loads.Where(load => load.LoadKg is not null).ToDictionary(load => load.Name, load => new TypedLoad(load.LoadKg!.Value, 0.1));
        return Report(Samples.Weighing(plan, new TypedBasis(loads, new TypedUncertainty(0.3)).Compute(result.Vehicle), "one of them was in the way"));
    }

    private static WeighingResult Missing() => new TypedBasis(
        new Dictionary<string, TypedLoad> { ["FL"] = new(400, 0.1), ["FR"] = new(380, 0.1), ["RL"] = new(330, 0.1) }, new TypedUncertainty(0.3)).Compute(Samples.Plain) with { Conditions = new Dictionary<string, string>() };

    private static WeighingReport Named(string car, string name, string condition) => Report(Samples.Weighing(
        name,
        Samples.Pads([118.4, 109.9, 127.3, 131.6]).Compute(Samples.Plain with { Name = car }) with { Conditions = Enumerable.Range(1, 20).ToDictionary(i => $"note_{i}", _ => condition) }));

    private static WeighingReport Planned()
    {
        Vehicle vehicle = VehicleFile.Parse(Cars.Plain + "\n[wheel_rate_n_per_mm]\nfront = 22\nrear = 25\n[tyre_rate_n_per_mm]\nfront = 180\nrear = 180\n", "plain.toml").Value;
        WeighingRecord record = Samples.Weighing("as weighed", Samples.Pads([118.4, 109.9, 127.3, 131.6]).Compute(vehicle));
        IReadOnlyList<Part> parts = PartsFile.Parse(
            "item,action,mass_kg,behind_front_axle_mm,left_of_centre_mm,above_ground_mm,stage\nengine,fit,80,2000,0,350,engine & gearbox\ndriver,fit,76,1300,-330,300,driver\ntank,fit,30,2300,150,300,\"<b>fuel</b>\"\n", "parts.csv", vehicle).Value;
        return Report(record) with { Plan = BuildPlan.Of(vehicle, [.. record.Result.Loads.Select(load => load.LoadKg!)], parts) };
    }
}
