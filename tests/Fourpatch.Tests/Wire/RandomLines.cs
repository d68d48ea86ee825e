using System.Globalization;
using Fourpatch.Core.Cells;

namespace Fourpatch.Tests.Wire;

/// <summary>Random values of every kind of line, in the words of the golden vectors; edges come up often.</summary>
internal sealed class RandomLines(Random random)
{
    private const string Letters = "kshlndcou";

    public string Next() => random.Next(8) switch
    {
        0 => Heartbeat(),
        1 => Counters(),
        2 => $"gap reason={(random.Next(2) == 0 ? "flash" : "late-loop")} start_us={UInt()} duration_us={UInt()}",
        3 => Identity(),
        4 => Calibration(),
        _ => Sample(),
    };

    public string Sample()
    {
        int[] cells = [1, 2, 3, 4];
        random.Shuffle(cells);
        IEnumerable<string> conversions = cells[..random.Next(1, 5)]
            .Select(cell => $"{cell}:{Letter()}:{Number(0, 255)}:{Number(0, 4095)}:{Number(BridgeCounts.Lowest, BridgeCounts.Highest)}");
        return $"sample line={Number(0, 65535)} base={UInt()} {string.Join(' ', conversions)}";
    }

    public string Heartbeat()
        => $"heartbeat boot={UInt()} uptime_ms={UInt()} streaming={random.Next(2)} health={Letter()}{Letter()}{Letter()}{Letter()} bad={Number(0, 65535)} unsent={Number(0, 65535)}";

    public string Counters()
        => $"counters cell={Number(1, 4)} read={UInt()} delivered={UInt()} idle={UInt()} settling={UInt()} overlapped={UInt()} desynced={UInt()} unsent={UInt()} suspect={UInt()} missed={UInt()}";

    public string Identity()
        => $"identity number={Number(0, 9999)} protocol=1 firmware={Text(12, '!')} board={Text(12, '!')} boot={UInt()} reset={(random.Next(2) == 0 ? "watchdog" : "power-or-external")} commit={UInt()} checksum={UInt()}";

    public string Calibration()
        => $"calibration number={Number(0, 9999)} cell={Number(1, 4)} "
            + $"zero_sixteenths={Number(-CellCalibration.LargestZeroSixteenths, CellCalibration.LargestZeroSixteenths)} "
            + $"span_picokg={Number(-CellCalibration.LargestSpanPicokilograms, CellCalibration.LargestSpanPicokilograms)} "
            + $"capacity_g={Number(0, CellCalibration.LargestGrams)} date={Number(0, 99991231)} span_own_ppm={Number(0, CellCalibration.LargestPpm)} "
            + $"span_reference_ppm={Number(0, CellCalibration.LargestPpm)} zero_u_sixteenths={Number(0, CellCalibration.LargestZeroUncertaintySixteenths)} "
            + $"largest_load_g={Number(0, CellCalibration.LargestGrams)} reference={Text(20, ' ')}";

    /// <summary>An end of the range, a number next to one or to 0, one of a random number of digits, or any in the range.</summary>
    public string Number(long lowest, long highest)
    {
        long value = random.Next(4) switch
        {
            0 => random.Next(2) == 0 ? lowest : highest,
            1 => random.NextInt64(-2, 3) + (random.Next(3) switch { 0 => lowest, 1 => highest, _ => 0 }),
            2 => random.NextInt64(lowest, highest + 1) >> random.Next(40),
            _ => random.NextInt64(lowest, highest + 1),
        };
        return Math.Clamp(value, lowest, highest).ToString(CultureInfo.InvariantCulture);
    }

    private string UInt() => Number(0, uint.MaxValue);

    private char Letter() => Letters[random.Next(Letters.Length)];

    /// <summary>Text of up to so many characters that may stand in a field, none below the first.</summary>
    public string Text(int longest, char first)
    {
        int length = random.Next(longest + 1);
        char[] characters = new char[length];
        for (int i = 0; i < length; i++)
        {
            do
            {
                characters[i] = (char)random.Next(first, '~' + 1);
            }
            while (characters[i] is ',' or '*' or '"');
        }

        return new string(characters);
    }
}
