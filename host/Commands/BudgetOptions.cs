using System.CommandLine;
using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Reports;
using Fourpatch.Weighing;

namespace Fourpatch.Commands;

/// <summary><c>--budget</c> and <c>--monte-carlo</c>: the same on every command that ends in a weighing.</summary>
internal sealed class BudgetOptions
{
    private const int FewestTrials = 1_000;
    private const int MostTrials = 1_000_000;
    private readonly Option<bool> _budget = new("--budget") { Description = "show every cause of uncertainty with its part, and what would shrink it" };
    private readonly Option<string?> _monteCarlo = new("--monte-carlo")
    {
        Description = $"the same by drawing every cause N times, {WeighingTrials.UsualTrials} unless said otherwise",
        HelpName = "N",
        Arity = ArgumentArity.ZeroOrOne,
    };

    /// <summary>Offers both options on a command.</summary>
    public void AddTo(Command command)
    {
        command.Add(_budget);
        command.Add(_monteCarlo);
    }

    /// <summary>What was asked for.</summary>
    /// <exception cref="RefusalException">A number of draws that is none.</exception>
    public BudgetReport Read(ParseResult parsed)
    {
        int? trials = parsed.GetResult(_monteCarlo) is null ? null : parsed.GetValue(_monteCarlo) is { } typed ? Trials(typed) : WeighingTrials.UsualTrials;
        return new BudgetReport(parsed.GetValue(_budget) || trials is not null, trials);
    }

    private static int Trials(string typed) =>
        int.TryParse(typed, NumberStyles.None, CultureInfo.InvariantCulture, out int trials) && trials is >= FewestTrials and <= MostTrials
            ? trials
            : throw new RefusalException(new InputError(
                ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", $"a whole number of draws from {FewestTrials} to {MostTrials}", "correct it, or leave the number away") { Field = "--monte-carlo" });
}

/// <summary>The part of an answer that the options ask for; nothing when they ask for nothing.</summary>
/// <param name="IsWanted">Whether anything is shown.</param>
/// <param name="Trials">Draws of the second way; null: the first way only.</param>
internal sealed record BudgetReport(bool IsWanted, int? Trials)
{
    /// <summary>Adds it to a JSON answer.</summary>
    public void AddTo(JsonAnswer answer, WeighingResult result) => AddTo(answer, () => WeighingBudget.Of(result.Totals), trials => WeighingTrials.Of(result, trials));

    /// <summary>The same of a calibration: the load that the cell is meant for.</summary>
    public void AddTo(JsonAnswer answer, CellFit fit) => AddTo(answer, () => BudgetOf(fit), trials => TrialsOf(fit, trials));

    /// <summary>Writes it.</summary>
    public void Write(TextWriter output, WeighingResult result, MassUnit unit, int width) =>
        Write(output, () => WeighingBudget.Of(result.Totals), trials => WeighingTrials.Of(result, trials), unit, width);

    /// <summary>The same of a calibration: the load that the cell is meant for.</summary>
    public void Write(TextWriter output, CellFit fit, MassUnit unit, int width) => Write(output, () => BudgetOf(fit), trials => TrialsOf(fit, trials), unit, width);

    private static WeighingBudget BudgetOf(CellFit fit) => WeighingBudget.Of(("load_kg", fit.LoadKgAt(fit.ExpectedLoadKg)));

    private static WeighingTrials TrialsOf(CellFit fit, int trials) =>
        new(trials, [new TrialResult("load_kg", fit.LoadKgAt(fit.ExpectedLoadKg), fit.SampleLoadKgAt(fit.ExpectedLoadKg, trials, WeighingTrials.Seed))]);

    private void AddTo(JsonAnswer answer, Func<WeighingBudget> budget, Func<int, WeighingTrials> drawn)
    {
        if (IsWanted)
        {
            answer.Put("budget", BudgetAnswer.Of(budget(), Trials is { } trials ? drawn(trials) : null));
        }
    }

    private void Write(TextWriter output, Func<WeighingBudget> budget, Func<int, WeighingTrials> drawn, MassUnit unit, int width)
    {
        if (!IsWanted)
        {
            return;
        }

        BudgetText.Write(output, budget(), unit, width);
        if (Trials is { } trials)
        {
            BudgetText.Write(output, drawn(trials), unit, width);
        }
    }
}
