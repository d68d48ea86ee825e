using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Vehicles;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Records;

/// <summary>A weighing that goes from wheel to wheel and has not come to its end.</summary>
/// <param name="Begun">When.</param>
/// <param name="Vehicle">The car as its file then was.</param>
/// <param name="Readings">What was taken so far, and from what.</param>
/// <param name="Way">How it is done, in the words of the command: which remedy, which pairs.</param>
/// <param name="RiseM">How far a wheel is lifted.</param>
/// <param name="IsSetAside">The car was moved since, or it was begun anew: kept, but not gone on with.</param>
public sealed record UnfinishedWeighing(DateTimeOffset Begun, Vehicle Vehicle, RaisedBasis Readings, string Way, double RiseM, bool IsSetAside = false);

/// <summary>
/// Unfinished weighings, one file each in the data folder, written whole after every reading and brought to the disk before anybody is told that
/// the reading was taken.
/// </summary>
/// <param name="folder">The data folder.</param>
public sealed class UnfinishedFiles(string folder)
{
    private const string Prefix = "unfinished-weighing-";
    private const string NameTime = "yyyyMMdd'T'HHmmss";

    /// <summary>Those that can be gone on with, the newest first. A file that cannot be read is left alone.</summary>
    public IReadOnlyList<UnfinishedWeighing> Read()
    {
        if (!Directory.Exists(folder))
        {
            return [];
        }

        return [.. Directory.EnumerateFiles(folder, Prefix + "*.json")
            .Select(path => TextFile.Read(path).Then(text => UnfinishedDocument.Parse(text, path)))
            .Where(read => read.IsOk).Select(read => read.Value).Where(weighing => !weighing.IsSetAside).OrderByDescending(weighing => weighing.Begun)];
    }

    /// <summary>Puts it on the disk as it is now; null when it is there, else what was wrong.</summary>
    public InputError? Write(UnfinishedWeighing weighing)
    {
        try
        {
            Directory.CreateDirectory(folder);
        }
        catch (Exception error) when (TextFile.IsOfFileSystem(error))
        {
            return new InputError(ErrorCode.CannotWrite, $"the folder cannot be made: {TextFile.Reason(error)}", "", "name another one with --data DIR") { File = folder };
        }

        return AtomicFile.WriteText(PathOf(weighing), UnfinishedDocument.TextOf(weighing));
    }

    /// <summary>It has come to its end.</summary>
    public void Forget(UnfinishedWeighing weighing)
    {
        try
        {
            File.Delete(PathOf(weighing));
        }
        catch (Exception error) when (TextFile.IsOfFileSystem(error))
        {
            // Then it is offered once more, which hurts nobody.
        }
    }

    /// <summary>Its file.</summary>
    public string PathOf(UnfinishedWeighing weighing) => Path.Combine(
        folder, $"{Prefix}{weighing.Readings.Method}-{weighing.Begun.UtcDateTime.ToString(NameTime, CultureInfo.InvariantCulture)}.json");
}
