namespace System.Device.Spi
{
    public enum DataFlow { MsbFirst = 0, LsbFirst = 1 }

    public enum SpiBusConfiguration { FullDuplex = 0, HalfDuplex = 1, Simplex = 2 }

    public enum SpiMode { Mode0 = 0, Mode1 = 1, Mode2 = 2, Mode3 = 3 }

    public sealed class SpiConnectionSettings
    {
        public extern SpiConnectionSettings(int busId, int chipSelectLine = -1);
        public extern int BusId { get; set; }
        public extern int ChipSelectLine { get; set; }
        public extern SpiMode Mode { get; set; }
        public extern int DataBitLength { get; set; }
        public extern int ClockFrequency { get; set; }
        public extern DataFlow DataFlow { get; set; }
        public extern SpiBusConfiguration Configuration { get; set; }
    }

    public class SpiDevice : IDisposable
    {
        public extern SpiDevice(SpiConnectionSettings settings);
        public extern SpiConnectionSettings ConnectionSettings { get; }
        public extern static SpiDevice Create(SpiConnectionSettings settings);
        public extern byte ReadByte();
        public extern void Read(SpanByte buffer);
        public extern void WriteByte(byte value);
        public extern void Write(ushort[] buffer);
        public extern void Write(SpanByte buffer);
        public extern void TransferFullDuplex(ushort[] writeBuffer, ushort[] readBuffer);
        public extern void TransferFullDuplex(SpanByte writeBuffer, SpanByte readBuffer);
        public extern void Dispose();
    }
}
