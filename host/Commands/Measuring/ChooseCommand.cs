using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Reports;

namespace Fourpatch.Commands.Measuring;

/// <summary><c>choose</c>: which cells for which car and build, before anything is bought.</summary>
internal sealed class ChooseCommand
{
    private const double HighestFactor = 10, HighestOutput = 4, LowestOutput = 0.5;

    private readonly Option<string?> _mass = new("--mass") { Description = "the car with driver and fuel", HelpName = "KG" };
    private readonly Option<string?> _front = new("--front") { Description = "expected part on the front axle, 54%", HelpName = "SHARE" };
    private readonly Option<string?> _left = new("--left") { Description = "expected part on the left; 50% unless said otherwise", HelpName = "SHARE" };
    private readonly Option<string?> _build = new("--build") { Description = $"only one build: {Words.List<RigKind>()}", HelpName = "BUILD", CompletionSources = { _ => Words.All<RigKind>() } };
    private readonly Option<string?> _factor = new("--lever-factor") { Description = "lever: wheel load per load on the cell; 3 unless said otherwise", HelpName = "RATIO" };
    private readonly Option<string?> _output = new("--mv-per-v") { Description = "rated output of the cells in mind; 2 unless said otherwise", HelpName = "MV/V" };
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<bool> _json = Opts.Json();
    private readonly CommandContext _context;

    private ChooseCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var choose = new ChooseCommand(context);
        var command = new Command("choose", "Say which load cells to buy for which car and build.")
        {
            choose._mass, choose._front, choose._left, choose._build, choose._factor, choose._output, choose._unit, choose._json,
        };
        command.SetAction(choose.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        double massKg = MeasuredOptions.Needed(MeasuredOptions.Mass(parsed, _mass, unit)?.MassKg, _mass, "the car's mass", "with driver and fuel; a guess on the heavy side will do");
        if (massKg is < 20 or > 10_000)
        {
            throw MeasuredOptions.Refuse(_mass, parsed.GetValue(_mass)!, "a vehicle of 20 to 10000 kg", "check the unit");
        }

        double front = MeasuredOptions.Needed(ReadShare(parsed, _front), _front, "the front share", "say --front 50% when nothing is known; the heavier axle counts");
        var wish = new CellWish(
            massKg, front, ReadShare(parsed, _left) ?? 0.5, MeasuredOptions.Number(parsed, _factor, 1, HighestFactor, "a ratio") ?? 3,
            MeasuredOptions.Number(parsed, _output, LowestOutput, HighestOutput, "mV/V") ?? 2);
        IReadOnlyList<CellChoice> choices = parsed.GetValue(_build) is { } word ? [CellChoice.For(ReadBuild(word), wish)] : CellChoice.For(wish);
        if (parsed.GetValue(_json))
        {
            _context.Terminal.Out.Write(ChoiceAnswer.Of(wish, choices).ToText());
        }
        else
        {
            ChoiceText.Write(_context.Terminal.Out, wish, choices, unit, _context.Terminal.Width);
        }

        return ExitCodes.Good;
    }

    private static double? ReadShare(ParseResult parsed, Option<string?> option)
    {
        if (parsed.GetValue(option) is not { } typed)
        {
            return null;
        }

        double share = Typed.Share(typed).OrRefuse(option.Name);
        return share is >= 0.1 and <= 0.9 ? share : throw MeasuredOptions.Refuse(option, typed, "a share from 10% to 90%");
    }

    private RigKind ReadBuild(string word) => Words.TryParse(word, out RigKind kind)
        ? kind
        : throw new RefusalException(new InputError(ErrorCode.UnknownName, $"found {InputError.Quote(word)}", Words.List<RigKind>(), "choose one of these") { Field = _build.Name });
}
