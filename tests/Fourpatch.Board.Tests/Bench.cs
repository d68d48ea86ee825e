using System.Globalization;
using System.Text;
using Fourpatch.Board.Simulation;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.Firmware;

namespace Fourpatch.Board.Tests;

/// <summary>One delivered conversion, as the host sees it.</summary>
internal sealed record Sample(int Cell, SampleStatus Status, int Number, uint TimeMicroseconds, int Counts);

/// <summary>One heartbeat.</summary>
internal sealed record Beat(uint BootId, uint UptimeMilliseconds, bool IsStreaming, SampleStatus[] Health, uint BadLines, uint UnsentLines);

/// <summary>The simulated board running the firmware's own Main, and a host that reads everything it says.</summary>
internal sealed class Bench
{
    private readonly LineReader _reader = new();
    private readonly FieldReader _fields = new();
    private int _commandNumber;

    public Bench(int seed, CallCosts? costs = null, params double[] ratesPerSecond)
        : this(seed, costs, Program.Main, ratesPerSecond)
    {
    }

    public Bench(int seed, CallCosts? costs, Action program, params double[] ratesPerSecond)
    {
        Board = new SimulatedBoard(program, seed, costs, ratesPerSecond);
        for (var i = 0; i < 4; i++)
        {
            Board.Chips[i].InputCounts = InputCounts(i);
        }
    }

    public SimulatedBoard Board { get; }

    public List<Sample> Samples { get; } = [];

    public List<Beat> Beats { get; } = [];

    public List<(GapReason Reason, uint DurationMicroseconds)> Gaps { get; } = [];

    public List<string> Texts { get; } = [];

    public CellCounters?[] Counters { get; } = new CellCounters?[4];

    public int SampleLines { get; private set; }

    public long BytesReceived { get; private set; }

    public long BadLines => _reader.BadChecksumLines + _reader.TooLongLines + _reader.PlainLines;

    public Beat LastBeat => Beats[^1];

    /// <summary>Far enough from each other that a conversion shows whose it is.</summary>
    public static double InputCounts(int cellIndex) => 1_000_000 + (1_000_000 * cellIndex);

    public static Bench Streaming(int seed, CallCosts? costs = null, params double[] ratesPerSecond)
    {
        var bench = new Bench(seed, costs, ratesPerSecond);
        bench.Board.PowerOn();
        bench.Run(3);
        bench.Command("stream,on");
        bench.Run(1);
        Assert.Equal("k,k,k,k", Letters(bench.LastBeat.Health));
        return bench;
    }

    public static string Letters(SampleStatus[] statuses) => string.Join(',', statuses.Select(WireFormat.LetterOf));

    /// <summary>Lets the board run, then reads what has come.</summary>
    public void Run(double seconds)
    {
        Board.RunFor(TimeSpan.FromSeconds(seconds));
        foreach (var value in Board.Uart.TakeAtHost(Board.Threads.Now))
        {
            BytesReceived++;
            switch (_reader.Push(value))
            {
                case LineOutcome.Good:
                    Take();
                    break;
                case LineOutcome.Plain:
                    Texts.Add("plain:" + Body());
                    break;
            }
        }
    }

    public void Forget()
    {
        Samples.Clear();
        Beats.Clear();
        Gaps.Clear();
        Texts.Clear();
        SampleLines = 0;
        BytesReceived = 0;
    }

    public void Command(string words)
    {
        _commandNumber++;
        var body = string.Create(CultureInfo.InvariantCulture, $"Q,{_commandNumber},{words}");
        var bytes = Encoding.ASCII.GetBytes(body);
        SendRaw(string.Create(CultureInfo.InvariantCulture, $"{body}*{Crc32.Of(bytes, 0, bytes.Length):X8}\n"));
    }

    public void SendRaw(string text) => Board.Uart.SendFromHost(Encoding.ASCII.GetBytes(text), Board.Threads.Now);

    /// <summary>Sends a command and returns its answer.</summary>
    public string Ask(string words, double withinSeconds = 1)
    {
        Command(words);
        var start = string.Create(CultureInfo.InvariantCulture, $"A,{_commandNumber},");
        Run(withinSeconds);
        return Texts.Single(text => text.StartsWith(start, StringComparison.Ordinal))[start.Length..];
    }

    private string Body() => Encoding.ASCII.GetString(_reader.Body, 0, _reader.BodyLength);

    private void Take()
    {
        _fields.Begin(_reader.Body, _reader.BodyLength);
        Assert.True(_fields.TryCharacter(out var kind));
        switch ((char)kind)
        {
            case WireFormat.SampleKind:
                TakeSamples();
                break;
            case WireFormat.HeartbeatKind:
                var beat = new Heartbeat();
                Assert.True(beat.TryRead(_fields));
                Beats.Add(new Beat(beat.BootId, beat.UptimeMilliseconds, beat.IsStreaming, [.. Enumerable.Range(0, 4).Select(beat.Health)], beat.BadLines, beat.UnsentLines));
                break;
            case WireFormat.CountersKind:
                var counters = new CellCounters();
                Assert.True(counters.TryRead(_fields));
                Counters[counters.Cell - 1] = counters;
                break;
            case WireFormat.GapKind:
                var gap = new Gap();
                Assert.True(gap.TryRead(_fields));
                Gaps.Add((gap.Reason, gap.DurationMicroseconds));
                break;
            default:
                Texts.Add(Body());
                break;
        }
    }

    private void TakeSamples()
    {
        var line = new SampleLine();
        Assert.True(line.TryRead(_fields));
        SampleLines++;
        for (var i = 0; i < line.Count; i++)
        {
            var time = unchecked(line.BaseMicroseconds + (uint)(line.OffsetSteps(i) * WireFormat.OffsetStepMicroseconds));
            Samples.Add(new Sample(line.Cell(i), line.Status(i), line.Number(i), time, line.Counts(i)));
        }
    }
}
