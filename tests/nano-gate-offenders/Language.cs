// Each class is named after the rule it breaks, and breaks no other.
using System;

namespace Fourpatch.Offenders
{
    public class ForeignAssembly
    {
        public uint Checksum(byte[] bytes) { return Core.Wire.Crc32.Of(bytes, 0, bytes.Length); }
    }

    public class GenericType
    {
        public class Box<T> { }
    }

    public class GenericMethod
    {
        public void Do<T>() { }
    }

    public class GenericUse
    {
        public Action<int> Field;
    }

    public class MultiDimensionalArray
    {
        public int Corner(int[,] table) { return table[0, 0]; }
    }

    public class DefaultInterfaceMember
    {
        public interface IGreeter
        {
            int Greet() { return 1; }
        }
    }

    public class ExceptionFilter
    {
        public int Try(int depth)
        {
            try
            {
                throw new Exception();
            }
            catch (Exception) when (depth > 3)
            {
                return 1;
            }
        }
    }

    public class UnsafePointer
    {
        public unsafe int Sum()
        {
            int* four = stackalloc int[4];
            return four[0];
        }
    }

    public class CheckedArithmetic
    {
        public int Add(int a, int b) { return checked(a + b); }

        public byte Narrow(int a) { return checked((byte)a); }
    }

    public class HiddenVirtual
    {
        public class Parent
        {
            public virtual int Weight(int of) { return of; }
        }

        public class Child : Parent
        {
            public new int Weight(int of) { return of + 1; }
        }

        public class Renamed
        {
            public new virtual string ToString() { return null; }
        }
    }

    public class ForeignStatics
    {
        public class A
        {
            public static readonly int Value = Z.Value + 1;
        }

        public class B
        {
            public static readonly int Value = Indirect();

            private static int Indirect() { return Z.Value; }
        }

        public class Z
        {
            public static readonly int Value = int.Parse("4");
        }
    }
}
