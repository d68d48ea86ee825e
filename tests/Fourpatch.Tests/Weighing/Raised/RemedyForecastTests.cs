using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Tests.Weighing.Raised;

/// <summary>What is foretold of each remedy before a wheel is lifted, over every rise that may be asked for.</summary>
public class RemedyForecastTests
{
    private const string Kart = "name = \"Kart\"\nkind = \"kart\"\nwheelbase_mm = 1040\ntrack_front_mm = 1080\ntrack_rear_mm = 1120\n";

    [Theory]
    [InlineData("wren", false)]
    [InlineData("wren", true)]
    [InlineData("plain", false)]
    [InlineData("plain", true)]
    [InlineData("kart", false)]
    [InlineData("kart", true)]
    public void Each_rise_from_5_to_300_mm_is_foretold_for_every_remedy_and_higher_is_never_surer_without_one(string name, bool knowsTotal)
    {
        string text = name switch { "wren" => File.ReadAllText(Repository.PathOf("host/examples/wren.toml")), "plain" => Commands.Cars.Plain, _ => Kart };
        var car = RaisedCar.Of(VehicleFile.Parse(text, "car.toml").Value);
        Corners<double> loadsKg = car.Vehicle.ExpectedKg ?? Corners.Same(name == "kart" ? 40.0 : 250.0);
        Measured? total = knowsTotal ? Measured.From(loadsKg.ToArray().Sum(), new("known total", "known total"), 1) : null;
        double before = 0;
        for (int mm = 5; mm <= 300; mm += mm < 290 ? 15 : 1)
        {
            double riseM = mm / 1000.0;
            IReadOnlyList<RemedyForecast> all = RemedyForecast.All(car, new(loadsKg, riseM, mm <= 295 ? Math.Min(riseM + 0.03, 0.3) : null, 0.2, 0.001, total));
            Assert.Equal(mm <= 295, all.Any(one => one.Remedy == Remedy.TwoRises));
            Assert.All(all, one => Assert.True(one.UCornerKg > 0 && one.UTotalKg > 0 && double.IsFinite(one.UCornerKg) && double.IsFinite(one.UTotalKg), $"{mm} mm, {one}"));
            Assert.Contains(RemedyForecast.Recommended(all), all);
            double blind = all.Single(one => one.Remedy is Remedy.Rates or Remedy.None or Remedy.KnownTotal).UCornerKg;
            Assert.True(blind >= before * 0.999, $"{mm} mm: {blind} after {before}");
            before = blind;
        }
    }
}
