namespace Fourpatch.Firmware.Boards
{
    /// <summary>
    /// An ESP32-S3 development board. Not used on purpose: 0, 3, 45, 46 (read at reset), 19 and 20 (USB),
    /// 26 to 37 (flash and memory of the larger modules), 43 and 44 (programming port).
    /// </summary>
    public static class Esp32S3DevKit
    {
        /// <summary>The table.</summary>
        public static BoardPins Pins()
        {
            return new BoardPins
            {
                ClockOut = 11,
                DataIn = 13,
                Unconnected = 12,
                SelectLow = 4,
                SelectHigh = 5,
                SerialOut = 17,
                SerialIn = 18,
            };
        }
    }
}
