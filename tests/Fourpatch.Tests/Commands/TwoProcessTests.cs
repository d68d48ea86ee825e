using System.Diagnostics;
using System.IO.Hashing;
using System.Net.Sockets;
using System.Text;
using System.Text.Json.Nodes;
using Fourpatch.Tests.Files;
using Fourpatch.Tests.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary>A test that needs a serial program of somebody else's; where there is none it is skipped and says so.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class ForeignSerialProgramFactAttribute : FactAttribute
{
    public ForeignSerialProgramFactAttribute()
    {
        if (!OperatingSystem.IsLinux())
        {
            Skip = "Opens a pseudo-terminal as a serial port: tried on Linux only.";
        }
        else if (ForeignSerialProgram.Found is null)
        {
            Skip = "Neither python3 with its module serial nor socat is here.";
        }
    }
}

/// <summary>Reads a serial port with nothing of this project's and writes what came to its standard output.</summary>
internal static class ForeignSerialProgram
{
    // Waits until the port is open, listens for three seconds, and hands on every byte as it came.
    private const string Script = """
        import serial, sys, time
        port = serial.Serial(sys.argv[1], 115200, timeout=0.2)
        end = time.monotonic() + 3
        while time.monotonic() < end:
            sys.stdout.buffer.write(port.read(4096))
        """;

    /// <summary>The words of the command that does it, PORT standing for the path; null when there is none.</summary>
    public static string[]? Found { get; } = Works("/usr/bin/python3", "-c", "import serial") ? ["/usr/bin/python3", "-c", Script, "PORT"]
        : Works("socat", "-V") ? ["timeout", "3", "socat", "-u", "PORT,rawer", "STDOUT"]
        : null;

    public static byte[] Listen(string path)
    {
        using Process program = Start([.. Found!.Select(word => word.Replace("PORT", path, StringComparison.Ordinal))]);
        using var heard = new MemoryStream();
        program.StandardOutput.BaseStream.CopyTo(heard);
        program.WaitForExit();
        return heard.ToArray();
    }

    private static bool Works(params string[] words)
    {
        try
        {
            using Process program = Start(words);
            program.StandardOutput.ReadToEnd();
            program.WaitForExit();
            return program.ExitCode == 0;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return false;
        }
    }

    private static Process Start(string[] words) =>
        Process.Start(new ProcessStartInfo(words[0], words[1..]) { RedirectStandardOutput = true, RedirectStandardError = true })!;
}

/// <summary>The program twice, as two processes, with a real device path or a TCP port between them.</summary>
[Collection(KeepsTime.Name)]
public class TwoProcessTests
{
    [PseudoTerminalFact]
    public async Task Weigh_agrees_with_the_scenarios_truth_over_a_real_device_path()
    {
        using var folder = NewFolder();
        await using FourpatchProcess simulate = await FourpatchProcess.ServingAsync(folder, "--pty");
        Assert.StartsWith("/dev/", simulate.Port, StringComparison.Ordinal);
        CheckTruth(await FourpatchProcess.RunAsync(folder, "weigh", "--port", simulate.Port, "--vehicle", "plain.toml", "--seconds", "4", "--json"));
    }

    [Fact]
    public async Task Weigh_agrees_with_the_scenarios_truth_over_tcp()
    {
        using var folder = NewFolder();
        await using FourpatchProcess simulate = await FourpatchProcess.ServingAsync(folder, "--tcp", "0");
        Assert.Matches("^tcp:localhost:[0-9]+$", simulate.Port);
        CheckTruth(await FourpatchProcess.RunAsync(folder, "weigh", "--port", simulate.Port, "--vehicle", "plain.toml", "--seconds", "4", "--json"));
    }

    [ForeignSerialProgramFact]
    public async Task A_foreign_serial_program_sees_readable_lines_on_that_path_and_weigh_has_it_afterwards()
    {
        using var folder = NewFolder();
        await using FourpatchProcess simulate = await FourpatchProcess.ServingAsync(folder, "--pty");
        string[] lines = WholeLines(await Task.Run(() => ForeignSerialProgram.Listen(simulate.Port)));
        CheckReadable(lines);

        // The loads line is for a person: four loads in kg that the truth says.
        string loads = lines.Last(line => line.StartsWith("L,", StringComparison.Ordinal));
        Assert.Contains("118.", loads, StringComparison.Ordinal);
        Assert.Contains("131.", loads, StringComparison.Ordinal);
        CheckTruth(await FourpatchProcess.RunAsync(folder, "weigh", "--port", simulate.Port, "--vehicle", "plain.toml", "--seconds", "4", "--json"));
    }

    [Fact]
    public async Task A_bare_socket_sees_the_same_readable_lines()
    {
        using var folder = NewFolder();
        await using FourpatchProcess simulate = await FourpatchProcess.ServingAsync(folder, "--tcp", "0");
        using var client = new TcpClient("127.0.0.1", int.Parse(simulate.Port.Split(':')[2], System.Globalization.CultureInfo.InvariantCulture));
        var heard = new List<byte>();
        byte[] buffer = new byte[4096];
        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(60));
        while (Encoding.Latin1.GetString([.. heard]).Count(letter => letter == '*') < 9)
        {
            int count = await client.GetStream().ReadAsync(buffer, patience.Token);
            Assert.NotEqual(0, count);
            heard.AddRange(buffer[..count]);
        }

        CheckReadable(WholeLines([.. heard]));
    }

    private static ScratchFolder NewFolder()
    {
        var folder = new ScratchFolder();
        folder.File("plain.toml", Cars.Plain);
        folder.File("pads.toml", Cars.Pads);
        return folder;
    }

    private static void CheckTruth(Outcome outcome)
    {
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        JsonNode answer = outcome.Answer;
        string[] names = ["FL", "FR", "RL", "RR"];
        for (int i = 0; i < 4; i++)
        {
            double u = (double)answer["uncertainty"]!["corners_kg"]![names[i]]!;
            Assert.InRange((double)answer["corners_kg"]![names[i]]!, Cars.PadsTruthKg[i] - u, Cars.PadsTruthKg[i] + u);
            Assert.InRange(u, 0.05, 1);
        }

        double total = Cars.PadsTruthKg.Sum();
        Assert.InRange(Math.Abs((double)answer["total_kg"]! - total), 0, (double)answer["uncertainty"]!["total_kg"]!);
        Assert.InRange(Math.Abs((double)answer["cross_share"]! - ((Cars.PadsTruthKg[1] + Cars.PadsTruthKg[2]) / total)), 0, (double)answer["uncertainty"]!["cross_share"]!);
        Assert.Equal("B1", (string?)answer["boards"]![0]!["id"]);
    }

    // The first may be torn: whoever listens joins in the middle. The last may not be whole yet.
    private static string[] WholeLines(byte[] heard) => Encoding.Latin1.GetString(heard).Split('\n')[1..^1];

    /// <summary>Printable text, each line ending in * and its CRC-32/ISO-HDLC, worked out by another's code.</summary>
    private static void CheckReadable(string[] lines)
    {
        string[] framed = [.. lines.Select(line => line.TrimEnd('\r')).Where(line => line.Contains('*', StringComparison.Ordinal))];
        Assert.True(framed.Length >= 5, string.Join('\n', lines));
        foreach (string line in framed)
        {
            Assert.All(line, letter => Assert.InRange(letter, ' ', '~'));
            int star = line.LastIndexOf('*');
            Assert.Equal(line[(star + 1)..], Crc32.HashToUInt32(Encoding.Latin1.GetBytes(line[..star])).ToString("X8", System.Globalization.CultureInfo.InvariantCulture));
        }

        Assert.Contains(framed, line => line.StartsWith("H,", StringComparison.Ordinal));
        Assert.Contains(framed, line => line.StartsWith("L,", StringComparison.Ordinal));
    }
}
