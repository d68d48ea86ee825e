using Fourpatch.Files;

namespace Fourpatch.Commands.Interviews;

/// <summary>
/// What was typed in an interview that has not come to its end, kept after every answer in a file of its own, so that the next one can go
/// on even when the window was closed. The file the interview is to write is not touched before its end.
/// </summary>
internal sealed class InterviewDraft(string? folder, string name)
{
    private const string Passed = "-";
    private bool _failed;

    private string? FilePath => folder is null ? null : Path.Combine(folder, $"unfinished-{name}.toml");

    /// <summary>Whether answers can be kept at all.</summary>
    public bool IsKept => FilePath is not null && !_failed;

    /// <summary>What was typed last time, by key, in order; empty when nothing was left unfinished. What cannot be read is left as it is: nothing is kept then.</summary>
    public Result<(string Key, string Typed)[]> Read()
    {
        if (FilePath is not { } path || !File.Exists(path))
        {
            return Array.Empty<(string, string)>();
        }

        Result<TomlSection> read = TextFile.Read(path).Then(text => TomlDocument.Parse(text, path));
        _failed |= !read.IsOk;
        return read.Then<(string, string)[]>(root => root.Keys.Select(key => (key, Typed: root.Text(key))).Where(answer => answer.Typed is not null).Select(answer => (answer.key, answer.Typed == Passed ? "" : answer.Typed!)).ToArray());
    }

    /// <summary>Keeps the answers to these questions. What cannot be kept is no reason to stop asking.</summary>
    public void Write(IEnumerable<Question> questions, Answers answers)
    {
        if (FilePath is not { } path || _failed)
        {
            return;
        }

        var toml = new TomlText();
        toml.Comment("An interview that was left before its end: offered again next time. Delete this file to forget it.");
        foreach (Question question in questions)
        {
            if (answers.Find(question.Key) is { } answer)
            {
                toml.Text(question.Key, answer.Typed.Length == 0 ? Passed : answer.Typed);
            }
        }

        try
        {
            Directory.CreateDirectory(folder!);
            _failed = AtomicFile.WriteText(path, toml.ToString()) is not null;
        }
        catch (Exception error) when (TextFile.IsOfFileSystem(error))
        {
            _failed = true;
        }
    }

    /// <summary>The interview has come to its end, or is begun anew.</summary>
    public void Forget()
    {
        try
        {
            if (FilePath is { } path)
            {
                File.Delete(path);
            }
        }
        catch (Exception error) when (TextFile.IsOfFileSystem(error))
        {
            // Then it is offered once more, which hurts nobody.
        }
    }
}
