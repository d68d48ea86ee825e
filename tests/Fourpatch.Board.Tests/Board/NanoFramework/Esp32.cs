using Fourpatch.Board.Simulation;

namespace nanoFramework.Hardware.Esp32
{
    public enum DeviceFunction
    {
        SPI1_MOSI = 65792,
        SPI1_MISO = 65793,
        SPI1_CLOCK = 65794,
        COM2_TX = 197120,
        COM2_RX = 197121,
    }

    public class Configuration
    {
        public static void SetPinFunction(int pin, DeviceFunction value) => SimulatedBoard.Current.SetPinFunction((int)value, pin);
    }

    public class HighResTimer : System.IDisposable
    {
        public static ulong GetCurrent()
        {
            SimulatedBoard board = SimulatedBoard.Current;
            board.Spend(board.Costs.SmallCall);
            return (ulong)(board.SinceBoot / 1000);
        }

        public void Dispose()
        {
        }
    }
}
