using System.ComponentModel;
using System.Diagnostics;

namespace Fourpatch.Files;

/// <summary>A Chromium or Chrome that is installed on this machine: it prints our pages to PDF. Nothing is downloaded.</summary>
/// <param name="Path">Its program.</param>
public sealed record InstalledBrowser(string Path)
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    private static readonly string[] Names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge"];

    private static readonly string[] UsualPlaces =
    [
        "/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome", "/snap/bin/chromium",
        "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome", "/Applications/Chromium.app/Contents/MacOS/Chromium",
        @"C:\Program Files\Google\Chrome\Application\chrome.exe", @"C:\Program Files (x86)\Google\Chrome\Application\chrome.exe",
        @"C:\Program Files (x86)\Microsoft\Edge\Application\msedge.exe", @"C:\Program Files\Microsoft\Edge\Application\msedge.exe",
    ];

    /// <summary>What it is started with besides its task: no window, no network of its own, a profile of its own.</summary>
    public static IReadOnlyList<string> QuietFlags { get; } =
    [
        "--headless", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync",
        "--disable-default-apps", "--disable-extensions", "--disable-dev-shm-usage",
    ];

    /// <summary>The first one on the search path or in the usual places; null where there is none.</summary>
    /// <param name="searchPath">Folders as the variable PATH gives them.</param>
    /// <param name="exists">Whether a file is there.</param>
    public static InstalledBrowser? Find(string? searchPath, Func<string, bool> exists)
    {
        string ending = OperatingSystem.IsWindows() ? ".exe" : "";
        IEnumerable<string> onPath = (searchPath ?? "").Split(System.IO.Path.PathSeparator, StringSplitOptions.RemoveEmptyEntries)
            .SelectMany(folder => Names.Select(name => System.IO.Path.Combine(folder, name + ending)));
        return onPath.Concat(UsualPlaces).FirstOrDefault(exists) is { } path ? new InstalledBrowser(path) : null;
    }

    /// <summary>Flags that a superuser's browser needs besides: it refuses its sandbox. Only for our own pages.</summary>
    public static IReadOnlyList<string> SandboxFlags => Environment.IsPrivilegedProcess && !OperatingSystem.IsWindows() ? ["--no-sandbox"] : [];

    /// <summary>Prints a page to a PDF, whole or not at all; null when it is there, else what was wrong.</summary>
    /// <param name="html">The page; it must need nothing besides itself.</param>
    /// <param name="pdfPath">Where to.</param>
    /// <param name="cancel">Stops it.</param>
    public async Task<InputError?> PrintAsync(string html, string pdfPath, CancellationToken cancel)
    {
        DirectoryInfo room = Directory.CreateTempSubdirectory("fourpatch-print-");
        try
        {
            string page = System.IO.Path.Combine(room.FullName, "page.html"), printed = System.IO.Path.Combine(room.FullName, "page.pdf");
            await File.WriteAllTextAsync(page, html, AtomicFile.Utf8, cancel).ConfigureAwait(false);
            string? trouble = await RunAsync(
                [.. QuietFlags, .. SandboxFlags, $"--user-data-dir={System.IO.Path.Combine(room.FullName, "profile")}", "--no-pdf-header-footer", $"--print-to-pdf={printed}", new Uri(page).AbsoluteUri], cancel).ConfigureAwait(false);

            // It ends with 0 even when it could not print: the file is the only proof.
            if (trouble is null && !(File.Exists(printed) && await StartsAsPdfAsync(printed, cancel).ConfigureAwait(false)))
            {
                trouble = "it wrote no PDF";
            }

            if (trouble is not null)
            {
                return new InputError(ErrorCode.CannotWrite, $"could not be printed by {Path}: {trouble}", "", "open the HTML file in any browser and print it from there") { File = pdfPath };
            }

            byte[] bytes = await File.ReadAllBytesAsync(printed, cancel).ConfigureAwait(false);
            return AtomicFile.Write(pdfPath, stream => stream.Write(bytes));
        }
        finally
        {
            TryDelete(room);
        }
    }

    private async Task<string?> RunAsync(IEnumerable<string> arguments, CancellationToken cancel)
    {
        using var process = new Process { StartInfo = new ProcessStartInfo(Path, arguments) { RedirectStandardError = true, RedirectStandardOutput = true, RedirectStandardInput = true } };
        try
        {
            process.Start();
        }
        catch (Win32Exception error)
        {
            return error.Message;
        }

        using var patience = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        patience.CancelAfter(Patience);
        Task<string> errors = process.StandardError.ReadToEndAsync(patience.Token), output = process.StandardOutput.ReadToEndAsync(patience.Token);
        try
        {
            await process.WaitForExitAsync(patience.Token).ConfigureAwait(false);
            await Task.WhenAll(errors, output).ConfigureAwait(false);
            return process.ExitCode == 0 ? null : $"it ended with code {process.ExitCode}";
        }
        catch (OperationCanceledException)
        {
            process.Kill(entireProcessTree: true);
            cancel.ThrowIfCancellationRequested();
            return $"it did not end within {Patience.TotalSeconds:0} s";
        }
    }

    private static async Task<bool> StartsAsPdfAsync(string path, CancellationToken cancel)
    {
        byte[] head = new byte[5];
        await using FileStream file = File.OpenRead(path);
        return await file.ReadAtLeastAsync(head, head.Length, throwOnEndOfStream: false, cancel).ConfigureAwait(false) == head.Length && head.AsSpan().SequenceEqual("%PDF-"u8);
    }

    private static void TryDelete(DirectoryInfo room)
    {
        try
        {
            room.Delete(recursive: true);
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException)
        {
            // A last process of the browser may still hold its profile; the system clears its temporary folder.
        }
    }
}
