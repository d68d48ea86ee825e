namespace Fourpatch.Tests.Wire;

/// <summary>What a serial line does to bytes.</summary>
internal static class Mutations
{
    /// <summary>One to three changes: bits, bytes lost, doubled, exchanged, foreign, or a tail cut off.</summary>
    public static byte[] Of(byte[] bytes, Random random)
    {
        var result = bytes.ToList();
        for (int changes = random.Next(1, 4); changes > 0 && result.Count > 0; changes--)
        {
            int at = random.Next(result.Count);
            switch (random.Next(8))
            {
                case 0: result[at] ^= (byte)(1 << random.Next(8)); break;
                case 1: result[at] = (byte)random.Next(256); break;
                case 2: result[at] = (byte)random.Next('0', '9' + 1); break;
                case 3: result.RemoveAt(at); break;
                case 4: result.Insert(at, result[at]); break;
                case 5: result.Insert(at, (byte)random.Next(256)); break;
                case 6: (result[at], result[0]) = (result[0], result[at]); break;
                default: result.RemoveRange(at, result.Count - at); break;
            }
        }

        return [.. result];
    }
}
