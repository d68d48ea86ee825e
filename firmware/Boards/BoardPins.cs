namespace Fourpatch.Firmware.Boards
{
    /// <summary>Which pins of a board do what. Every number is a GPIO number, as printed on the board.</summary>
    public sealed class BoardPins
    {
        /// <summary>Drives PD_SCK of the selected amplifier (the SPI data output makes its clock).</summary>
        public int ClockOut;

        /// <summary>Reads DOUT of the selected amplifier (the SPI data input).</summary>
        public int DataIn;

        /// <summary>The SPI clock itself. Nothing is connected, but the driver wants a pin for it.</summary>
        public int Unconnected;

        /// <summary>Low bit of the selector's address.</summary>
        public int SelectLow;

        /// <summary>High bit of the selector's address.</summary>
        public int SelectHigh;

        /// <summary>Serial output to the USB adapter.</summary>
        public int SerialOut;

        /// <summary>Serial input from the USB adapter.</summary>
        public int SerialIn;

        /// <summary>The pin table for a runtime image.</summary>
        /// <param name="targetName">As the runtime names itself, for instance ESP32_REV0 or ESP32_S3_QUAD.</param>
        /// <param name="pins">The table, or null.</param>
        /// <returns>False for a chip without a table here.</returns>
        public static bool TryFind(string targetName, out BoardPins pins)
        {
            pins = null;
            if (targetName.IndexOf("ESP32_S3") == 0)
            {
                pins = Esp32S3DevKit.Pins();
            }
            else if (targetName.IndexOf("ESP32") == 0 && targetName.IndexOf("ESP32_C") != 0 && targetName.IndexOf("ESP32_H2") != 0
                && targetName.IndexOf("ESP32_P4") != 0 && targetName.IndexOf("ESP32_S2") != 0)
            {
                pins = Esp32DevKit.Pins();
            }

            return pins != null;
        }
    }
}
