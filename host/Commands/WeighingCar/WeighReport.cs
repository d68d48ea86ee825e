using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.WeighingCar;

/// <summary>Shows a weighing, whichever way it was taken, and keeps it when that was asked for.</summary>
/// <param name="context">The outside world.</param>
/// <param name="chosen">Vehicle and rig.</param>
/// <param name="unit">For masses.</param>
/// <param name="budget">What more was asked for.</param>
/// <param name="floor">The floor it is joined to, if any.</param>
/// <param name="json">Whether JSON was asked for.</param>
internal sealed class WeighReport(CommandContext context, Chosen chosen, MassUnit unit, BudgetReport budget, JoinedFloor floor, bool json)
{
    /// <summary>For masses.</summary>
    public MassUnit Unit => unit;

    /// <summary>Whether JSON was asked for.</summary>
    public bool IsJson => json;

    /// <summary>The floor it is joined to.</summary>
    public JoinedFloor Floor => floor;

    /// <summary>Shows and keeps it.</summary>
    /// <returns>The exit code.</returns>
    public int Write(WeighingResult result, PendingRecord pending)
    {
        if (!json)
        {
            Show(result);
        }

        Keep(result, pending);
        return result.IsAcceptable ? ExitCodes.Good : ExitCodes.NotAcceptable;
    }

    /// <summary>Shows it to a person: first of all, so that what was measured is seen even when it cannot be kept.</summary>
    public void Show(WeighingResult result)
    {
        TextWriter output = context.Terminal.Out;
        output.WriteLine(chosen.Line);
        WeighingText.Write(output, result, unit, context.Terminal.Width, more =>
        {
            floor.Write(more, result, unit, context.Terminal.Width);
            budget.Write(more, result, unit, context.Terminal.Width);
        });
    }

    /// <summary>Keeps it when that was asked for, and says so; the whole answer when JSON was asked for.</summary>
    /// <param name="result">What was weighed.</param>
    /// <param name="pending">How it is to be kept.</param>
    /// <param name="finishes">Key of the unfinished work that ends with it.</param>
    public void Keep(WeighingResult result, PendingRecord pending, string? finishes = null)
    {
        DateTimeOffset time = context.Clock.GetUtcNow();
        WeighingRecord? kept = pending.Save(result, time, finishes);
        if (json)
        {
            JsonAnswer answer = WeighingAnswer.Of(result, chosen.VehicleFile, time, kept?.Id, kept?.KeptBecause).Put("rig", chosen.RigObject);
            budget.AddTo(answer, result);
            floor.AddTo(answer, result);
            context.Terminal.Out.Write(answer.ToText());
        }
        else if (pending.News(kept) is { } news)
        {
            WeighingText.WriteWrapped(context.Terminal.Out, news, context.Terminal.Width);
        }
    }
}
