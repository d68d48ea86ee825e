using System.Diagnostics;
using System.Text;
using Fourpatch.Tests.Files;

namespace Fourpatch.Tests.Commands;

/// <summary>The program as a process of its own, as built beside these tests; ended when disposed.</summary>
internal sealed class FourpatchProcess : IAsyncDisposable
{
    private readonly Process _process;
    private readonly StringBuilder _errors = new();

    private FourpatchProcess(ScratchFolder folder, IEnumerable<string> args)
        : this(new ProcessStartInfo(Dotnet, [Program, .. args]) { WorkingDirectory = folder.Path })
    {
    }

    private FourpatchProcess(ProcessStartInfo start)
    {
        (start.RedirectStandardOutput, start.RedirectStandardError, start.RedirectStandardInput) = (true, true, true);
        _process = Process.Start(start)!;
        _process.ErrorDataReceived += (_, line) => _errors.AppendLine(line.Data);
        _process.BeginErrorReadLine();
    }

    // The tests themselves run under the same host.
    private static string Dotnet => Environment.ProcessPath is { } host && Path.GetFileNameWithoutExtension(host) == "dotnet" ? host : "dotnet";

    private static string Program => Path.Combine(AppContext.BaseDirectory, "fourpatch.dll");

    /// <summary>The value for <c>--port</c>, from the first line of output.</summary>
    public string Port { get; private set; } = "";

    /// <summary>Starts <c>simulate</c> and waits until it serves.</summary>
    public static async Task<FourpatchProcess> ServingAsync(ScratchFolder folder, params string[] how)
    {
        var process = new FourpatchProcess(folder, ["simulate", "--scenario", "pads.toml", .. how]);
        process.Port = await process._process.StandardOutput.ReadLineAsync().WaitAsync(TimeSpan.FromSeconds(60)) ?? throw new InvalidOperationException($"simulate ended: {process._errors}");
        return process;
    }

    /// <summary>Starts a command.</summary>
    public static FourpatchProcess Start(ScratchFolder folder, params string[] args) => new(folder, args);

    /// <summary>Starts a command with what only a shell can do for it.</summary>
    /// <param name="folder">Where it runs.</param>
    /// <param name="line">For bash; FP stands for the program with a data folder of its own (<c>data</c>). Its standard input is open and says nothing.</param>
    public static FourpatchProcess StartInShell(ScratchFolder folder, string line) =>
        new(new ProcessStartInfo("bash", ["-c", line.Replace("FP", $"exec '{Dotnet}' '{Program}' --data data", StringComparison.Ordinal)]) { WorkingDirectory = folder.Path });

    /// <summary>Sends a signal.</summary>
    public void Signal(string name)
    {
        using var kill = Process.Start("kill", ["-s", name, $"{_process.Id}"]);
        kill.WaitForExit();
    }

    /// <summary>Waits for its end.</summary>
    public async Task<Outcome> EndAsync()
    {
        string output = await _process.StandardOutput.ReadToEndAsync().WaitAsync(TimeSpan.FromSeconds(90));
        await _process.WaitForExitAsync();
        return new Outcome(_process.ExitCode, output, _errors.ToString());
    }

    /// <summary>The next line of output; null when there is none any more.</summary>
    public Task<string?> ReadLineAsync() => _process.StandardOutput.ReadLineAsync().WaitAsync(TimeSpan.FromSeconds(90));

    /// <summary>SIGKILL: no handler runs, nothing is put in order.</summary>
    /// <returns>What it had still written.</returns>
    public async Task<string> KillAsync()
    {
        _process.Kill();
        string rest = await _process.StandardOutput.ReadToEndAsync();
        await _process.WaitForExitAsync();
        return rest;
    }

    /// <summary>Runs a command to its end.</summary>
    public static async Task<Outcome> RunAsync(ScratchFolder folder, params string[] args)
    {
        await using var process = new FourpatchProcess(folder, args);
        return await process.EndAsync();
    }

    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited)
        {
            _process.Kill();
            await _process.WaitForExitAsync();
        }

        _process.Dispose();
    }
}
