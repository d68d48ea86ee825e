using System;
using System.IO.Ports;
using Fourpatch.Core.Rig;
using Fourpatch.Core.Wire;
using nanoFramework.Hardware.Esp32;

namespace Fourpatch.Firmware
{
    /// <summary>
    /// The serial line to the laptop. The runtime's own Read waits until all bytes asked for have come, and its Write
    /// waits for whatever does not fit into the chip's 128-byte buffer: this class asks only for what is there, and hands
    /// over only what fits, which it knows from the time that passed and the speed of the line. Called from one thread only.
    /// </summary>
    public sealed class SerialBytePort : IBytePort
    {
        // COM1 belongs to the runtime's debug link; COM2 is the same on every board of the pin tables.
        private const string PortName = "COM2";

        private const int InputBytes = 1024;
        private const int WaitingBytesMax = 1024;

        // The chip holds 128 bytes (ESP32 technical reference manual, UART controller); a few are kept free.
        private const int ChipBytes = 120;

        // Start bit, eight data bits, stop bit at 115200 bit/s: 86.8 us.
        private const int MicrosecondsPerByte = 87;

        // Handing over costs as much for one byte as for many.
        private const int WorthHandingOver = 48;

        private readonly SerialPort _port;
        private readonly IClock _clock;
        private readonly byte[] _waiting = new byte[WaitingBytesMax];
        private int _first;
        private int _count;
        private long _chipEmptyMicroseconds;

        /// <summary>Opens the port on its two pins.</summary>
        public SerialBytePort(int serialOutPin, int serialInPin, IClock clock)
        {
            _clock = clock;
            Configuration.SetPinFunction(serialOutPin, DeviceFunction.COM2_TX);
            Configuration.SetPinFunction(serialInPin, DeviceFunction.COM2_RX);
            _port = new SerialPort(PortName, WireFormat.BitsPerSecond);
            _port.ReadBufferSize = InputBytes;
            _port.Open();
        }

        /// <inheritdoc/>
        public int Read(byte[] buffer, int offset, int count)
        {
            // The controller takes its input once a turn; what waits to go out moves on with it.
            if (_count > 0)
            {
                HandOver();
            }

            int there = _port.BytesToRead;
            if (there <= 0)
            {
                return 0;
            }

            return _port.Read(buffer, offset, there < count ? there : count);
        }

        /// <inheritdoc/>
        public bool TryWrite(byte[] buffer, int offset, int count)
        {
            if (count > WaitingBytesMax - _count)
            {
                return false;
            }

            int end = _first + _count;
            if (end >= WaitingBytesMax)
            {
                end -= WaitingBytesMax;
            }

            int untilWrap = WaitingBytesMax - end;
            if (count <= untilWrap)
            {
                Array.Copy(buffer, offset, _waiting, end, count);
            }
            else
            {
                Array.Copy(buffer, offset, _waiting, end, untilWrap);
                Array.Copy(buffer, offset + untilWrap, _waiting, 0, count - untilWrap);
            }

            _count += count;
            HandOver();
            return true;
        }

        private void HandOver()
        {
            long now = _clock.NowMicroseconds;
            if (_chipEmptyMicroseconds < now)
            {
                _chipEmptyMicroseconds = now;
            }

            int room = ChipBytes - (int)((_chipEmptyMicroseconds - now + MicrosecondsPerByte - 1) / MicrosecondsPerByte);
            int count = _count < room ? _count : room;
            if (count <= 0 || (count < _count && count < WorthHandingOver))
            {
                return;
            }

            int untilWrap = WaitingBytesMax - _first;
            if (count > untilWrap)
            {
                count = untilWrap;
            }

            _port.Write(_waiting, _first, count);
            _first = count == untilWrap ? 0 : _first + count;
            _count -= count;
            _chipEmptyMicroseconds += count * MicrosecondsPerByte;
        }
    }
}
