using System.Text.RegularExpressions;
using Fourpatch.Commands.Help;

namespace Fourpatch.Tests.Commands.Help;

/// <summary>What every help page keeps to, on screens of two widths.</summary>
public partial class HelpPageTests
{
    [Theory]
    [InlineData(80)]
    [InlineData(60)]
    [InlineData(200)]
    public void Every_help_and_every_topic_fits_the_screen_and_is_never_wider_than_eighty(int width)
    {
        int room = Math.Min(width, 80);
        var texts = new List<(string Name, string Text)>();
        foreach (HelpPage page in ExampleTests.Pages())
        {
            var output = new StringWriter { NewLine = "\n" };
            HelpText.Write(output, page, width);
            texts.Add((page.Name, output.ToString()));
        }

        foreach (HelpTopic topic in HelpTopic.All)
        {
            var output = new StringWriter { NewLine = "\n" };
            HelpText.WriteTopic(output, topic.Text, width);
            texts.Add(("help " + topic.Name, output.ToString()));
        }

        // At 60 columns one word alone may still be longer: a list of kinds, a path.
        string[] wide = [.. texts.SelectMany(text => text.Text.Split('\n').Where(line => line.Length > room && (width >= 80 || line.Trim().Contains(' '))).Select(line => $"{text.Name}: {line}"))];
        Assert.Empty(wide);
        Assert.All(texts, text => Assert.False(string.IsNullOrWhiteSpace(text.Text), text.Name));
    }

    [Theory]
    [InlineData(80)]
    [InlineData(60)]
    public void Folding_loses_no_word_and_breaks_none(int width)
    {
        foreach (HelpPage page in ExampleTests.Pages())
        {
            var output = new StringWriter { NewLine = "\n" };
            HelpText.Write(output, page, width);
            string shown = string.Join(' ', output.ToString().Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries));
            Assert.All(page.Description.Concat(page.Sections.SelectMany(section => section.Entries.Select(entry => entry.Text))), text =>
                Assert.Contains(string.Join(' ', text.Split(' ', StringSplitOptions.RemoveEmptyEntries)), shown, StringComparison.Ordinal));
        }
    }

    [Fact]
    public void Every_command_is_listed_once_and_says_what_it_does()
    {
        HelpPage[] pages = ExampleTests.Pages();
        string[] commands = [.. pages.Select(page => page.Words).Where(words => words.Length > 0 && !words.Contains(' '))];
        Assert.Equal(commands.Order(), CommandGroup.All.SelectMany(group => group.Commands).Order());
        Assert.All(pages, page => Assert.True(page.Description is [{ Length: > 10 }, ..], page.Name));
        Assert.All(pages.SelectMany(page => page.Sections.SelectMany(section => section.Entries.Select(entry => (page.Name, entry)))),
            one => Assert.True(one.entry.Text.Length > 0, $"{one.Name}: {one.entry.Term}"));
    }

    /// <summary>
    /// The rule: every word of the prose of helps and topics is either one anybody knows (plain-words.txt beside this test, put there by hand) or has
    /// a line of its own in the glossary. So a new word of the trade cannot come in without one or the other being decided. Forms of a word (plural, past,
    /// -ing) count as the word. Names of commands and options, values, figures, and what stands in capitals for something to type are no prose.
    /// </summary>
    [Fact]
    public void Every_word_is_a_plain_one_or_in_the_glossary()
    {
        HashSet<string> plain = [.. PlainWords().Select(Stem)];
        HashSet<string> explained = [.. Terms().SelectMany(term => Word().Matches(term).Select(word => Stem(word.Value)))];
        string[] unknown = [.. Prose().SelectMany(WordsOf).Where(word => !plain.Contains(Stem(word)) && !explained.Contains(Stem(word))).Distinct().Order()];
        Assert.True(unknown.Length == 0, "neither plain nor in hardware-notes/glossary.md: " + string.Join(' ', unknown));
    }

    [Fact]
    public void A_word_of_the_glossary_is_not_called_plain_and_no_plain_word_is_idle()
    {
        HashSet<string> used = [.. Prose().SelectMany(WordsOf)];
        Assert.Empty(PlainWords().Except(used));
        Assert.Empty(PlainWords().Intersect(Terms().Where(term => !term.Contains(' '))));
        Assert.Empty(PlainWords().Where(word => word != word.ToLowerInvariant()));
    }

    [Theory]
    [InlineData("The eigenvalue of it", "eigenvalue")]
    [InlineData("as ZQX says", "ZQX")]
    public void A_word_of_a_trade_would_be_noticed(string text, string word) =>
        Assert.Contains(WordsOf(text), one => one == word && !PlainWords().Contains(one) && !Terms().Contains(one));

    private static IEnumerable<string> Prose() => ExampleTests.Pages()
        .SelectMany(page => page.Description.Concat(page.Sections.SelectMany(section => section.Entries.Select(entry => entry.Text))).Concat(page.Examples.Select(example => example.Does)))
        .Concat(HelpTopic.All.Where(topic => topic.Name is not ("words" or "faults")).Select(topic => topic.Text));

    private static IEnumerable<string> WordsOf(string text) => CommandLine().Replace(text, " ").Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries)
        .Select(token => token.Trim('.', ',', ';', ':', '(', ')', '"', '\'', '!', '?', '[', ']'))
        .Where(token => !token.StartsWith("--", StringComparison.Ordinal) && !NotProse().IsMatch(token))
        .SelectMany(token => Word().Matches(token).Select(match => match.Value.EndsWith("'s", StringComparison.Ordinal) ? match.Value[..^2] : match.Value))
        .Where(word => word.Length > 1 && !Placeholders.Contains(word))
        .Select(word => word.ToUpperInvariant() == word ? word : word.ToLowerInvariant());

    // What stands in capitals for something to type.
    private static readonly string[] Placeholders = ["NAME", "FILE", "VALUE", "TOPIC", "COMMAND", "ID"];

    private static string Stem(string word)
    {
        string lower = word.ToLowerInvariant();
        string? ending = new[] { "ations", "ation", "ings", "ing", "ed", "es", "s", "e" }.FirstOrDefault(one => lower.EndsWith(one, StringComparison.Ordinal) && lower.Length - one.Length >= 3);
        return ending is null ? lower : lower[..^ending.Length];
    }

    private static string[] PlainWords() =>
        [.. File.ReadLines(Repository.PathOf("tests/Fourpatch.Tests/Commands/Help/plain-words.txt")).Where(line => !line.StartsWith('#')).SelectMany(line => line.Split(' ', StringSplitOptions.RemoveEmptyEntries))];

    private static IEnumerable<string> Terms() => File.ReadLines(Repository.PathOf("hardware-notes/glossary.md"))
        .Where(line => line.StartsWith("| ", StringComparison.Ordinal)).Skip(1).SelectMany(line => line.Split('|')[1].Split(',', StringSplitOptions.TrimEntries));

    [GeneratedRegex("'fourpatch[^']*'")]
    private static partial Regex CommandLine();

    [GeneratedRegex(@"[=<>|/._:#@\d\[\]{}$~*+%]")]
    private static partial Regex NotProse();

    [GeneratedRegex("[A-Za-z]+(?:'s)?")]
    private static partial Regex Word();
}
