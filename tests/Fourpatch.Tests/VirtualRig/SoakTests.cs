using System.Diagnostics;
using Fourpatch.Core.Cells;
using Fourpatch.Rigs;
using Fourpatch.VirtualRig;
using Xunit.Abstractions;

namespace Fourpatch.Tests.VirtualRig;

/// <summary>What is measured of the whole process must have it for itself.</summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public class Alone
{
    public const string Name = "alone";
}

/// <summary>
/// Four boards of four cells at 80 conversions a second, a car that comes and goes, and random faults one after another on every board.
/// PROOF=full: a day; SOAK_HOURS says otherwise.
/// </summary>
[Collection(Alone.Name)]
public class SoakTests(ITestOutputHelper output)
{
    private const double ShortHours = 10.0 / 60;
    private const double MostGrowthMb = 16;

    // Slipped clock pulses that leave the data line as it should be halve a reading: it is the robust mean that leaves it out. Exchanged plugs
    // cannot be seen under a load, and are not among them.
    private static readonly FaultKind[] Kinds =
    [
        FaultKind.Unplugged, FaultKind.Saturated, FaultKind.Stuck, FaultKind.SwappedSignal, FaultKind.SlippedBits, FaultKind.BoardReset,
        FaultKind.LineNoise, FaultKind.Silence,
    ];

    private static readonly bool IsFull = Environment.GetEnvironmentVariable("PROOF") == "full";

    private static readonly double Hours = double.TryParse(Environment.GetEnvironmentVariable("SOAK_HOURS"), System.Globalization.CultureInfo.InvariantCulture, out var hours)
        ? hours
        : IsFull ? 24 : ShortHours;

    [Fact]
    public void No_fault_is_missed_no_wrong_load_is_good_the_books_are_right_and_memory_stays_flat()
    {
        const int seed = 71;
        var random = new Random(seed);
        var clock = Stopwatch.StartNew();
        var cpu = Process.GetCurrentProcess().TotalProcessorTime;
        VirtualGarage garage = new(Scenario(), Wren.Vehicle, seed);
        SoakBoard[] boards = [.. garage.Boards.Select(board => new SoakBoard(garage, board, Calibrations(garage, board)))];
        var cells = garage.Boards.SelectMany(board => Enumerable.Range(1, 4).Select(cell => new CellId(board.Id, cell))).ToArray();
        var faults = new (double NextS, double CheckS, Func<string?>? Missing, FaultKind Kind)[boards.Length];
        for (var i = 0; i < faults.Length; i++) faults[i].NextS = 5 + random.NextDouble() * 10;
        var truths = new Queue<double[]>();
        long good = 0, outside = 0, flagged = 0, seen = 0;
        double worst = 0, nextCarS = 60, settledMb = 0;

        for (var second = 1; second <= Hours * 3600; second++)
        {
            var when = $"seed {seed}, {second} s";
            for (var tenth = 0; tenth < 10; tenth++)
            {
                garage.Advance(TimeSpan.FromSeconds(0.1));
                foreach (var board in boards) board.Listen(when);
            }

            if (second > nextCarS)
            {
                if (garage.IsCarOn) garage.TakeCarOff();
                else garage.PutCarOn();
                nextCarS = second + 20 + random.Next(200);
            }

            for (var i = 0; i < boards.Length; i++)
            {
                boards[i].AskForSamples();
                if (faults[i].Missing is { } missing && second >= faults[i].CheckS)
                {
                    Assert.True(missing() is null, $"{when}, board {boards[i].Id}, {faults[i].Kind}: {missing()}");
                    seen++;
                    faults[i] = (second + 1 + random.Next(IsFull ? 40 : 4), 0, null, default);
                }
                else if (faults[i].Missing is null && second >= faults[i].NextS)
                {
                    var kind = Kinds[random.Next(Kinds.Length)];
                    var duration = TimeSpan.FromSeconds(5 + random.Next(15));

                    // An empty dolly the wrong way round weighs as little as no dolly: as README says, signs are checked under a load.
                    if (kind == FaultKind.SwappedSignal && (!garage.IsCarOn || nextCarS < second + 30)) continue;
                    if (kind == FaultKind.LineNoise) boards[i].ExpectNoise(duration);
                    faults[i] = (0, second + duration.TotalSeconds + 4, boards[i].StartFault(kind, random.Next(1, 5), duration), kind);
                }
            }

            truths.Enqueue([.. cells.Select(garage.TrueCellKg)]);
            if (truths.Count > 4) truths.Dequeue();
            for (var i = 0; i < cells.Length; i++)
            {
                if (boards[i / 4].GoodKg(cells[i].Cell) is not { } kg)
                {
                    flagged++;
                    continue;
                }

                // What is shown is at most two seconds old: as long as it may take to notice that a board is gone.
                var half = kg.Expand().HalfWidth;
                var off = truths.Min(truth => Math.Abs(kg.Value - truth[i])) / half;
                good++;
                outside += off > 1 ? 1 : 0;
                worst = Math.Max(worst, off);
                Assert.True(off <= 2, $"{when}, {cells[i]}: {kg.Value} +/- {half} kg shown as good, true {string.Join(", ", truths.Select(truth => truth[i]))}");
            }

            if (IsFull && (second == 600 || second == (int)(Hours * 3600)))
            {
                var mb = GC.GetTotalMemory(forceFullCollection: true) / 1e6;
                output.WriteLine($"{second} s: {mb:0.0} MB held");
                settledMb = second == 600 ? mb : settledMb;
                Assert.True(mb - settledMb < MostGrowthMb, $"{when}: {settledMb:0.0} MB after ten minutes, now {mb:0.0} MB");
            }
        }

        output.WriteLine(FormattableString.Invariant($"seed {seed}, {Hours:0.###} h in {clock.Elapsed.TotalSeconds:0} s, {(Process.GetCurrentProcess().TotalProcessorTime - cpu).TotalSeconds:0} s of one core: {boards.Sum(b => b.Samples)} conversions, {seen} faults seen, {boards.Sum(b => b.Boots)} boots, {boards.Sum(b => b.BooksHeld)} books held, {good} good loads, {outside} outside U, worst {worst:0.00} U, {flagged} flagged"));
        Assert.True(seen > 20 * boards.Length * Hours, $"only {seen} faults");
        Assert.True(good > flagged && outside <= 0.05 * good, $"{good} good, {outside} outside U, {flagged} flagged");
    }

    private static Scenario Scenario() => Wren.OnDollies(4) with
    {
        Noise = new() { FlickerCountsRms = 5 },
        Boards = [.. Enumerable.Range(1, 4).Select(board => Wren.Board($"B{board}", new() { ZeroCounts = 20_000 * board, SpanErrorPercent = 0.01, ZeroErrorCounts = 8 }))],
    };

    private static CellCalibration[] Calibrations(VirtualGarage garage, VirtualBoard board)
    {
        garage.Advance(TimeSpan.FromSeconds(1));
        return [.. Enumerable.Range(0, 4).Select(board.Controller!.Memory.Held.Calibration)];
    }
}
