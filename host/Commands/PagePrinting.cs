using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Reports.Pages;

namespace Fourpatch.Commands;

/// <summary>What commands that write pages and pictures share.</summary>
internal static class PagePrinting
{
    /// <summary>
    /// The file to write; null when none was asked for. A page or picture can be made anew at any time, so it takes the place of an older one;
    /// its ending keeps it from taking that of anything else.
    /// </summary>
    public static string? ReadFile(ParseResult parsed, Option<string?> option, string ending = "") => parsed.GetValue(option) switch
    {
        null => null,
        { Length: > 0 } file => file.EndsWith(ending, StringComparison.OrdinalIgnoreCase) ? file
            : throw new RefusalException(new InputError(ErrorCode.Syntax, $"found {InputError.Quote(Path.GetFileName(file))}", $"a file that ends in {ending}", "give it that ending") { Field = option.Name }),
        _ => throw new RefusalException(new InputError(ErrorCode.Missing, "no file was named", $"{option.Name} {option.HelpName}", "name one") { Field = option.Name }),
    };

    /// <summary>Where it was written, and whether in place of an older one.</summary>
    /// <param name="file">As typed.</param>
    /// <param name="wasThere">Before it was written.</param>
    public static string Written(string file, bool wasThere) => $"Written to {file}{(wasThere ? ", in place of the one that was there" : "")}.";

    /// <summary>The sheet to print on.</summary>
    public static Paper ReadPaper(ParseResult parsed, Option<string> option) => Words.TryParse(parsed.GetValue(option) ?? "", out Paper paper)
        ? paper
        : throw new RefusalException(new InputError(ErrorCode.UnknownName, $"found {InputError.Quote(parsed.GetValue(option) ?? "")}", "a4 or letter", "choose one of the two") { Field = option.Name });

    /// <summary>The option for the sheet.</summary>
    public static Option<string> PaperOption() => new("--paper") { Description = "a4 or letter", HelpName = "SIZE", CompletionSources = { _ => Words.All<Paper>() }, DefaultValueFactory = _ => "a4" };

    /// <summary>The browser that prints, found before anything is written.</summary>
    public static InstalledBrowser Browser(CommandContext context, string option) => context.FindBrowser()
        ?? throw new RefusalException(new InputError(
            ErrorCode.CannotWrite, "no Chromium or Chrome was found on this computer", "one on the search path or in its usual place", "write the page with --out FILE.html and print it from any browser") { Field = option });
}
