using Fourpatch.Board.Simulation;

namespace System.Device.Gpio
{
    public enum PinMode
    {
        Input = 0,
        InputPullDown = 1,
        InputPullUp = 2,
        Output = 3,
        OutputOpenDrain = 4,
        OutputOpenDrainPullUp = 5,
        OutputOpenSource = 6,
        OutputOpenSourcePullDown = 7,
    }

    public struct PinValue
    {
        private readonly bool _isHigh;

        private PinValue(bool isHigh)
        {
            _isHigh = isHigh;
        }

        public static PinValue High => new PinValue(true);

        public static PinValue Low => new PinValue(false);

        public static explicit operator bool(PinValue value) => value._isHigh;
    }

    public sealed class GpioController : IDisposable
    {
        public GpioPin OpenPin(int pinNumber, PinMode mode)
        {
            if (mode != PinMode.Output)
            {
                throw new NotSupportedException("only outputs are simulated");
            }

            SimulatedBoard.Current.OpenPin(pinNumber);
            return new GpioPin(pinNumber);
        }

        public void Dispose()
        {
        }
    }

    public sealed class GpioPin : IDisposable
    {
        internal GpioPin(int pinNumber)
        {
            PinNumber = pinNumber;
        }

        public int PinNumber { get; }

        public void Write(PinValue value) => SimulatedBoard.Current.WritePin(PinNumber, (bool)value);

        public void Dispose()
        {
        }
    }
}
