using System.Text;
using Fourpatch.Core.Wire;

namespace Fourpatch.Tests.Wire;

/// <summary>The decoder against everything a serial line can bring.</summary>
public class LineReaderTests
{
    private static readonly bool IsFull = Environment.GetEnvironmentVariable("PROOF") == "full";

    [Fact]
    public void Every_value_comes_back_as_it_was_written()
    {
        const int seed = 5;
        var lines = new RandomLines(new Random(seed));
        for (int i = 0; i < 50_000; i++)
        {
            string value = lines.Next();
            var reader = new LineReader();
            LineOutcome outcome = PushAll(reader, WireText.Compose(value));
            Assert.True(outcome == LineOutcome.Good && WireText.Describe(reader.Body, reader.BodyLength) == value, $"seed {seed}, case {i}: {value}");
        }
    }

    [Fact]
    public void A_body_that_a_reader_takes_has_no_other_spelling()
    {
        // Bodies are altered before their checksum is made, so that the fields alone decide.
        const int seed = 6;
        var random = new Random(seed);
        var lines = new RandomLines(random);
        int taken = 0;
        for (int i = 0; i < 100_000; i++)
        {
            byte[] line = WireText.Compose(lines.Next());
            byte[] body = Mutations.Of(line[..Array.IndexOf(line, (byte)'*')], random);
            if (WireText.Describe(body, body.Length) is { } value && !value.StartsWith("answer", StringComparison.Ordinal))
            {
                byte[] again = WireText.Compose(value);
                string expected = Encoding.Latin1.GetString(body);
                string actual = Encoding.Latin1.GetString(again, 0, Array.IndexOf(again, (byte)'*'));
                Assert.True(expected == actual, $"seed {seed}, case {i}: {expected} was read as {actual}");
                taken++;
            }
        }

        Assert.True(taken > 5_000, $"only {taken}: too few altered bodies were still valid for this to mean anything");
    }

    [Fact]
    public void An_altered_line_is_never_taken_for_another_and_the_next_line_is_found()
    {
        const int seed = 7;
        var random = new Random(seed);
        var lines = new RandomLines(random);
        byte[][] pool = Enumerable.Range(0, 2000).Select(_ => WireText.Compose(lines.Next())).ToArray();
        var reader = new LineReader();
        int count = IsFull ? 10_000_000 : 200_000;
        long outcomes = 0;
        int refused = 0;
        for (int i = 0; i < count; i++)
        {
            byte[] original = pool[random.Next(pool.Length)];
            byte[] other = pool[random.Next(pool.Length)];
            bool joined = random.Next(3) == 0;
            byte[] altered = Mutations.Of(joined ? [.. original[..random.Next(original.Length)], .. other] : original, random);
            foreach (byte value in altered)
            {
                LineOutcome outcome = reader.Push(value);
                outcomes += outcome == LineOutcome.None ? 0 : 1;
                refused += outcome is LineOutcome.BadChecksum ? 1 : 0;
                if (outcome == LineOutcome.Good && !IsBodyOf(original, reader) && !IsBodyOf(other, reader))
                {
                    Assert.Fail($"seed {seed}, case {i}: took {Encoding.Latin1.GetString(reader.Body, 0, reader.BodyLength)}");
                }
            }

            // What was torn ends with the next line end; the line behind it is whole.
            LineOutcome end = reader.Push((byte)'\n');
            outcomes += end == LineOutcome.None ? 0 : 1;
            byte[] next = pool[random.Next(pool.Length)];
            bool found = PushAll(reader, next) == LineOutcome.Good && IsBodyOf(next, reader);
            outcomes++;
            Assert.True(found, $"seed {seed}, case {i}: the line after {Encoding.Latin1.GetString(altered)} was lost");
        }

        Assert.Equal(outcomes, reader.GoodLines + reader.PlainLines + reader.BadChecksumLines + reader.TooLongLines);
        Assert.True(refused > count / 2);
    }

    [Fact]
    public void Any_bytes_whatever_are_survived()
    {
        const int seed = 8;
        var random = new Random(seed);
        var reader = new LineReader();
        var fields = new FieldReader();
        byte[] alphabet = Encoding.Latin1.GetBytes("SHCGLAQ0123456789ABCDEFk,,,***\r\n\n-identify");
        byte[] good = WireText.Compose("sample line=1 base=2 1:k:3:4:5");
        for (int round = 0; round < 400; round++)
        {
            for (int i = 0; i < 2000; i++)
            {
                byte value = round % 2 == 0 ? (byte)random.Next(256) : alphabet[random.Next(alphabet.Length)];
                if (reader.Push(value) == LineOutcome.Plain)
                {
                    WireText.Describe(reader.Body, reader.BodyLength);
                    fields.Begin(reader.Body, reader.BodyLength);
                }
            }

            reader.Push((byte)'\n');
            Assert.True(PushAll(reader, good) == LineOutcome.Good, $"seed {seed}, round {round}");
        }

        Assert.Equal(400, reader.GoodLines);
    }

    [Fact]
    public void Reading_and_writing_lines_allocates_nothing()
    {
        byte[] sample = WireText.Compose("sample line=9 base=8 1:k:1:1:-8388608 2:h:2:2:8388607 3:k:0:0:0 4:u:5:5:1");
        byte[] beat = WireText.Compose("heartbeat boot=1 uptime_ms=2 streaming=1 health=kkkk bad=3 unsent=4");
        byte[] torn = sample[..30];
        byte[] rubbish = new byte[500];
        new Random(9).NextBytes(rubbish);
        var reader = new LineReader();
        var fields = new FieldReader();
        var line = new SampleLine();
        var heartbeat = new Heartbeat();
        var writer = new LineWriter();
        int read = 0;
        Run();
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 1000; i++)
        {
            Run();
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.Equal(1001 * 2, read);

        void Run()
        {
            Take(sample);
            Take(torn);
            Take(rubbish);
            reader.Push((byte)'\n');
            Take(beat);
        }

        void Take(byte[] bytes)
        {
            for (int i = 0; i < bytes.Length; i++)
            {
                if (reader.Push(bytes[i]) == LineOutcome.Good)
                {
                    fields.Begin(reader.Body, reader.BodyLength);
                    fields.TryCharacter(out int kind);
                    bool good = kind == WireFormat.SampleKind ? line.TryRead(fields) && line.TryWrite(writer) : heartbeat.TryRead(fields) && heartbeat.TryWrite(writer);
                    read += good ? 1 : 0;
                }
            }
        }
    }

    [Fact]
    public void An_asterisk_ends_the_body_so_that_a_second_one_is_no_line_of_ours_whatever_its_checksum()
    {
        byte[] body = "G,1*2"u8.ToArray();
        byte[] line = [.. body, .. Encoding.ASCII.GetBytes($"*{Crc32.Of(body, 0, body.Length):X8}\r\n")];
        Assert.NotEqual(LineOutcome.Good, PushAll(new LineReader(), line));
        byte[] whole = [.. body[..3], .. Encoding.ASCII.GetBytes($"*{Crc32.Of(body, 0, 3):X8}\r\n")];
        Assert.Equal(LineOutcome.Good, PushAll(new LineReader(), whole));
    }

    [Theory]
    [InlineData("ets Jul 29 2019 12:21:46\r\n\r\nrst:0x1 (POWERON_RESET),boot:0x13 (SPI_FAST_FLASH_BOOT)\r\n", 2, 0, 0)]
    [InlineData("\n\r\n\n\n", 0, 0, 0)]
    [InlineData("S,00", 0, 1, 0)]
    [InlineData("S,0000,00000000,1k000000*03AA1711", 0, 1, 0)]
    [InlineData("\u00FF\u0000\u001b[0m\n", 1, 0, 0)]
    [InlineData("*\n*********\n", 0, 2, 0)]
    public void Garbage_is_counted_and_the_second_line_after_it_is_found(string garbage, int plain, int bad, int tooLong)
    {
        var reader = new LineReader();
        byte[] good = WireText.Compose("sample line=1 base=2 1:k:3:4:5");
        PushAll(reader, Encoding.Latin1.GetBytes(garbage));
        PushAll(reader, good);
        Assert.Equal(LineOutcome.Good, PushAll(reader, good));
        Assert.Equal((plain, bad, tooLong), (reader.PlainLines, reader.BadChecksumLines, reader.TooLongLines));
    }

    [Theory]
    [InlineData(158, "\r\n", LineOutcome.Plain)]
    [InlineData(159, "\n", LineOutcome.Plain)]
    [InlineData(159, "\r\n", LineOutcome.TooLong)]
    [InlineData(160, "\n", LineOutcome.TooLong)]
    [InlineData(100_000, "\n", LineOutcome.TooLong)]
    public void A_line_may_have_160_bytes_with_its_end(int length, string end, LineOutcome expected)
    {
        var reader = new LineReader();
        Assert.Equal(expected, PushAll(reader, Encoding.ASCII.GetBytes(new string('x', length) + end)));
        Assert.Equal(LineOutcome.Good, PushAll(reader, WireText.Compose("sample line=1 base=2 1:k:3:4:5")));
    }

    [Fact]
    public void A_lost_link_leaves_no_half_line_behind()
    {
        var reader = new LineReader();
        byte[] good = WireText.Compose("sample line=1 base=2 1:k:3:4:5");
        PushAll(reader, good[..10]);
        reader.Reset();
        Assert.Equal(LineOutcome.Good, PushAll(reader, good));
        PushAll(reader, new byte[300]);
        reader.Reset();
        Assert.Equal(LineOutcome.Good, PushAll(reader, good));
        Assert.Equal(0, reader.BadChecksumLines + reader.PlainLines + reader.TooLongLines);
    }

    [Fact]
    public void A_line_that_does_not_fit_is_marked_and_does_no_harm()
    {
        var writer = new LineWriter();
        writer.Begin('A');
        for (int i = 0; i < 200; i++)
        {
            writer.AddCharacter('x');
        }

        Assert.False(writer.End(true));
        Assert.True(writer.Overflowed);
        Assert.Equal(WireFormat.LineBytesMax, writer.Length);
        writer.Begin('A');
        Assert.True(writer.End(true));
    }

    [Theory]
    [InlineData(0, "0", "0.00")]
    [InlineData(-5, "-5", "-0.05")]
    [InlineData(-150, "-150", "-1.50")]
    [InlineData(99, "99", "0.99")]
    [InlineData(100, "100", "1.00")]
    [InlineData(long.MaxValue, "9223372036854775807", "92233720368547758.07")]
    [InlineData(-long.MaxValue, "-9223372036854775807", "-92233720368547758.07")]
    public void Numbers_are_written_in_their_one_spelling(long value, string whole, string hundredths)
    {
        var writer = new LineWriter();
        writer.Begin('X');
        writer.AddDecimal(value);
        writer.Next();
        writer.AddHundredths(value);
        Assert.True(writer.End(false));
        Assert.StartsWith($"X{whole},{hundredths}*", Encoding.ASCII.GetString(writer.Buffer, 0, writer.Length), StringComparison.Ordinal);
    }

    private static LineOutcome PushAll(LineReader reader, byte[] bytes)
    {
        LineOutcome last = LineOutcome.None;
        foreach (byte value in bytes)
        {
            last = reader.Push(value);
        }

        return last;
    }

    private static bool IsBodyOf(byte[] line, LineReader reader)
        => reader.BodyLength < line.Length && line[reader.BodyLength] == (byte)'*' && line.AsSpan(0, reader.BodyLength).SequenceEqual(reader.Body.AsSpan(0, reader.BodyLength));
}
