using Fourpatch.Files;
using Fourpatch.Tests.Commands;

namespace Fourpatch.Tests.Files;

public class AtomicFileTests
{
    [Fact]
    public void A_new_file_holds_exactly_the_text_and_nothing_stays_beside_it()
    {
        using var folder = new ScratchFolder();
        var path = Path.Combine(folder.Path, "a.toml");
        Assert.Null(AtomicFile.WriteText(path, "\u00b1 1\n"));
        Assert.Equal("\u00b1 1\n"u8.ToArray(), File.ReadAllBytes(path));
        Assert.Single(Directory.GetFileSystemEntries(folder.Path));
    }

    [Fact]
    public void An_old_file_is_replaced_whole()
    {
        using var folder = new ScratchFolder();
        var path = folder.File("a.toml", new string('x', 5000));
        Assert.Null(AtomicFile.WriteText(path, "short"));
        Assert.Equal("short", File.ReadAllText(path));
    }

    [Fact]
    public void When_the_disk_fills_up_half_way_the_old_file_stays_and_no_temporary()
    {
        using var folder = new ScratchFolder();
        var path = folder.File("a.toml", "old");
        var error = AtomicFile.Write(path, stream =>
        {
            stream.Write("half of it"u8);
            throw new IOException("No space left on device");
        });
        Assert.Equal(ErrorCode.CannotWrite, error!.Code);
        Assert.Contains("No space left on device", error.OneLine, StringComparison.Ordinal);
        Assert.Equal("old", File.ReadAllText(path));
        Assert.Single(Directory.GetFileSystemEntries(folder.Path));
    }

    [Fact]
    public void A_fault_of_the_caller_passes_through_and_leaves_no_temporary()
    {
        using var folder = new ScratchFolder();
        var path = Path.Combine(folder.Path, "a.toml");
        Assert.Throws<InvalidOperationException>(() => AtomicFile.Write(path, _ => throw new InvalidOperationException()));
        Assert.Empty(Directory.GetFileSystemEntries(folder.Path));
    }

    [Fact]
    public void A_missing_folder_a_folder_as_name_and_an_impossible_name_are_errors()
    {
        using var folder = new ScratchFolder();
        foreach (var path in new[] { Path.Combine(folder.Path, "none", "a.toml"), folder.Path, "a\0b", "" })
        {
            var error = AtomicFile.WriteText(path, "x");
            Assert.Equal(ErrorCode.CannotWrite, error!.Code);
            Assert.Contains("cannot be written", error.OneLine, StringComparison.Ordinal);
        }

        Assert.Empty(Directory.GetFileSystemEntries(folder.Path));
    }

    [Fact]
    public void A_folder_nobody_may_write_to_is_an_error_and_stays_untouched()
    {
        using var folder = new ScratchFolder();
        var path = folder.File("a.toml", "old");
        string refused;
        if (OperatingSystem.IsWindows())
        {
            // Windows protects the file, not the folder.
            File.SetAttributes(path, FileAttributes.ReadOnly);
            refused = path;
        }
        else
        {
            // The administrator may write to any folder but those the kernel keeps for itself.
            var locked = Directory.CreateDirectory(Path.Combine(folder.Path, "locked"));
            File.SetUnixFileMode(locked.FullName, UnixFileMode.UserRead | UnixFileMode.UserExecute);
            refused = Path.Combine(Environment.IsPrivilegedProcess && OperatingSystem.IsLinux() ? "/proc" : locked.FullName, "a.toml");
        }

        try
        {
            Assert.Equal(ErrorCode.CannotWrite, AtomicFile.WriteText(refused, "new")!.Code);
            Assert.Equal("old", File.ReadAllText(path));
            Assert.DoesNotContain(Directory.GetFiles(folder.Path, "*", SearchOption.AllDirectories), name => name.EndsWith(".tmp", StringComparison.Ordinal));
        }
        finally
        {
            File.SetAttributes(path, FileAttributes.Normal);
        }
    }

    [KillFact]
    public void Devices_pipes_and_sockets_are_no_place_for_a_file_and_stay()
    {
        using var folder = new ScratchFolder();
        var pipe = Path.Combine(folder.Path, "pipe");
        using (var made = System.Diagnostics.Process.Start("mkfifo", [pipe]))
            made.WaitForExit();
        var socket = Path.Combine(folder.Path, "socket");
        using var listening = new System.Net.Sockets.Socket(System.Net.Sockets.AddressFamily.Unix, System.Net.Sockets.SocketType.Stream, System.Net.Sockets.ProtocolType.Unspecified);
        listening.Bind(new System.Net.Sockets.UnixDomainSocketEndPoint(socket));
        foreach (var (name, leadsTo) in new[] { ("nothing.html", "/dev/null"), ("pipe.html", pipe), ("socket.html", socket) })
        {
            var link = Path.Combine(folder.Path, name);
            File.CreateSymbolicLink(link, leadsTo);
            var before = Directory.GetFileSystemEntries(folder.Path).Order();
            var error = AtomicFile.Write(link, _ => Assert.Fail("written to"));
            Assert.Equal(ErrorCode.CannotWrite, error!.Code);
            Assert.Contains("device or a pipe", error.OneLine, StringComparison.Ordinal);
            Assert.Equal(before, Directory.GetFileSystemEntries(folder.Path).Order());
        }
    }

    [Fact]
    public void An_empty_file_behind_a_link_is_written_and_the_link_stays()
    {
        using var folder = new ScratchFolder();
        var empty = folder.File("empty", "");
        var link = Path.Combine(folder.Path, "link");
        if (OperatingSystem.IsWindows())
            link = empty;
        else
            File.CreateSymbolicLink(link, empty);
        Assert.Null(AtomicFile.WriteText(link, "x"));
        Assert.Equal("x", File.ReadAllText(empty));
        Assert.Equal(OperatingSystem.IsWindows() ? null : empty, new FileInfo(link).LinkTarget);
    }

    [Fact]
    public void Reading_what_is_not_a_text_file_is_an_error()
    {
        using var folder = new ScratchFolder();
        var binary = Path.Combine(folder.Path, "a.bin");
        File.WriteAllBytes(binary, [0xff, 0xfe, 0xfd, 0x80, 0x81]);
        var latin = Path.Combine(folder.Path, "latin.toml");
        File.WriteAllBytes(latin, [(byte)'a', 0xe9, (byte)'b']);
        Assert.Contains("UTF-8", TextFile.Read(latin).Error!.OneLine, StringComparison.Ordinal);
        foreach (var path in new[] { folder.Path, Path.Combine(folder.Path, "none"), "a\0b", "" })
            Assert.Equal(ErrorCode.CannotRead, TextFile.Read(path).Error!.Code);
        var large = Path.Combine(folder.Path, "large");
        using (var stream = File.Create(large))
            stream.SetLength(TextFile.LargestBytes + 1);
        Assert.Contains("8 MB", TextFile.Read(large).Error!.OneLine, StringComparison.Ordinal);
    }
}
