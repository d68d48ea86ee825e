using System.Text;
using Fourpatch.Core.Cells;
using Fourpatch.Links;
using Fourpatch.Tests.Wire;

namespace Fourpatch.Tests.Links;

/// <summary>The laptop's decoder against altered streams: nothing altered comes out as a value, and its memory does not grow with what comes in.</summary>
public class DecoderMutationTests
{
    private static readonly int Mutated = Environment.GetEnvironmentVariable("PROOF") == "full" ? 10_000_000 : 200_000;

    [Fact]
    public void Nothing_altered_comes_out_and_the_line_behind_it_does()
    {
        const int seed = 64;
        var random = new Random(seed);
        var lines = new RandomLines(random);
        byte[][] pool = [.. Enumerable.Range(0, 500).Select(_ => WireText.Compose(lines.Next()))];
        var said = new HashSet<(int, SampleStatus, int, int, uint)>();
        var others = new HashSet<string>();
        var items = new List<BoardItem>();
        foreach (byte[] line in pool)
        {
            Assert.Equal(1, new BoardDecoder().Take(line, default, items, answer => others.Add(Words(answer))));
        }

        foreach (BoardItem item in items)
        {
            Assert.True(item.Kind == BoardItemKind.Sample ? said.Add(Key(item.Sample)) || true : others.Add(Words(item)) || true);
        }

        var decoder = new BoardDecoder();
        long good = 0;
        string where = "";
        void Heard(Answer answer) => Assert.True(others.Contains(Words(answer)), $"{where}: {Words(answer)}");
        for (int i = 0; i < Mutated; i++)
        {
            byte[] original = pool[random.Next(pool.Length)];
            byte[] torn = random.Next(3) == 0 ? [.. original[..random.Next(original.Length)], .. pool[random.Next(pool.Length)]] : original;
            byte[] altered = Mutations.Of(torn, random);
            byte[] next = pool[random.Next(pool.Length)];
            where = $"seed {seed}, case {i}, {Encoding.Latin1.GetString(altered)}";
            items.Clear();
            decoder.Take(altered, default, items, Heard);
            decoder.Take("\n"u8, default, items, Heard);
            Assert.True(decoder.Take(next, default, items, Heard) == 1, $"{where}: the line after it was lost");
            good++;
            foreach (BoardItem item in items)
            {
                bool known = item.Kind == BoardItemKind.Sample ? said.Contains(Key(item.Sample)) : others.Contains(Words(item));
                Assert.True(known, $"{where}: took {item.Sample} {item.Detail}");
            }
        }

        Assert.True(decoder.GoodLines >= good && decoder.SkippedLines > good / 2);
    }

    [Fact]
    public void Sample_lines_and_garbage_without_end_take_no_memory()
    {
        var decoder = new BoardDecoder();
        var items = new List<BoardItem>(64);
        byte[] sample = WireText.Compose("sample line=9 base=8 1:k:1:1:-8388608 2:h:2:2:8388607 3:k:0:0:0 4:u:5:5:1");
        byte[] garbage = new byte[4096];
        new Random(65).NextBytes(garbage);
        byte[] withoutEnd = [.. garbage.Where(value => value != (byte)'\n')];
        Action<Answer> answered = _ => { };
        Run(1);
        long before = GC.GetAllocatedBytesForCurrentThread();
        Run(2000);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);

        void Run(int times)
        {
            for (int i = 0; i < times; i++)
            {
                items.Clear();
                decoder.Take(sample, default, items, answered);
                decoder.Take(garbage, default, items, answered);
                decoder.Take(withoutEnd, default, items, answered);
                decoder.Take("\n"u8, default, items, answered);
            }
        }
    }

    private static (int, SampleStatus, int, int, uint) Key(Sample sample)
        => (sample.Cell, sample.Status, sample.Counts, (int)(sample.Number & 0xFF), (uint)(sample.DeviceMicroseconds & 0xFFFFFFFF));

    private static string Words(Answer answer) => $"{answer.Number} {answer.IsOk} {Encoding.Latin1.GetString(answer.Rest)}";

    // The time of a gap unwraps from what came before: its low 32 bits are what the line said.
    private static string Words(BoardItem item) => item.Detail switch
    {
        BoardPulse pulse => $"{pulse with { Health = [] }} {string.Join(' ', pulse.Health)}",
        BoardGap gap => $"{gap.Reason} {gap.StartMicroseconds & 0xFFFFFFFF} {gap.Duration}",
        _ => $"{item.Detail}",
    };
}
