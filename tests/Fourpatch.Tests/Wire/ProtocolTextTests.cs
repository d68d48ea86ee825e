using System.Text;
using System.Text.RegularExpressions;
using Fourpatch.Core.Wire;
using Fourpatch.Tests.Rig;

namespace Fourpatch.Tests.Wire;

/// <summary>The examples of PROTOCOL.md are what they say: golden vectors, and a session a board really holds.</summary>
public partial class ProtocolTextTests
{
    private static readonly string Text = File.ReadAllText(Repository.PathOf("shared-core/Wire/PROTOCOL.md"));

    private static readonly List<WireVector> Vectors = WireVectors.Read(Repository.PathOf("tests/vectors/wire.txt"));

    [Fact]
    public void Every_example_of_an_edge_value_is_a_golden_vector()
    {
        string[] examples = Examples("wire");
        Assert.True(examples.Length > 10);
        HashSet<string> good = Bodies("good");
        Assert.All(examples, example => Assert.Contains(example, good));
    }

    [Fact]
    public void Every_rejected_example_is_a_rejected_vector()
    {
        string[] examples = Examples("wire-rejected");
        Assert.True(examples.Length > 20);
        HashSet<string> bad = [.. Bodies("bad-frame"), .. Bodies("bad-fields"), .. Bodies("ignored")];
        Assert.All(examples, example => Assert.Contains(example, bad));
    }

    [Fact]
    public void The_session_is_what_a_board_answers()
    {
        var board = new TestBoard();
        string[] lines = Examples("wire-session");
        Assert.True(lines.Length > 20);
        string? expectedId = null;
        for (int i = 0; i < lines.Length; i++)
        {
            string line = lines[i][2..];
            if (lines[i][0] == '>')
            {
                Assert.Null(expectedId);
                expectedId = line == "identify" ? "0" : line.Split(',')[1];
                board.Port.TakeText();
                board.Port.Give(Encoding.ASCII.GetBytes(line + "\n"));
                board.Run(2000);
            }
            else if (line.StartsWith($"A,{expectedId},", StringComparison.Ordinal))
            {
                Assert.Contains(line, board.Port.TakeText().Split("\r\n"));
                expectedId = null;
            }
            else
            {
                var reader = new LineReader();
                byte[] bytes = Encoding.ASCII.GetBytes(line + "\n");
                Assert.Equal(LineOutcome.Good, bytes.Select(reader.Push).ToArray()[^1]);
                Assert.True(line[0] != 'A' && WireText.Describe(reader.Body, reader.BodyLength) is not null, line);
            }
        }

        Assert.Null(expectedId);
    }

    [Fact]
    public void The_fixed_numbers_stand_in_the_text()
    {
        Assert.Contains($"protocol version {WireFormat.ProtocolVersion}", Text, StringComparison.Ordinal);
        Assert.Contains($"at most {WireFormat.LineBytesMax} bytes", Text, StringComparison.Ordinal);
        Assert.Contains($"{WireFormat.BitsPerSecond} baud", Text, StringComparison.Ordinal);
        Assert.Contains($"1 to {WireFormat.CommandNumberMax}", Text, StringComparison.Ordinal);
        Assert.Contains("**9197**", Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_word_of_the_wire_stands_in_the_grammar()
    {
        string grammar = Regex.Match(Text, "```abnf\n(.*?)```", RegexOptions.Singleline).Groups[1].Value;
        string[] words = typeof(Verbs).GetFields().Select(field => (string)field.GetValue(null)!).ToArray();
        Assert.Equal(19, words.Length);
        Assert.All(words, word => Assert.Matches($"\"[^\"]*\\b{Regex.Escape(word)}\\b[^\"]*\"", grammar));
    }

    private static HashSet<string> Bodies(string kind)
        => Vectors.Where(vector => vector.Kind == kind).Select(vector => Encoding.Latin1.GetString(vector.Bytes).TrimEnd('\n').TrimEnd('\r')).ToHashSet();

    // The lines of all blocks with a mark, without what is remarked behind them.
    private static string[] Examples(string mark)
        => BlockPattern().Matches(Text)
            .Where(match => match.Groups[1].Value == mark)
            .SelectMany(match => match.Groups[2].Value.Split('\n', StringSplitOptions.RemoveEmptyEntries))
            .Select(line => RemarkPattern().Replace(line, ""))
            .ToArray();

    [GeneratedRegex("^```([a-z-]+)\n(.*?)^```$", RegexOptions.Singleline | RegexOptions.Multiline)]
    private static partial Regex BlockPattern();

    [GeneratedRegex(" {3,}# .*$")]
    private static partial Regex RemarkPattern();
}
