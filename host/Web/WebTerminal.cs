using System.Text;
using System.Text.RegularExpressions;
using Fourpatch.Commands;

namespace Fourpatch.Web;

/// <summary>A line of what a guide has said.</summary>
/// <param name="Kind">said, asked, answered or error.</param>
/// <param name="Text">The words, as plain text.</param>
public sealed record GuideLine(string Kind, string Text);

/// <summary>What a guide waits for.</summary>
/// <param name="Number">Counts up with every question: an answer says which it is for.</param>
/// <param name="Text">The question.</param>
/// <param name="Kind">yes-no, enter (nothing but going on), or text.</param>
/// <param name="Enter">What a bare Enter is called, where one is an answer; empty where it is not.</param>
/// <param name="WantsLoads">True where the loads that stand there may be the answer.</param>
public sealed record GuideQuestion(int Number, string Text, string Kind, string Enter, bool WantsLoads);

/// <summary>
/// A terminal whose person sits at a page: what a command writes becomes lines, and where it waits for a line, the last of them is a question.
/// It knows nothing of any guide. Thread-safe.
/// </summary>
/// <param name="changed">Called whenever there is something new.</param>
internal sealed partial class WebTerminal(Action changed) : ITerminal, IDisposable
{
    private const int MostLines = 400;

    // Whatever is written in lines for a screen is broken by the page itself.
    private const int NeverBroken = 10_000;

    private readonly Lock _gate = new();
    private readonly List<GuideLine> _lines = [];
    private readonly StringBuilder _open = new();
    private readonly SemaphoreSlim _answered = new(0);
    private GuideQuestion? _question;
    private string? _answer;
    private bool _hasLeft;
    private int _questions;

    public TextWriter Out => new Voice(this, "said");

    public TextWriter ErrorOut => new Voice(this, "error");

    public TextReader Input => new Ear(this);

    // The guides ask by lines only where somebody is there to answer; no screen is drawn here.
    public bool IsInteractive => false;

    public int Width => NeverBroken;

    public int Height => 24;

    /// <summary>What was said so far, and what is asked now.</summary>
    public (IReadOnlyList<GuideLine> Lines, GuideQuestion? Question) Seen
    {
        get
        {
            lock (_gate)
            {
                return ([.. _lines], _question);
            }
        }
    }

    /// <summary>Answers a question.</summary>
    /// <returns>False when it is not asked any more: another thumb was quicker.</returns>
    public bool Answer(int question, string text)
    {
        lock (_gate)
        {
            if (_question?.Number != question || _hasLeft)
            {
                return false;
            }

            _lines.Add(new GuideLine("answered", text.Length == 0 ? "(went on)" : text));
            _answer = text;
            _question = null;
        }

        _answered.Release();
        changed();
        return true;
    }

    /// <summary>Ends the input: whoever waits, or will wait, hears that the person has left.</summary>
    public void Leave()
    {
        lock (_gate)
        {
            _hasLeft = true;
            _question = null;
        }

        _answered.Release();
    }

    public void Dispose() => _answered.Dispose();

    private void Hear(string text, string kind)
    {
        lock (_gate)
        {
            foreach (char letter in text)
            {
                if (letter == '\n')
                {
                    Close(kind);
                }
                else if (letter != '\r')
                {
                    _open.Append(letter);
                }
            }
        }

        changed();
    }

    private void Close(string kind)
    {
        if (_open.Length > 0)
        {
            _lines.Add(new GuideLine(kind, _open.ToString()));
            _open.Clear();
        }

        if (_lines.Count > MostLines)
        {
            _lines.RemoveRange(0, _lines.Count - MostLines);
        }
    }

    private string? ReadLine()
    {
        lock (_gate)
        {
            if (_hasLeft)
            {
                return null;
            }

            // A bare prompt sign means the line before it; a question may also stand in the open line itself.
            string prompt = _open.ToString().Trim().TrimEnd('>').Trim();
            _open.Clear();
            string text = prompt;
            if (prompt.Length == 0 && _lines is [.., { Kind: "said" } last])
            {
                text = last.Text.Trim();
                _lines.RemoveAt(_lines.Count - 1);
            }

            _lines.Add(new GuideLine("asked", text));
            _question = QuestionOf(++_questions, text);
        }

        changed();
        _answered.Wait();
        lock (_gate)
        {
            return _hasLeft ? null : _answer;
        }
    }

    private static GuideQuestion QuestionOf(int number, string text)
    {
        bool Has(string words) => text.Contains(words, StringComparison.OrdinalIgnoreCase);
        string kind = Has("(yes/no)") || Has("[yes]") || Has("[no]") ? "yes-no"
            : Has("press Enter") && !Has("or Enter") && !Has("or type") ? "enter"
            : "text";
        string enter = kind == "enter" ? "Done, go on"
            : MeaningOfEnter().Match(text) is { Success: true } meaning ? meaning.Groups[1].Value.Trim()
            : Has("Enter when that was all") ? "That was all"
            : Has("Enter") ? "Go on"
            : kind == "text" && text.TrimEnd(':', ' ').EndsWith(']') ? "As it stands"
            : "";
        return new GuideQuestion(number, text, kind, enter, Has("FL=.."));
    }

    // "Enter: 50 mm." says what a bare Enter means.
    [GeneratedRegex(@"Enter: ([^.;?]{1,40})")]
    private static partial Regex MeaningOfEnter();

    private sealed class Voice(WebTerminal terminal, string kind) : TextWriter
    {
        public override Encoding Encoding => Encoding.UTF8;

        public override void Write(char value) => terminal.Hear(value.ToString(), kind);

        public override void Write(string? value) => terminal.Hear(value ?? "", kind);

        public override void Write(char[] buffer, int index, int count) => terminal.Hear(new string(buffer, index, count), kind);

        public override void WriteLine() => terminal.Hear("\n", kind);

        public override void WriteLine(string? value) => terminal.Hear(value + "\n", kind);
    }

    private sealed class Ear(WebTerminal terminal) : TextReader
    {
        public override string? ReadLine() => terminal.ReadLine();
    }
}
