using Fourpatch.Vehicles;

namespace Fourpatch.Files;

/// <summary>
/// Reads <c>FL=..,FR=..,RL=..,RR=..</c>. The order is free, capitals do not matter, every value may be anything its own
/// reader takes (a sum, a unit). Names unknown or given twice are errors, and so is a missing corner unless a partial
/// list is asked for.
/// </summary>
public static class CornerList
{
    private static readonly string[] Names = ["FL", "FR", "RL", "RR"];

    /// <summary>All four corners, in kilograms; bare numbers are in <paramref name="unit"/>.</summary>
    public static Result<Corners<TypedMass>> Masses(string text, MassUnit unit = MassUnit.Kg) =>
        Parse(text, value => Typed.Mass(value, unit));

    /// <summary>All four corners, in metres; bare numbers are millimetres.</summary>
    public static Result<Corners<TypedLength>> Lengths(string text) => Parse(text, value => Typed.Length(value));

    /// <summary>All four corners, each read by <paramref name="read"/>.</summary>
    public static Result<Corners<T>> Parse<T>(string text, Func<string, Result<T>> read)
        where T : struct =>
        ParseNamed(text, Names, read).Then<Corners<T>>(found => Names.FirstOrDefault(name => !found.ContainsKey(name)) is { } missing
            ? new InputError(ErrorCode.Missing, $"{missing} is missing in {InputError.Quote(text)}", "all four corners", $"add {missing}=...")
            : new Corners<T>(found["FL"], found["FR"], found["RL"], found["RR"]));

    /// <summary>One to four corners, those left out being null.</summary>
    public static Result<Corners<T?>> ParsePartial<T>(string text, Func<string, Result<T>> read)
        where T : struct =>
        ParseNamed(text, Names, read).Then<Corners<T?>>(found => new Corners<T?>(Find(found, "FL"), Find(found, "FR"), Find(found, "RL"), Find(found, "RR")));

    /// <summary>A single corner.</summary>
    /// <param name="text">As typed.</param>
    /// <param name="example">How it is written, for whoever wrote it otherwise: <c>FL=6</c>.</param>
    /// <param name="read">Reads the value.</param>
    public static Result<(Corner Corner, T Value)> ParseOne<T>(string text, string example, Func<string, Result<T>> read)
        where T : struct =>
        ParseNamed(text, Names, $"one of FL, FR, RL and RR, as in {example}", "write CORNER=VALUE", read).Then<(Corner Corner, T Value)>(found => found.Count == 1
            ? (Enum.Parse<Corner>(found.Keys.Single()), found.Values.Single())
            : new InputError(ErrorCode.Syntax, $"found {InputError.Quote(text)}", "one corner", $"write it like {example}"));

    /// <summary>The same list over other names: the wheels of a vehicle without four corners. What is left out is not in the answer.</summary>
    public static Result<IReadOnlyDictionary<string, T>> ParseNamed<T>(string text, IReadOnlyCollection<string> names, Func<string, Result<T>> read)
        where T : struct
    {
        ArgumentNullException.ThrowIfNull(names);
        return ParseNamed(text, names, string.Join(",", names.Select(name => $"{name}=...")), "write NAME=VALUE, a comma between them, and a decimal point inside numbers", read);
    }

    private static Result<IReadOnlyDictionary<string, T>> ParseNamed<T>(string text, IReadOnlyCollection<string> names, string expected, string remedy, Func<string, Result<T>> read)
        where T : struct
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(read);
        if (text.Contains(';', StringComparison.Ordinal))
            return new InputError(ErrorCode.Syntax, $"found {InputError.Quote(text)}", expected, remedy);
        var found = new Dictionary<string, T>();
        foreach (var item in text.Split(','))
        {
            var equals = item.IndexOf('=', StringComparison.Ordinal);
            if (equals < 0)
                return new InputError(ErrorCode.Syntax, $"found {InputError.Quote(item.Trim())} in {InputError.Quote(text)}", expected, remedy);

            var typed = item[..equals].Trim();
            var value = item[(equals + 1)..];
            if (names.FirstOrDefault(known => known.Equals(typed, StringComparison.OrdinalIgnoreCase)) is not { } name)
                return new InputError(ErrorCode.UnknownName, $"{InputError.Quote(typed)} is no corner", expected, Nearest.AmongThem(typed, names));
            if (value.Contains('=', StringComparison.Ordinal))
                return new InputError(ErrorCode.Syntax, $"found {InputError.Quote(value)}", expected, "put a comma between the corners") { Field = name };
            if (found.ContainsKey(name))
                return new InputError(ErrorCode.Duplicate, $"{name} is given twice in {InputError.Quote(text)}", expected, "leave one of them out");
            if (!read(value).At(field: name).TryGet(out var read1, out var error))
                return error;
            found.Add(name, read1);
        }

        return found;
    }

    private static T? Find<T>(IReadOnlyDictionary<string, T> found, string name)
        where T : struct => found.TryGetValue(name, out var value) ? value : null;
}
