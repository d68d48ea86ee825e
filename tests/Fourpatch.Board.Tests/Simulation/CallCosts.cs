namespace Fourpatch.Board.Simulation;

/// <summary>
/// What calls cost on the board, in nanoseconds. Assumptions, to be replaced by what the firmware's own timing line says
/// at the first power-up. The pin write is what a user of the runtime reported in 2022; the rest is estimated.
/// </summary>
public sealed record CallCosts
{
    /// <summary>One managed pin write.</summary>
    public long PinWrite { get; init; } = 300_000;

    /// <summary>One SPI transfer of a byte, bits included; longer ones add their bits.</summary>
    public long SpiTransfer { get; init; } = 150_000;

    /// <summary>Handing bytes to the serial port.</summary>
    public long SerialWrite { get; init; } = 200_000;

    /// <summary>Taking bytes from the serial port.</summary>
    public long SerialRead { get; init; } = 200_000;

    /// <summary>Any small native call: the clock, the number of bytes waiting, an interlocked operation.</summary>
    public long SmallCall { get; init; } = 10_000;

    /// <summary>One instruction of managed code.</summary>
    public long Instruction { get; init; } = 700;

    /// <summary>Opening and reading a small file.</summary>
    public long FlashRead { get; init; } = 3_000_000;

    /// <summary>Writing and closing a small file; blocks the whole runtime.</summary>
    public long FlashWrite { get; init; } = 80_000_000;

    /// <summary>From reset to the first instruction of the program.</summary>
    public long Boot { get; init; } = 800_000_000;

    /// <summary>A thread may run this long when another one is ready.</summary>
    public long ThreadSlice { get; init; } = 20_000_000;
}
