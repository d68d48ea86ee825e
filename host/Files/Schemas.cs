namespace Fourpatch.Files;

/// <summary>
/// The JSON Schema files (draft 2020-12) of every answer, carried inside the program and laid beside it. They are
/// strict: a field they do not name is an error, so that no answer can grow or misspell one unseen. A program that reads
/// answers should ignore fields it does not know: fields may be added within a version, never renamed or given another
/// meaning.
/// </summary>
public static class Schemas
{
    private const string Prefix = "schemas/";

    /// <summary>The names without ending: <c>weigh</c>, <c>cal-cell</c>, and <c>common</c>, which the others refer to.</summary>
    public static IReadOnlyList<string> Names { get; } =
    [
        .. typeof(Schemas).Assembly.GetManifestResourceNames()
            .Where(name => name.StartsWith(Prefix, StringComparison.Ordinal))
            .Select(name => Path.GetFileNameWithoutExtension(name[Prefix.Length..]))
            .Order(StringComparer.Ordinal),
    ];

    /// <summary>The text of one schema file.</summary>
    /// <exception cref="ArgumentException">There is no schema of that name.</exception>
    public static string Text(string name)
    {
        using var stream = typeof(Schemas).Assembly.GetManifestResourceStream($"{Prefix}{name}.json")
            ?? throw new ArgumentException($"There is no schema {name}.", nameof(name));
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
