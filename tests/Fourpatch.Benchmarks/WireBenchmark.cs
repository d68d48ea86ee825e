using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.Links;
using nietras.SeparatedValues;

namespace Fourpatch.Benchmarks;

/// <summary>
/// Sample lines of four conversions, decoded with their checksum into samples, against the Sep library splitting and parsing the same columns
/// (without checksum: it knows none), and written; on one second, one minute and one hour of a board at 80 conversions a second and cell.
/// </summary>
internal static class WireBenchmark
{
    private static readonly int[] Sizes = [80, 4_800, 288_000];

    public static void Run()
    {
        Console.WriteLine("     lines   decode ns/line    Sep ns/line  Sep / decode  bytes/line   encode ns/line  bytes/line   MB/s decoded");
        foreach (int size in Sizes)
        {
            Measure(size);
        }
    }

    private static void Measure(int size)
    {
        byte[] bytes = Lines(size, out string columns);
        var items = new List<BoardItem>(4 * 256);
        if (CpuTime.Of(() => Decode(bytes, items, size), () => ReadWithSep(columns, size), () => Encode(size)) is not [var decode, var sep, var encode])
        {
            return;
        }

        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{size,10} {decode.Seconds / size * 1e9,16:0} {sep.Seconds / size * 1e9,14:0} {sep.Seconds / decode.Seconds,13:0.00} {decode.Bytes / size,11:0.00} {encode.Seconds / size * 1e9,16:0} {encode.Bytes / size,11:0.00} {bytes.Length / decode.Seconds / 1e6,14:0.0}"));
    }

    private static void Decode(byte[] bytes, List<BoardItem> items, int size)
    {
        var decoder = new BoardDecoder();
        int good = 0;
        for (int at = 0; at < bytes.Length; at += 4096)
        {
            items.Clear();
            good += decoder.Take(bytes.AsSpan(at, Math.Min(4096, bytes.Length - at)), default, items, _ => { });
        }

        Check(good == size);
    }

    // Line number and base as hexadecimal, then of each conversion number and time as hexadecimal and counts as decimal.
    private static void ReadWithSep(string columns, int size)
    {
        long sum = 0;
        int rows = 0;
        using SepReader reader = Sep.New(',').Reader(options => options with { HasHeader = false, DisableQuotesParsing = true }).FromText(columns);
        foreach (SepReader.Row row in reader)
        {
            rows++;
            sum += uint.Parse(row[1].Span, NumberStyles.HexNumber, CultureInfo.InvariantCulture) + uint.Parse(row[2].Span, NumberStyles.HexNumber, CultureInfo.InvariantCulture);
            for (int i = 3; i < 7; i++)
            {
                ReadOnlySpan<char> conversion = row[i].Span;
                sum += conversion[0] + conversion[1] + uint.Parse(conversion.Slice(2, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture)
                    + uint.Parse(conversion.Slice(4, 3), NumberStyles.HexNumber, CultureInfo.InvariantCulture) + int.Parse(conversion[7..], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture);
            }
        }

        Check(rows == size && sum != 0);
    }

    private static void Encode(int size)
    {
        var line = new SampleLine();
        var writer = new LineWriter();
        for (int i = 0; i < size; i++)
        {
            Fill(line, i);
            Check(line.TryWrite(writer));
        }
    }

    private static void Fill(SampleLine line, int i)
    {
        line.Begin(i, unchecked((uint)i * 12_500));
        for (int cell = 1; cell <= 4; cell++)
        {
            line.TryAdd(cell, SampleStatus.Ok, i, cell * 700, 1_234_567 + (cell * 1000) + (i * 37 % 120));
        }
    }

    private static byte[] Lines(int size, out string columns)
    {
        var line = new SampleLine();
        var writer = new LineWriter();
        using var bytes = new MemoryStream();
        var text = new System.Text.StringBuilder();
        for (int i = 0; i < size; i++)
        {
            Fill(line, i);
            Check(line.TryWrite(writer));
            bytes.Write(writer.Buffer, 0, writer.Length);
            text.Append(System.Text.Encoding.ASCII.GetString(writer.Buffer, 0, Array.IndexOf(writer.Buffer, (byte)'*'))).Append('\n');
        }

        columns = text.ToString();
        return bytes.ToArray();
    }

    private static void Check(bool isRight)
    {
        if (!isRight)
        {
            throw new InvalidOperationException("not every line came through");
        }
    }
}
