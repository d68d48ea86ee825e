namespace Fourpatch.Reports;

/// <summary>A grid of characters to draw on; what falls outside is cut off. Not thread-safe.</summary>
public sealed class TextCanvas
{
    private readonly char[][] _rows;
    private readonly int _width;

    /// <summary>An empty grid.</summary>
    public TextCanvas(int width, int height)
    {
        _width = width;
        _rows = [.. Enumerable.Range(0, height).Select(_ => Enumerable.Repeat(' ', width).ToArray())];
    }

    /// <summary>Writes text from a place to the right.</summary>
    public void Put(int column, int row, string text)
    {
        for (int i = 0; i < text.Length; i++)
        {
            Put(column + i, row, text[i]);
        }
    }

    /// <summary>Writes text that ends at a place.</summary>
    public void PutBefore(int endColumn, int row, string text) => Put(endColumn - text.Length, row, text);

    /// <summary>Writes text around a place.</summary>
    public void PutAround(int column, int row, string text) => Put(column - (text.Length / 2), row, text);

    /// <summary>Writes one character.</summary>
    public void Put(int column, int row, char character)
    {
        if (row >= 0 && row < _rows.Length && column >= 0 && column < _width)
        {
            _rows[row][column] = character;
        }
    }

    /// <summary>The grid as lines without trailing blanks.</summary>
    public IEnumerable<string> Lines() => _rows.Select(row => new string(row).TrimEnd());
}
