using Fourpatch.Files;

namespace Fourpatch.Commands.Interviews;

/// <summary>
/// One question as data. The list of questions is made anew after every answer, so that what is asked, and what is right, may depend on
/// what was answered before.
/// </summary>
internal sealed record Question
{
    /// <summary>Names the answer; unique in its interview.</summary>
    public required string Key { get; init; }

    /// <summary>A few words: "Wheelbase, left side".</summary>
    public required string Prompt { get; init; }

    /// <summary>What may be typed, where that is a few words: "yes, no".</summary>
    public string? Words { get; init; }

    /// <summary>What to measure or decide, and why; shown for <c>?</c>.</summary>
    public required string Help { get; init; }

    /// <summary>Reads what was typed; the error says what is wrong and what to do.</summary>
    public required Func<string, Result<Answer>> Read { get; init; }

    /// <summary>A small drawing of what to measure, lines of at most 70 columns.</summary>
    public string? Drawing { get; init; }

    /// <summary>What might be a slip; the answer is taken only when the person says that it is right.</summary>
    public Func<Answer, InputError?>? Doubt { get; init; }

    /// <summary>What an empty line means, as it would be typed; null: nothing does.</summary>
    public string? Default { get; init; }

    /// <summary>An empty line passes the question over.</summary>
    public bool IsOptional { get; init; }
}
