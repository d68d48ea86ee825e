using System.Device.Spi;

namespace Iot.Device.Hx711
{
    public enum GainLevel : byte { None = 0, GainB32 = 160, GainA64 = 168, GainA128 = 128 }

    public class Scale
    {
        public const int DefaultClockFrequency = 700000;
        private readonly SpiDevice _device;

        public Scale(SpiDevice spiDevice, GainLevel gain = GainLevel.GainA128)
        {
            _device = spiDevice;
            Gain = gain;
        }

        public GainLevel Gain { get; set; }

        // As the package does it: 64 bits high at 700 kHz are 91 us.
        public void PowerDown() => _device.Write(new ushort[] { 0xFFFF, 0xFFFF, 0xFFFF, 0xFFFF });
    }
}
