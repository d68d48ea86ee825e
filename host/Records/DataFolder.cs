namespace Fourpatch.Records;

/// <summary>Where this program keeps what is to outlast it.</summary>
public static class DataFolder
{
    /// <summary>The platform's folder for a person's data: <c>~/.local/share/fourpatch</c> (or below <c>XDG_DATA_HOME</c>), <c>~/Library/Application Support/fourpatch</c>, <c>%LOCALAPPDATA%\fourpatch</c>.</summary>
    public static string Standard =>
        Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify), "fourpatch");
}
