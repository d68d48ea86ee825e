namespace Fourpatch.Links;

/// <summary>What serial ports are called, which is different on every platform.</summary>
public static class PortNames
{
    /// <summary>A name as the platform this runs on would give it, for messages.</summary>
    public static string Example { get; } = ExampleOn(OperatingSystem.IsWindows(), OperatingSystem.IsMacOS());

    /// <summary>Where a system lists its ports and their drivers, for people.</summary>
    public static string WhereToLook { get; } = WhereToLookOn(OperatingSystem.IsWindows(), OperatingSystem.IsMacOS());

    /// <summary>The same of any platform.</summary>
    public static string ExampleOn(bool isWindows, bool isMacOs) => isWindows ? "COM5" : isMacOs ? "/dev/cu.usbserial-110" : "/dev/ttyUSB0";

    /// <summary>The same of any platform.</summary>
    public static string WhereToLookOn(bool isWindows, bool isMacOs) => isWindows
        ? "the device manager, under Ports (COM & LPT), shows whether the adapter's driver is installed and which number it got"
        : isMacOs ? "'ls /dev/cu.*' in a terminal shows it with the plug in and not without; a driver needs a permission in the privacy settings"
        : "'ls /dev/ttyUSB* /dev/ttyACM*' shows it with the plug in; opening it needs membership in the group dialout (or uucp): 'sudo usermod -aG dialout $USER', then log in again";

    /// <summary>
    /// The names worth listing. macOS has every port twice: <c>/dev/tty.*</c> waits at opening for a carrier that no adapter gives,
    /// <c>/dev/cu.*</c> does not.
    /// </summary>
    public static IEnumerable<string> Usable(IEnumerable<string> names) => names.Where(name => !name.StartsWith("/dev/tty.", StringComparison.Ordinal));

    /// <summary>COM10 after COM9: by the words first, then by the number at the end.</summary>
    public static int Compare(string one, string other)
    {
        (string word, int number) = Split(one);
        (string otherWord, int otherNumber) = Split(other);
        int byWord = string.CompareOrdinal(word, otherWord);
        return byWord != 0 ? byWord : number != otherNumber ? number.CompareTo(otherNumber) : string.CompareOrdinal(one, other);
    }

    private static (string Word, int Number) Split(string name)
    {
        string word = name.TrimEnd('0', '1', '2', '3', '4', '5', '6', '7', '8', '9');
        return int.TryParse(name.AsSpan(word.Length), System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out int number) ? (word, number) : (name, -1);
    }
}
