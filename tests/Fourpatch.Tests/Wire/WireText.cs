using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;

namespace Fourpatch.Tests.Wire;

/// <summary>
/// The board's lines in the words of the golden vectors, both ways, through the core's own readers and writers.
/// </summary>
public static partial class WireText
{
    private static readonly string[] CounterNames =
        ["read", "delivered", "idle", "settling", "overlapped", "desynced", "unsent", "suspect", "missed"];

    private static readonly string[] CalibrationNames =
        ["zero_sixteenths", "span_picokg", "capacity_g", "date", "span_own_ppm", "span_reference_ppm", "zero_u_sixteenths", "largest_load_g"];

    /// <summary>What a line's body says, or null when no reader of this protocol version takes it.</summary>
    public static string? Describe(byte[] body, int length)
    {
        var fields = new FieldReader();
        fields.Begin(body, length);
        if (!fields.TryCharacter(out int kind))
        {
            return null;
        }

        return (char)kind switch
        {
            WireFormat.SampleKind => DescribeSample(fields),
            WireFormat.HeartbeatKind => DescribeHeartbeat(fields),
            WireFormat.CountersKind => DescribeCounters(fields),
            WireFormat.GapKind => DescribeGap(fields),
            WireFormat.LoadsKind => DescribeLoads(Encoding.Latin1.GetString(body, 0, length)),
            WireFormat.AnswerKind => DescribeAnswer(fields, body, length),
            _ => null,
        };
    }

    /// <summary>Writes the line for a value.</summary>
    public static byte[] Compose(string value)
    {
        var writer = new LineWriter();
        int space = value.IndexOf(' ', StringComparison.Ordinal);
        string kind = value[..space];
        Dictionary<string, string> given = Fields(value[(space + 1)..]);
        bool written = kind switch
        {
            "sample" => ComposeSample(value, given, writer),
            "heartbeat" => ComposeHeartbeat(given, writer),
            "counters" => ComposeCounters(given, writer),
            "gap" => ComposeGap(given, writer),
            "loads" => ComposeLoads(given, writer),
            "identity" => ComposeIdentity(given, writer),
            "calibration" => ComposeCalibration(given, writer),
            "answer" => ComposeAnswer(given, writer),
            _ => throw new FormatException(kind),
        };
        Assert.True(written);
        return writer.Buffer[..writer.Length];
    }

    /// <summary>A calibration's fields in the words of the vectors.</summary>
    public static string Describe(CellCalibration c)
        => string.Create(CultureInfo.InvariantCulture, $"zero_sixteenths={c.ZeroSixteenths} span_picokg={c.SpanPicokilograms} capacity_g={c.CapacityGrams} date={c.DateYyyymmdd} span_own_ppm={c.SpanOwnPpm} span_reference_ppm={c.SpanReferencePpm} zero_u_sixteenths={c.ZeroUncertaintySixteenths} largest_load_g={c.LargestLoadGrams} reference={c.Reference}");

    private static string? DescribeSample(FieldReader fields)
    {
        var line = new SampleLine();
        if (!line.TryRead(fields))
        {
            return null;
        }

        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"sample line={line.LineNumber} base={line.BaseMicroseconds}");
        for (int i = 0; i < line.Count; i++)
        {
            char letter = WireFormat.LetterOf(line.Status(i));
            text.Append(CultureInfo.InvariantCulture, $" {line.Cell(i)}:{letter}:{line.Number(i)}:{line.OffsetSteps(i)}:{line.Counts(i)}");
        }

        return text.ToString();
    }

    private static bool ComposeSample(string value, Dictionary<string, string> given, LineWriter writer)
    {
        var line = new SampleLine();
        line.Begin(Int(given["line"]), (uint)Long(given["base"]));
        foreach (string conversion in value.Split(' ').Skip(3))
        {
            string[] parts = conversion.Split(':');
            Assert.True(WireFormat.TryStatusOf(parts[1][0], out SampleStatus status));
            Assert.True(line.TryAdd(Int(parts[0]), status, Int(parts[2]), Int(parts[3]), Int(parts[4])));
        }

        return line.TryWrite(writer);
    }

    private static string? DescribeHeartbeat(FieldReader fields)
    {
        var beat = new Heartbeat();
        if (!beat.TryRead(fields))
        {
            return null;
        }

        string health = string.Concat(Enumerable.Range(0, WireFormat.CellCount).Select(i => WireFormat.LetterOf(beat.Health(i))));
        return $"heartbeat boot={beat.BootId} uptime_ms={beat.UptimeMilliseconds} streaming={(beat.IsStreaming ? 1 : 0)} health={health} bad={beat.BadLines} unsent={beat.UnsentLines}";
    }

    private static bool ComposeHeartbeat(Dictionary<string, string> given, LineWriter writer)
    {
        var beat = new Heartbeat
        {
            BootId = (uint)Long(given["boot"]),
            UptimeMilliseconds = (uint)Long(given["uptime_ms"]),
            IsStreaming = given["streaming"] == "1",
            BadLines = (uint)Long(given["bad"]),
            UnsentLines = (uint)Long(given["unsent"]),
        };
        for (int i = 0; i < WireFormat.CellCount; i++)
        {
            Assert.True(WireFormat.TryStatusOf(given["health"][i], out SampleStatus status));
            beat.SetHealth(i, status);
        }

        return beat.TryWrite(writer);
    }

    private static string? DescribeCounters(FieldReader fields)
    {
        var c = new CellCounters();
        if (!c.TryRead(fields))
        {
            return null;
        }

        uint[] values = [c.Read, c.Delivered, c.Idle, c.Settling, c.Overlapped, c.Desynced, c.Unsent, c.Suspect, c.MissedEstimate];
        return $"counters cell={c.Cell} " + string.Join(' ', CounterNames.Zip(values, (name, value) => $"{name}={value}"));
    }

    private static bool ComposeCounters(Dictionary<string, string> given, LineWriter writer)
    {
        uint[] v = CounterNames.Select(name => (uint)Long(given[name])).ToArray();
        return new CellCounters
        {
            Cell = Int(given["cell"]),
            Read = v[0],
            Delivered = v[1],
            Idle = v[2],
            Settling = v[3],
            Overlapped = v[4],
            Desynced = v[5],
            Unsent = v[6],
            Suspect = v[7],
            MissedEstimate = v[8],
        }.TryWrite(writer);
    }

    private static string? DescribeGap(FieldReader fields)
    {
        var gap = new Gap();
        string reason() => gap.Reason == GapReason.Flash ? "flash" : "late-loop";
        return gap.TryRead(fields) ? $"gap reason={reason()} start_us={gap.StartMicroseconds} duration_us={gap.DurationMicroseconds}" : null;
    }

    private static bool ComposeGap(Dictionary<string, string> given, LineWriter writer) => new Gap
    {
        Reason = given["reason"] == "flash" ? GapReason.Flash : GapReason.LateLoop,
        StartMicroseconds = (uint)Long(given["start_us"]),
        DurationMicroseconds = (uint)Long(given["duration_us"]),
    }.TryWrite(writer);

    // Nothing in the core reads the loads line back: it is for a person.
    private static string? DescribeLoads(string body)
        => LoadsLinePattern().IsMatch(body) ? "loads " + body["L,kg,".Length..].Replace(',', ' ') : null;

    private static bool ComposeLoads(Dictionary<string, string> given, LineWriter writer)
    {
        writer.Begin(WireFormat.LoadsKind);
        writer.AddWord(",kg");
        foreach ((string cell, string load) in given)
        {
            writer.AddWord($",{cell}=");
            if (long.TryParse(load.Replace(".", "", StringComparison.Ordinal), CultureInfo.InvariantCulture, out long hundredths))
            {
                writer.AddHundredths(hundredths);
            }
            else
            {
                writer.AddWord(load);
            }
        }

        return writer.End(true);
    }

    private static string? DescribeAnswer(FieldReader fields, byte[] body, int length)
    {
        if (!fields.TryNext() || !fields.TryDecimal(0, WireFormat.CommandNumberMax, out int number) || !fields.TryNext())
        {
            return null;
        }

        if (fields.TryWord(Verbs.Ok) && fields.TryNext())
        {
            if (fields.TryWord(Verbs.Identify))
            {
                var who = new Identity();
                string reset() => who.ResetReason == ResetReason.Watchdog ? "watchdog" : "power-or-external";
                return who.TryRead(fields)
                    ? $"identity number={number} protocol={who.ProtocolVersion} firmware={who.FirmwareVersion} board={who.BoardId} boot={who.BootId} reset={reset()} commit={who.CommitNumber} checksum={who.CommitChecksum}"
                    : null;
            }

            if (fields.TryWord(Verbs.Calibration))
            {
                var calibration = new CellCalibration();
                return fields.TryNext() && fields.TryDecimal(1, WireFormat.CellCount, out int cell) && CalibrationFields.TryRead(fields, calibration)
                    ? $"calibration number={number} cell={cell} {Describe(calibration)}"
                    : null;
            }
        }

        string text = Encoding.Latin1.GetString(body, 0, length);
        return $"answer number={number} body={text[(text.IndexOf(',', 2) + 1)..]}";
    }

    private static bool ComposeIdentity(Dictionary<string, string> given, LineWriter writer)
    {
        var who = new Identity
        {
            ProtocolVersion = Int(given["protocol"]),
            BootId = (uint)Long(given["boot"]),
            ResetReason = given["reset"] == "watchdog" ? ResetReason.Watchdog : ResetReason.PowerOrExternal,
            CommitNumber = (uint)Long(given["commit"]),
            CommitChecksum = (uint)Long(given["checksum"]),
        };
        Assert.True(who.FirmwareVersion.TrySet(given["firmware"]));
        Assert.True(who.BoardId.TrySet(given["board"]));
        BeginAnswer(writer, given, "ok,identify");
        who.Write(writer);
        return writer.End(true);
    }

    private static bool ComposeCalibration(Dictionary<string, string> given, LineWriter writer)
    {
        long[] v = CalibrationNames.Select(name => Long(given[name])).ToArray();
        var calibration = new CellCalibration
        {
            ZeroSixteenths = (int)v[0],
            SpanPicokilograms = v[1],
            CapacityGrams = (int)v[2],
            DateYyyymmdd = (int)v[3],
            SpanOwnPpm = (int)v[4],
            SpanReferencePpm = (int)v[5],
            ZeroUncertaintySixteenths = (int)v[6],
            LargestLoadGrams = (int)v[7],
        };
        Assert.True(calibration.Reference.TrySet(given["reference"]));
        BeginAnswer(writer, given, "ok,calibration," + given["cell"]);
        CalibrationFields.Write(writer, calibration);
        return writer.End(true);
    }

    private static bool ComposeAnswer(Dictionary<string, string> given, LineWriter writer)
    {
        BeginAnswer(writer, given, given["body"]);
        return writer.End(true);
    }

    private static void BeginAnswer(LineWriter writer, Dictionary<string, string> given, string rest)
    {
        writer.Begin(WireFormat.AnswerKind);
        writer.Next();
        writer.AddDecimal(Int(given["number"]));
        writer.Next();
        writer.AddWord(rest);
    }

    // The value of reference= and body= runs to the end and may hold spaces.
    private static Dictionary<string, string> Fields(string text)
        => FieldPattern().Matches(text).ToDictionary(match => match.Groups[1].Value, match => match.Groups[2].Value);

    private static int Int(string digits) => int.Parse(digits, CultureInfo.InvariantCulture);

    private static long Long(string digits) => long.Parse(digits, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"(?<=^| )((?<last>reference|body)|[a-z_0-9]+)=((?(last).*|[^ ]*))")]
    private static partial Regex FieldPattern();

    [GeneratedRegex(@"^L,kg(,[1-4]=(-?(0|[1-9][0-9]{0,4})\.[0-9]{2}|silent|saturated|settling|stuck|unread|no-span|too-large)){4}$")]
    private static partial Regex LoadsLinePattern();
}
