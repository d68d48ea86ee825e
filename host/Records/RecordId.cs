using System.Text;

namespace Fourpatch.Records;

/// <summary>
/// Ids of records: the beginning of the hash of what they hold, in 32 letters and digits that cannot be mistaken for each other, as
/// <c>k7f3-m2qa</c>. So the same record has the same id in every file of records, and two different ones do not share theirs.
/// </summary>
public static class RecordId
{
    /// <summary>Characters of an id, without the dash, unless two records begin alike.</summary>
    public const int UsualLength = 8;

    /// <summary>Fewest characters that are taken for the beginning of an id.</summary>
    public const int ShortestBeginning = 3;

    // No i, l, o, u: they look like 1 and 0, or make words.
    private const string Alphabet = "0123456789abcdefghjkmnpqrstvwxyz";
    private const int BitsPerLetter = 5;

    /// <summary>The id of a hash.</summary>
    /// <param name="hash">At least 20 bytes.</param>
    /// <param name="length">Characters wanted, a multiple of four.</param>
    public static string Of(ReadOnlySpan<byte> hash, int length = UsualLength)
    {
        var id = new StringBuilder();
        for (int letter = 0; letter < length; letter++)
        {
            int value = 0;
            for (int bit = letter * BitsPerLetter; bit < (letter + 1) * BitsPerLetter; bit++)
                value = (value << 1) | ((hash[bit / 8] >> (7 - (bit % 8))) & 1);
            if (letter > 0 && letter % 4 == 0)
                id.Append('-');
            id.Append(Alphabet[value]);
        }

        return id.ToString();
    }

    /// <summary>What a person typed, as far as it can be (the beginning of) an id: small letters, no dashes, o read as 0 and i, l as 1; null when it cannot.</summary>
    public static string? Plain(string typed)
    {
        ArgumentNullException.ThrowIfNull(typed);
        string plain = typed.Trim().ToLowerInvariant().Replace("-", "", StringComparison.Ordinal).Replace('o', '0').Replace('i', '1').Replace('l', '1');
        return plain.Length >= ShortestBeginning && plain.All(Alphabet.Contains) ? plain : null;
    }

    /// <summary>Whether an id is the beginning of a hash.</summary>
    public static bool Fits(string id, ReadOnlySpan<byte> hash)
    {
        ArgumentNullException.ThrowIfNull(id);
        int length = id.Count(letter => letter != '-');
        return length is >= UsualLength and <= 48 && length % 4 == 0 && Of(hash, length) == id;
    }
}
