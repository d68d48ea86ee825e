using System.Text;
using Fourpatch.Core.Rig;
using Fourpatch.Core.Wire;
using Fourpatch.Tests.Rig;

namespace Fourpatch.Tests.Wire;

/// <summary>The golden vectors, read and written by the core.</summary>
public class GoldenVectorTests
{
    private static readonly List<WireVector> Vectors = WireVectors.Read(Repository.PathOf("tests/vectors/wire.txt"));

    [Fact]
    public void There_are_vectors_of_every_kind()
    {
        Assert.Equal(
            ["accepted", "bad-fields", "bad-frame", "good", "ignored", "refused"],
            Vectors.Select(vector => vector.Kind).Distinct().Order(StringComparer.Ordinal));
        Assert.Equal(
            ["answer", "calibration", "counters", "gap", "heartbeat", "identity", "loads", "sample"],
            OfKind("good").Select(vector => vector.Value.Split(' ')[0]).Distinct().Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Good_lines_say_their_value()
        => Assert.All(OfKind("good"), vector =>
        {
            (LineOutcome outcome, LineReader reader) = Push(vector.Bytes);
            Assert.Equal(LineOutcome.Good, outcome);
            Assert.Equal(vector.Value, WireText.Describe(reader.Body, reader.BodyLength));
        });

    [Fact]
    public void Values_are_written_as_their_good_lines()
        => Assert.All(OfKind("good"), vector
            => Assert.Equal(Encoding.Latin1.GetString(vector.Bytes), Encoding.Latin1.GetString(WireText.Compose(vector.Value))));

    [Fact]
    public void Frames_that_are_none_are_refused_as_frames()
        => Assert.All(OfKind("bad-frame"), vector =>
        {
            LineOutcome expected = vector.Value switch
            {
                "plain" => LineOutcome.Plain,
                "bad-checksum" => LineOutcome.BadChecksum,
                "too-long" => LineOutcome.TooLong,
                _ => throw new FormatException(vector.ToString()),
            };
            Assert.Equal(expected, Push(vector.Bytes).Outcome);
        });

    [Fact]
    public void Fields_that_are_none_are_refused_behind_a_good_checksum()
        => Assert.All(OfKind("bad-fields"), vector =>
        {
            (LineOutcome outcome, LineReader reader) = Push(vector.Bytes);
            Assert.Equal(LineOutcome.Good, outcome);
            Assert.Null(WireText.Describe(reader.Body, reader.BodyLength));
        });

    [Fact]
    public void Commands_are_accepted_refused_or_ignored_as_said()
        => Assert.All(Vectors.Where(vector => vector.Kind is "accepted" or "refused" or "ignored"), vector =>
        {
            (LineOutcome outcome, LineReader reader) = Push(vector.Bytes);
            Assert.True(outcome is LineOutcome.Good or LineOutcome.Plain);
            var memory = new BoardMemory(new FakeStore());
            memory.Load();
            var desk = new CommandDesk(memory, ResetReason.PowerOrExternal, "0.1.0");
            var answer = new LineWriter();
            bool answered = desk.TryAnswer(reader.Body, reader.BodyLength, outcome == LineOutcome.Plain, answer);
            Assert.Equal(vector.Kind != "ignored", answered);
            Assert.Equal(vector.Kind == "ignored" ? 1u : 0u, desk.BadLines);
            if (answered)
            {
                string[] fields = Encoding.ASCII.GetString(answer.Buffer, 0, answer.Length).Split('*')[0].Split(',');
                string number = outcome == LineOutcome.Plain ? "0" : Encoding.ASCII.GetString(vector.Bytes).Split(',')[1];
                Assert.Equal(["A", number, vector.Kind == "accepted" ? "ok" : "no", vector.Value], fields[..4]);
            }
        });

    [Fact]
    public void An_identity_of_a_later_protocol_still_gives_its_number()
    {
        WireVector vector = Assert.Single(OfKind("bad-fields"), vector => vector.Value.StartsWith("another protocol", StringComparison.Ordinal));
        (_, LineReader reader) = Push(vector.Bytes);
        var fields = new FieldReader();
        fields.Begin(reader.Body, reader.BodyLength);
        Assert.True(fields.TryWord("A") && fields.TryNext() && fields.TryDecimal(0, 9999, out int _) && fields.TryNext()
            && fields.TryWord(Verbs.Ok) && fields.TryNext() && fields.TryWord(Verbs.Identify));
        var identity = new Identity();
        Assert.False(identity.TryRead(fields));
        Assert.Equal(2, identity.ProtocolVersion);
    }

    private static IEnumerable<WireVector> OfKind(string kind) => Vectors.Where(vector => vector.Kind == kind);

    private static (LineOutcome Outcome, LineReader Reader) Push(byte[] bytes)
    {
        var reader = new LineReader();
        foreach (byte value in bytes[..^1])
        {
            Assert.Equal(LineOutcome.None, reader.Push(value));
        }

        return (reader.Push(bytes[^1]), reader);
    }
}
