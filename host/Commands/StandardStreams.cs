using System.Runtime.InteropServices;
using System.Text;
using Fourpatch.Files;

namespace Fourpatch.Commands;

/// <summary>Which of its three standard streams this process was given when it was started (<c>&gt;&amp;-</c> in a shell gives none).</summary>
internal static partial class StandardStreams
{
    public const int Input = 0;
    public const int Output = 1;
    public const int Error = 2;

    // F_GETFD and FD_CLOEXEC (POSIX.1-2017, fcntl.h): the same figures on Linux and macOS.
    private const int AskFlags = 1;
    private const int ClosedWhenStarting = 1;

    /// <summary>Whether the stream was handed over.</summary>
    /// <param name="number">0, 1 or 2.</param>
    /// <remarks>
    /// That something is open under the number tells nothing: the runtime's own files take the lowest numbers that are free, and what is written
    /// there harms them. But those close themselves when another program is started, which nothing that came from a start can have done.
    /// </remarks>
    public static bool IsGiven(int number) => OperatingSystem.IsWindows() || (AskOf(number, AskFlags) is >= 0 and int flags && (flags & ClosedWhenStarting) == 0);

    [LibraryImport("libc", EntryPoint = "fcntl")]
    private static partial int AskOf(int number, int question);
}

/// <summary>An output of this process that may be closed, full or not open for writing; thread-safe as the console is.</summary>
/// <param name="number">Of the stream.</param>
/// <param name="inner">The console's own writer; not asked for where the stream was not given.</param>
/// <param name="isNeeded">True: what cannot be written is an <see cref="IOException"/>. False: it is dropped.</param>
internal sealed class StandardWriter(int number, Func<TextWriter> inner, bool isNeeded) : TextWriter
{
    private readonly bool _isGiven = StandardStreams.IsGiven(number);

    public override Encoding Encoding => _isGiven ? inner().Encoding : AtomicFile.Utf8;

    public override void Write(char value) => Put(value, static (writer, one) => writer.Write(one));

    public override void Write(string? value) => Put(value, static (writer, text) => writer.Write(text));

    public override void Write(char[] buffer, int index, int count) => Put(new string(buffer, index, count), static (writer, text) => writer.Write(text));

    public override void WriteLine() => Put(0, static (writer, _) => writer.WriteLine());

    public override void WriteLine(string? value) => Put(value, static (writer, text) => writer.WriteLine(text));

    public override void Flush() => Put(0, static (writer, _) => writer.Flush());

    private void Put<T>(T what, Action<TextWriter, T> write)
    {
        try
        {
            if (_isGiven)
            {
                write(inner(), what);
            }
            else if (isNeeded)
            {
                throw new IOException("the output is closed");
            }
        }
        catch (UnauthorizedAccessException) when (isNeeded)
        {
            throw new IOException("the output is not open for writing");
        }
        catch (Exception e) when (!isNeeded && e is IOException or UnauthorizedAccessException)
        {
            // Beside the answer only: nobody wants to hear it.
        }
    }
}
