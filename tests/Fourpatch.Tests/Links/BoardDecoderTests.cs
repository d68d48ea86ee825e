using System.Text;
using CsCheck;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.Links;

namespace Fourpatch.Tests.Links;

/// <summary>From bytes to items: time and numbers unwrapped, everything else counted and skipped.</summary>
public class BoardDecoderTests
{
    private static readonly DateTimeOffset Now = new(2026, 5, 2, 19, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Board_time_goes_on_where_its_32_bits_wrap()
    {
        var decoder = new BoardDecoder();
        Assert.Equal([0xFFFFFF00L], Times(decoder, Line(0, 0xFFFFFF00, 0)));
        Assert.Equal([0x1_00000100L], Times(decoder, Line(1, 0x00000100, 1)));
        Assert.Equal([0x1_00000100L + 0x7FFFFFFF], Times(decoder, Line(2, 0x800000FF, 2)));
        Assert.Equal([0x2_00000000L], Times(decoder, Line(3, 0, 3)));
    }

    [Fact]
    public void The_first_time_is_taken_as_it_stands_however_large()
    {
        Assert.Equal([0x80000000L], Times(new BoardDecoder(), Line(0, 0x80000000, 0)));
        Assert.Equal([0xFFFFFFFFL], Times(new BoardDecoder(), Line(0, 0xFFFFFFFF, 0)));
    }

    [Fact]
    public void A_conversion_has_the_time_of_its_line_and_its_own_offset_in_steps_of_4_us()
    {
        Sample sample = Assert.Single(Samples(new BoardDecoder(), Line(0, 1000, 7, offsetSteps: 3)));
        Assert.Equal(new Sample(2, SampleStatus.Ok, -123, 1012, 7), sample);
    }

    [Fact]
    public void Conversion_numbers_go_on_where_their_8_bits_wrap_each_cell_by_itself()
    {
        var decoder = new BoardDecoder();
        Assert.Equal(250, Assert.Single(Samples(decoder, Line(0, 0, 250))).Number);
        Assert.Equal(255, Assert.Single(Samples(decoder, Line(1, 0, 255))).Number);
        Assert.Equal(256, Assert.Single(Samples(decoder, Line(2, 0, 0))).Number);
        Assert.Equal(511, Assert.Single(Samples(decoder, Line(3, 0, 255))).Number);
        Assert.Equal(3, Assert.Single(Samples(decoder, Line(4, 0, 3, cell: 4))).Number);
    }

    [Fact]
    public void Lines_that_never_came_are_counted_also_where_their_number_wraps()
    {
        var decoder = new BoardDecoder();
        Samples(decoder, Line(65533, 0, 0));
        Assert.Equal(0, decoder.LostSampleLines);
        Samples(decoder, Line(65534, 0, 1));
        Assert.Equal(0, decoder.LostSampleLines);
        Samples(decoder, Line(2, 0, 2));
        Assert.Equal(3, decoder.LostSampleLines);
    }

    [Fact]
    public void After_a_restart_numbers_and_time_begin_anew_and_the_counters_go_on()
    {
        var decoder = new BoardDecoder();
        Samples(decoder, [.. Line(0, 0xF0000000, 250), .. Line(9, 0xF0000000, 251)]);
        decoder.Restart();
        Sample sample = Assert.Single(Samples(decoder, Line(0, 500, 4)));
        Assert.Equal((500L, 4L), (sample.DeviceMicroseconds, sample.Number));
        Assert.Equal(8, decoder.LostSampleLines);
        Assert.Equal(3, decoder.GoodLines);
    }

    [Fact]
    public void Whoever_joins_in_the_middle_of_a_line_loses_only_that_line()
    {
        byte[] first = Line(0, 0, 1);
        var decoder = new BoardDecoder();
        Assert.Equal(2, Assert.Single(Samples(decoder, [.. first[9..], .. Line(1, 0, 2)])).Number);
        Assert.Equal(1, decoder.SkippedLines);
    }

    [Theory]
    [InlineData("ets Jun  8 2016 00:22:57\r\n")]
    [InlineData("S,0000,00000000,1k000000*03AA1712\n")] // a wrong digit in the checksum
    [InlineData("S,0000,0000\n")] // torn
    [InlineData("\0\0\u00ff\n")]
    [InlineData("another program is connected to this board\r\n")]
    public void What_is_no_line_is_counted_and_skipped(string text)
    {
        var decoder = new BoardDecoder();
        Samples(decoder, Line(0, 0, 1));
        Assert.Single(Samples(decoder, [.. Encoding.Latin1.GetBytes(text), .. Line(1, 0, 2)]));
        Assert.Equal(1, decoder.SkippedLines);
        Assert.Equal(2, decoder.GoodLines);
    }

    [Theory]
    [InlineData("S,0000,00000000,5k000000")] // no such cell
    [InlineData("X,1")] // no such kind
    [InlineData("A,1,maybe,identify")] // neither ok nor no
    [InlineData("A,10000,ok,identify")] // no such number
    public void A_framed_line_that_says_nothing_is_no_good_line(string body)
    {
        var decoder = new BoardDecoder();
        Assert.Empty(Samples(decoder, MeddlingLink.Frame(body)));
        Assert.Equal(1, decoder.SkippedLines);
        Assert.Equal(0, decoder.GoodLines);
    }

    [Fact]
    public void An_answer_is_handed_on_with_its_number_and_what_stands_behind_it()
    {
        var answers = new List<Answer>();
        var items = new List<BoardItem>();
        byte[] bytes = [.. MeddlingLink.Frame("A,17,ok,name,2,left pad"), .. MeddlingLink.Frame("A,18,no,loaded")];
        Assert.Equal(2, new BoardDecoder().Take(bytes, Now, items, answers.Add));
        Assert.Empty(items);
        Assert.Equal((17, true, "name,2,left pad"), (answers[0].Number, answers[0].IsOk, Encoding.ASCII.GetString(answers[0].Rest)));
        Assert.Equal((18, false, "loaded"), (answers[1].Number, answers[1].IsOk, Encoding.ASCII.GetString(answers[1].Rest)));
    }

    [Fact]
    public void However_the_bytes_are_cut_up_the_same_items_come()
    {
        byte[] bytes = [.. Enumerable.Range(0, 40).SelectMany(i => i % 7 == 3 ? [.. "boot text\r\n"u8] : Line(i, unchecked(0xFFFFF000 + (uint)(i * 1000)), i))];
        List<Sample> whole = Samples(new BoardDecoder(), bytes);
        Assert.Equal(34, whole.Count);
        Gen.Int[1, 50].List[1, 200].Sample(cuts =>
        {
            var decoder = new BoardDecoder();
            var pieces = new List<Sample>();
            int at = 0;
            for (int i = 0; at < bytes.Length; i++)
            {
                int length = Math.Min(cuts[i % cuts.Count], bytes.Length - at);
                pieces.AddRange(Samples(decoder, bytes[at..(at + length)]));
                at += length;
            }

            return pieces.SequenceEqual(whole);
        }, iter: 200);
    }

    [Fact]
    public void No_bytes_whatever_make_it_throw_or_lose_the_line_behind_them()
    {
        Gen.Byte.Array[0, 400].Sample(garbage =>
        {
            var decoder = new BoardDecoder();
            Samples(decoder, garbage);
            return Samples(decoder, [(byte)'\n', .. Line(1, 77, 9)]) is [{ Number: 9 }];
        }, iter: 5000);
    }

    private static byte[] Line(int lineNumber, uint baseMicroseconds, int number, int offsetSteps = 0, int cell = 2)
    {
        var line = new SampleLine();
        var writer = new LineWriter();
        line.Begin(lineNumber, baseMicroseconds);
        Assert.True(line.TryAdd(cell, SampleStatus.Ok, number, offsetSteps, -123));
        Assert.True(line.TryWrite(writer));
        return writer.Buffer[..writer.Length];
    }

    private static List<Sample> Samples(BoardDecoder decoder, byte[] bytes)
    {
        var items = new List<BoardItem>();
        decoder.Take(bytes, Now, items, _ => { });
        Assert.All(items, item => Assert.Equal(Now, item.HostTime));
        return [.. items.Where(item => item.Kind == BoardItemKind.Sample).Select(item => item.Sample)];
    }

    private static long[] Times(BoardDecoder decoder, byte[] bytes) => [.. Samples(decoder, bytes).Select(sample => sample.DeviceMicroseconds)];
}
