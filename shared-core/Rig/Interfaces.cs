using Fourpatch.Core.Cells;

namespace Fourpatch.Core.Rig
{
    /// <summary>One conversion as the amplifier gave it. Reused; not thread-safe.</summary>
    public sealed class Conversion
    {
        /// <summary>Signed 24-bit result.</summary>
        public int Counts;

        /// <summary>Ok, Settling, SaturatedHigh, SaturatedLow, Desync, ClockStretched or Overlapped.</summary>
        public SampleStatus Status;

        /// <summary>
        /// Board time at which the result became ready, as well as is known: microseconds since boot, going up from one
        /// conversion of a cell to its next. Cells taken in the same step may come in any order.
        /// </summary>
        public long TimeMicroseconds;
    }

    /// <summary>Four bridge amplifiers. Called from one thread only.</summary>
    public interface IAmplifierBank
    {
        /// <summary>Looks once at a cell (0 to 3) and takes its conversion when one is ready. Never waits for one.</summary>
        /// <returns>False when none is ready.</returns>
        bool TryTake(int cellIndex, Conversion conversion);

        /// <summary>NoDevice when the cell's (0 to 3) amplifier has missed its deadline, Desync while what comes cannot be its own, Settling after a reset, else Ok.</summary>
        SampleStatus Health(int cellIndex);
    }

    /// <summary>The serial line. Called from one thread only; nothing blocks.</summary>
    public interface IBytePort
    {
        /// <summary>Takes what has come, at most <paramref name="count"/> bytes.</summary>
        /// <returns>Bytes taken, 0 when nothing has come.</returns>
        int Read(byte[] buffer, int offset, int count);

        /// <summary>Hands over all bytes or none.</summary>
        /// <returns>False when there is no room; nothing was taken then.</returns>
        bool TryWrite(byte[] buffer, int offset, int count);
    }

    /// <summary>Small records that survive power loss: a write either happened or did not. Called from one thread only.</summary>
    public interface IRecordStore
    {
        /// <summary>Reads a record.</summary>
        /// <param name="record">Which one: <see cref="BoardMemory.CalibrationRecord"/> or <see cref="BoardMemory.BootRecord"/>.</param>
        /// <param name="buffer">Receives the bytes.</param>
        /// <returns>Bytes read, or -1 when there is no intact record of at most the buffer's length.</returns>
        int Read(int record, byte[] buffer);

        /// <summary>Writes a record, closes it and reads it back.</summary>
        /// <returns>False when it could not be written or did not read back; the old record is then still there.</returns>
        bool TryWrite(int record, byte[] buffer, int count);
    }

    /// <summary>Time since boot.</summary>
    public interface IClock
    {
        /// <summary>Microseconds since boot; never goes back.</summary>
        long NowMicroseconds { get; }
    }
}
