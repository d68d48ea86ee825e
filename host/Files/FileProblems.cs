namespace Fourpatch.Files;

/// <summary>Gathers what is wrong with one file; only the first, by line, is ever told.</summary>
internal sealed class FileProblems(string file)
{
    private readonly List<InputError> _found = [];

    public string File { get; } = file;

    /// <summary>Null when all is well. What is missing is told last: a mistyped name on another line is what it is missing for.</summary>
    public InputError? First => _found.OrderBy(error => error.Code == ErrorCode.Missing).ThenBy(error => error.Line ?? 0).FirstOrDefault();

    public void Add(InputError error) => _found.Add(error.At(file: File));
}
