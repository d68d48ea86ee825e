using System.Collections.Generic;
using Fourpatch.Board.Simulation;

namespace System.Device.Spi
{
    public enum DataFlow { MsbFirst = 0, LsbFirst = 1 }

    public enum SpiBusConfiguration { FullDuplex = 0, HalfDuplex = 1, Simplex = 2 }

    public enum SpiMode { Mode0 = 0, Mode1 = 1, Mode2 = 2, Mode3 = 3 }

    public sealed class SpiConnectionSettings
    {
        public SpiConnectionSettings(int busId, int chipSelectLine = -1)
        {
            BusId = busId;
            ChipSelectLine = chipSelectLine;
        }

        public int BusId { get; set; }

        public int ChipSelectLine { get; set; }

        public SpiMode Mode { get; set; }

        public int DataBitLength { get; set; }

        public int ClockFrequency { get; set; }

        public DataFlow DataFlow { get; set; }

        public SpiBusConfiguration Configuration { get; set; }
    }

    /// <summary>As the ESP32's driver behaves: all three pins must be assigned, and only one device without chip select may be open.</summary>
    public class SpiDevice : IDisposable
    {
        private const int Mosi = 65792;
        private static SimulatedBoard s_openOn;
        private static long s_openSince;

        public SpiDevice(SpiConnectionSettings settings)
        {
            SimulatedBoard board = SimulatedBoard.Current;
            for (int function = Mosi; function < Mosi + 3; function++)
            {
                if (board.FunctionPin(function) < 0)
                {
                    throw new ArgumentException("an SPI pin is not assigned");
                }
            }

            if (settings.BusId != 1 || settings.ChipSelectLine != -1 || settings.Mode != SpiMode.Mode0 || settings.DataFlow != DataFlow.MsbFirst
                || settings.Configuration != SpiBusConfiguration.FullDuplex)
            {
                throw new NotSupportedException("only what is simulated");
            }

            if (s_openOn == board && s_openSince == board.Boots)
            {
                throw new InvalidOperationException("the bus has a device without chip select already");
            }

            s_openOn = board;
            s_openSince = board.Boots;
            ConnectionSettings = settings;

            // Opening sends a transfer of four zero bytes.
            board.Transfer(new byte[4], new byte[4], settings.ClockFrequency);
        }

        public SpiConnectionSettings ConnectionSettings { get; }

        public static SpiDevice Create(SpiConnectionSettings settings) => new SpiDevice(settings);

        public void TransferFullDuplex(SpanByte writeBuffer, SpanByte readBuffer)
        {
            SimulatedBoard.Current.Transfer(writeBuffer.Bytes, readBuffer.Bytes, ConnectionSettings.ClockFrequency);
        }

        public void Write(ushort[] buffer)
        {
            List<byte> bytes = new List<byte>();
            foreach (ushort word in buffer)
            {
                bytes.Add((byte)(word >> 8));
                bytes.Add((byte)word);
            }

            SimulatedBoard.Current.Transfer(bytes.ToArray(), default, ConnectionSettings.ClockFrequency);
        }

        // The last device of a bus lets the data line float up, which powers an HX711 down.
        public void Dispose() => throw new NotSupportedException("the device must stay open");
    }
}
