using System.Text;
using Fourpatch.Core.Cells;

namespace Fourpatch.Tests.Cells;

public class AsciiTextTests
{
    [Fact]
    public void Printable_ASCII_but_comma_asterisk_and_quote_is_taken()
    {
        for (int character = 0; character <= 0x17F; character++)
        {
            bool allowed = character is >= ' ' and <= '~' and not (',' or '*' or '"');
            var text = new AsciiText(2);
            Assert.Equal(allowed, text.TrySet("a" + (char)character));
            if (character <= 0xFF)
            {
                Assert.Equal(allowed, new AsciiText(2).TrySet([(byte)'a', (byte)character], 0, 2));
            }
        }
    }

    [Theory]
    [InlineData("")]
    [InlineData("B1")]
    [InlineData("twelve chars")]
    public void Text_comes_back_as_it_was_set(string value)
    {
        var text = new AsciiText(12);
        Assert.True(text.TrySet(value));
        Assert.Equal(value, text.ToString());
        Assert.Equal(value.Length, text.Length);
        var fromBytes = new AsciiText(12);
        byte[] bytes = Encoding.ASCII.GetBytes("__" + value + "__");
        Assert.True(fromBytes.TrySet(bytes, 2, value.Length));
        Assert.True(fromBytes.IsSameAs(text));
    }

    [Fact]
    public void A_refused_text_leaves_the_old_one()
    {
        var text = new AsciiText(4);
        Assert.True(text.TrySet("FL"));
        Assert.False(text.TrySet("rear5"));
        Assert.False(text.TrySet("a,b"));
        Assert.False(text.TrySet(null));
        Assert.False(text.TrySet([65, 66], 1, 2));
        Assert.False(text.TrySet([65, 66], -1, 1));
        Assert.False(text.TrySet([65, 66], 0, -1));
        Assert.Equal("FL", text.ToString());
    }

    [Fact]
    public void A_copy_into_a_smaller_text_is_cut()
    {
        var text = new AsciiText(12);
        Assert.True(text.TrySet("front left"));
        var small = new AsciiText(5);
        small.CopyFrom(text);
        Assert.Equal("front", small.ToString());
        Assert.False(small.IsSameAs(text));
    }
}
