using System;
using System.Device.Gpio;
using System.Threading;
using Fourpatch.Core.Rig;
using Fourpatch.Core.Wire;
using Fourpatch.Firmware.Amplifiers;
using Fourpatch.Firmware.Boards;
using nanoFramework.Hardware.Esp32;
using nanoFramework.Runtime.Native;

namespace Fourpatch.Firmware
{
    /// <summary>Wires the board together and goes round.</summary>
    public static class Program
    {
        /// <summary>Version in the identify answer.</summary>
        public const string Version = "0.1.0";

        /// <summary>Never returns.</summary>
        public static void Main()
        {
            Clock clock = new Clock();
            Supervisor supervisor = new Supervisor(clock);
            RestartReason reason = RestartReason.StartFailed;
            try
            {
                if (BoardPins.TryFind(SystemInfo.TargetName, out BoardPins pins))
                {
                    ResetReason resetReason = supervisor.TakeNote();
                    supervisor.Start();
                    AmplifierBank bank = Wire(pins, clock, supervisor, out SerialBytePort port);
                    RigController controller = new RigController(bank, port, new FlashRecordStore(), clock, resetReason, Version);
                    controller.Start();
                    bank.Start();
                    reason = RestartReason.SamplingFailed;
                    while (true)
                    {
                        controller.Step(clock.NowMicroseconds);
                        supervisor.NoteProgress();
                    }
                }

                Console.WriteLine("fourpatch: no pin table for this chip");
            }
            catch (Exception)
            {
                // The supervisor sees that nothing moves any more, notes this reason and restarts the board.
                supervisor.NoteFailure(reason);
            }

            Thread.Sleep(Timeout.Infinite);
        }

        private static AmplifierBank Wire(BoardPins pins, Clock clock, Supervisor supervisor, out SerialBytePort port)
        {
            Configuration.SetPinFunction(pins.ClockOut, DeviceFunction.SPI1_MOSI);
            Configuration.SetPinFunction(pins.DataIn, DeviceFunction.SPI1_MISO);
            Configuration.SetPinFunction(pins.Unconnected, DeviceFunction.SPI1_CLOCK);
            ChannelSelector selector = new ChannelSelector(new GpioController(), pins.SelectLow, pins.SelectHigh);
            AmplifierLine line = new AmplifierLine();
            port = new SerialBytePort(pins.SerialOut, pins.SerialIn, clock);
            Remarks remarks = new Remarks(port, clock);
            if (supervisor.HasNote)
            {
                remarks.TellOfRestart(supervisor.NotedReason, supervisor.NotedUptimeMilliseconds);
            }

            remarks.TellTiming(selector, line);
            return new AmplifierBank(selector, line, clock);
        }
    }
}
