using System.Text;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.VirtualRig;

/// <summary>One conversion as it crossed the wire.</summary>
internal sealed record Heard(int Cell, SampleStatus Status, int Number, int Counts, long TimeUs);

/// <summary>Listens to a board the way a laptop does: finds lines, reads them, and keeps what was said.</summary>
internal sealed class BoardEar
{
    private readonly LineReader _lines = new();
    private readonly FieldReader _fields = new();
    private readonly SampleLine _sample = new();
    private readonly Gap _gap = new();

    public List<Heard> Samples { get; } = [];

    /// <summary>Last counters of each cell.</summary>
    public CellCounters?[] Counters { get; } = new CellCounters?[4];

    public List<(uint BootId, uint UptimeMs, string Health, uint BadLines, uint Unsent)> Heartbeats { get; } = [];

    public List<(GapReason Reason, uint DurationUs)> Gaps { get; } = [];

    public List<string> Answers { get; } = [];

    public List<string> Loads { get; } = [];

    public List<string> PlainLines { get; } = [];

    /// <summary>Lines with a good checksum that no reader of this protocol understands.</summary>
    public int NotUnderstood { get; private set; }

    /// <summary>Lines with a bad checksum, and stretches that are no line.</summary>
    public long Damaged => _lines.BadChecksumLines + _lines.TooLongLines;

    /// <summary>Sample lines that are missing by their numbers.</summary>
    public int MissingLines { get; private set; }

    private int _lastLine = -1;

    public void Hear(ReadOnlySpan<byte> bytes)
    {
        foreach (var value in bytes)
        {
            switch (_lines.Push(value))
            {
                case LineOutcome.Good:
                    HearLine();
                    break;
                case LineOutcome.Plain:
                    PlainLines.Add(Body());
                    break;
            }
        }
    }

    /// <summary>The good counts of a cell, 1 to 4.</summary>
    public double[] Counts(int cell) => [.. Samples.Where(s => s.Cell == cell && s.Status == SampleStatus.Ok).Select(s => (double)s.Counts)];

    /// <summary>Mean of the good counts of a cell, 1 to 4.</summary>
    public double Mean(int cell) => Counts(cell).Average();

    private string Body() => Encoding.Latin1.GetString(_lines.Body, 0, _lines.BodyLength);

    private void HearLine()
    {
        var kind = (char)_lines.Body[0];
        _fields.Begin(_lines.Body, _lines.BodyLength);
        _fields.TryCharacter(out _);
        var understood = kind switch
        {
            WireFormat.SampleKind => HearSamples(),
            WireFormat.CountersKind => HearCounters(),
            WireFormat.HeartbeatKind => HearHeartbeat(),
            WireFormat.GapKind => HearGap(),
            WireFormat.AnswerKind => Keep(Answers),
            WireFormat.LoadsKind => Keep(Loads),
            _ => false,
        };
        if (!understood) NotUnderstood++;
    }

    private bool Keep(List<string> list)
    {
        list.Add(Body());
        return true;
    }

    private bool HearSamples()
    {
        if (!_sample.TryRead(_fields)) return false;
        if (_lastLine >= 0) MissingLines += (_sample.LineNumber - _lastLine - 1) & 0xFFFF;
        _lastLine = _sample.LineNumber;
        for (var i = 0; i < _sample.Count; i++)
            Samples.Add(new(_sample.Cell(i), _sample.Status(i), _sample.Number(i), _sample.Counts(i), _sample.BaseMicroseconds + _sample.OffsetSteps(i) * 4L));
        return true;
    }

    private bool HearCounters()
    {
        CellCounters counters = new();
        if (!counters.TryRead(_fields)) return false;
        Counters[counters.Cell - 1] = counters;
        return true;
    }

    private bool HearHeartbeat()
    {
        Heartbeat heartbeat = new();
        if (!heartbeat.TryRead(_fields)) return false;
        var health = string.Concat(Enumerable.Range(0, 4).Select(i => WireFormat.LetterOf(heartbeat.Health(i))));
        Heartbeats.Add((heartbeat.BootId, heartbeat.UptimeMilliseconds, health, heartbeat.BadLines, heartbeat.UnsentLines));
        return true;
    }

    private bool HearGap()
    {
        if (!_gap.TryRead(_fields)) return false;
        Gaps.Add((_gap.Reason, _gap.DurationMicroseconds));
        return true;
    }
}

/// <summary>A laptop at a virtual board: a link at full speed, an ear, and a mouth for commands.</summary>
internal sealed class Laptop
{
    private readonly VirtualGarage _garage;
    private readonly VirtualLink _link;
    private readonly byte[] _buffer = new byte[1000];
    private int _number;

    public Laptop(VirtualGarage garage, VirtualBoard? board = null)
    {
        _garage = garage;
        _link = VirtualLink.AtFullSpeed(garage, board ?? garage.Boards[0]);
    }

    public BoardEar Ear { get; } = new();

    public List<byte> Bytes { get; } = [];

    /// <summary>Listens until so many simulated seconds have passed from now.</summary>
    public async Task ListenAsync(double seconds)
    {
        var until = _garage.Now + TimeSpan.FromSeconds(seconds);
        while (_garage.Now < until)
        {
            var count = await _link.ReadAsync(_buffer, CancellationToken.None);
            if (count == 0) return;
            Bytes.AddRange(_buffer.AsSpan(0, count));
            Ear.Hear(_buffer.AsSpan(0, count));
        }
    }

    /// <summary>Sends a command and listens for half a second.</summary>
    public async Task<string> AskAsync(string command)
    {
        LineWriter writer = new();
        writer.Begin(WireFormat.CommandKind);
        writer.Next();
        writer.AddDecimal(++_number);
        writer.Next();
        writer.AddWord(command);
        writer.End(false);
        await _link.WriteAsync(writer.Buffer.AsMemory(0, writer.Length), CancellationToken.None);
        var before = Ear.Answers.Count;
        await ListenAsync(0.5);
        return Ear.Answers.Skip(before).LastOrDefault() ?? "";
    }

    /// <summary>Waits for the boot and turns the stream on.</summary>
    public async Task StartAsync()
    {
        await ListenAsync(1.0);
        Assert.Contains("ok,stream,on", await AskAsync("stream,on"));
    }

    /// <summary>Forgets what was said so far and listens anew.</summary>
    public async Task ListenAnewAsync(double seconds)
    {
        Ear.Samples.Clear();
        await ListenAsync(seconds);
    }
}
