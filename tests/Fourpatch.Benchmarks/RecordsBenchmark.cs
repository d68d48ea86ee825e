using System.Diagnostics;
using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Rigs;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Benchmarks;

/// <summary>
/// The file of records with 100, 1,000 and 10,000 weighings of four pads: the newest fifty listed, all listed, two compared, the file opened,
/// its integrity checked, everything exported to one folder. Growth is what matters: comparing and the newest fifty must not depend on how many there are.
/// </summary>
internal static class RecordsBenchmark
{
    private const int Repeats = 5;

    private static readonly int[] Sizes = [100, 1_000, 10_000];
    internal static readonly Vehicle Car = VehicleFile.Parse("name = \"Wren\"\nwheelbase_mm = 2300\ntrack_front_mm = 1380\ntrack_rear_mm = 1360\n", "wren.toml").Value;
    private static readonly DateTimeOffset Evening = new(2026, 11, 24, 19, 5, 0, TimeSpan.Zero);

    public static void Run()
    {
        string folder = Directory.CreateTempSubdirectory("fourpatch-benchmark-").FullName;
        Console.WriteLine("weighings       MB  save ms  open ms  list 50 ms  list all ms  compare ms  integrity ms  export s");
        try
        {
            foreach (int size in Sizes)
            {
                Measure(Path.Combine(folder, size.ToString(CultureInfo.InvariantCulture)), size);
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static void Measure(string folder, int size)
    {
        var watch = Stopwatch.StartNew();
        string[] ids = Fill(folder, size);
        double save = watch.Elapsed.TotalMilliseconds / size;
        double open = Quickest(() => RecordStore.Open(folder).Value.Dispose());
        using RecordStore store = RecordStore.Open(folder).Value;
        double newest = Quickest(() => Check(store.List(new RecordFilter(Newest: 50)).Value.Count == 50));
        double all = Quickest(() => Check(store.List(new RecordFilter()).Value.Count == size));
        double compare = Quickest(() => Check(Comparison.Of(store.FindWeighing(ids[size / 3]).Value, store.FindWeighing(ids[size / 2]).Value).IsOk));
        double integrity = Quickest(() => Check(store.IntegrityComplaint().Value.Length == 0));
        Console.Write(string.Create(
            CultureInfo.InvariantCulture,
            $"{size,9} {new FileInfo(store.File).Length / 1e6,8:0.0} {save,8:0.0} {open,8:0.0} {newest,11:0.0} {all,12:0.0} {compare,11:0.0} {integrity,13:0.0}"));
        string away = Path.Combine(folder, "away");
        watch.Restart();
        Check(RecordExport.Write(store, ids, ExportForm.Folder, away).Value == size);
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $" {watch.Elapsed.TotalSeconds,9:0.0}"));
    }

    private static string[] Fill(string folder, int size)
    {
        using RecordStore store = RecordStore.Open(folder).Value;
        var chance = new Random(1);
        return [.. Enumerable.Range(0, size).Select(i => store.Save(WeighingRecord.Of(
            $"weighing {i}", Pads(chance).Compute(Car), Evening.AddMinutes(7 * i), JsonAnswer.SoftwareVersion)).Value.Id)];
    }

    /// <summary>Four pads with one of the loads they might bear.</summary>
    internal static RigBasis Pads(Random chance)
    {
        var layout = RigLayout.FourPads("B1");
        return new RigBasis(layout, [.. layout.Stations.Select((station, i) =>
        {
            var held = new CellCalibration
            {
                ZeroSixteenths = 16_000 * (i + 1), SpanPicokilograms = 115_000_000, CapacityGrams = 300_000, DateYyyymmdd = 20261101, SpanOwnPpm = 200, SpanReferencePpm = 500,
                ZeroUncertaintySixteenths = 32, LargestLoadGrams = 80_000,
            };
            held.Reference.TrySet("cans");
            return new CellEvidence(
                station.Cells[0],
                new CellMean
                {
                    Id = station.Cells[0], Status = SampleStatus.Ok, Verdict = SettlingVerdict.Settled, Counts = 900_000 + chance.Next(200_000), StandardUncertaintyCounts = 2.5,
                    DegreesOfFreedom = 40, SlopeCountsPerSecond = 0.1, NoiseCounts = 22, Used = 100, Rejected = 1, EndMicroseconds = 10_000_000,
                },
                held);
        })], new CellAssumptions(), ["B1"]);
    }

    private static void Check(bool isRight)
    {
        if (!isRight)
        {
            throw new InvalidOperationException("the records are not what was kept");
        }
    }

    // What else the machine does only ever makes it slower.
    private static double Quickest(Action work) => Enumerable.Range(0, Repeats).Min(_ =>
    {
        var watch = Stopwatch.StartNew();
        work();
        return watch.Elapsed.TotalMilliseconds;
    });
}
