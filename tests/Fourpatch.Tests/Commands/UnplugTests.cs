using System.Diagnostics;
using Fourpatch.Files;
using Fourpatch.Tests.VirtualRig;
using Fourpatch.VirtualRig;
using Xunit.Abstractions;

namespace Fourpatch.Tests.Commands;

/// <summary>The cable pulled out of a real device in the middle of a command, and plugged in again under another name, beside another board.</summary>
[Collection(KeepsTime.Name)]
public class UnplugTests(ITestOutputHelper output)
{
    private static readonly TimeSpan Noticed = TimeSpan.FromSeconds(2);

    [PseudoTerminalFact]
    public async Task Watch_says_within_two_seconds_that_the_board_is_gone_and_goes_on_when_it_is_back_under_another_name()
    {
        await using var rig = new CableRig();
        Running watch = rig.Bench.Start("watch", "--port", rig.Port, "--vehicle", "plain.toml");
        await watch.UntilAsync(running => running.Out.Contains("  settled", StringComparison.Ordinal), "settled loads");

        long pulled = rig.Unplug();
        await watch.UntilAsync(running => running.Out.Contains("no contact with board B1", StringComparison.Ordinal), "the loss");
        CheckNoticed(pulled);
        int lossAt = watch.Out.Length;

        rig.PlugInElsewhere();
        await watch.UntilAsync(running => running.Out[lossAt..].Contains("  settled", StringComparison.Ordinal), "settled loads again");
        watch.Stop();
        Outcome outcome = await watch.EndAsync();
        Assert.Equal(0, outcome.ExitCode);

        // While there is no contact no load is shown, and never an old one.
        string[] lines = outcome.Out.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.All(lines.Where(line => line.Contains("no contact", StringComparison.Ordinal)), line => Assert.Contains("FL --  FR --  RL --  RR --", line, StringComparison.Ordinal));
        Assert.Contains("FL 118.", lines[^1], StringComparison.Ordinal);
    }

    [PseudoTerminalFact]
    public async Task A_log_goes_on_with_the_same_board_and_the_gap_stands_in_it()
    {
        await using var rig = new CableRig();
        Running log = rig.Bench.Start("log", "--port", rig.Port, "--out", "evening.csv", "--json");
        await log.UntilAsync(_ => rig.RowsOf("evening.csv") > 100, "rows");
        long pulled = rig.Unplug();
        await log.UntilAsync(running => running.Errors.Contains("no contact with board B1", StringComparison.Ordinal), "the loss");
        CheckNoticed(pulled);
        rig.PlugInElsewhere();
        await log.UntilAsync(running => running.Errors.Contains($"board B1 is back after", StringComparison.Ordinal), "the return");
        Assert.Contains(rig.NewPort, log.Errors, StringComparison.Ordinal);
        int rows = rig.RowsOf("evening.csv");
        await log.UntilAsync(_ => rig.RowsOf("evening.csv") > rows + 100, "rows again");
        log.Stop();
        Outcome outcome = await log.EndAsync();
        Assert.Equal(0, outcome.ExitCode);

        List<LogItem> items = rig.ItemsOf("evening.csv");
        Assert.DoesNotContain(items, item => item is LogBadLine);
        Assert.All(items.OfType<LogRow>(), row => Assert.Equal("B1", row.Cell.Board));
        LogGap lost = items.OfType<LogGap>().First();
        LogGap back = items.OfType<LogGap>().Single(gap => gap.Reason.StartsWith("contact again after", StringComparison.Ordinal));
        Assert.StartsWith("no contact: ", lost.Reason, StringComparison.Ordinal);
        Assert.True(items.IndexOf(lost) > 100 && items.IndexOf(back) > items.IndexOf(lost));
        Assert.DoesNotContain(items.GetRange(items.IndexOf(lost), items.IndexOf(back) - items.IndexOf(lost)), item => item is LogRow);
        Assert.IsType<LogRow>(items[^1]);
        Assert.Equal(1, (int)outcome.Answer["gaps"]!);
        Assert.Equal(items.OfType<LogRow>().Count(), (int)outcome.Answer["rows"]!);
    }

    [PseudoTerminalFact]
    public async Task Weigh_waits_for_the_board_to_come_back_and_takes_a_whole_window_anew()
    {
        await using var rig = new CableRig();
        Running weigh = rig.Bench.Start("weigh", "--port", rig.Port, "--vehicle", "plain.toml", "--seconds", "3");
        await weigh.UntilAsync(running => running.Errors.Contains("Hands off", StringComparison.Ordinal), "the beginning");
        await Task.Delay(TimeSpan.FromSeconds(1));
        rig.Unplug();
        await Task.Delay(TimeSpan.FromSeconds(0.5));
        rig.PlugInElsewhere();
        Outcome outcome = await weigh.EndAsync();
        Assert.Equal(0, outcome.ExitCode);
        Assert.Contains("FL  118.", outcome.Out, StringComparison.Ordinal);
    }

    [PseudoTerminalFact]
    public async Task Weigh_ends_with_no_load_at_all_when_the_board_does_not_come_back()
    {
        await using var rig = new CableRig(timesFaster: 4);
        Running weigh = rig.Bench.Start("weigh", "--port", rig.Port, "--vehicle", "plain.toml", "--seconds", "3");
        await weigh.UntilAsync(running => running.Errors.Contains("Hands off", StringComparison.Ordinal), "the beginning");
        rig.Unplug();
        Outcome outcome = await weigh.EndAsync();
        Assert.Equal(1, outcome.ExitCode);
        Assert.Contains("NOT ACCEPTABLE", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("FL  -- [#]", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("total --", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("- FL, FR, RL, RR: no contact with board B1", outcome.Out, StringComparison.Ordinal);
    }

    [PseudoTerminalFact]
    public async Task When_another_board_answers_under_the_old_name_it_is_said_and_the_right_one_is_looked_for()
    {
        await using var rig = new CableRig();
        Running log = rig.Bench.Start("log", "--port", rig.Port, "--out", "evening.csv");
        await log.UntilAsync(_ => rig.RowsOf("evening.csv") > 100, "rows");
        rig.Unplug();
        rig.GiveOldNameToTheOther();
        await log.UntilAsync(running => running.Errors.Contains("another board answers there: B9 instead of B1", StringComparison.Ordinal), "the other board");
        rig.PlugInElsewhere();
        await log.UntilAsync(running => running.Errors.Contains("board B1 is back after", StringComparison.Ordinal), "the return");
        int rows = rig.RowsOf("evening.csv");
        await log.UntilAsync(_ => rig.RowsOf("evening.csv") > rows + 50, "rows again");
        log.Stop();
        Assert.Equal(0, (await log.EndAsync()).ExitCode);
        Assert.All(rig.ItemsOf("evening.csv").OfType<LogRow>(), row => Assert.True(row.Cell.Board == "B1" && row.LoadKg is null or > 50));
    }

    private void CheckNoticed(long pulled)
    {
        TimeSpan after = Stopwatch.GetElapsedTime(pulled);
        output.WriteLine($"noticed after {after.TotalMilliseconds:0} ms");
        Assert.True(after < Noticed, $"noticed after {after.TotalSeconds:0.00} s");
    }

    /// <summary>A bench beside a board on a pseudo-terminal that is known by a lasting name, and beside another board.</summary>
    private sealed class CableRig : IAsyncDisposable
    {
        private readonly ServedBoard _board;
        private readonly ServedBoard _other;
        private readonly ListedPorts _ports = new();

        // Names as a system gives them to sockets and serial numbers: links to whatever device is there now.
        private readonly string _names = Directory.CreateTempSubdirectory("fourpatch-ports-").FullName;

        public CableRig(double timesFaster = 1)
        {
            var clock = new FastClock(TimeProvider.System, timesFaster);
            _board = new ServedBoard(Garages.Pads(), clock);
            _other = new ServedBoard(Garages.Decoy(), clock);
            Bench = new Bench(_ports, clock);
            Cars.WriteTo(Bench);
            Point(Port, _board);
            Point(OtherPort, _other);
            _ports.List(OtherPort, Port);
        }

        public Bench Bench { get; }

        public string Port => Path.Combine(_names, "usb-1");

        public string NewPort => Path.Combine(_names, "usb-3");

        private string OtherPort => Path.Combine(_names, "usb-2");

        /// <summary>Pulls the cable.</summary>
        /// <returns>When, by the stopwatch.</returns>
        public long Unplug()
        {
            long now = Stopwatch.GetTimestamp();
            _board.Server.Unplug();
            File.Delete(Port);
            _ports.List(OtherPort);
            return now;
        }

        public void PlugInElsewhere()
        {
            _board.Server.PlugIn();
            Point(NewPort, _board);
            _ports.List(OtherPort, NewPort);
        }

        public void GiveOldNameToTheOther()
        {
            Point(Port, _other);
            _ports.List(Port);
        }

        public int RowsOf(string file) => Bench.Rows(file);

        public List<LogItem> ItemsOf(string file) => Bench.LogItems(file);

        public async ValueTask DisposeAsync()
        {
            await _board.DisposeAsync();
            await _other.DisposeAsync();
            Bench.Dispose();
            Directory.Delete(_names, recursive: true);
        }

        private static void Point(string name, ServedBoard board)
        {
            File.Delete(name);
            File.CreateSymbolicLink(name, board.Server.PortName);
        }
    }
}
