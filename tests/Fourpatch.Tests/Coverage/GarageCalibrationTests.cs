using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using Fourpatch.Rigs;
using Fourpatch.Tests.Cells;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;
using Fourpatch.Weighing;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;
using Xunit.Abstractions;

namespace Fourpatch.Tests.Coverage;

/// <summary>Calibrations from the first byte to the last figure in the virtual garage, with sway, drift, 1/f noise, mains and cells that are not straight.</summary>
public class GarageCalibrationTests(ITestOutputHelper output)
{
    private static readonly TimeSpan s_window = TimeSpan.FromSeconds(8);
    private static readonly DateOnly s_day = new(2026, 3, 1);
    private static readonly ScenarioNoise s_noise = new() { SwayKg = 0.03, FlickerCountsRms = 3, DriftKgPerH = 0.05, MainsKg = 0.2 };
    private static readonly Vehicle s_wren = new()
    {
        Name = "Wren", WheelbaseM = 2.18, TrackFrontM = 1.29, TrackRearM = 1.26,
        WheelRateFrontNPerM = 21e3, WheelRateRearNPerM = 26e3, TyreRateFrontNPerM = 165e3, TyreRateRearNPerM = 185e3, WheelRadiusFrontM = 0.262, WheelRadiusRearM = 0.276,
        Uncertainty = new() { WheelbaseM = 0.0015, TrackFrontM = 0.002, TrackRearM = 0.002 },
    };

    // Every pad moves one wheel on, round the car: FL to FR to RR to RL.
    private static readonly Corners<int>[] s_round = [new(1, 2, 3, 4), new(3, 1, 4, 2), new(4, 3, 2, 1), new(2, 4, 1, 3)];

    [Fact]
    public async Task One_mass_that_is_off_leaves_the_shares_right_and_the_total_within_its_larger_U()
    {
        const int Seed = 41;
        int evenings = SettlingSignals.Cases(200, 12);
        MersenneTwister random = new(Seed, false);
        int insideTotal = 0, insideShares = 0;
        double worstTotal = 0, worstShare = 0;
        for (int evening = 0; evening < evenings; evening++)
        {
            // Gym plates by the figure cast into them, good to 3 %: what they truly weigh is drawn.
            KnownMass plates = KnownMass.GymPlates(100);
            double trueKg = plates.Kg * (1 + (KnownMass.GymPlateShare * ((2 * random.NextDouble()) - 1)));
            VirtualGarage garage = new(OnPads(random), s_wren, (ulong)(Seed + evening));
            await using GarageReader reader = await GarageReader.OpenAsync(garage);
            garage.TakeCarOff();
            List<CellPoint>[] points = [[], [], [], []];
            await AddAsync(0, LoadedFrom.Below);
            for (int pad = 1; pad <= 4; pad++) garage.LoadPad(pad, trueKg);
            await AddAsync(plates.Kg, LoadedFrom.Below);
            garage.ClearMasses();
            await AddAsync(0, LoadedFrom.Above);
            CellCalibration[] stored = [.. points.Select(cell => CellFit.Of(cell, new(300)).ToCellCalibration(s_day))];

            garage.PutCarOn();
            CornerTotals found = await WeighAsync(reader, garage, stored);
            Truth truth = garage.AsItStands;
            double uTotal = found.TotalKg!.StandardUncertainty / found.TotalKg.Value;
            foreach ((Measured? share, double? isTrue) in Shares(found, truth))
            {
                // GUM (JCGM 100:2008), 5.2.2: what all loads have in common cancels in their ratio.
                Assert.True(share!.StandardUncertainty / share.Value < uTotal / 10, $"{share} of {found.TotalKg}");
                if (IsInside(share, isTrue)) insideShares++;
                worstShare = Math.Max(worstShare, Math.Abs((share.Value / isTrue!.Value) - 1));
            }
            if (IsInside(found.TotalKg, truth.TotalKg)) insideTotal++;
            worstTotal = Math.Max(worstTotal, Math.Abs((found.TotalKg.Value / truth.TotalKg) - 1));

            async Task AddAsync(double kg, LoadedFrom from)
            {
                foreach (CellMean mean in await reader.ReadAsync(s_window))
                    points[mean.Id.Cell - 1].Add(kg == 0 ? CellPoint.Zero(mean.Counts, mean.StandardUncertaintyCounts, from) : CellPoint.Under(plates, mean.Counts, mean.StandardUncertaintyCounts, from));
            }
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"seed {Seed}: total within U {insideTotal} of {evenings}, worst {worstTotal:P2}; shares within U {insideShares} of {3 * evenings}, worst {worstShare:P3} of the share"));
        Assert.True(insideTotal >= 0.9 * evenings);
        Assert.True(insideShares >= 0.92 * 3 * evenings);
        Assert.True(worstTotal > 10 * worstShare);
    }

    [Fact]
    public async Task Pads_moved_round_the_car_give_its_shares_within_U_with_no_mass_at_all()
    {
        const int Seed = 42;
        int evenings = SettlingSignals.Cases(200, 12);
        MersenneTwister random = new(Seed, false);
        int inside = 0, contradictory = 0;
        double largestU = 0;
        for (int evening = 0; evening < evenings; evening++)
        {
            VirtualGarage garage = new(OnPads(random), s_wren, (ulong)(Seed + evening));
            await using GarageReader reader = await GarageReader.OpenAsync(garage);
            garage.TakeCarOff();
            List<PlacementRow> rows = [RowOf("empty", null, await reader.ReadAsync(s_window))];
            foreach (Corners<int> cellAt in s_round.Take(2 + (evening % 3)))
            {
                garage.ArrangePads(cellAt);
                garage.PutCarOn();

                // Tyre scrub: a pad carries a little more or less whenever the car is put on it anew. (A kilogram stands on every pad for it.)
                for (int pad = 1; pad <= 4; pad++) garage.LoadPad(pad, 1 + Normal.Sample(random, 0, 0.001 * 110));
                rows.Add(RowOf("placement", cellAt, await reader.ReadAsync(s_window, sways: true)));
                garage.TakeCarOff();
                garage.ClearMasses();
            }

            RotationFit fit = RotationFit.Of(rows);
            if (!fit.Accepted)
            {
                contradictory++;
                continue;
            }

            garage.PutCarOn();
            Truth truth = new(garage.AsItStands.CornersKg.Select(kg => kg + 1), s_wren);
            CornerTotals found = fit.Totals(s_wren);
            foreach ((Measured? share, double? isTrue) in Shares(found, truth))
            {
                if (IsInside(share, isTrue)) inside++;
                largestU = Math.Max(largestU, share!.Expand().HalfWidth);
            }
        }

        int shares = 3 * (evenings - contradictory);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"seed {Seed}: shares within U {inside} of {shares}, U at most {largestU:F5}; {contradictory} of {evenings} called contradictory"));
        Assert.True(inside >= 0.92 * shares);
        Assert.True(largestU < 0.01);
        Assert.True(contradictory <= 1 + (0.05 * evenings));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_dolly_calibrated_on_five_spots_weighs_a_wheel_of_350_kg_anywhere_on_a_twisted_floor(bool withPlate)
    {
        const double MassKg = 80, WheelKg = 350, PlateM = 0.001, TwistM = 0.002;
        FramePoint[] spots = [new(-0.13, 0.11), new(-0.13, -0.11), new(0.13, 0.11), new(0.13, -0.11), new(0, 0)];
        int seed = withPlate ? 43 : 44;
        int dollies = SettlingSignals.Cases(100, 10);
        MersenneTwister random = new(seed, false);
        int inside = 0, elsewhere = 0, all = 0;
        double worstHere = 0, worstElsewhere = 0, largestU = 0;
        for (int number = 0; number < dollies; number++)
        {
            ScenarioCell Cell() => new() { CapacityKg = 500, ZeroCounts = 40_000 * ((2 * random.NextDouble()) - 1), KgPerCount = 1.1642e-4 * (1 + (0.05 * ((2 * random.NextDouble()) - 1))) };
            Scenario scenario = new()
            {
                VehiclePath = "wren.toml", Build = RigBuild.OneDolly, Noise = s_noise with { DriftKgPerH = 0, FlickerCountsRms = 1 },
                Car = new() { MassKg = 600, CgBehindFrontAxleM = 1.1 }, Boards = [new() { Id = "B1", Cells = [Cell(), Cell(), Cell(), Cell()] }],
            };
            VirtualGarage garage = new(scenario, s_wren, (ulong)(seed + number));
            await using GarageReader reader = await GarageReader.OpenAsync(garage);
            List<PlatformRow> rows = [await RowAsync("empty", 0, null)];
            foreach (double plateM in withPlate ? new[] { 0, PlateM } : [0.0])
            {
                garage.SetCastorPlate(1, plateM);
                foreach (FramePoint spot in spots)
                {
                    garage.LoadDolly(MassKg, spot);
                    rows.Add(await RowAsync($"{spot}", MassKg, plateM > 0 ? 1 : null));
                }
            }

            PlatformFit fit = PlatformFit.Of(rows, new(ExpectedWheelKg: WheelKg));
            Assert.True(fit.Accepted, string.Join('\n', fit.Reasons.Select(reason => reason.Text)));
            Assert.Equal(withPlate, fit.TwistDetermined);
            IReadOnlyList<CellCalibration> stored = fit.ToCellCalibrations(500, s_day);
            foreach (double twistM in new[] { 0, TwistM, -TwistM })
            {
                // A floor that falls away under castor 2 twists the frame the other way.
                garage.SetCastorPlate(1, Math.Max(0, twistM));
                garage.SetCastorPlate(2, Math.Max(0, -twistM));
                garage.LoadDolly(WheelKg, new(0.24 * (random.NextDouble() - 0.5), 0.2 * (random.NextDouble() - 0.5)));
                double[] counts = [.. (await reader.ReadAsync(s_window)).Select(mean => mean.Counts)];
                double error = Math.Abs(fit.SumKg(counts) - WheelKg);
                Measured stated = twistM == 0 ? fit.WheelLoadHere(WheelKg) : fit.WheelLoadElsewhere(WheelKg);
                Measured kept = Enumerable.Range(0, 4).Select(cell => CellCauses.LoadKg(MeanOf(cell + 1, counts[cell]), stored[cell], new(0, 0, 0, 0))).Aggregate((a, b) => a + b);
                all++;
                if (IsInside(Measured.From(error, stated.Contributions), 0)) inside++;

                // And so says whoever has only what the board keeps. (The empty dolly is its zero.)
                if (IsInside(kept, WheelKg)) elsewhere++;
                if (twistM == 0) worstHere = Math.Max(worstHere, error);
                else worstElsewhere = Math.Max(worstElsewhere, error);
                largestU = Math.Max(largestU, stated.Expand().HalfWidth);
            }

            async Task<PlatformRow> RowAsync(string spot, double kg, int? plate)
            {
                CellMean[] means = await reader.ReadAsync(s_window);
                return new(spot, kg, [.. means.Select(mean => mean.Counts)], 0, plate, UCounts: means.Max(mean => mean.StandardUncertaintyCounts));
            }
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"seed {seed}: {inside} of {all} within U ({elsewhere} by what the board keeps), worst error {worstHere:F3} kg on the same patch, {worstElsewhere:F3} kg on a floor twisted by 2 mm; largest U {largestU:F3} kg"));
        Assert.True(inside >= 0.9 * all);
        Assert.True(elsewhere >= 0.9 * all);
        Assert.True(worstHere < 0.003 * WheelKg);
        if (withPlate) Assert.True(largestU < 0.005 * WheelKg);

        // Without the plate the extra uncertainty is needed: the other patch is off by more than the same patch ever is.
        else Assert.True(worstElsewhere > 5 * worstHere);
    }

    private static Scenario OnPads(MersenneTwister random)
    {
        double Either(double most) => most * ((2 * random.NextDouble()) - 1);
        ScenarioCell Cell(int sign) => new()
        {
            CapacityKg = 300, ZeroCounts = Either(60_000), KgPerCount = sign * 7e-5 * (1 + Either(0.05)),
            NonlinearityPercent = Either(0.02), HysteresisPercent = 0.01 * random.NextDouble(), CreepPercent = Either(0.01),
        };
        return new()
        {
            VehiclePath = "wren.toml", Build = RigBuild.Pads, Noise = s_noise,
            Car = new() { MassKg = 400 + (80 * random.NextDouble()), CgBehindFrontAxleM = 1.1 + Either(0.1), CgLeftOfCentreM = Either(0.02) },
            FloorM = new(0, Either(0.002), Either(0.002), 0),
            Boards = [new() { Id = "B1", Cells = [Cell(1), Cell(1), Cell(-1), Cell(1)] }],
        };
    }

    private static PlacementRow RowOf(string name, Corners<int>? cellAt, CellMean[] means) =>
        new(name, cellAt, [.. means.Select(mean => mean.Counts)], means.Max(mean => mean.StandardUncertaintyCounts));

    private static async Task<CornerTotals> WeighAsync(GarageReader reader, VirtualGarage garage, CellCalibration[] stored)
    {
        RigLayout layout = RigLayout.FourPads(garage.Boards[0].Id);
        StationReader stations = new(layout, new());
        CellMean[] means = await reader.ReadAsync(s_window, sways: true);
        StationReading[] readings = [.. layout.Stations.Select((station, i) => stations.Join(station, [new(means[i].Id, means[i], stored[i])]))];
        WeighingResult result = WeighingResult.Of(s_wren, readings.ToDictionary(reading => reading.Station, reading => reading.LoadKg), [.. readings.SelectMany(reading => reading.Reasons)]);
        Assert.True(result.IsAcceptable, string.Join('\n', result.Reasons.Select(reason => reason.Text)));
        return result.Totals;
    }

    private static CellMean MeanOf(int cell, double counts) => new()
    {
        Id = new("B1", cell), Status = SampleStatus.Ok, Verdict = SettlingVerdict.Settled, Counts = counts, StandardUncertaintyCounts = 3, DegreesOfFreedom = 11, Used = 80,
    };

    private static (Measured? Found, double? True)[] Shares(CornerTotals found, Truth truth) =>
        [(found.FrontShare, truth.FrontShare), (found.LeftShare, truth.LeftShare), (found.CrossShare, truth.CrossShare)];

    private static bool IsInside(Measured? found, double? isTrue) => Math.Abs(found!.Value - isTrue!.Value) <= found.Expand().HalfWidth;
}
