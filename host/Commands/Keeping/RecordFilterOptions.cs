using System.CommandLine;
using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Records;

namespace Fourpatch.Commands.Keeping;

/// <summary>Options that choose among records.</summary>
internal sealed class RecordFilterOptions
{
    private static readonly string[] Methods = ["all-at-once", "by-axle", "one-by-one", "typed"];

    private readonly Option<string?> _car = new("--car") { Description = "only this car", HelpName = "CAR" };
    private readonly Option<string?> _from = new("--from") { Description = "not before this day", HelpName = "DATE" };
    private readonly Option<string?> _to = new("--to") { Description = "not after this day", HelpName = "DATE" };
    private readonly Option<string?> _method = new("--method") { Description = "only weighings taken so: all-at-once, by-axle, one-by-one or typed", HelpName = "M" };
    private readonly Option<string?> _kind = new("--kind") { Description = "only this kind: " + string.Join(", ", DocumentRecord.AllKinds), HelpName = "KIND", CompletionSources = { _ => DocumentRecord.AllKinds } };
    private readonly Option<string?> _newest = new("--newest") { Description = "at most so many, the newest", HelpName = "N" };

    public void AddTo(Command command)
    {
        foreach (Option option in new Option[] { _car, _from, _to, _method, _kind, _newest })
        {
            command.Options.Add(option);
        }
    }

    /// <summary>True when any of them was given.</summary>
    public bool AnyGiven(ParseResult parsed) =>
        new Option[] { _car, _from, _to, _method, _kind, _newest }.Any(option => parsed.GetResult(option) is { Implicit: false });

    /// <summary>What was asked for.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="clock">Days are those of this computer's time zone.</param>
    /// <param name="newest">How many when nothing was said; null: all.</param>
    public RecordFilter Read(ParseResult parsed, TimeProvider clock, int? newest = null)
    {
        DateTimeOffset? from = ReadDay(parsed, _from, clock, 0);
        DateTimeOffset? before = ReadDay(parsed, _to, clock, 1);
        if (from >= before)
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, "--from lies after --to", "the earlier day first", "exchange them") { Field = "--from" });
        }

        return new RecordFilter(parsed.GetValue(_car)?.Trim(), from, before, ReadWord(parsed, _method, Methods), ReadWord(parsed, _kind, DocumentRecord.AllKinds), ReadNewest(parsed) ?? newest);
    }

    private static DateTimeOffset? ReadDay(ParseResult parsed, Option<string?> option, TimeProvider clock, int daysLater)
    {
        if (parsed.GetValue(option) is not { } typed)
        {
            return null;
        }

        if (!DateOnly.TryParseExact(typed.Trim(), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day) || day.Year is < 1900 or > 9000)
        {
            throw new RefusalException(new InputError(ErrorCode.Syntax, $"found {InputError.Quote(typed)}", "a day as 2026-11-24", "write year, month and day") { Field = option.Name });
        }

        DateTime midnight = day.AddDays(daysLater).ToDateTime(TimeOnly.MinValue);
        return new DateTimeOffset(midnight, clock.LocalTimeZone.GetUtcOffset(midnight));
    }

    private static string? ReadWord(ParseResult parsed, Option<string?> option, IReadOnlyList<string> known) => parsed.GetValue(option) switch
    {
        null => null,
        { } typed when known.Contains(typed) => typed,
        { } typed => throw new RefusalException(new InputError(
            ErrorCode.UnknownName, $"found {InputError.Quote(typed)}", string.Join(", ", known), Nearest.AmongThem(typed, [.. known])) { Field = option.Name }),
    };

    private int? ReadNewest(ParseResult parsed) => parsed.GetValue(_newest) switch
    {
        null => null,
        { } typed when int.TryParse(typed, NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number > 0 => number,
        { } typed => throw new RefusalException(new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", "a whole number from 1", "correct it") { Field = "--newest" }),
    };
}
