using System.Text;
using Fourpatch.Core.Rig;
using Fourpatch.Core.Wire;
using Fourpatch.Tests.Wire;

namespace Fourpatch.Tests.Rig;

/// <summary>A controller over fakes, with time in the test's hand and its lines taken apart.</summary>
internal sealed class TestBoard
{
    private readonly LineReader _reader = new();
    private int _commandNumber;

    public TestBoard(FakeStore? store = null, long startMicroseconds = 0, ResetReason resetReason = ResetReason.PowerOrExternal)
    {
        Store = store ?? new FakeStore();
        Clock.NowMicroseconds = startMicroseconds;
        Bank = new FakeBank(Clock);
        Bank.StartAt(startMicroseconds + 1000, startMicroseconds + 4000, startMicroseconds + 7000, startMicroseconds + 11000);
        Controller = new RigController(Bank, Port, Store, Clock, resetReason, "0.1.0");
        Controller.Start();
    }

    public FakeClock Clock { get; } = new();

    public FakeBank Bank { get; }

    public FakePort Port { get; } = new();

    public FakeStore Store { get; }

    public RigController Controller { get; }

    /// <summary>Counts of a loaded cell with some noise, so that nothing looks stuck.</summary>
    public void Shake(int seed, int middle = 100_000)
    {
        var random = new Random(seed);
        Bank.Counts = _ => middle + random.Next(-40, 41);
    }

    /// <summary>Steps until a time has passed.</summary>
    public void Run(long microseconds, int stepMicroseconds = 1000)
    {
        for (long end = Clock.NowMicroseconds + microseconds; Clock.NowMicroseconds < end;)
        {
            Clock.NowMicroseconds += stepMicroseconds;
            Controller.Step(Clock.NowMicroseconds);
        }
    }

    /// <summary>Lines written since the last call, in the words of the golden vectors. Fails on a line that no reader takes.</summary>
    public List<string> TakeLines()
    {
        var lines = new List<string>();
        foreach (char character in Port.TakeText())
        {
            LineOutcome outcome = _reader.Push((byte)character);
            if (outcome != LineOutcome.None)
            {
                Assert.Equal(LineOutcome.Good, outcome);
                lines.Add(WireText.Describe(_reader.Body, _reader.BodyLength)
                    ?? throw new FormatException(Encoding.Latin1.GetString(_reader.Body, 0, _reader.BodyLength)));
            }
        }

        return lines;
    }

    /// <summary>Lines of one kind written since the last call; the others are dropped.</summary>
    public List<string> TakeLines(string kind) => TakeLines().Where(line => line.StartsWith(kind + " ", StringComparison.Ordinal)).ToList();

    /// <summary>Sends a framed command and gives the board's one answer without its number: "ok,..." or "no,...".</summary>
    public string Ask(string command)
    {
        _commandNumber++;
        Port.TakeText();
        Port.Give(Frame($"Q,{_commandNumber},{command}"));
        return Answer(_commandNumber);
    }

    /// <summary>Sends bytes and gives the answer that carries a number.</summary>
    public string AskRaw(byte[] bytes, int number)
    {
        Port.TakeText();
        Port.Give(bytes);
        return Answer(number);
    }

    /// <summary>The fields of a heartbeat or counters line.</summary>
    public static Dictionary<string, string> FieldsOf(string line)
        => line.Split(' ').Skip(1).Select(field => field.Split('=')).ToDictionary(pair => pair[0], pair => pair[1]);

    /// <summary>A line's bytes for a body.</summary>
    public static byte[] Frame(string body)
    {
        byte[] bytes = Encoding.Latin1.GetBytes(body);
        return [.. bytes, .. Encoding.ASCII.GetBytes($"*{System.IO.Hashing.Crc32.HashToUInt32(bytes):X8}\n")];
    }

    private string Answer(int number)
    {
        while (Port.Waiting > 0)
        {
            Clock.NowMicroseconds += 100;
            Controller.Step(Clock.NowMicroseconds);
        }

        string prefix = $"A,{number},";
        string line = Assert.Single(Port.TakeText().Split('\n'), line => line.StartsWith(prefix, StringComparison.Ordinal));
        return line[prefix.Length..line.IndexOf('*', StringComparison.Ordinal)];
    }
}
