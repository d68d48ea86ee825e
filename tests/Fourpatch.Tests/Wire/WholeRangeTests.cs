using System.Text;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Rig;
using Fourpatch.Core.Wire;
using Fourpatch.Links;
using Fourpatch.Tests.Rig;

namespace Fourpatch.Tests.Wire;

/// <summary>What <see cref="RandomLines"/> does not write: commands from host to board and back, and the loads a person reads, over their whole ranges.</summary>
public class WholeRangeTests
{
    private const int Rounds = 20_000;

    [Fact]
    public void Every_command_comes_back_in_its_answer_as_the_host_wrote_it()
    {
        const int seed = 61;
        var random = new Random(seed);
        var lines = new RandomLines(random);
        (CommandDesk desk, BoardMemory memory) = NewDesk();
        var reader = new LineReader();
        var answer = new LineWriter();
        var decoder = new BoardDecoder();
        Answer? heard = null;
        var kinds = new Dictionary<string, int>();
        for (int i = 0; i < Rounds; i++)
        {
            (BoardCommand command, string expected) = Command(random, lines, memory);
            int number = random.Next(1, WireFormat.CommandNumberMax + 1);
            string when = $"seed {seed}, case {i}: {command.Verb}, expected {expected}";
            Assert.Equal(LineOutcome.Good, PushAll(reader, command.ToBytes(number)));
            Assert.True(desk.TryAnswer(reader.Body, reader.BodyLength, isPlain: false, answer), when);
            decoder.Take(answer.Buffer.AsSpan(0, answer.Length), default, [], taken => heard = taken);
            string rest = Encoding.ASCII.GetString(heard!.Rest);
            Assert.True(heard.Number == number && rest.StartsWith(expected, StringComparison.Ordinal), $"{when}, heard {heard.Number} {rest}");
            kinds[command.Verb] = kinds.GetValueOrDefault(command.Verb) + 1;
        }

        Assert.Equal(9, kinds.Count);
        Assert.True(kinds.Values.Min() > Rounds / 20);
    }

    [Fact]
    public void A_command_that_the_board_takes_has_no_other_spelling()
    {
        const int seed = 62;
        var random = new Random(seed);
        var lines = new RandomLines(random);
        (CommandDesk desk, BoardMemory memory) = NewDesk();
        var answer = new LineWriter();
        int taken = 0;
        for (int i = 0; i < 3 * Rounds; i++)
        {
            // Altered before its checksum is made, so that the fields alone decide.
            byte[] line = Command(random, lines, memory).Command.ToBytes(random.Next(1, WireFormat.CommandNumberMax + 1));
            byte[] body = Mutations.Of(line[..Array.IndexOf(line, (byte)'*')], random);
            if (!desk.TryAnswer(body, body.Length, isPlain: false, answer))
            {
                continue;
            }

            string asked = Encoding.Latin1.GetString(body);
            string said = Encoding.Latin1.GetString(answer.Buffer, 0, Array.IndexOf(answer.Buffer, (byte)'*'));
            string number = asked.Split(',')[1];
            if (said.StartsWith($"A,{number},no,", StringComparison.Ordinal))
            {
                continue;
            }

            // An answer begins with all that was asked; a zero's uncertainty comes back behind the rest of the calibration.
            string request = asked[("Q,".Length + number.Length + 1)..];
            string[] zero = request.Split(',');
            string[] fields = said.Split(',');
            bool same = zero[0] == Verbs.Zero
                ? said.StartsWith($"A,{number},ok,zero,{zero[1]},{zero[2]},", StringComparison.Ordinal) && fields[11] == zero[3]
                : said == $"A,{number},ok,{request}" || said.StartsWith($"A,{number},ok,{request},", StringComparison.Ordinal);
            Assert.True(same, $"seed {seed}, case {i}: {asked} was answered with {said}");
            taken++;
        }

        Assert.True(taken > Rounds / 10, $"only {taken}: too few altered commands were still taken for this to mean anything");
    }

    [Fact]
    public void Loads_for_a_person_are_one_of_the_words_or_kilograms_with_two_decimals_whatever_the_cell_gives()
    {
        const int seed = 63;
        var random = new Random(seed);
        var lines = new RandomLines(random);
        var writer = new LineWriter();
        var reader = new LineReader();
        var cells = Enumerable.Range(1, 4).Select(cell => new CellWatch(cell)).ToArray();
        var record = new BoardRecord();
        var conversion = new Conversion();
        int numbers = 0;
        for (int i = 0; i < Rounds; i++)
        {
            foreach (CellWatch cell in cells)
            {
                record.Calibration(cell.Counters.Cell - 1).SpanPicokilograms = random.Next(4) == 0 ? 0 : Long(lines, CellCalibration.LargestSpanPicokilograms);
                record.Calibration(cell.Counters.Cell - 1).ZeroSixteenths = (int)Long(lines, CellCalibration.LargestZeroSixteenths);
                for (int n = random.Next(3); n > 0; n--)
                {
                    conversion.Status = (SampleStatus)random.Next(Enum.GetValues<SampleStatus>().Length);
                    conversion.Counts = (int)long.Parse(lines.Number(BridgeCounts.Lowest, BridgeCounts.Highest), System.Globalization.CultureInfo.InvariantCulture);
                    cell.Enter(conversion);
                }
            }

            Assert.True(LoadsLine.TryWrite(writer, cells, record));
            Assert.Equal(LineOutcome.Good, PushAll(reader, writer.Buffer[..writer.Length]));
            string? said = WireText.Describe(reader.Body, reader.BodyLength);
            Assert.True(said is not null, $"seed {seed}, case {i}: {Encoding.ASCII.GetString(writer.Buffer, 0, writer.Length)}");
            numbers += said.Contains('.', StringComparison.Ordinal) ? 1 : 0;
        }

        Assert.True(numbers > Rounds / 20, $"{numbers} lines with kilograms");
    }

    private static long Long(RandomLines lines, long largest)
        => long.Parse(lines.Number(-largest, largest), System.Globalization.CultureInfo.InvariantCulture);

    private static (CommandDesk Desk, BoardMemory Memory) NewDesk()
    {
        var memory = new BoardMemory(new FakeStore());
        memory.Load();
        return (new CommandDesk(memory, ResetReason.PowerOrExternal, "0.1.0"), memory);
    }

    /// <summary>A command with random arguments and how the part behind "ok" or "no" must begin.</summary>
    private static (BoardCommand Command, string Expected) Command(Random random, RandomLines lines, BoardMemory memory)
    {
        int cell = random.Next(1, 5);
        CellCalibration held = memory.Held.Calibration(cell - 1);
        switch (random.Next(9))
        {
            case 0: return (BoardCommand.Identify(), "identify,fourpatch,1,0.1.0,");
            case 1: return (BoardCommand.Stream(false), "stream,off");
            case 2: return (BoardCommand.Calibration(cell), $"calibration,{cell},{Fields(held)}");
            case 3:
                CellCalibration calibration = Calibration(lines);
                return (BoardCommand.Stage(cell, calibration), $"stage,{cell},{Fields(calibration)}");
            case 4:
                int zero = (int)Long(lines, CellCalibration.LargestZeroSixteenths);
                int uncertainty = random.Next(CellCalibration.LargestZeroUncertaintySixteenths + 1);
                return (BoardCommand.Zero(cell, zero, uncertainty), !held.IsCalibrated ? "not-calibrated" : IsFar(held, zero) ? "loaded" : $"zero,{cell},{zero},");
            case 5: return (BoardCommand.Name(cell), $"name,{cell},{memory.Held.CellName(cell - 1)}");
            case 6:
                string name = lines.Text(WireFormat.NameLengthMax, ' ');
                return (BoardCommand.StageName(cell, name), $"stage-name,{cell},{name}");
            case 7: return (BoardCommand.Discard(), "discard");
            default: return (BoardCommand.Commit(), "commit,");
        }
    }

    // PROTOCOL.md, section 6: further than 4 % of the capacity, when that is known.
    private static bool IsFar(CellCalibration held, long zeroSixteenths)
        => held.CapacityGrams > 0 && Math.Abs((zeroSixteenths - held.ZeroSixteenths) * (double)held.SpanPicokilograms * 6.25e-14) > 0.04 * held.CapacityGrams / 1000.0;

    private static CellCalibration Calibration(RandomLines lines)
    {
        byte[] line = WireText.Compose(lines.Calibration());
        var fields = new FieldReader();
        fields.Begin(line, Array.IndexOf(line, (byte)'*'));
        var calibration = new CellCalibration();
        Assert.True(fields.TryWord("A") && fields.TryNext() && fields.TryDecimal(0, 9999, out int _) && fields.TryNext() && fields.TryWord("ok")
            && fields.TryNext() && fields.TryWord("calibration") && fields.TryNext() && fields.TryDecimal(1, 4, out int _) && CalibrationFields.TryRead(fields, calibration));
        return calibration;
    }

    private static string Fields(CellCalibration c)
        => $"{c.ZeroSixteenths},{c.SpanPicokilograms},{c.CapacityGrams},{c.DateYyyymmdd},{c.SpanOwnPpm},{c.SpanReferencePpm},{c.ZeroUncertaintySixteenths},{c.LargestLoadGrams},{c.Reference}";

    private static LineOutcome PushAll(LineReader reader, byte[] bytes)
    {
        LineOutcome last = LineOutcome.None;
        foreach (byte value in bytes)
        {
            last = reader.Push(value);
        }

        return last;
    }
}
