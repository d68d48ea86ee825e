namespace Fourpatch.Files;

/// <summary>
/// Reads what was noted about a weighing (TOML): <c>NAME = VALUE</c>, one on a line, any names a person likes, values as text, numbers, true or false. A file written
/// once serves every weighing of an evening.
/// </summary>
public static class ConditionsFile
{
    private const int LongestText = 200;

    public static Result<IReadOnlyDictionary<string, string>> Read(string path) => TextFile.Read(path).Then(text => Parse(text, path));

    /// <summary>Reads the text of such a file; <paramref name="file"/> is what errors call it.</summary>
    public static Result<IReadOnlyDictionary<string, string>> Parse(string text, string file) => TomlDocument.Parse(text, file).Then<IReadOnlyDictionary<string, string>>(root =>
    {
        var conditions = new Dictionary<string, string>();
        foreach (var name in root.Keys)
        {
            if (!Names.IsName(name))
                root.Report(name, root.LineOf(name), ErrorCode.Syntax, $"found {InputError.Quote(name)}", Names.Expected, "choose a shorter or plainer name");
            if (root.Plain(name) is not { } value)
                continue;
            if (value.Length > LongestText)
                root.Report(name, root.LineOf(name), ErrorCode.OutOfRange, $"found {InputError.Quote(value)}", $"at most {LongestText} characters", "shorten it");
            conditions[name] = value;
        }

        return root.Problems.First is { } error ? error : conditions;
    });
}
