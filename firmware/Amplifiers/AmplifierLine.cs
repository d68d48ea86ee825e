using System;
using System.Device.Spi;
using Iot.Device.Hx711;
using Fourpatch.Core.Cells;

namespace Fourpatch.Firmware.Amplifiers
{
    /// <summary>
    /// The two wires to the selected HX711. The SPI data output is PD_SCK, the SPI data input reads DOUT; every pulse is
    /// the bit pair 10, so that hardware holds PD_SCK high for 1.4 us (datasheet: 0.2 to 50 us), which managed code cannot.
    /// Gain 128 of channel A always: 25 pulses. One device, opened once and never closed: closing would let PD_SCK rise.
    /// Not thread-safe.
    /// </summary>
    public sealed class AmplifierLine
    {
        private const int SpiBus = 1;
        private const int NoChipSelect = -1;
        private const byte PulsePairs = 0xAA;

        // A silent byte that must still find DOUT low; 24 bits in six bytes; the pulse that sets the gain; then as many silent
        // bytes as the longest update of the chip (75 us) lasts at 700 kHz: an update that began in the train shows before they end.
        private const int FirstDataByte = 1;
        private const int GainByte = 7;
        private const int TrainBytes = 15;

        private const byte AllHigh = 0xFF;
        private const int NotClean = 0x80;

        // Four bits of two equal samples each to their value; NotClean when the two samples of a bit differ.
        private static readonly byte[] NibbleOf = BuildNibbles();

        private readonly SpiDevice _device;
        private readonly Scale _scale;
        private readonly byte[] _silence = new byte[1];
        private readonly byte[] _look = new byte[1];
        private readonly byte[] _train = new byte[TrainBytes];
        private readonly byte[] _answer = new byte[TrainBytes];

        /// <summary>Opens the SPI device; its three pins must have been assigned before.</summary>
        public AmplifierLine()
        {
            SpiConnectionSettings settings = new SpiConnectionSettings(SpiBus, NoChipSelect);
            settings.ClockFrequency = Scale.DefaultClockFrequency;
            _device = SpiDevice.Create(settings);
            _scale = new Scale(_device, GainLevel.GainA128);
            for (int i = FirstDataByte; i < GainByte; i++)
            {
                _train[i] = PulsePairs;
            }

            _train[GainByte] = (byte)GainLevel.GainA128;
        }

        /// <summary>Counts of the last train whose bits were clean.</summary>
        public int Counts { get; private set; }

        /// <summary>Looks at DOUT without moving PD_SCK.</summary>
        public DataLevel Look()
        {
            _device.TransferFullDuplex(new SpanByte(_silence), new SpanByte(_look));
            byte seen = _look[0];
            if (seen == 0)
            {
                return DataLevel.Low;
            }

            return seen == AllHigh ? DataLevel.High : DataLevel.Mixed;
        }

        /// <summary>Clocks a result out of the selected amplifier into <see cref="Counts"/>.</summary>
        public BurstResult Read()
        {
            _device.TransferFullDuplex(new SpanByte(_train), new SpanByte(_answer));
            byte[] seen = _answer;
            byte[] nibbleOf = NibbleOf;

            // Written out: as a loop this takes twice the instructions, and they are what limits the rate.
            int first = nibbleOf[seen[1]];
            int second = nibbleOf[seen[2]];
            int third = nibbleOf[seen[3]];
            int fourth = nibbleOf[seen[4]];
            int fifth = nibbleOf[seen[5]];
            int sixth = nibbleOf[seen[6]];
            int dirt = (first | second | third | fourth | fifth | sixth) & NotClean;
            int tail = seen[7] & seen[8] & seen[9] & seen[10] & seen[11] & seen[12] & seen[13] & seen[14];
            if (dirt == 0)
            {
                Counts = BridgeCounts.FromBits((first << 20) | (second << 16) | (third << 12) | (fourth << 8) | (fifth << 4) | sixth);
            }

            if (tail == AllHigh)
            {
                // High before the first pulse too: it was updating just then, or has restarted.
                return seen[0] != 0 ? BurstResult.Overtaken : dirt == 0 ? BurstResult.Good : BurstResult.Broken;
            }

            return seen[GainByte] == AllHigh && seen[TrainBytes - 1] == 0 ? BurstResult.Overtaken : BurstResult.Broken;
        }

        /// <summary>
        /// Holds PD_SCK high for longer than 60 us and lets it fall: the chip starts afresh at channel A, gain 128
        /// (datasheet, "power down"; whichever way its editions are read, the next train sets that gain anyway).
        /// </summary>
        public void Restart()
        {
            _scale.PowerDown();
        }

        private static byte[] BuildNibbles()
        {
            byte[] table = new byte[256];
            for (int seen = 0; seen < 256; seen++)
            {
                int value = 0;
                int dirt = 0;
                for (int shift = 6; shift >= 0; shift -= 2)
                {
                    int pair = (seen >> shift) & 3;
                    value = (value << 1) | (pair & 1);
                    if (pair == 1 || pair == 2)
                    {
                        dirt = NotClean;
                    }
                }

                table[seen] = (byte)(value | dirt);
            }

            return table;
        }
    }
}
