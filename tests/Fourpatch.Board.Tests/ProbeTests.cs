using Xunit.Abstractions;
using Fourpatch.Board.Simulation;
using Fourpatch.Core.Wire;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Rig;
namespace Fourpatch.Board.Tests;
public class ProbeTests(ITestOutputHelper o)
{
    void M(string n, Action a) { a(); var b = ManagedCode.Executed; a(); o.WriteLine($"{n}: {ManagedCode.Executed - b} instr = {(ManagedCode.Executed - b) * 0.7:F0} us"); }
    [Fact]
    public void P()
    {
        var w = new LineWriter(); var s = new SampleLine();
        M("sample line", () => { s.Begin(5, 123456); for (int i = 1; i < 5; i++) s.TryAdd(i, SampleStatus.Ok, 17, 500 * i, 1234567 * i); s.TryWrite(w); });
        M("add only", () => { s.Begin(5, 123456); for (int i = 1; i < 5; i++) s.TryAdd(i, SampleStatus.Ok, 17, 500 * i, 1234567 * i); });
        o.WriteLine("len " + w.Length);
        M("decimal", () => { w.Begin('S'); w.AddDecimal(4938268); });
        M("hex8", () => { w.Begin('S'); w.AddHex(0x12345678, 8); });
        M("char", () => { w.Begin('S'); w.AddCharacter('x'); });
        M("begin", () => { w.Begin('S'); });
        var c = new CellCounters(); M("counters", () => c.TryWrite(w)); o.WriteLine("len " + w.Length);
        var h = new Heartbeat(); M("beat", () => h.TryWrite(w));o.WriteLine("len " + w.Length);
        var cw = new CellWatch(1); var k = new Conversion { Status = SampleStatus.Ok, Counts = 5 }; long t = 0;
        M("enter", () => { t += 10000; k.Status = SampleStatus.Ok; k.Counts++; k.TimeMicroseconds = t; cw.Enter(k); });
    }
}
