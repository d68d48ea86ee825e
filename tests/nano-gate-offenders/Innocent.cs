// Close to every rule, and breaking none.
using System;

namespace Fourpatch.Offenders
{
    public class Innocent
    {
        public interface IGreeter
        {
            int Greet();
        }

        public class Parent
        {
            public virtual int Weight(int of) { return of; }

            public int Plain() { return 1; }

            public override string ToString() { return "parent"; }
        }

        public class Child : Parent, IGreeter
        {
            public override int Weight(int of) { return of + 1; }

            public int Weight(string of) { return of.Length; }

            public new int Plain() { return 2; }

            public int Greet() { return 3; }
        }

        public enum Side { Left, Right }

        private const double Half = 0.5;
        private static readonly int[] Table = { 1, 2, 3 };
        private static readonly int Sum = Table[0] + Table[1];
        private static readonly string Word = "kg";

        private readonly int[][] _jagged = new int[2][];
        private int _seen;

        public int Step(in Pair pair, Side side)
        {
            Pair other = new Pair(pair.First);
            _seen = unchecked(_seen + other.First);
            int text = Word.Length + Word[0];
            switch (side)
            {
                case Side.Left: return (_seen / 10) + (_seen % 7) + text + Sum;
                default: return (int)((double)_seen / 2.0 * Half) + _jagged.Length;
            }
        }

        public long Wide(long value, ulong other) { return (value / 100) + (long)(other / 10); }

        public string Text(int value) { return "n" + value.ToString() + value.ToString("X2"); }

        public int Caught()
        {
            try
            {
                return 1;
            }
            catch (Exception)
            {
                return 2;
            }
        }

        public Action Later()
        {
            int seen = _seen;
            return () => _seen = seen;
        }
    }
}
