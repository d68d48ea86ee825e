using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Reports.Plots;
using ScottPlot;

namespace Fourpatch.Commands;

/// <summary><c>--plot FILE</c> of the commands that can show their figures as a picture.</summary>
/// <param name="what">What it shows.</param>
internal sealed class PlotOption(string what)
{
    private readonly Option<string?> _file = new("--plot") { Description = $"draw {what}", HelpName = "FILE.png|.svg" };

    public void AddTo(Command command) => command.Options.Add(_file);

    /// <summary>The file as typed, its ending checked before anything is measured; null when none was asked for.</summary>
    public string? Read(ParseResult parsed)
    {
        string? file = PagePrinting.ReadFile(parsed, _file);
        return file is not null && PlotFile.WhyNot(file) is { } wrong ? throw new RefusalException(wrong with { Field = _file.Name }) : file;
    }

    /// <summary>Draws it when it was asked for. News go where they are not in the way of an answer.</summary>
    public void Write(ParseResult parsed, CommandContext context, Func<Result<Plot>> draw)
    {
        if (Read(parsed) is not { } file)
        {
            return;
        }

        if (PlotFile.Write(draw().OrRefuse(_file.Name), context.Files.Resolve(file)) is { } failed)
        {
            throw new RefusalException(failed);
        }

        context.Terminal.Complain($"Drawn in {file}.");
    }
}
