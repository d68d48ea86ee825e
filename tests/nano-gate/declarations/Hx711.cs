using System.Device.Spi;

namespace Iot.Device.Hx711
{
    public enum GainLevel : byte { None = 0, GainB32 = 160, GainA64 = 168, GainA128 = 128 }

    public class Scale
    {
        public const int DefaultClockFrequency = 700000;
        public extern Scale(SpiDevice spiDevice, GainLevel gain = GainLevel.GainA128);
        public extern double Offset { get; set; }
        public extern GainLevel Gain { get; set; }
        public extern uint SampleAveraging { get; set; }
        public extern double Read();
        public extern void Tare();
        public extern void PowerDown();
        public extern void PowerUp(GainLevel gain = GainLevel.None);
    }
}
