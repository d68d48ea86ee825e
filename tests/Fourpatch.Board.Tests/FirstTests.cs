using Xunit.Abstractions;
namespace Fourpatch.Board.Tests;
public class FirstTests(ITestOutputHelper o)
{
    [Theory]
    [InlineData(10)]
    [InlineData(80)]
    [InlineData(96)][InlineData(92)]
    public void Look(double rate)
    {
        var b = new Bench(1, null, rate, rate * 1.01, rate * 0.98, rate * 1.003);
        b.Board.PowerOn();
        b.Run(3);
        b.Command("stream,on");
        b.Run(1);
        b.Forget();
        var w = System.Diagnostics.Stopwatch.StartNew();
        b.Run(10);
        o.WriteLine($"real {w.ElapsedMilliseconds} bytes/s {b.BytesReceived / 10} lines/s {b.SampleLines / 10.0} samples/s {b.Samples.Count / 10.0} bad {b.BadLines}");
        foreach (var t in b.Texts.Take(6)) o.WriteLine(t);
        foreach (var beat in b.Beats.TakeLast(2)) o.WriteLine(beat + Bench.Letters(beat.Health));
        foreach (var c in b.Counters) o.WriteLine(c is null ? "-" : $"{c.Cell} read {c.Read} del {c.Delivered} idle {c.Idle} settl {c.Settling} over {c.Overlapped} desync {c.Desynced} unsent {c.Unsent} susp {c.Suspect} missed {c.MissedEstimate}  chip {b.Board.Chips[c.Cell-1].Conversions} bad {b.Board.Chips[c.Cell-1].BadTrains}");
        foreach (var g in b.Gaps.Take(5)) o.WriteLine(g.ToString());
        foreach (var e in b.Board.Threads.Uncaught) o.WriteLine(e.ToString());
        foreach (var s in b.Samples.Take(8)) o.WriteLine(s.ToString());
        o.WriteLine("hold " + b.Board.Uart.LongestHold + " reboots " + b.Board.Reboots);
    }
}
