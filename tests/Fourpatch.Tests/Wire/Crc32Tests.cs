using System.Text;
using Fourpatch.Core.Wire;

namespace Fourpatch.Tests.Wire;

public class Crc32Tests
{
    // Catalogue of parametrised CRC algorithms (G. Cook), CRC-32/ISO-HDLC: check CBF43926, and 0 for nothing at all.
    [Theory]
    [InlineData("123456789", 0xCBF43926)]
    [InlineData("", 0x00000000)]
    public void The_check_value_of_the_catalogue_comes_out(string text, uint checksum)
        => Assert.Equal(checksum, Crc32.Of(Encoding.ASCII.GetBytes(text), 0, text.Length));

    [Fact]
    public void Random_bytes_give_what_another_implementation_gives()
    {
        const int seed = 32;
        var random = new Random(seed);
        for (int i = 0; i < 2000; i++)
        {
            byte[] bytes = new byte[random.Next(400)];
            random.NextBytes(bytes);
            int offset = random.Next(bytes.Length + 1);
            int count = random.Next(bytes.Length - offset + 1);
            Assert.Equal(System.IO.Hashing.Crc32.HashToUInt32(bytes.AsSpan(offset, count)), Crc32.Of(bytes, offset, count));
        }
    }
}
