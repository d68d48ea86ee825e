namespace Fourpatch.Firmware.Boards
{
    /// <summary>
    /// A plain ESP32 development board. Not used on purpose: 0, 2, 5, 12, 15 (read at reset), 1 and 3 (programming port),
    /// 6 to 11 (flash), 16 and 17 (taken by the memory of some modules), 34 to 39 (inputs only).
    /// </summary>
    public static class Esp32DevKit
    {
        /// <summary>The table.</summary>
        public static BoardPins Pins()
        {
            return new BoardPins
            {
                ClockOut = 23,
                DataIn = 19,
                Unconnected = 18,
                SelectLow = 25,
                SelectHigh = 26,
                SerialOut = 33,
                SerialIn = 32,
            };
        }
    }
}
