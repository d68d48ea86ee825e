namespace Fourpatch.Board.Simulation;

/// <summary>What a file holds that was being written when the power failed.</summary>
public enum TornWrite
{
    /// <summary>The old content: what the file system promises, as it copies on write.</summary>
    OldContent,

    /// <summary>Only the bytes that were written.</summary>
    Truncated,

    /// <summary>The bytes that were written, then what was there before.</summary>
    OldTail,

    /// <summary>The bytes that were written, then erased flash.</summary>
    ErasedTail,
}

/// <summary>Power failed in the middle of a write: the program that asked for it does not live to see it.</summary>
public sealed class PowerFailedException : Exception;

/// <summary>Files in flash, which can fill up, rot, and lose power at any byte.</summary>
public sealed class SimulatedFlash
{
    /// <summary>Content by path.</summary>
    public Dictionary<string, byte[]> Files { get; } = [];

    /// <summary>Most bytes all files together may hold.</summary>
    public int CapacityBytes { get; set; } = 200_000;

    /// <summary>Bytes that can still be written before the power fails; null for no failure.</summary>
    public int? BytesUntilCut { get; set; }

    /// <summary>What a cut leaves behind.</summary>
    public TornWrite Torn { get; set; } = TornWrite.OldContent;

    /// <summary>True after the cut, until power returns.</summary>
    public bool IsDead { get; private set; }

    /// <summary>Bytes written since the last reset of this counter.</summary>
    public int BytesWritten { get; set; }

    /// <summary>Power returns.</summary>
    public void Revive()
    {
        IsDead = false;
        BytesUntilCut = null;
    }

    /// <summary>Content of a file, null when there is none.</summary>
    public byte[]? Read(string path)
    {
        ThrowIfDead();
        return Files.GetValueOrDefault(path);
    }

    /// <summary>Replaces a file. A cut may come before, between and after any of its bytes.</summary>
    public void Write(string path, byte[] content)
    {
        ThrowIfDead();
        var old = Files.GetValueOrDefault(path, []);
        if (Files.Where(file => file.Key != path).Sum(file => file.Value.Length) + content.Length > CapacityBytes)
        {
            throw new IOException("flash is full");
        }

        if (BytesUntilCut is { } left && left <= content.Length)
        {
            BytesWritten += left;
            Cut(path, old, content, left);
        }

        BytesUntilCut -= content.Length;
        BytesWritten += content.Length;
        Files[path] = content;
    }

    /// <summary>Removes a file, if there is one.</summary>
    public void Delete(string path)
    {
        ThrowIfDead();
        Files.Remove(path);
    }

    private void Cut(string path, byte[] old, byte[] content, int written)
    {
        IsDead = true;
        Files[path] = Torn switch
        {
            TornWrite.OldContent => written == content.Length ? content : old,
            TornWrite.Truncated => content[..written],
            TornWrite.OldTail => [.. content[..written], .. old.Skip(written)],
            _ => [.. content[..written], .. Enumerable.Repeat((byte)0xFF, content.Length - written)],
        };
        if (Files[path].Length == 0 && old.Length == 0)
        {
            Files.Remove(path);
        }

        throw new PowerFailedException();
    }

    private void ThrowIfDead()
    {
        if (IsDead)
        {
            throw new PowerFailedException();
        }
    }
}
