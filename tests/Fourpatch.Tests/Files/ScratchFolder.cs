namespace Fourpatch.Tests.Files;

/// <summary>A folder of its own for one test, gone afterwards.</summary>
internal sealed class ScratchFolder : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("fourpatch-").FullName;

    public string File(string name, string text)
    {
        var path = System.IO.Path.Combine(Path, name);
        System.IO.File.WriteAllText(path, text);
        return path;
    }

    public void Dispose() => Directory.Delete(Path, recursive: true);
}
