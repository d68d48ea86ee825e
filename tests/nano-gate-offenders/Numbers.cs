using System;

namespace System
{
    // The board's mscorlib has no Math; its package of that name is recognised by this name.
    public static class Math
    {
        public static double Sqrt(double value) { return value; }
    }
}

namespace Fourpatch.Offenders
{
    public class SystemMath
    {
        public double Root(double value) { return Math.Sqrt(value); }
    }

    public class EnumText
    {
        public enum Side { Left, Right }

        public string Text(Side side) { return side.ToString(); }

        public object Boxed(DayOfWeek day) { return day; }
    }

    public class FloatingPointText
    {
        public string Plain(double value) { return value.ToString(); }

        public string Fixed(float value) { return value.ToString("F3"); }

        public object Boxed(double value) { return value; }
    }

    public class FormattedText
    {
        public string Called(string text) { return string.Format("<{0}>", text); }

        public string Interpolated(int value) { return $"<{value}>"; }
    }

    public class NumberPattern
    {
        public string Custom(int value) { return value.ToString("0.00"); }

        public string Unknown(long value, string pattern) { return value.ToString(pattern); }
    }

    public class UnsafeDivision
    {
        public double Divide(double a, double b) { return a / b; }

        public int Remainder(int a, int b) { return a % b; }

        public double ByZero(double a) { return a / 0.0; }

        public int ByMinusOne(int a, int b) { return a / -1; }

        public uint Chosen(uint a, bool five) { return a / (five ? 5u : 7u); }
    }

    public class NotANumber
    {
        public double Nothing() { return double.NaN; }

        public float Endless() { return float.PositiveInfinity; }

        public double FromBits(long bits) { return BitConverter.Int64BitsToDouble(bits); }
    }

    public class MisleadingMember
    {
        public DateTime Start() { return DateTime.MinValue; }
    }
}
