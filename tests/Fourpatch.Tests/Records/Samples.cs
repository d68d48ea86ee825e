using System.Text.Json.Nodes;
using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Rigs;
using Fourpatch.Tests.Commands;
using Fourpatch.Tests.Files;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Tests.Records;

/// <summary>Records of every kind, of invented weighings.</summary>
internal static class Samples
{
    public static readonly DateTimeOffset Evening = new(2026, 11, 24, 19, 5, 0, TimeSpan.Zero);

    private static readonly string[] Corners = ["FL", "FR", "RL", "RR"];

    public static Vehicle Plain { get; } = VehicleFile.Parse(Cars.Plain + "\n[uncertainty]\nwheelbase_mm = 1.5\ntrack_front_mm = 2\n", "plain.toml").Value;

    public static Vehicle ThreeWheeler { get; } = VehicleFile.Parse(Cars.ThreeWheeler + "\n[uncertainty]\nwheel_position_mm = 2\n", "three.toml").Value;

    /// <summary>One of each: typed in every way, pads, levers, dollies, boards that are not there, cells that were not good.</summary>
    public static IEnumerable<StoredRecord> Every()
    {
        yield return Typed("typed", [400, 380, 330, 310], new TypedUncertainty());
        yield return Typed("typed, one scale", [400, 380, 330, 310], new TypedUncertainty(0.7, 0.2, true, 0.002), ("driver", "aboard"), ("fuel_l", "12"));
        yield return Typed("typed, four scales", [400.25, 380, 330.5, 0], new TypedUncertainty(null, null, false, 0.003));
        yield return Weighing("three wheels", new TypedBasis(
            new Dictionary<string, TypedLoad> { ["front-left"] = new(92.4, 0.1), ["front-right"] = new(90, 1), ["rear"] = new(140.1, 0.1) }, new TypedUncertainty(0.3)).Compute(ThreeWheeler));
        for (int seed = 1; seed <= 12; seed++)
        {
            WeighingResult result = RandomRig(new Random(seed)).Compute(Plain);
            yield return Weighing($"rig {seed}", result, result.IsAcceptable ? null : "kept to see why");
        }

        foreach (RaisedBasis raised in Raised())
        {
            WeighingResult result = raised.Compute(Plain);
            yield return Weighing(raised.Method, result, result.IsAcceptable ? null : "kept to see why");
        }

        yield return Calibration("accepted", new CellId("B1", 2), Fit(20, 253_100, 60, 596_800));
        yield return Calibration("refused", new CellId("B2", 4), Fit(20, 81_236, 60, 81_240));
        foreach (DocumentKind kind in Enum.GetValues<DocumentKind>())
        {
            yield return Document(kind, $"{kind} of \"M\u00e9lusine\" & <co>", 1.0 / 3);
        }
    }

    public static WeighingRecord Typed(string name, double[] loadsKg, TypedUncertainty said, params (string Name, string Value)[] conditions) => Weighing(
        name,
        new TypedBasis(Corners.Zip(loadsKg).ToDictionary(load => load.First, load => new TypedLoad(load.Second, 0.1)), said).Compute(Plain) with
        {
            Conditions = conditions.ToDictionary(condition => condition.Name, condition => condition.Value),
        });

    public static WeighingRecord Weighing(string name, WeighingResult result, string? because = null, int minutes = 0) =>
        WeighingRecord.Of(name, result, Evening.AddMinutes(minutes), "0.1.0", because);

    public static CalibrationRecord Calibration(string name, CellId cell, CellFit fit) => CalibrationRecord.Of(name, cell, fit, Evening, DateOnly.FromDateTime(Evening.UtcDateTime), "0.1.0");

    /// <summary>A document with every sort of value in it, some of them awkward.</summary>
    public static DocumentRecord Document(DocumentKind kind, string name, double figure, int minutes = 0) => new()
    {
        Document = kind,
        Name = name,
        Time = Evening.AddMinutes(minutes),
        SoftwareVersion = "0.1.0",
        Subject = "Wren's \"bay\"\u2028",
        IsAcceptable = kind != DocumentKind.CgHeight,
        Inputs = new JsonObject { ["vehicle"] = "name = \"Wren\"\nwheelbase_mm = 2600\n", ["figure"] = figure, ["nothing"] = -0.0, ["none"] = null },
        Answer = new JsonObject { ["schema"] = "x", ["total_kg"] = 1e300 * figure, ["flags"] = new JsonArray(true, false, null, new JsonObject { ["deep"] = 1e-300 }), ["text"] = "<b>&'\u00e9\ud83d\ude97" },
    };

    /// <summary>One dolly going round with and without blocks, two pads, figures that were typed.</summary>
    public static IEnumerable<RaisedBasis> Raised()
    {
        Corners<double> risesM = new(0.05, 0.05, 0, 0), uM = new(0.001, 0.0015, 0, 0);
        TakenReading typed = new() { Corner = Corner.FL, RisesM = risesM, URisesM = uM, AtWheelCentre = new(true, false, false, false), TypedKg = 402.5, UTypedKg = 0.3 };
        TakenReading other = typed with { RisesM = new(0, 0, 0, 0.05), URisesM = new(0, 0, 0, 0.001), AtWheelCentre = new(false, false, false, true), Corner = Corner.RR, TypedKg = 320 };
        yield return new(RaisedBasis.OneByOne, [typed, typed with { Corner = Corner.FR }, other, other with { Corner = Corner.RL, RisesM = new(0, 0, 0.05, 0) }], new(1402, 2), null, new CellAssumptions(), []);
        RigLayout dolly = new() { Dollies = [new DollyLayout { Name = "dolly", TareKg = 12, WheelCentreRiseM = 0.05, Cells = [.. Enumerable.Range(1, 4).Select(cell => new CellId("B1", cell))] }] };
        TakenReading By(Corner corner, TakenAs how, double[] kg, string? because = null) => typed with
        {
            Corner = corner, As = how, TypedKg = null, UTypedKg = 0, KeptBecause = because, Cells = Pads(kg, 10_000_000 + (long)(1000 * kg[0]) + (int)how).Cells,
        };
        yield return new(
            RaisedBasis.OneByOne,
            [
                By(Corner.FL, TakenAs.Empty, [3, 3, 3, 3]), By(Corner.FL, TakenAs.PushedDown, [103, 98, 110, 101]), By(Corner.FL, TakenAs.LiftedUp, [103.5, 98, 110, 101.5]),
                By(Corner.FR, TakenAs.Empty, [3.1, 3, 3, 3]), By(Corner.FR, TakenAs.Still, [90, 98, 99, 101], "wind"), By(Corner.FR, TakenAs.Still, [90.5, 98, 99.5, 101]),
            ],
            null, dolly, new CellAssumptions(0.0004), ["B1"]);
        RigLayout pads = new() { Stations = [.. RigLayout.FourPads("B1").Stations.Take(2)] };
        yield return new(
            RaisedBasis.ByAxle,
            [.. Fourpatch.Vehicles.Corners.All.Select(corner => typed with { Corner = corner, RisesM = new(0, 0, 0, 0), TypedKg = null, UTypedKg = 0, AtWheelCentre = new(false, false, false, false), Cells = [Pads([400, 380, 330, 310], 20_000_000 + (int)corner).Cells[(int)corner % 2]] })],
            null, pads, new CellAssumptions(), ["B1"]);
    }

    /// <summary>Four pads of one board; loads by counts over zero, 10 g a count.</summary>
    public static RigBasis Pads(double[] loadsKg, long endMicroseconds = 10_000_000, Action<CellCalibration>? calibrated = null, CellAssumptions? assumed = null)
    {
        RigLayout layout = RigLayout.FourPads("B1");
        return new RigBasis(layout, [.. layout.Stations.Select((station, i) =>
        {
            CellCalibration calibration = Held(1000 * (i + 1), 10_000_000_000, 200);
            calibrated?.Invoke(calibration);
            return new CellEvidence(station.Cells[0], MeanOf(station.Cells[0], calibration.ZeroCounts + (loadsKg[i] / calibration.KgPerCount), 2, 40, endMicroseconds + i), calibration);
        })], assumed ?? new CellAssumptions(), ["B1"]);
    }

    public static CellCalibration Held(int zeroCounts, long spanPicokilograms, int ownPpm, string reference = "cans", int date = 20261101)
    {
        var calibration = new CellCalibration
        {
            ZeroSixteenths = zeroCounts * 16,
            SpanPicokilograms = spanPicokilograms,
            CapacityGrams = 1_000_000,
            DateYyyymmdd = date,
            SpanOwnPpm = ownPpm,
            SpanReferencePpm = 500,
            ZeroUncertaintySixteenths = 32,
            LargestLoadGrams = 80_000,
        };
        Assert.True(calibration.Reference.TrySet(reference));
        return calibration;
    }

    public static CellMean MeanOf(CellId id, double counts, double uCounts, double degreesOfFreedom, long endMicroseconds, SettlingVerdict verdict = SettlingVerdict.Settled, SampleStatus status = SampleStatus.Ok) => new()
    {
        Id = id,
        Status = status,
        Verdict = verdict,
        Counts = counts,
        StandardUncertaintyCounts = uCounts,
        DegreesOfFreedom = degreesOfFreedom,
        SlopeCountsPerSecond = 0.1,
        NoiseCounts = 9 * uCounts,
        Used = 100,
        Rejected = 1,
        EndMicroseconds = endMicroseconds,
    };

    /// <summary>Pads, levers or dollies with any figures, and now and then something wrong.</summary>
    public static RigBasis RandomRig(Random random)
    {
        bool dollies = random.Next(3) == 0;
        var layout = new RigLayout
        {
            Stations = [.. Corners.Select((name, i) => dollies
                ? new StationLayout { Name = name, Dolly = "d" + name }
                : new StationLayout
                {
                    Name = name,
                    Cells = [new CellId("B1", i + 1)],
                    TareKg = random.Next(2) * random.NextDouble(),
                    LeverFactor = random.Next(2) == 0 ? 1 : 2 + random.NextDouble(),
                    ULeverFactor = random.Next(2) * 0.004,
                })],
            Dollies = dollies ? [.. Corners.Select((name, i) => new DollyLayout
            {
                Name = "d" + name,
                Cells = [.. Enumerable.Range(1, 4).Select(cell => new CellId($"A{i}", cell))],
                TareKg = 20 + random.NextDouble(),
                WheelCentreRiseM = 0.052,
            })] : [],
        };
        var reader = new StationReader(layout, new CellAssumptions());
        return new RigBasis(
            layout,
            [.. layout.Stations.SelectMany(reader.CellsOf).Select(id => RandomCell(id, random))],
            new CellAssumptions(0.0005 * random.NextDouble()),
            dollies ? ["A3", "A0", "A1", "A2"] : ["B1"]);
    }

    public static CellFit Fit(double firstKg, double firstCounts, double secondKg, double secondCounts) => CellFit.Of(
        [
            CellPoint.Zero(81_234), new CellPoint(firstKg, firstCounts, 3.5, LoadedFrom.Below, 0.02, "cans"), new CellPoint(secondKg, secondCounts, null, LoadedFrom.Below, 0.06, "cans"),
            new CellPoint(firstKg, firstCounts + 12, 3.5, LoadedFrom.Above, 0.02, "cans"), CellPoint.Zero(81_237, 2, LoadedFrom.Above),
        ],
        new CellPurpose(300, 2, 110));

    private static CellEvidence RandomCell(CellId id, Random random)
    {
        if (random.Next(60) == 0)
        {
            return new CellEvidence(id, null, null, $"no contact with board {id.Board}: unplugged");
        }

        CellCalibration? calibration = random.Next(60) == 0 ? null : Held(
            random.Next(-90_000, 90_000), random.NextInt64(-90_000_000, 90_000_000) | 1, random.Next(1000), random.Next(2) == 0 ? "cans" : "", random.Next(2) * 20261101);
        return new CellEvidence(id, calibration is null ? null : MeanOf(
            id, (random.NextDouble() * 1_500_000) - 20_000, random.NextDouble() * 40, 1 + (random.NextDouble() * 60), random.NextInt64(1, 1L << 40),
            random.Next(20) == 0 ? SettlingVerdict.TooNoisy : SettlingVerdict.Settled, random.Next(40) == 0 ? SampleStatus.Stuck : SampleStatus.Ok), calibration);
    }
}

/// <summary>A folder with a file of records of its own.</summary>
internal sealed class RecordFolder : IDisposable
{
    private readonly ScratchFolder _folder = new();

    public string Path => _folder.Path;

    public string File => System.IO.Path.Combine(Path, RecordStore.FileName);

    public RecordStore Open() => RecordStore.Open(Path).Value;

    public void Dispose() => _folder.Dispose();
}
