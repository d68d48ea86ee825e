namespace Fourpatch.Tests.Gate.Dialect;

/// <summary>What the board's runtime cannot run, runs wrongly, or what the sample path must not do, as far as compiled code shows it.</summary>
public enum NanoRule
{
    /// <summary>A reference to an assembly the board does not carry.</summary>
    ForeignAssembly,

    /// <summary>A generic type is declared: the image does not load.</summary>
    GenericType,

    /// <summary>A generic method is declared: the image does not load.</summary>
    GenericMethod,

    /// <summary>A generic type or method is used, be it from mscorlib (Action of T).</summary>
    GenericUse,

    /// <summary>int[,]; jagged arrays are fine.</summary>
    MultiDimensionalArray,

    /// <summary>An interface method with a body: calling it throws.</summary>
    DefaultInterfaceMember,

    /// <summary>System.Math computes in single precision on an ESP32.</summary>
    SystemMath,

    /// <summary>An enum made into text or boxed: prints its number.</summary>
    EnumText,

    /// <summary>A double or float made into text or boxed: digits differ from .NET, large ones are wrong.</summary>
    FloatingPointText,

    /// <summary>string.Format, which interpolation with numbers also becomes.</summary>
    FormattedText,

    /// <summary>ToString with a pattern other than F, N, X, D, G and digits: prints the pattern or throws.</summary>
    NumberPattern,

    /// <summary>A catch with a condition.</summary>
    ExceptionFilter,

    /// <summary>Pointers, stackalloc, fixed, function pointers.</summary>
    UnsafePointer,

    /// <summary>checked arithmetic: never throws on the board, wraps.</summary>
    CheckedArithmetic,

    /// <summary>`new` over a virtual of the same name: dispatch by name makes it an override.</summary>
    HiddenVirtual,

    /// <summary>A division or remainder whose divisor is not a constant other than 0 and -1: zero throws, for double too.</summary>
    UnsafeDivision,

    /// <summary>A NaN or infinity is made, or bits are turned into a double: comparing them is wrong on the board.</summary>
    NotANumber,

    /// <summary>A static initialiser reads the statics of another type: they run in the order of names, not of need.</summary>
    ForeignStatics,

    /// <summary>A volatile field or access.</summary>
    Volatile,

    /// <summary>A static per thread.</summary>
    ThreadStatic,

    /// <summary>A method that awaits.</summary>
    Async,

    /// <summary>An `in` parameter or ref readonly return on a virtual or interface method or a delegate.</summary>
    InOnVirtual,

    /// <summary>A member whose value differs from .NET (DateTime.MinValue is the year 1601).</summary>
    MisleadingMember,

    /// <summary>Sample path: an object is made (a delegate and a closure are objects too).</summary>
    NewObject,

    /// <summary>Sample path: an array is made.</summary>
    NewArray,

    /// <summary>Sample path: a value is boxed.</summary>
    Boxing,

    /// <summary>Sample path: a string literal, for which the board makes an object each time.</summary>
    StringLiteral,

    /// <summary>Sample path: a call that leaves the assembly and may allocate.</summary>
    OutsideCall,
}

/// <summary>One breach: the rule, the outermost type and the member in which it was found, and what was found.</summary>
public sealed record Finding(NanoRule Rule, string Type, string Member, string Detail)
{
    public override string ToString() => $"{Rule}: {Type}::{Member}: {Detail}";
}
