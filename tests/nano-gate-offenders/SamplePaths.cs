// Paths that allocate, each in its own way, and none in another.
using System;

namespace Fourpatch.Offenders
{
    public struct Pair
    {
        public int First;

        public Pair(int first) { First = first; }
    }

    public class NewObject
    {
        private int _seen;

        public object Step() { return Deeper(); }

        public Action Delegate() { return Count; }

        private object Deeper() { return new NewObject(); }

        private void Count() { _seen++; }
    }

    public class NewArray
    {
        public int[] Step() { return new int[4]; }
    }

    public class Boxing
    {
        public object Step(Pair pair) { return pair; }
    }

    public class StringLiteral
    {
        public int Step() { return "kg".Length; }
    }

    public class OutsideCall
    {
        public string Step(string a, string b) { return a + b; }

        public string Text(object value) { return value.ToString(); }
    }

    public class InterfaceDispatch
    {
        public interface IInner
        {
            object Make();
        }

        public class Inner : IInner
        {
            public object Make() { return new int[1]; }
        }

        public class Parent
        {
            public virtual object Grow() { return null; }
        }

        public class Child : Parent
        {
            public override object Grow() { return new Child(); }
        }

        public void Step(IInner inner, Parent parent)
        {
            inner.Make();
            parent.Grow();
        }
    }

    public class Boundary
    {
        public interface IBoard
        {
            object Read();
        }

        public class Board : IBoard
        {
            public object Read() { return new int[1]; }
        }

        public object Step(IBoard board) { return board.Read(); }
    }
}
