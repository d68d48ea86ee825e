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
        public extern static PinValue High { get; }
        public extern static PinValue Low { get; }
        public extern static implicit operator PinValue(int value);
        public extern static implicit operator PinValue(bool value);
        public extern static explicit operator bool(PinValue value);
    }

    public sealed class GpioController : IDisposable
    {
        public extern GpioController();
        public extern GpioPin OpenPin(int pinNumber);
        public extern GpioPin OpenPin(int pinNumber, PinMode mode);
        public extern void ClosePin(int pinNumber);
        public extern void Dispose();
    }

    public sealed class GpioPin : IDisposable
    {
        internal extern GpioPin();
        public extern int PinNumber { get; }
        public extern PinMode GetPinMode();
        public extern void SetPinMode(PinMode value);
        public extern PinValue Read();
        public extern void Write(PinValue value);
        public extern void Toggle();
        public extern void Dispose();
    }
}
