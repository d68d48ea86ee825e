using System.Device.Gpio;

namespace Fourpatch.Firmware.Amplifiers
{
    /// <summary>
    /// The 74HC4052: leads clock and data lines to one amplifier at a time. Cells 1, 2, 3, 4 sit at its channels
    /// 0, 1, 3, 2 (a Gray sequence), so that going round changes one select line a step and never passes a third
    /// channel on the way. The clock line is low whenever this moves. Not thread-safe.
    /// </summary>
    public sealed class ChannelSelector
    {
        private readonly GpioPin _low;
        private readonly GpioPin _high;
        private int _channel;

        /// <summary>Takes the two select pins and points at cell 1.</summary>
        public ChannelSelector(GpioController gpio, int lowPin, int highPin)
        {
            _low = gpio.OpenPin(lowPin, PinMode.Output);
            _high = gpio.OpenPin(highPin, PinMode.Output);
            _low.Write(PinValue.Low);
            _high.Write(PinValue.Low);
        }

        /// <summary>Points at a cell, 0 to 3. Does nothing when it is selected already.</summary>
        public void Select(int cellIndex)
        {
            int channel = cellIndex ^ (cellIndex >> 1);
            int changed = channel ^ _channel;
            _channel = channel;
            if ((changed & 1) != 0)
            {
                _low.Write((channel & 1) != 0 ? PinValue.High : PinValue.Low);
            }

            if ((changed & 2) != 0)
            {
                _high.Write((channel & 2) != 0 ? PinValue.High : PinValue.Low);
            }
        }

        /// <summary>Writes the low select pin once more at the level it has; for measuring what a write costs.</summary>
        public void Rewrite()
        {
            _low.Write((_channel & 1) != 0 ? PinValue.High : PinValue.Low);
        }
    }
}
