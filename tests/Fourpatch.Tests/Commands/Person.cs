using System.Diagnostics;
using System.Text.RegularExpressions;
using Fourpatch.Tests.Files;

namespace Fourpatch.Tests.Commands;

/// <summary>Somebody at a terminal: types only what a question on the screen asks for.</summary>
internal sealed partial class Person : IDisposable
{
    private readonly Process _script;
    private readonly ScreenText _screen = new();
    private readonly Task _reading;
    private int _seen;

    /// <param name="folder">The folder it runs in.</param>
    /// <param name="commandLine">Of the program.</param>
    /// <param name="size">What <c>stty</c> is told of the terminal.</param>
    /// <param name="before">Commands of the shell before it, as exported variables.</param>
    /// <param name="isAtShell">True: a shell that knows jobs waits for <see cref="Program"/> to be typed.</param>
    public Person(ScratchFolder folder, string commandLine, string size = "cols 100", string before = "", bool isAtShell = false)
    {
        string? host = Environment.ProcessPath;
        string dotnet = host is not null && Path.GetFileNameWithoutExtension(host) == "dotnet" ? host : "dotnet";

        // A shell's background job hears no Ctrl-C, nor do its children; a person's terminal does.
        string program = $"env --default-signal=INT,QUIT,HUP '{dotnet}' '{Path.Combine(AppContext.BaseDirectory, "fourpatch.dll")}' {commandLine}";
        Program = program;
        string first = isAtShell ? "bash --noprofile --norc -i" : program;
        _script = Process.Start(new ProcessStartInfo("script", ["--quiet", "--return", "--command", $"stty {size}; {before} exec {first}", "/dev/null"])
        {
            WorkingDirectory = folder.Path,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            Environment = { ["TERM"] = "xterm" },
        })!;
        _reading = ReadAsync();
    }

    /// <summary>The program as a shell is told of it.</summary>
    public string Program { get; }

    /// <summary>Everything that was written to the terminal, with its escapes.</summary>
    public string Raw => _screen.ToString();

    /// <summary>What is left to read of what was written to a terminal.</summary>
    public static string WithoutEscapes(string raw) => Escapes().Replace(raw, "").Replace("\r", "", StringComparison.Ordinal);

    /// <summary>Waits for the question, then types the answer and Enter.</summary>
    public async Task AnswerAsync(string question, string answer)
    {
        await SeesAsync(question);
        await SeesAsync(": ");
        Press(answer + "\r");
    }

    public void Press(string keys)
    {
        _script.StandardInput.Write(keys);
        _script.StandardInput.Flush();
    }

    /// <summary>Waits until this stands on the screen behind what was waited for before.</summary>
    public async Task SeesAsync(string text)
    {
        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(60));
        while (true)
        {
            string screen = WithoutEscapes(_screen.ToString());
            int at = screen.IndexOf(text, _seen, StringComparison.Ordinal);
            if (at >= 0)
            {
                _seen = at + text.Length;
                return;
            }

            Assert.False(patience.IsCancellationRequested || _reading.IsCompleted, $"never seen: {text}\n{screen}");
            await Task.Delay(10);
        }
    }

    /// <summary>Waits for its end, and for the last that it wrote.</summary>
    public async Task<int> ExitCodeAsync()
    {
        await _script.WaitForExitAsync().WaitAsync(TimeSpan.FromSeconds(60));
        await _reading.WaitAsync(TimeSpan.FromSeconds(60));
        return _script.ExitCode;
    }

    public void Dispose()
    {
        if (!_script.HasExited)
        {
            _script.Kill(entireProcessTree: true);
        }

        _script.Dispose();
    }

    private async Task ReadAsync()
    {
        char[] some = new char[4096];
        for (int count = await _script.StandardOutput.ReadAsync(some); count > 0; count = await _script.StandardOutput.ReadAsync(some))
        {
            _screen.Write(new string(some, 0, count));
        }
    }

    [GeneratedRegex("\u001b(\\[[0-9;?]*[A-Za-z]|[=>])")]
    private static partial Regex Escapes();
}
