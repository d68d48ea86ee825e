using Fourpatch.Files;

namespace Fourpatch.Commands;

/// <summary>Exit codes of every command.</summary>
public static class ExitCodes
{
    /// <summary>Done, and the measurement is good.</summary>
    public const int Good = 0;

    /// <summary>Done, but the measurement is not acceptable; the answer says why.</summary>
    public const int NotAcceptable = 1;

    /// <summary>Bad input, or a file that cannot be read or written.</summary>
    public const int BadInput = 2;

    /// <summary>The rig cannot be reached.</summary>
    public const int RigUnreachable = 3;

    /// <summary>What each means, for people.</summary>
    public static IReadOnlyList<(int Code, string Means)> Meanings { get; } =
    [
        (Good, "done, and what was measured is good"),
        (NotAcceptable, "not acceptable, and the answer says why; or a dialogue was left before its end"),
        (BadInput, "something typed, or a file, cannot be used; one line says what, where, and what to do"),
        (RigUnreachable, "the rig cannot be reached"),
    ];
}

/// <summary>Ends a command with one line for the person; caught in one place, where it becomes exit code 2 or 3.</summary>
public sealed class RefusalException(InputError error) : Exception(error.OneLine)
{
    /// <summary>What was wrong.</summary>
    public InputError Error { get; } = error;

    /// <summary>2, or 3 when the rig was not there.</summary>
    public int ExitCode => Error.Code == ErrorCode.RigUnreachable ? ExitCodes.RigUnreachable : ExitCodes.BadInput;
}

/// <summary>Takes values out of results.</summary>
public static class ResultRefusals
{
    /// <summary>The value, or a refusal.</summary>
    /// <exception cref="RefusalException">There is none.</exception>
    public static T OrRefuse<T>(this Result<T> result, string? field = null)
        where T : notnull =>
        result.At(field: field).TryGet(out T? value, out InputError? error) ? value : throw new RefusalException(error);
}
