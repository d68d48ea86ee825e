using System.Globalization;
using System.Text.RegularExpressions;
using Fourpatch.Files;
using Fourpatch.Reports;

namespace Fourpatch.Commands.Interviews;

/// <summary>
/// Asks one question at a time until all are answered and the person has said that what was read back is right. <c>back</c> goes back,
/// <c>?</c> explains, an empty line takes what stands in brackets, <c>-</c> passes over, <c>quit</c> or the end of input leaves.
/// </summary>
/// <param name="terminal">The person.</param>
/// <param name="draft">Keeps what was typed.</param>
/// <param name="questions">Made anew after every answer.</param>
internal sealed partial class Interview(ITerminal terminal, InterviewDraft draft, Func<Answers, IReadOnlyList<Question>> questions)
{
    private readonly Answers _answers = new();

    private enum Turn
    {
        Answered,
        Back,
        Left,
    }

    /// <summary>The whole interview.</summary>
    /// <param name="opening">What it is about, before the first question.</param>
    /// <param name="cancel">Ctrl-C.</param>
    /// <returns>The answers; null when the person left before the end.</returns>
    public async Task<Answers?> RunAsync(string opening, CancellationToken cancel)
    {
        Say(opening);
        Say("One question at a time, in any unit. ? explains, back goes back, an empty line takes what stands in [ ], quit leaves.");
        if (!await ResumeAsync(cancel).ConfigureAwait(false))
        {
            return null;
        }

        int? asked = null;
        while (true)
        {
            IReadOnlyList<Question> all = questions(_answers);
            int at = asked ?? FirstOpen(all);
            if (at == all.Count)
            {
                (bool isRight, bool isLeft, asked) = await ReadBackAsync(all, cancel).ConfigureAwait(false);
                if (isRight || isLeft)
                {
                    return isRight ? _answers : null;
                }

                continue;
            }

            switch (await TakeAsync(all[at], at + 1, cancel).ConfigureAwait(false))
            {
                case Turn.Left:
                    return null;
                case Turn.Back when at == 0:
                    terminal.Out.WriteLine("This is the first question.");
                    asked = 0;
                    break;
                case Turn.Back:
                    asked = at - 1;
                    break;
                default:
                    asked = null;
                    draft.Write(questions(_answers), _answers);
                    break;
            }
        }
    }

    /// <summary>Offers what was typed when the interview was left last time; false when the person leaves again.</summary>
    private async Task<bool> ResumeAsync(CancellationToken cancel)
    {
        if (!draft.Read().TryGet(out (string Key, string Typed)[]? kept, out InputError? unread))
        {
            Say($"What was typed last time cannot be read, and until it is mended or deleted no answer is kept before the end: {unread.OneLine}");
            return true;
        }

        if (kept.Length == 0)
        {
            return true;
        }

        string answers = kept.Length == 1 ? "1 answer" : string.Create(CultureInfo.InvariantCulture, $"{kept.Length} answers");
        Question goOn = Ask.YesNo("resume", $"Last time you left with {answers} given. Go on from there?", "No begins anew and forgets them.", "yes");
        var own = new Answers();
        Turn turn;
        do
        {
            turn = await TakeAsync(goOn, 0, own, cancel).ConfigureAwait(false);
        }
        while (turn == Turn.Back);
        if (turn == Turn.Left)
        {
            return false;
        }

        if (own.IsYes("resume"))
        {
            Replay(kept);
        }
        else
        {
            draft.Forget();
        }

        return true;
    }

    // Whatever is no longer right, or was asked about, is asked again.
    private void Replay(IReadOnlyList<(string Key, string Typed)> kept)
    {
        foreach ((string key, string typed) in kept)
        {
            Question? question = questions(_answers).FirstOrDefault(question => question.Key == key);
            if (question is { IsOptional: true } && typed.Length == 0)
            {
                _answers.Set(key, Answer.None);
            }
            else if (question?.Read(typed) is { IsOk: true } read && question.Doubt?.Invoke(read.Value) is null)
            {
                _answers.Set(key, read.Value);
            }
        }
    }

    // A changed answer may have made a later one wrong.
    private int FirstOpen(IReadOnlyList<Question> all)
    {
        for (int index = 0; index < all.Count; index++)
        {
            Question question = all[index];
            if (_answers.Find(question.Key) is not { } answer)
            {
                return index;
            }

            if (answer.Value is null && question.IsOptional)
            {
                continue;
            }

            if (!question.Read(answer.Typed).TryGet(out Answer? again, out InputError? wrong))
            {
                Say($"{question.Prompt} does not go with that any more: {wrong.OneLine}");
                _answers.Remove(question.Key);
                return index;
            }

            _answers.Set(question.Key, again with { IsConfirmed = answer.IsConfirmed });
        }

        return all.Count;
    }

    private async Task<(bool IsRight, bool IsLeft, int? Asked)> ReadBackAsync(IReadOnlyList<Question> all, CancellationToken cancel)
    {
        terminal.Out.WriteLine();
        terminal.Out.WriteLine("Read back:");
        int room = Math.Min(44, all.Max(question => question.Prompt.Length));
        for (int index = 0; index < all.Count; index++)
        {
            string prompt = all[index].Prompt.Length <= room ? all[index].Prompt.PadRight(room) : all[index].Prompt[..(room - 3)] + "...";
            terminal.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{index + 1,3}  {prompt}  {_answers.Find(all[index].Key)!.Shown}"));
        }

        while (true)
        {
            string? typed = await LineAsync("All right? Enter writes it, a number goes to that line: ", cancel).ConfigureAwait(false);
            string text = typed?.Trim().ToLowerInvariant() ?? "";
            if (typed is null || IsLeaving(text))
            {
                return (false, true, null);
            }

            if (text is "" or "y" or "yes")
            {
                return (true, false, null);
            }

            if (text is "back")
            {
                return (false, false, all.Count - 1);
            }

            if (int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number >= 1 && number <= all.Count)
            {
                return (false, false, number - 1);
            }

            Say(string.Create(CultureInfo.InvariantCulture, $"Found {InputError.Quote(typed)}; an empty line, or a number from 1 to {all.Count}, or quit."));
        }
    }

    private Task<Turn> TakeAsync(Question question, int number, CancellationToken cancel) => TakeAsync(question, number, _answers, cancel);

    /// <summary>Asks until there is an answer, or the person goes elsewhere.</summary>
    private async Task<Turn> TakeAsync(Question question, int number, Answers into, CancellationToken cancel)
    {
        terminal.Out.WriteLine();
        if (question.Drawing is { } drawing && terminal.Width > 70)
        {
            terminal.Out.WriteLine(drawing);
        }

        string? refused = null;
        string remedy = "";
        while (true)
        {
            string? line = await LineAsync(PromptOf(question, number, into.Find(question.Key)), cancel).ConfigureAwait(false);
            string text = line?.Trim() ?? "";
            switch (text.ToLowerInvariant())
            {
                case var _ when line is null:
                case "quit" or "exit":
                    return Turn.Left;
                case "back":
                    return Turn.Back;
                case "?" or "help":
                    Explain(question);
                    continue;
                case "" when into.Has(question.Key):
                    return Turn.Answered;
                case "" when question.Default is null && question.IsOptional:
                case "-" when question.IsOptional:
                    into.Set(question.Key, Answer.None);
                    return Turn.Answered;
                case "" when question.Default is null:
                    Say("An answer is needed here; ? explains, quit leaves.");
                    continue;
            }

            string meant = text.Length == 0 ? question.Default! : Meant(text, refused, remedy);
            if (!question.Read(meant).TryGet(out Answer? answer, out InputError? wrong))
            {
                if (refused is not null && Ask.ReadYesNo(text).IsOk)
                {
                    // An answer to "did you mean", not to the question.
                    Say("Then type it once more as you mean it, with its unit, as 260cm or 2600mm; ? says what is asked for.");
                    continue;
                }

                Say(wrong.OneLine);
                if (Suggested(meant, wrong.Remedy) is { } suggested)
                {
                    Say($"yes takes {suggested}; no, or what it should have been, asks on.");
                }

                (refused, remedy) = wrong.Remedy.Contains("did you mean ", StringComparison.Ordinal) ? (meant, wrong.Remedy) : (null, "");
                continue;
            }

            if (await IsAcceptedAsync(question, answer, cancel).ConfigureAwait(false) is not bool confirmed)
            {
                continue;
            }

            into.Set(question.Key, answer with { IsConfirmed = confirmed });
            if (answer.Shown != answer.Typed.Trim())
            {
                terminal.Out.WriteLine($"  = {answer.Shown}");
            }

            return Turn.Answered;
        }
    }

    /// <summary>Null: asked about, and to be answered again; else whether it was asked about and confirmed.</summary>
    private async Task<bool?> IsAcceptedAsync(Question question, Answer answer, CancellationToken cancel)
    {
        if (question.Doubt?.Invoke(answer) is not { } doubt)
        {
            return false;
        }

        Say(doubt.OneLine);
        string? typed = await LineAsync("Is it right as it stands? (yes, no) [no]: ", cancel).ConfigureAwait(false);
        return typed is not null && Ask.ReadYesNo(typed) is { IsOk: true, Value: true } ? true : null;
    }

    /// <summary>After "did you mean cm?" an answer "cm" or "yes" is enough.</summary>
    private static string Meant(string text, string? refused, string remedy)
    {
        if (refused is null || Suggested(refused, remedy) is not { } whole)
        {
            return text;
        }

        return text.ToLowerInvariant() is "y" or "yes" || text.Equals(Suggestion().Match(remedy).Groups[1].Value, StringComparison.OrdinalIgnoreCase) ? whole : text;
    }

    /// <summary>What "did you mean cm?" makes of what was typed: the number with that unit, or the word itself; null when nothing one could say yes to was suggested.</summary>
    private static string? Suggested(string typed, string remedy)
    {
        if (Suggestion().Match(remedy) is not { Success: true } found)
        {
            return null;
        }

        string suggested = found.Groups[1].Value;
        string number = BareNumber().Match(typed).Value.Trim();
        return number.Length > 0 && !suggested.Any(char.IsDigit) ? number + suggested : suggested;
    }

    private static bool IsLeaving(string text) => text is "quit" or "exit";

    private static string PromptOf(Question question, int number, Answer? now)
    {
        string count = number > 0 ? string.Create(CultureInfo.InvariantCulture, $"{number}. ") : "";
        string kept = now is not null ? $" [{now.Shown}]" : question.Default is { } otherwise ? $" [{otherwise}]" : question.IsOptional ? " [not known]" : "";
        string words = question.Words is { } few ? $" ({few})" : "";
        return $"{count}{question.Prompt}{words}{kept}: ";
    }

    private void Explain(Question question)
    {
        Say(question.Help);
        if (question.Drawing is { } drawing)
        {
            terminal.Out.WriteLine(drawing);
        }
    }

    private void Say(string sentence) => WeighingText.WriteWrapped(terminal.Out, sentence, terminal.Width);

    // Waiting for a person must not keep Ctrl-C waiting.
    private async Task<string?> LineAsync(string prompt, CancellationToken cancel)
    {
        // The answer is typed behind the last line of it.
        string[] lines = [.. WeighingText.Wrapped(prompt.TrimEnd(), terminal.Width)];
        foreach (string line in lines[..^1])
        {
            await terminal.Out.WriteLineAsync(line).ConfigureAwait(false);
        }

        await terminal.Out.WriteAsync(lines[^1] + prompt[prompt.TrimEnd().Length..]).ConfigureAwait(false);
        await terminal.Out.FlushAsync(cancel).ConfigureAwait(false);
        return await Task.Run(terminal.Input.ReadLine, cancel).WaitAsync(cancel).ConfigureAwait(false);
    }

    [GeneratedRegex(@"did you mean (\S+)\?$", RegexOptions.CultureInvariant)]
    private static partial Regex Suggestion();

    // With or without a unit behind it: the suggested one takes its place.
    [GeneratedRegex(@"^\s*[0-9.]+(?=\s*\p{L}*\s*$)", RegexOptions.CultureInvariant)]
    private static partial Regex BareNumber();
}
