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
    {
        // The tests themselves run under the same host.
        string? host = Environment.ProcessPath;
        string dotnet = host is not null && Path.GetFileNameWithoutExtension(host) == "dotnet" ? host : "dotnet";
        _process = Process.Start(new ProcessStartInfo(dotnet, [Path.Combine(AppContext.BaseDirectory, "fourpatch.dll"), .. args])
        {
            WorkingDirectory = folder.Path,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            RedirectStandardInput = true,
        })!;
        _process.ErrorDataReceived += (_, line) => _errors.AppendLine(line.Data);
        _process.BeginErrorReadLine();
    }

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
        string output = await process._process.StandardOutput.ReadToEndAsync().WaitAsync(TimeSpan.FromSeconds(90));
        await process._process.WaitForExitAsync();
        return new Outcome(process._process.ExitCode, output, process._errors.ToString());
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
