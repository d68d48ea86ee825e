using System.Text;

namespace Fourpatch.Tests.Commands;

/// <summary>What a command has written, readable while it goes on writing.</summary>
internal sealed class ScreenText : TextWriter
{
    private readonly StringBuilder _text = new();
    private readonly Lock _gate = new();

    public override Encoding Encoding => Encoding.UTF8;

    public override string ToString()
    {
        lock (_gate)
        {
            return _text.ToString();
        }
    }

    public override void Write(char value)
    {
        lock (_gate)
        {
            _text.Append(value);
        }
    }

    public override void Write(string? value)
    {
        lock (_gate)
        {
            _text.Append(value);
        }
    }

    public override void Write(char[] buffer, int index, int count) => Write(new string(buffer, index, count));

    public override void WriteLine(string? value) => Write(value + "\n");

    public override void WriteLine() => Write("\n");
}
