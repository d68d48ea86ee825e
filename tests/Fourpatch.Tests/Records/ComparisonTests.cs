using Fourpatch.Core.Cells;
using Fourpatch.Records;
using Fourpatch.Uncertainty;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Records;

/// <summary>
/// Two weighings side by side. Figures worked by hand: 0.01 kg per count, noise of each mean 2 counts (0.02 kg), zero 2 counts (0.02 kg),
/// span 1 % of its own, 0.05 % of the reference mass, everything else left out.
/// </summary>
public class ComparisonTests
{
    private static readonly CellAssumptions NothingElse = new(0, 0, 0, 0);
    private static readonly double[] Before = [100, 110, 120, 130];
    private static readonly double[] After = [100, 110, 120, 132];

    [Fact]
    public void What_one_calibration_got_wrong_cancels()
    {
        Comparison comparison = Compare(Pads(Before), Pads(After, minutes: 10));
        Difference total = comparison.Result("total_kg");

        // One weighing by itself: 1 % of each load, 0.05 % of all, noise and zero of four cells.
        Assert.Equal(Math.Sqrt((0.0001 * 53_400) + Math.Pow(0.0005 * 460, 2) + (8 * 0.0004)), total.Before!.StandardUncertainty, 9);

        // The change of 2 kg: noise of eight means, 1 % and 0.05 % of the 2 kg.
        Assert.Equal(2, total.Change!.Value, 9);
        Assert.Equal(Math.Sqrt((8 * 0.0004) + Math.Pow(0.02, 2) + Math.Pow(0.001, 2)), total.Change.StandardUncertainty, 9);
        Assert.True(total.HasChanged);
        Assert.Equal([false, false, false, true], comparison.Loads.Select(load => load.HasChanged!.Value));
        Assert.Contains(comparison.CommonCauses, cause => cause.Name == "span of cell B1:4");
        Assert.DoesNotContain(comparison.OwnCauses, cause => cause.Name.StartsWith("span", StringComparison.Ordinal));
        Assert.Contains(comparison.CommonCauses, cause => cause.Name == "wheelbase of Plain");
        Assert.Equal(8, comparison.OwnCauses.Count(cause => cause.Name.StartsWith("noise", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_cell_calibrated_again_shares_only_the_known_mass_with_what_it_was()
    {
        Comparison comparison = Compare(Pads(Before), Pads(After, minutes: 10, calibrated: calibration => calibration.DateYyyymmdd = 20261115));
        Difference total = comparison.Result("total_kg");
        double spans = 0.0001 * (53_400 + 53_400 - (130 * 130) + (132 * 132));
        Assert.Equal(Math.Sqrt(spans + (8 * 0.0004) + Math.Pow(0.001, 2)), total.Change!.StandardUncertainty, 9);
        Assert.False(total.HasChanged);
        Assert.Equal(4, comparison.Circumstances.Count(one => one.Of == CircumstanceOf.Rig && one.Name.StartsWith("calibration of cell", StringComparison.Ordinal)));
    }

    [Fact]
    public void Another_known_mass_shares_nothing()
    {
        Comparison comparison = Compare(Pads(Before), Pads(Before, minutes: 10, calibrated: calibration => Assert.True(calibration.Reference.TrySet("plates"))));
        double u2 = (0.0001 * 2 * 53_400) + (2 * Math.Pow(0.0005 * 460, 2)) + (8 * 0.0004);
        Assert.Equal(Math.Sqrt(u2), comparison.Result("total_kg").Change!.StandardUncertainty, 9);
    }

    [Fact]
    public void A_zero_taken_again_is_a_new_zero_under_the_old_span()
    {
        Comparison comparison = Compare(Pads(Before), Pads(After, minutes: 10, calibrated: calibration => calibration.ZeroSixteenths += 5));
        Assert.Equal(
            Math.Sqrt((8 * 0.0004) + (8 * 0.0004) + Math.Pow(0.02, 2) + Math.Pow(0.001, 2)), comparison.Result("total_kg").Change!.StandardUncertainty, 9);
        Assert.Equal("zero of cell B1:1|zero of cell B1:2|zero of cell B1:3|zero of cell B1:4", string.Join('|', comparison.Circumstances.Select(one => one.Name)));
    }

    [Fact]
    public void Scales_whose_loads_were_typed_have_no_name_so_nothing_of_them_cancels()
    {
        TypedUncertainty said = new(null, 0.2, true, 0.01);
        Comparison comparison = Compare(Samples.Typed("a", Before, said) with { Id = "a" }, Samples.Typed("b", Before, said) with { Id = "b" });
        double u2 = 2 * (Math.Pow(0.01 * 460, 2) + (4 * Math.Pow(0.1 / Math.Sqrt(3), 2)));
        Assert.Equal(Math.Sqrt(u2), comparison.Result("total_kg").Change!.StandardUncertainty, 9);
        Assert.All(comparison.CommonCauses, cause => Assert.EndsWith("of Plain", cause.Name, StringComparison.Ordinal));
    }

    [Fact]
    public void A_record_compared_with_itself_differs_in_nothing_and_for_certain()
    {
        WeighingRecord record = Pads(Before);
        Comparison comparison = Compare(record, record);
        Assert.All(comparison.Loads.Concat(comparison.Results), difference => Assert.Equal((0, 0, false), (difference.Change!.Value, difference.Change.StandardUncertainty, difference.HasChanged!.Value)));
        Assert.Empty(comparison.Circumstances);
        Assert.Empty(comparison.Reasons);
    }

    [Fact]
    public void What_was_noted_and_typed_into_files_differently_is_listed()
    {
        WeighingRecord before = Noted(Pads(Before), ("driver", "aboard"), ("fuel_l", "12"));
        WeighingRecord after = Noted(Pads(After, minutes: 10), ("fuel_l", "5"), ("tyres", "wet"));
        WeighingResult moved = after.Result.Basis!.Compute(Samples.Plain with { WheelbaseM = 2.61 }) with { Conditions = after.Result.Conditions };
        Comparison comparison = Compare(before, after with { Result = moved });
        Assert.Equal(
            ["driver: aboard -> ", "fuel_l: 12 -> 5", "tyres:  -> wet", "vehicle file, wheelbase_mm: 2600 -> 2610"],
            comparison.Circumstances.Select(one => $"{one.Name}: {one.Before} -> {one.After}"));
        Assert.All(comparison.Circumstances, one => Assert.Equal(CircumstanceOf.Car, one.Of));
        Assert.DoesNotContain(comparison.Reasons, reason => reason.Code == ReasonCode.TotalDiffers);

        // Another wheelbase was taped anew: its error is not the old one.
        Assert.DoesNotContain(comparison.CommonCauses, cause => cause.Name == "wheelbase of Plain");
    }

    [Fact]
    public void A_total_that_differs_with_nothing_recorded_as_changed_is_said()
    {
        Comparison comparison = Compare(Noted(Pads(Before), ("driver", "absent")), Noted(Pads(After, minutes: 10), ("driver", "absent")));
        Reason reason = Assert.Single(comparison.Reasons);
        Assert.Equal(ReasonCode.TotalDiffers, reason.Code);
        Assert.Contains("nothing is recorded as changed", reason.Text, StringComparison.Ordinal);
        Assert.Contains("2.00 +/- 0.12 kg", reason.Text, StringComparison.Ordinal);
        Assert.True(comparison.IsAcceptable);

        // Only the rig: still nothing about the car, and that is said too.
        WeighingRecord zeroed = Noted(Pads(After, minutes: 10, calibrated: calibration => calibration.ZeroSixteenths += 5), ("driver", "absent"));
        Assert.Contains("only what it was weighed with", Assert.Single(Compare(Noted(Pads(Before), ("driver", "absent")), zeroed).Reasons).Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_weighing_kept_with_a_reason_brings_the_reason_along()
    {
        WeighingRecord kept = Samples.Weighing("kept", Samples.RandomRig(new Random(2)).Compute(Samples.Plain), "wind") with { Id = "kept" };
        for (int seed = 3; kept.Result.IsAcceptable; seed++)
        {
            kept = Samples.Weighing("kept", Samples.RandomRig(new Random(seed)).Compute(Samples.Plain), "wind") with { Id = "kept" };
        }

        Comparison comparison = Compare(Pads(Before), kept);
        Assert.False(comparison.IsAcceptable);
        Assert.Contains(comparison.Reasons, reason => reason.Code == ReasonCode.KeptWithReason && reason.Text.Contains("wind", StringComparison.Ordinal));
    }

    [Fact]
    public void What_is_not_known_in_one_of_the_two_has_no_change()
    {
        RigBasis rig = Samples.Pads(Before);
        WeighingRecord lame = Samples.Weighing("lame", (rig with { Cells = [rig.Cells[0] with { Calibration = null }, .. rig.Cells.Skip(1)] }).Compute(Samples.Plain)) with { Id = "lame" };
        Comparison comparison = Compare(Pads(Before), lame);
        Assert.Null(comparison.Loads[0].Change);
        Assert.Null(comparison.Loads[0].HasChanged);
        Assert.NotNull(comparison.Loads[1].Change);
        Assert.Null(comparison.Result("total_kg").HasChanged);
    }

    [Fact]
    public void A_car_and_a_three_wheeler_are_not_compared()
    {
        WeighingRecord three = Samples.Every().OfType<WeighingRecord>().First(record => record.Name == "three wheels");
        Assert.Contains("do not stand on the same wheels", Comparison.Of(Pads(Before), three).Error!.OneLine, StringComparison.Ordinal);
        Assert.True(Comparison.Of(three, three).IsOk);
    }

    [Fact]
    public void Where_nothing_changed_changed_is_said_once_in_twenty_times()
    {
        const int Trials = 1500;
        const int Seed = 20261124;
        var random = new Random(Seed);
        WeighingRecord model = Samples.Weighing("model", Samples.Pads(Before).Compute(Samples.Plain)) with { Id = "model" };
        int total = 0, cross = 0;
        for (int trial = 0; trial < Trials; trial++)
        {
            // One calibration and one set of zeros for both; all else anew for each.
            Dictionary<string, double> lasting = [];
            Comparison comparison = Compare(Drawn("a"), Drawn("b"));
            total += comparison.Result("total_kg").HasChanged == true ? 1 : 0;
            cross += comparison.Result("cross_share").HasChanged == true ? 1 : 0;

            WeighingRecord Drawn(string id)
            {
                Dictionary<string, double> own = [];
                Dictionary<string, Measured?> loads = model.Result.Loads.ToDictionary(load => load.Name, load => (Measured?)Measured.From(
                    load.LoadKg!.Value + load.LoadKg.Contributions.Sum(one => one.Amount * Draw(one.Cause, IsLasting(one.Cause.Key) ? lasting : own)), load.LoadKg.Contributions));
                return model with { Id = id, Result = WeighingResult.Of(Samples.Plain, loads, []) with { Basis = model.Result.Basis } };
            }
        }

        // Standard error of the share: 0.6 %.
        Assert.InRange((double)total / Trials, 0.03, 0.07);
        Assert.InRange((double)cross / Trials, 0.03, 0.07);

        static bool IsLasting(string key) => key.StartsWith("span ", StringComparison.Ordinal) || key.StartsWith("reference ", StringComparison.Ordinal)
            || key.StartsWith("extrapolation ", StringComparison.Ordinal) || (key.StartsWith("zero ", StringComparison.Ordinal) && !key.StartsWith("zero drift", StringComparison.Ordinal));

        double Draw(Cause cause, Dictionary<string, double> drawn)
        {
            if (!drawn.TryGetValue(cause.Key, out double z))
            {
                z = cause.Shape == Shape.Rectangular
                    ? Math.Sqrt(3) * ((2 * random.NextDouble()) - 1)
                    : Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
                drawn.Add(cause.Key, z);
            }

            return z;
        }
    }

    private static Comparison Compare(WeighingRecord before, WeighingRecord after) => Comparison.Of(before, after).OrFail();

    private static WeighingRecord Pads(double[] loadsKg, int minutes = 0, Action<CellCalibration>? calibrated = null)
    {
        WeighingResult result = Samples.Pads(loadsKg, 10_000_000 + minutes, calibration =>
        {
            calibration.SpanOwnPpm = 10_000;
            calibrated?.Invoke(calibration);
        }, NothingElse).Compute(Samples.Plain);
        return Samples.Weighing("pads", result, minutes: minutes) with { Id = $"at {minutes}" };
    }

    private static WeighingRecord Noted(WeighingRecord record, params (string Name, string Value)[] conditions) =>
        record with { Result = record.Result with { Conditions = conditions.ToDictionary(one => one.Name, one => one.Value) } };
}
