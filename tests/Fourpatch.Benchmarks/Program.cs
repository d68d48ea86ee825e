using Fourpatch.Benchmarks;

// Figures, not verdicts: no test runs this and nothing here fails for being slow. One name runs one member, none runs all.
(string Name, Action Run)[] members =
[
    ("log-summary", LogSummaryBenchmark.Run),
    ("live", LiveBenchmark.Run),
    ("live-age", LiveAgeBenchmark.Run),
    ("live-memory", LiveMemoryBenchmark.Run),
    ("records", RecordsBenchmark.Run),
    ("start", StartBenchmark.Run),
    ("wire", WireBenchmark.Run),
    ("mathematics", MathematicsBenchmark.Run),
    ("settling-time", SettlingTimeBenchmark.Run),
    ("report", ReportBenchmark.Run),
];

var wanted = members.Where(member => args.Length == 0 || args.Contains(member.Name)).ToArray();
if (wanted.Length == 0 || args.Except(members.Select(member => member.Name)).Any())
{
    Console.Error.WriteLine($"expected none or some of: {string.Join(", ", members.Select(member => member.Name))}");
    return 2;
}

Console.WriteLine(Machine.Line());
foreach (var (name, run) in wanted)
{
    Console.WriteLine($"== {name}");
    run();
}

return 0;
