using Fourpatch.Files;

namespace Fourpatch.Commands.Interviews;

/// <summary>From the first question to the written file: what the three interviews have in common.</summary>
internal static class InterviewRun
{
    /// <summary>Asks, writes, and says where.</summary>
    /// <param name="context">The outside world.</param>
    /// <param name="name">The command's words: "vehicle new".</param>
    /// <param name="opening">What it is about.</param>
    /// <param name="questions">Made anew after every answer.</param>
    /// <param name="fileKey">The question that names the file.</param>
    /// <param name="write">Writes the file of this path and reads it back; null when it is there and the same.</param>
    /// <param name="cancel">Ctrl-C.</param>
    public static async Task<(int ExitCode, Answers? Answers)> RunAsync(
        CommandContext context, string name, string opening, Func<Answers, IReadOnlyList<Question>> questions, string fileKey, Func<Answers, string, InputError?> write, CancellationToken cancel)
    {
        var draft = new InterviewDraft(context.DataFolder, name.Replace(' ', '-'));
        Answers? answers;
        try
        {
            answers = await new Interview(context.Terminal, draft, questions).RunAsync(opening, cancel).ConfigureAwait(false);
        }
        catch (OperationCanceledException)
        {
            await SayLeftAsync(context.Terminal, draft, name).ConfigureAwait(false);
            throw;
        }

        if (answers is null)
        {
            await SayLeftAsync(context.Terminal, draft, name).ConfigureAwait(false);
            return (ExitCodes.NotAcceptable, null);
        }

        string path = answers.Text(fileKey)!;
        string whole = context.Files.Resolve(path);
        if (File.Exists(whole) && !answers.Find(fileKey)!.IsConfirmed)
        {
            throw new RefusalException(new InputError(ErrorCode.CannotWrite, "there is such a file now", "", $"run 'fourpatch {name}' again: what you typed is offered, and the file asked about") { File = path });
        }

        if (write(answers, whole) is { } error)
        {
            throw new RefusalException(error);
        }

        draft.Forget();
        await context.Terminal.Out.WriteLineAsync($"Written to {path}, and read back the same.").ConfigureAwait(false);
        return (ExitCodes.Good, answers);
    }

    /// <summary>Writes a text that its own reader has taken, and checks that it is in the file to the last letter.</summary>
    public static InputError? Write(string path, string text)
    {
        if (AtomicFile.WriteText(path, text) is { } unwritten)
        {
            return unwritten;
        }

        return TextFile.Read(path).TryGet(out string? again, out InputError? unread)
            ? again == text ? null : new InputError(ErrorCode.CannotWrite, "was not read back as it was written", "", "check the disk, and write it to another one") { File = path }
            : unread;
    }

    private static async Task SayLeftAsync(ITerminal terminal, InterviewDraft draft, string name)
    {
        await terminal.Out.WriteLineAsync().ConfigureAwait(false);
        terminal.Complain(draft.IsKept && draft.Read() is { IsOk: true, Value.Length: > 0 }
            ? $"left before the end; nothing was written. What you typed is kept: 'fourpatch {name}' offers it again"
            : "left before the end; nothing was written");
    }
}
