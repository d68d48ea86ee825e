using System.Buffers.Text;
using System.Runtime.CompilerServices;
using System.Globalization;
using System.Text;
using Fourpatch.Core.Cells;

namespace Fourpatch.Files;

/// <summary>What a summary needs of one row. <c>Board</c> is valid until the next row.</summary>
internal readonly ref struct LogFields
{
    public required ReadOnlySpan<byte> Time { get; init; }

    public required long DeviceUs { get; init; }

    public required ReadOnlySpan<byte> Board { get; init; }

    public required int Cell { get; init; }

    public required long Conversion { get; init; }

    public required SampleStatus Status { get; init; }

    public required int? Counts { get; init; }

    public required double? LoadKg { get; init; }
}

/// <summary>
/// Rows of a log as bytes, for files of millions of them: the same rows as <see cref="LogFormat.Row"/>, which is asked
/// whenever a row is not exactly as the writer puts it. Not thread-safe.
/// </summary>
internal sealed class LogRowBytes
{
    private const int TimeLength = 27;
    private const int SecondLength = 20;

    // Every row of one second begins alike: the date is understood once.
    private readonly byte[] _second = new byte[SecondLength];

    /// <summary>Takes one row apart; false when it is none.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public bool TryRead(ReadOnlySpan<byte> line, out LogFields fields)
    {
        fields = default;
        if (line.Length < TimeLength + 1 || line[TimeLength] != ',' || !IsTime(line[..TimeLength]))
            return TryReadSlowly(line, ref fields);
        var at = TimeLength + 1;
        if (!TryWhole(line, ref at, out var deviceUs))
            return TryReadSlowly(line, ref fields);
        var boardLength = line[at..].IndexOf((byte)',');
        if (boardLength is < 1 or > 32)
            return TryReadSlowly(line, ref fields);
        var board = line.Slice(at, boardLength);
        at += boardLength + 1;
        if (at + 1 >= line.Length || line[at] is < (byte)'1' or > (byte)'4' || line[at + 1] != ',')
            return TryReadSlowly(line, ref fields);
        var cell = line[at] - '0';
        at += 2;
        if (!TryWhole(line, ref at, out var conversion) || !TryStatus(line, ref at, out var status))
            return TryReadSlowly(line, ref fields);
        if (!TryCounts(line, ref at, out var counts) || !TryLoad(line[at..], out var loadKg))
            return TryReadSlowly(line, ref fields);
        fields = new LogFields { Time = line[..TimeLength], DeviceUs = deviceUs, Board = board, Cell = cell, Conversion = conversion, Status = status, Counts = counts, LoadKg = loadKg };
        return true;
    }

    /// <summary>The time of a row that was read.</summary>
    public static DateTime TimeOf(ReadOnlySpan<byte> time) =>
        DateTime.ParseExact(Encoding.ASCII.GetString(time), LogFormat.TimeFormat, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal);

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private bool IsTime(ReadOnlySpan<byte> time)
    {
        if (time[TimeLength - 1] != 'Z')
            return false;
        for (var index = SecondLength; index < TimeLength - 1; index++)
        {
            if (!IsDigit(time[index]))
                return false;
        }

        if (time[..SecondLength].SequenceEqual(_second))
            return true;
        if (!DateTime.TryParseExact(Encoding.ASCII.GetString(time), LogFormat.TimeFormat, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out _))
            return false;
        time[..SecondLength].CopyTo(_second);
        return true;
    }

    /// <summary>Digits up to a comma, which is passed.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static bool TryWhole(ReadOnlySpan<byte> line, ref int at, out long value)
    {
        value = 0;
        var start = at;
        for (; at < line.Length && IsDigit(line[at]); at++)
            value = unchecked(value * 10 + (line[at] - '0'));
        // 18 digits cannot overflow; more are read slowly.
        return at > start && at - start <= 18 && at < line.Length && line[at++] == ',';
    }

    private static bool TryStatus(ReadOnlySpan<byte> line, ref int at, out SampleStatus status)
    {
        status = SampleStatus.Ok;
        var rest = line[at..];
        if (rest.StartsWith("ok,"u8))
        {
            at += 3;
            return true;
        }

        var length = rest.IndexOf((byte)',');
        if (length < 0 || !Words.TryParse(Encoding.UTF8.GetString(rest[..length]), out status))
            return false;
        at += length + 1;
        return true;
    }

    private static bool TryCounts(ReadOnlySpan<byte> line, ref int at, out int? counts)
    {
        counts = null;
        if (at < line.Length && line[at] == ',')
        {
            at++;
            return true;
        }

        var negative = at < line.Length && line[at] == '-';
        if (negative)
            at++;
        if (!TryWhole(line, ref at, out var size) || size > 8_388_607 + (negative ? 1 : 0))
            return false;
        counts = (int)(negative ? -size : size);
        return true;
    }

    private static bool TryLoad(ReadOnlySpan<byte> text, out double? loadKg)
    {
        loadKg = null;
        if (text.Length == 0)
            return true;
        // The exponent's letter may be followed by anything double.Parse takes; the length says whether all of it was read.
        if (!Utf8Parser.TryParse(text, out double value, out var read) || read != text.Length || !double.IsFinite(value))
            return false;
        loadKg = value;
        return true;
    }

    private static bool IsDigit(byte symbol) => symbol is >= (byte)'0' and <= (byte)'9';

    private static bool TryReadSlowly(ReadOnlySpan<byte> line, ref LogFields fields)
    {
        if (LogFormat.Row(Encoding.UTF8.GetString(line), 0, "") is not LogRow row)
            return false;
        fields = new LogFields
        {
            Time = Encoding.ASCII.GetBytes(row.HostTimeUtc.ToString(LogFormat.TimeFormat, CultureInfo.InvariantCulture)),
            DeviceUs = row.DeviceUs,
            Board = Encoding.ASCII.GetBytes(row.Cell.Board),
            Cell = row.Cell.Cell,
            Conversion = row.Conversion,
            Status = row.Status,
            Counts = row.Counts,
            LoadKg = row.LoadKg,
        };
        return true;
    }
}
