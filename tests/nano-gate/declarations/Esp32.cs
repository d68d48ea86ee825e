namespace nanoFramework.Hardware.Esp32
{
    public class Configuration
    {
        public extern Configuration();
        public extern static void SetPinFunction(int pin, DeviceFunction value);
        public extern static int GetFunctionPin(DeviceFunction function);
    }

    public enum DeviceFunction
    {
        SPI1_MOSI = 65792,
        SPI1_MISO = 65793,
        SPI1_CLOCK = 65794,
        COM2_TX = 197120,
        COM2_RX = 197121,
    }

    public class HighResTimer : System.IDisposable
    {
        public extern HighResTimer();
        public extern static ulong GetCurrent();
        public extern void Dispose();
    }
}
