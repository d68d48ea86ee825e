using Fourpatch.Reports;

namespace Fourpatch.Commands;

/// <summary>The person left a dialogue: nothing more is asked, and nothing that was not yet stored is.</summary>
public sealed class LeftDialogueException : Exception;

/// <summary>Says one thing at a time and waits. "quit", or the end of the input, leaves.</summary>
/// <param name="terminal">The person.</param>
internal sealed class Dialogue(ITerminal terminal)
{
    private bool _toldHowToLeave;

    /// <summary>Says something.</summary>
    public void Say(string text)
    {
        _toldHowToLeave |= text.Contains("quit", StringComparison.Ordinal);
        WeighingText.WriteWrapped(terminal.Out, text, terminal.Width);
        terminal.Out.Flush();
    }

    /// <summary>Asks, and gives the answer without blanks around it; empty for a bare Enter.</summary>
    /// <exception cref="LeftDialogueException">The person left.</exception>
    public string Ask(string question)
    {
        if (!_toldHowToLeave && !question.Contains("quit", StringComparison.Ordinal))
        {
            Say("\"quit\" leaves at any time.");
        }

        _toldHowToLeave = true;
        WeighingText.WriteWrapped(terminal.Out, question, terminal.Width);
        terminal.Out.Write("> ");
        terminal.Out.Flush();
        string? answer = terminal.Input.ReadLine()?.Trim();
        if (answer is null || answer.Equals("quit", StringComparison.OrdinalIgnoreCase))
        {
            terminal.Out.WriteLine();
            throw new LeftDialogueException();
        }

        return answer;
    }

    /// <summary>As <see cref="AskWord"/>, for a step that explains itself: it is done, then Enter says so.</summary>
    /// <param name="question">What is to be done before Enter is pressed.</param>
    /// <param name="words">What else may be answered.</param>
    /// <returns>Empty for Enter, else the word as it stands here.</returns>
    public string AskEnter(string question, params string[] words) => AskWord(
        question, "Do what the question says, then press Enter: only then does it go on, with how everything stands at that moment. quit leaves.", words);

    /// <summary>Asks for a bare Enter, or one of a few words, until one comes: a slip of the keys is no answer.</summary>
    /// <param name="question">What is asked.</param>
    /// <param name="help">Said for a question mark.</param>
    /// <param name="words">What else may be answered.</param>
    /// <returns>Empty for Enter, else the word as it stands here.</returns>
    public string AskWord(string question, string help, params string[] words)
    {
        while (true)
        {
            string answer = Ask(question);
            if (answer.Length == 0 || words.Contains(answer, StringComparer.OrdinalIgnoreCase))
            {
                return words.FirstOrDefault(word => word.Equals(answer, StringComparison.OrdinalIgnoreCase)) ?? "";
            }

            Say(answer == "?" ? help : $"found {Files.InputError.Quote(answer)}: press Enter{string.Concat(words.Select(word => $", or type {word}"))}; ? explains");
        }
    }

    /// <summary>Asks for one of two words until one comes.</summary>
    public bool AskYesNo(string question)
    {
        while (true)
        {
            switch (Ask(question + " (yes/no)").ToUpperInvariant())
            {
                case "YES" or "Y":
                    return true;
                case "NO" or "N":
                    return false;
                default:
                    Say("Please answer yes or no.");
                    break;
            }
        }
    }

    /// <summary>Asks until the answer can be read; what is wrong with it is said each time.</summary>
    public T Ask<T>(string question, Func<string, Files.Result<T>> read)
        where T : notnull
    {
        while (true)
        {
            if (read(Ask(question)).TryGet(out T? value, out Files.InputError? error))
            {
                return value;
            }

            Say(error.OneLine);
        }
    }
}
