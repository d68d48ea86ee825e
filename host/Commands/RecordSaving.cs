using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Weighing;

namespace Fourpatch.Commands;

/// <summary>What a command that weighs needs to keep its result: <c>--save</c>, <c>--condition</c> and <c>--keep-because</c>.</summary>
internal sealed class RecordSaving
{
    private const int LongestText = 200;

    private readonly Option<string?> _save = new("--save") { Description = "keep the weighing under this name", HelpName = "NAME" };
    private readonly Option<string[]> _conditions = new("--condition")
    {
        Description = "something worth knowing later: driver=aboard, fuel_l=12; once for each",
        HelpName = "NAME=VALUE",
        Arity = ArgumentArity.OneOrMore,
        AllowMultipleArgumentsPerToken = false,
    };

    private readonly Option<string?> _conditionsFile = new("--conditions") { Description = "the same from a file, NAME = VALUE one on a line; --condition goes before it", HelpName = "FILE.toml" };
    private readonly Option<bool> _ask = new("--ask") { Description = "the checklist before the first reading, asked one thing at a time and noted" };
    private readonly Option<string?> _keepBecause = new("--keep-because") { Description = "keep it even when it is not acceptable, with this reason", HelpName = "WHY" };

    // Asked once, however often a guide prepares.
    private IReadOnlyDictionary<string, string>? _noted;

    /// <summary>The floor a weighing is joined to; its place is noted with the conditions.</summary>
    public FloorJoining Floor { get; } = new();

    public void AddTo(Command command)
    {
        foreach (Option option in new Option[] { _save, _conditions, _conditionsFile, _ask, _keepBecause })
        {
            command.Options.Add(option);
        }

        Floor.AddTo(command);
    }

    /// <summary>Reads the options and opens the file of records: before anything is measured, so that nothing is measured in vain.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="context">The outside world.</param>
    /// <param name="askedName">The name that was asked for where <c>--save</c> was not typed; null: none.</param>
    public PendingRecord Prepare(ParseResult parsed, CommandContext context, string? askedName = null)
    {
        IReadOnlyDictionary<string, string> conditions = _noted ??= ReadConditions(parsed, context);

        if ((parsed.GetValue(_save) ?? askedName) is not { } typed)
        {
            return parsed.GetValue(_keepBecause) is null ? new PendingRecord(conditions, null, "", null) : throw new RefusalException(new InputError(
                ErrorCode.Contradiction, "--keep-because goes with --save", "", "add --save NAME, or leave it out") { Field = "--keep-because" });
        }

        string saved = ReadName(typed);
        string? because = parsed.GetValue(_keepBecause) is { } why ? ReadText(why, "--keep-because", "a reason") : null;
        return new PendingRecord(conditions, RecordOptions.Open(context), saved, because);
    }

    /// <summary>The name as typed; null when none was.</summary>
    public string? NameOf(ParseResult parsed) => parsed.GetValue(_save) is { } typed ? ReadName(typed) : null;

    /// <summary>Whether a name was typed.</summary>
    public bool IsAsked(ParseResult parsed) => parsed.GetValue(_save) is not null;

    /// <summary>Everything noted: from the file, then typed, then asked.</summary>
    private IReadOnlyDictionary<string, string> ReadConditions(ParseResult parsed, CommandContext context)
    {
        var typed = new Dictionary<string, string>();
        foreach ((string name, string value) in (parsed.GetValue(_conditions) ?? []).Select(ReadNamedCondition))
        {
            if (!typed.TryAdd(name, value))
            {
                throw new RefusalException(new InputError(ErrorCode.Duplicate, $"{name} is given twice", "each once", "leave one of the two out") { Field = "--condition" });
            }
        }

        var all = new Dictionary<string, string>();
        if (parsed.GetValue(_conditionsFile) is { } file)
        {
            all = ConditionsFile.Read(context.Files.Resolve(file)).OrRefuse().ToDictionary();
        }

        foreach ((string name, string value) in typed)
        {
            all[name] = value;
        }

        if (Floor.PlaceOf(parsed) is { } place)
        {
            all["floor"] = place;
        }

        if (!parsed.GetValue(_ask))
        {
            return all;
        }

        return !parsed.GetValue<bool>("--json")
            ? new WeighingCar.ConditionsGuide(new Dialogue(context.Terminal)).Ask(all)
            : throw new RefusalException(new InputError(ErrorCode.Contradiction, "--json does not go with --ask", "", "a dialogue answers in words; note things with --conditions FILE.toml") { Field = "--ask" });
    }

    /// <summary>A name for a record.</summary>
    public static string ReadName(string typed)
    {
        string name = ReadText(typed, "--save", "a name");
        return !name.Equals(RecordStore.Newest, StringComparison.OrdinalIgnoreCase)
            ? name
            : throw new RefusalException(new InputError(
                ErrorCode.OutOfRange, $"\"{name}\" always means the newest weighing", "a name of its own", "choose another name") { Field = "--save" });
    }

    /// <summary>A value worth noting, as it is answered in a dialogue.</summary>
    public static Result<string> ReadCondition(string answer) => answer.Trim() is { Length: > 0 and <= LongestText } text
        ? Names.WhyNot(text) is { } unseen ? unseen : text
        : new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(answer)}", $"1 to {LongestText} characters", "shorten it");

    private static (string Name, string Value) ReadNamedCondition(string typed)
    {
        int equals = typed.IndexOf('=', StringComparison.Ordinal);
        string name = equals < 0 ? "" : typed[..equals].Trim();
        return Names.IsName(name)
            ? (name, ReadText(typed[(equals + 1)..], "--condition", "a value"))
            : throw new RefusalException(new InputError(
                ErrorCode.Syntax, $"found {InputError.Quote(typed)}", $"NAME=VALUE, {Names.Expected} before the =", "write it like fuel_l=12") { Field = "--condition" });
    }

    /// <summary>A short text that people typed.</summary>
    public static string ReadText(string typed, string option, string what)
    {
        string text = typed.Trim();
        return text.Length is not (> 0 and <= LongestText)
            ? throw new RefusalException(new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", $"{what} of 1 to {LongestText} characters", "correct it") { Field = option })
            : Names.WhyNot(text) is { } unseen ? throw new RefusalException(unseen with { Field = option })
            : text;
    }
}

/// <summary>A weighing that may be kept once it has been made.</summary>
/// <param name="conditions">What was noted about it.</param>
/// <param name="store">Null when nothing is to be kept.</param>
/// <param name="name">Its name.</param>
/// <param name="because">Why to keep it even when it is not acceptable; null: then it is not kept.</param>
internal sealed class PendingRecord(IReadOnlyDictionary<string, string> conditions, RecordStore? store, string name, string? because) : IDisposable
{
    /// <summary>True when it would be kept were it acceptable, and nobody has said why to keep it otherwise.</summary>
    public bool WantsReason => store is not null && because is null;

    /// <summary>The same with a reason to keep it even when it is not acceptable.</summary>
    public PendingRecord WithReason(string why) => new(conditions, store, name, why);

    /// <summary>The weighing with what was noted about it.</summary>
    public WeighingResult WithConditions(WeighingResult result) => result with { Conditions = conditions };

    /// <summary>Keeps the weighing when that was asked for and it may be.</summary>
    /// <param name="result">What was weighed.</param>
    /// <param name="time">When.</param>
    /// <param name="finishes">Key of the unfinished work that ends with it.</param>
    /// <returns>What was kept; null when nothing was.</returns>
    /// <exception cref="RefusalException">It could not be kept.</exception>
    public WeighingRecord? Save(WeighingResult result, DateTimeOffset time, string? finishes = null)
    {
        if (store is null || (!result.IsAcceptable && because is null))
        {
            return null;
        }

        WeighingRecord record = WeighingRecord.Of(name, result, time, JsonAnswer.SoftwareVersion, result.IsAcceptable ? null : because);
        return record with { Id = store.Save(record, finishes).OrRefuse().Id };
    }

    /// <summary>What to tell the person; null when there is nothing to tell.</summary>
    public string? News(WeighingRecord? kept) => kept is not null
        ? $"Kept as {kept.Id}, \"{kept.Name}\".{(store!.Find(kept.Name).IsOk ? "" : " Another record has that name, too: from now on say the id.")}"
        : store is null ? null
        : "Not kept, because it is not acceptable. To keep it all the same, weigh again with --keep-because \"WHY\".";

    /// <inheritdoc/>
    public void Dispose() => store?.Dispose();
}
