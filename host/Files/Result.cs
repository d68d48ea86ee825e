using System.Diagnostics.CodeAnalysis;

namespace Fourpatch.Files;

/// <summary>A value, or the one error that kept it from being read.</summary>
/// <typeparam name="T">What was to be read.</typeparam>
public sealed class Result<T>
    where T : notnull
{
    private readonly T? _value;

    private Result(T? value, InputError? error)
    {
        _value = value;
        Error = error;
    }

    /// <summary>Null when there is a value.</summary>
    public InputError? Error { get; }

    [MemberNotNullWhen(false, nameof(Error))]
    public bool IsOk => Error is null;

    /// <summary>The value; asking for it when there is an error is a fault of the program and throws.</summary>
    public T Value => Error is null ? _value! : throw new InvalidOperationException(Error.OneLine);

    public bool TryGet([NotNullWhen(true)] out T? value, [NotNullWhen(false)] out InputError? error)
    {
        value = _value;
        error = Error;
        return error is null;
    }

    /// <summary>Goes on with the value, or passes the error through.</summary>
    public Result<TNext> Then<TNext>(Func<T, Result<TNext>> next)
        where TNext : notnull
    {
        ArgumentNullException.ThrowIfNull(next);
        return Error is null ? next(_value!) : Error;
    }

    /// <summary>The same result, an error having its place filled in where it was still open.</summary>
    public Result<T> At(string? file = null, int? line = null, string? field = null) =>
        Error is null ? this : Error.At(file, line, field);

    /// <summary>The same result, an error having <paramref name="field"/> before its own place.</summary>
    public Result<T> Inside(string field) => Error is null ? this : Error.Inside(field);

    public static implicit operator Result<T>(T value) => new(value, null);

    public static implicit operator Result<T>(InputError error) => new(default, error ?? throw new ArgumentNullException(nameof(error)));
}
