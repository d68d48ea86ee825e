using Fourpatch.Core.Rig;
using nanoFramework.Hardware.Esp32;

namespace Fourpatch.Firmware
{
    /// <summary>Microseconds from the chip's own timer. May be read from any thread.</summary>
    public sealed class Clock : IClock
    {
        /// <summary>Microseconds since boot.</summary>
        public long NowMicroseconds
        {
            get { return (long)HighResTimer.GetCurrent(); }
        }
    }
}
