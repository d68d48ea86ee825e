using System.Security.Cryptography;
using System.Text.Json.Nodes;
using Fourpatch.Commands;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Tests.Files;
using Fourpatch.Web;

namespace Fourpatch.Tests.Commands;

/// <summary>How a command ended.</summary>
internal sealed record Outcome(int ExitCode, string Out, string Errors)
{
    /// <summary>The one JSON answer on standard output, held to its schema.</summary>
    public JsonNode Answer
    {
        get
        {
            Assert.Null(AnswerSchemas.Complaint(Out));
            return JsonNode.Parse(Out)!;
        }
    }

    /// <summary>Standard output as if the screen were wide enough for all of it.</summary>
    public string OneLine => string.Join(' ', Out.Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries));

    /// <summary>Lines of the error output.</summary>
    public string[] ErrorLines => Errors.Split('\n', StringSplitOptions.RemoveEmptyEntries);
}

/// <summary>A command under way: what it has written so far, and the means to end it.</summary>
internal sealed class Running(Task<int> task, ScreenText output, ScreenText errors, CancellationTokenSource stop)
{
    public string Out => output.ToString();

    public string Errors => errors.ToString();

    /// <summary>Ctrl-C.</summary>
    public void Stop() => stop.Cancel();

    /// <summary>Waits until something can be seen on either output.</summary>
    public async Task UntilAsync(Func<Running, bool> seen, string what)
    {
        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(60));
        while (!seen(this))
        {
            if (patience.IsCancellationRequested || task.IsCompleted)
            {
                Assert.Fail($"{(task.IsCompleted ? "the command ended before" : "never seen")}: {what}\nout: {Out}\nerrors: {Errors}");
            }

            await Task.Delay(10);
        }
    }

    public async Task<Outcome> EndAsync()
    {
        int exitCode = await task.WaitAsync(TimeSpan.FromSeconds(120));
        stop.Dispose();
        return new Outcome(exitCode, Out, Errors);
    }
}

/// <summary>A folder, a screen, a clock and ports of its own: commands run in it as in a terminal, one after another.</summary>
internal sealed class Bench : IDisposable
{
    private readonly ScratchFolder _folder = new();
    private readonly WorkFolder _files;
    private readonly TimeProvider _clock;
    private readonly ILinkOpener _links;

    /// <param name="links">Null: serial ports, TCP and the paced virtual rig, as for a person; no serial port is listed.</param>
    /// <param name="clock">Null: the system's.</param>
    public Bench(ILinkOpener? links = null, TimeProvider? clock = null)
    {
        _files = new WorkFolder(_folder.Path);
        _clock = clock ?? TimeProvider.System;
        _links = links ?? new ListedPorts(new InsideLinks(_files, _clock).OpenAsync, []);
    }

    /// <summary>The folder that relative paths start from.</summary>
    public string Folder => _folder.Path;

    /// <summary>Columns of the screen.</summary>
    public int Width { get; init; } = 80;

    /// <summary>Columns of the screen that complaints go to; null: they are redirected.</summary>
    public int? ErrorWidth { get; init; }

    /// <summary>Rows of the screen.</summary>
    public int Height { get; init; } = 24;

    /// <summary>Keys that are pressed while a screen is drawn.</summary>
    public System.Collections.Concurrent.ConcurrentQueue<char> Keys { get; } = [];

    /// <summary>True: somebody sits there and the screen may be drawn again and again.</summary>
    public bool IsInteractive { get; init; }

    /// <summary>What the person types, all of it; then the input ends.</summary>
    public string Typed { get; set; } = "";

    /// <summary>Somebody who answers what is asked: what was said since the last answer in, the answer out; null: the input is over. Instead of <see cref="Typed"/>.</summary>
    public Func<string, string?>? Person { get; init; }

    /// <summary>Folder for what the program remembers, below <see cref="Folder"/>; null: it remembers nothing.</summary>
    public string? Data { get; init; }

    /// <summary>What prints pages; null: none is installed.</summary>
    public InstalledBrowser? Browser { get; init; }

    public string Write(string name, string text) => _folder.File(name, text);

    public string Read(string name) => File.ReadAllText(Path.Combine(Folder, name));

    /// <summary>Every file and folder with a fingerprint of what it holds: the same again as long as nothing was written or lost.</summary>
    public Dictionary<string, string> Contents() => Directory.EnumerateFileSystemEntries(Folder, "*", SearchOption.AllDirectories).ToDictionary(
        path => path,
        path => File.Exists(path) ? Convert.ToHexString(SHA256.HashData(File.ReadAllBytes(path))) : "");

    /// <summary>Conversions in a log so far; 0 while there is none.</summary>
    public int Rows(string log) => LogItems(log).Count(item => item is LogRow);

    /// <summary>What a log says so far.</summary>
    public List<LogItem> LogItems(string log)
    {
        var items = new List<LogItem>();
        if (LogReader.Open(Path.Combine(Folder, log)).TryGet(out LogReader? reader, out _))
        {
            using (reader)
            {
                while (reader.Next() is { } item)
                {
                    items.Add(item);
                }
            }
        }

        return items;
    }

    public Task<Outcome> RunAsync(params string[] args) => Start(args).EndAsync();

    public Running Start(params string[] args) => StartWith(new StringReader(Typed), args);

    /// <summary>The same with somebody at the keyboard who takes their time.</summary>
    public Running StartWith(TextReader input, params string[] args)
    {
        var output = new ScreenText();
        var errors = new ScreenText();
        var stop = new CancellationTokenSource();
        TextReader keyboard = Person is null ? input : new Keyboard(output, Person);
        CommandContext context = Context(output, errors, keyboard);
        return new Running(Task.Run(() => Cli.RunAsync(args, context, stop.Token)), output, errors, stop);
    }

    /// <summary>The outside world of a command that is only looked at.</summary>
    public CommandContext Context() => Context(TextWriter.Null, TextWriter.Null, TextReader.Null);

    public void Dispose() => _folder.Dispose();

    private CommandContext Context(TextWriter output, TextWriter errors, TextReader input) =>
        new(new Terminal(output, errors, input, this), _clock, _links, _files, Data is null ? null : Path.Combine(Folder, Data))
        {
            More = [ServeCommand.Build],
            FindBrowser = () => Browser,
        };

    private sealed class Keyboard(ScreenText screen, Func<string, string?> person) : TextReader
    {
        private int _read;

        public override string? ReadLine()
        {
            string all = screen.ToString();
            string said = all[_read..];
            _read = all.Length;
            return person(string.Join(' ', said.Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries)));
        }
    }

    private sealed class Terminal(TextWriter output, TextWriter errors, TextReader input, Bench bench) : ITerminal, IKeyboard
    {
        public TextWriter Out => output;

        public TextWriter ErrorOut => errors;

        public TextReader Input => input;

        public bool IsInteractive => bench.IsInteractive;

        public int Width => bench.Width;

        public int Height => bench.Height;

        public int? ErrorWidth => bench.ErrorWidth;

        public IKeyboard OpenKeyboard(Action suspending, Action resumed) => this;

        public bool TryRead(out ConsoleKeyInfo key)
        {
            bool any = bench.Keys.TryDequeue(out char pressed);
            key = new ConsoleKeyInfo(pressed, ConsoleKey.None, false, false, false);
            return any;
        }

        public void Dispose()
        {
        }
    }
}

/// <summary>Ports as the program opens them, with a list of serial ports that the test writes.</summary>
internal sealed class ListedPorts(Func<PortAddress, CancellationToken, ValueTask<ILink>> inside, IEnumerable<string> names) : ILinkOpener
{
    private readonly LinkOpener _real = new(inside);
    private readonly Lock _gate = new();
    private string[] _names = [.. names];

    public ListedPorts(params string[] names)
        : this((address, _) => throw new LinkUnavailableException($"{address} is not in this test"), names)
    {
    }

    /// <summary>What is plugged in from now on.</summary>
    public void List(params string[] names)
    {
        lock (_gate)
        {
            _names = names;
        }
    }

    public ValueTask<ILink> OpenAsync(PortAddress address, CancellationToken cancel) => _real.OpenAsync(address, cancel);

    public IReadOnlyList<string> SerialPorts()
    {
        lock (_gate)
        {
            return _names;
        }
    }
}
