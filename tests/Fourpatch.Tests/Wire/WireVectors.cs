using System.Globalization;

namespace Fourpatch.Tests.Wire;

/// <summary>One golden vector: kind, value or reason, and bytes. tests/vectors/wire.txt says what the kinds mean.</summary>
public sealed record WireVector(string Kind, string Value, byte[] Bytes, int FileLine)
{
    public override string ToString() => $"line {FileLine}: {Kind} {Value}";
}

/// <summary>Reads the golden vectors of the wire.</summary>
public static class WireVectors
{
    /// <summary>All vectors of a file.</summary>
    /// <exception cref="FormatException">A line is not three fields, or an escape is unknown; names the line.</exception>
    public static List<WireVector> Read(string path)
    {
        var vectors = new List<WireVector>();
        string[] lines = File.ReadAllLines(path);
        for (int i = 0; i < lines.Length; i++)
        {
            if (lines[i].Length == 0 || lines[i][0] == '#')
            {
                continue;
            }

            string[] fields = lines[i].Split('\t');
            if (fields.Length != 3)
            {
                throw new FormatException($"{path}, line {i + 1}: three fields separated by tabs are expected");
            }

            vectors.Add(new WireVector(fields[0], fields[1], Unescape(fields[2], i + 1), i + 1));
        }

        return vectors;
    }

    private static byte[] Unescape(string text, int fileLine)
    {
        var bytes = new List<byte>();
        for (int i = 0; i < text.Length; i++)
        {
            if (text[i] != '\\')
            {
                bytes.Add((byte)text[i]);
                continue;
            }

            i++;
            switch (text[i])
            {
                case 'r': bytes.Add((byte)'\r'); break;
                case 'n': bytes.Add((byte)'\n'); break;
                case '\\': bytes.Add((byte)'\\'); break;
                case 'x':
                    bytes.Add(byte.Parse(text.AsSpan(i + 1, 2), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture));
                    i += 2;
                    break;
                default: throw new FormatException($"line {fileLine}: unknown escape \\{text[i]}");
            }
        }

        return [.. bytes];
    }
}
