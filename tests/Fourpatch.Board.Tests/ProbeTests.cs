using Xunit.Abstractions;
using Fourpatch.Board.Simulation;
using Fourpatch.Core.Wire;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Rig;
using Fourpatch.Firmware;
using Fourpatch.Firmware.Amplifiers;
using System.Device.Gpio;
using nanoFramework.Hardware.Esp32;
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
        M("end", () => { w.Begin('S'); for(int i=0;i<75;i++) w.AddCharacter('x'); });
        M("end+", () => { w.Begin('S'); for(int i=0;i<75;i++) w.AddCharacter('x');w.End(false); });
        M("decimal", () => { w.Begin('S'); w.AddDecimal(4938268); });
        M("letter", () => WireFormat.LetterOf(SampleStatus.Stuck));
    }
    [Theory][InlineData(80)][InlineData(96)]
    public void Steps(double rate)
    {
        var times = new List<(long T, int N, long Instr)>();
        void Main()
        {
            var clock = new Clock();
            Configuration.SetPinFunction(23, DeviceFunction.SPI1_MOSI);
            Configuration.SetPinFunction(19, DeviceFunction.SPI1_MISO);
            Configuration.SetPinFunction(18, DeviceFunction.SPI1_CLOCK);
            var sel = new ChannelSelector(new GpioController(), 25, 26);
            var bank = new AmplifierBank(sel, new AmplifierLine(), clock);
            var port = new SerialBytePort(33, 32, clock);
            var c = new RigController(bank, port, new FlashRecordStore(), clock, ResetReason.Watchdog, "x");
            c.Start(); bank.Start();
            var b = SimulatedBoard.Current;
            while (true)
            {
                var t = b.Threads.Now; var i = ManagedCode.Executed; var n = c.Cell(0).Counters.Read + c.Cell(1).Counters.Read + c.Cell(2).Counters.Read + c.Cell(3).Counters.Read;
                c.Step(clock.NowMicroseconds);
                b.Spend(0);
                times.Add((b.Threads.Now - t, (int)(c.Cell(0).Counters.Read + c.Cell(1).Counters.Read + c.Cell(2).Counters.Read + c.Cell(3).Counters.Read - n), ManagedCode.Executed - i));
            }
        }
        var bench = new Bench(1, null, Main, rate, rate * 1.01, rate * 0.98, rate * 1.003);
        bench.Board.PowerOn(); bench.Run(3); bench.Command("stream,on"); bench.Run(1); times.Clear(); bench.Run(60);
        foreach (var g in times.GroupBy(t => t.N).OrderBy(g => g.Key))
            o.WriteLine($"{g.Key}: n {g.Count()} mean {g.Average(t => t.T) / 1e6:F2} max {g.Max(t => t.T) / 1e6:F2} instr {g.Average(t => t.Instr):F0} min {g.Min(t=>t.T)/1e6:F2}");
        o.WriteLine("uncaught " + string.Join(";", bench.Board.Threads.Uncaught));
    }
    [Fact]
    public void Parts()
    {
        var b = new SimulatedBoard(() => {
            var clock = new Clock();
            Configuration.SetPinFunction(23, DeviceFunction.SPI1_MOSI);
            Configuration.SetPinFunction(19, DeviceFunction.SPI1_MISO);
            Configuration.SetPinFunction(18, DeviceFunction.SPI1_CLOCK);
            var sel = new ChannelSelector(new GpioController(), 25, 26);
            var line = new AmplifierLine();
            var bank = new AmplifierBank(sel, line, clock);
            bank.Start(); var k = new Conversion(); int n = 0;
            for (int i = 0; i < 6000; i++) { var e = ManagedCode.Executed; var r = bank.TryTake(i & 3, k); e = ManagedCode.Executed - e; if (n < 12 && i > 3000) { if (r || i % 7 == 0) {o.WriteLine($"take {r} {k.Status} {e} instr"); n++;} } }
            M("look", () => line.Look());
            M("read", () => line.Read());
            M("select", () => {sel.Select(0);sel.Select(1);});
            var p = new ConversionPhase();
            for (int i = 0; i < 40; i++) { p.SawHigh(i * 10000 - 2000); p.Enter(i * 10000); }
            var t = 400000L;
            M("phase enter", () => { p.SawHigh(t - 2000); p.Enter(t); t += 10000; });
            M("near", () => p.IsNearUpdate(t));
            M("safe", () => { var x = p.SafeUntilMicroseconds; });
            var cw = new CellWatch(1); for (int i = 0; i < 40; i++) { t += 10000; k.Status = SampleStatus.Ok; k.Counts++; k.TimeMicroseconds = t; cw.Enter(k); }
            var ch = new AmplifierChannel(); for (int i = 0; i < 60; i++) { ch.SawHigh(t - 2000); ch.MayRead(t); ch.Enter(BurstResult.Good, t, t + 500); t += 10000; }
            ch.SawHigh(t - 2000); M("mayread", () => ch.MayRead(t)); M("channel", () => ch.Enter(BurstResult.Good, t, t + 500));
            M("enter", () => { t += 10000; k.Status = SampleStatus.Ok; k.Counts++; k.TimeMicroseconds = t; cw.Enter(k); });
            var s = new SampleLine();
            M("add", () => { s.Begin(5, 123456);  s.TryAdd(1, SampleStatus.Ok, 17, 500 , 1234567 ); });
            M("add4", () => { s.Begin(5, 123456); for (int i = 1; i < 5; i++) s.TryAdd(i, SampleStatus.Ok, 17, 500 * i, 1234567 * i); });
        }, 1, null, 90, 91, 92, 93);
        b.PowerOn(); b.RunFor(TimeSpan.FromSeconds(20)); foreach (var u in b.Threads.Uncaught) o.WriteLine(u.ToString());
    }
}
