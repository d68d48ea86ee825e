using Fourpatch.Core.Rig;
using Fourpatch.Core.Wire;
using Fourpatch.Links;

namespace Fourpatch.Fuzz;

/// <summary>What must hold for any bytes; what does not is an exception, which the fuzzer keeps.</summary>
internal static class Target
{
    private static readonly byte[] Next = "S,0000,00000000,1k000000*03AA1711\n"u8.ToArray();

    /// <summary>Bytes as they may come over a line: nothing is thrown, and the line behind their end is found.</summary>
    public static void AsStream(byte[] bytes)
    {
        var decoder = new BoardDecoder();
        var items = new List<BoardItem>();
        decoder.Take(bytes, default, items, _ => { });
        decoder.Take("\n"u8, default, items, _ => { });
        items.Clear();
        decoder.Take(Next, default, items, _ => { });
        Hold(items is [{ Kind: BoardItemKind.Sample, Sample: { Cell: 1, Counts: 0 } }], "the line behind it was lost");
    }

    /// <summary>
    /// Bytes as the body of a line whose checksum agrees, which no chance would find: what a reader takes its writer writes again byte by
    /// byte, and the board answers any command with a line that has room.
    /// </summary>
    public static void AsBody(byte[] body)
    {
        if (body.Length is 0 or > WireFormat.LineBytesMax)
        {
            return;
        }

        var fields = new FieldReader();
        var writer = new LineWriter();
        fields.Begin(body, body.Length);
        fields.TryCharacter(out int kind);
        var sample = new SampleLine();
        var heartbeat = new Heartbeat();
        var counters = new CellCounters();
        var gap = new Gap();
        bool taken = (char)kind switch
        {
            WireFormat.SampleKind => sample.TryRead(fields) && sample.TryWrite(writer),
            WireFormat.HeartbeatKind => heartbeat.TryRead(fields) && heartbeat.TryWrite(writer),
            WireFormat.CountersKind => counters.TryRead(fields) && counters.TryWrite(writer),
            WireFormat.GapKind => gap.TryRead(fields) && gap.TryWrite(writer),
            _ => false,
        };
        if (taken)
        {
            Hold(writer.Buffer.AsSpan(0, writer.Length).IndexOf((byte)'*') == body.Length && writer.Buffer.AsSpan(0, body.Length).SequenceEqual(body), "it was read as something else");
        }

        var memory = new BoardMemory(new NoFlash());
        memory.Load();
        var desk = new CommandDesk(memory, ResetReason.PowerOrExternal, "0.1.0");
        var answer = new LineWriter();
        if (desk.TryAnswer(body, body.Length, isPlain: false, answer))
        {
            Hold(!answer.Overflowed && answer.Length <= WireFormat.LineBytesMax, "the answer has no room");
        }
    }

    private static void Hold(bool holds, string what)
    {
        if (!holds)
        {
            throw new InvalidOperationException(what);
        }
    }

    private sealed class NoFlash : IRecordStore
    {
        public int Read(int record, byte[] buffer) => -1;

        public bool TryWrite(int record, byte[] buffer, int count) => false;
    }
}
