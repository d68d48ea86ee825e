using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;

namespace Fourpatch.Links;

/// <summary>A command to a board, still without its number.</summary>
/// <param name="Verb">The word, for messages.</param>
/// <param name="WriteArguments">Writes the arguments, each with its comma before it.</param>
public sealed record BoardCommand(string Verb, Action<LineWriter> WriteArguments)
{
    /// <summary>Who are you.</summary>
    public static BoardCommand Identify() => new(Verbs.Identify, _ => { });

    /// <summary>Stream on or off.</summary>
    public static BoardCommand Stream(bool on) => new(Verbs.Stream, writer => AddWord(writer, on ? Verbs.On : Verbs.Off));

    /// <summary>What flash holds for a cell, 1 to 4.</summary>
    public static BoardCommand Calibration(int cell) => new(Verbs.Calibration, writer => AddNumber(writer, cell));

    /// <summary>Puts a calibration aside for a cell, 1 to 4.</summary>
    public static BoardCommand Stage(int cell, CellCalibration calibration) => new(Verbs.Stage, writer =>
    {
        AddNumber(writer, cell);
        CalibrationFields.Write(writer, calibration);
    });

    /// <summary>Puts a new zero aside for a calibrated cell, 1 to 4.</summary>
    public static BoardCommand Zero(int cell, int zeroSixteenths, int uncertaintySixteenths) => new(Verbs.Zero, writer =>
    {
        AddNumber(writer, cell);
        AddNumber(writer, zeroSixteenths);
        AddNumber(writer, uncertaintySixteenths);
    });

    /// <summary>Name of the board (0) or a cell (1 to 4).</summary>
    public static BoardCommand Name(int cell) => new(Verbs.Name, writer => AddNumber(writer, cell));

    /// <summary>Puts a name aside; see <see cref="AsciiText.IsAllowed"/> for what it may hold.</summary>
    public static BoardCommand StageName(int cell, string name) => new(Verbs.StageName, writer =>
    {
        AddNumber(writer, cell);
        AddWord(writer, name);
    });

    /// <summary>Forgets what was put aside.</summary>
    public static BoardCommand Discard() => new(Verbs.Discard, _ => { });

    /// <summary>Writes what was put aside to flash.</summary>
    public static BoardCommand Commit() => new(Verbs.Commit, _ => { });

    /// <summary>The command as bytes.</summary>
    /// <exception cref="ArgumentException">It does not fit a line.</exception>
    public byte[] ToBytes(int number)
    {
        var writer = new LineWriter();
        writer.Begin(WireFormat.CommandKind);
        AddNumber(writer, number);
        AddWord(writer, Verb);
        WriteArguments(writer);
        if (!writer.End(true))
        {
            throw new ArgumentException($"the command {Verb} does not fit a line of {WireFormat.LineBytesMax} bytes");
        }

        return writer.Buffer[..writer.Length];
    }

    private static void AddNumber(LineWriter writer, long value)
    {
        writer.Next();
        writer.AddDecimal(value);
    }

    private static void AddWord(LineWriter writer, string word)
    {
        writer.Next();
        writer.AddWord(word);
    }
}
