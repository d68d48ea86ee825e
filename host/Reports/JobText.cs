using System.Globalization;
using Fourpatch.Records;

namespace Fourpatch.Reports;

/// <summary>A job card as a person reads it in a terminal.</summary>
public static class JobText
{
    /// <summary>Writes it.</summary>
    /// <param name="output">Where to.</param>
    /// <param name="card">The job.</param>
    /// <param name="width">Columns there are.</param>
    /// <param name="localTime">A moment as the clock on the wall shows it.</param>
    public static void Write(TextWriter output, JobCard card, int width, Func<DateTimeOffset, string> localTime)
    {
        Wrapped(card.Facts.Vehicle is { } vehicle ? $"Job of {vehicle.Name}" : "A job without a car yet");
        output.WriteLine();
        foreach (JobStep step in card.Steps)
        {
            Wrapped($"{Sign(step.State)} {step.Title}: {step.Found}");
        }

        output.WriteLine();
        Wrapped(card.Next is { } next ? $"Next: {next.Title.ToLowerInvariant()}, with '{next.Command}'." : "Nothing is open. After every change: weigh again, under the same conditions.");
        if (card.Next is { } needs)
        {
            Wrapped($"It needs {needs.Tools}; {Effort(needs.Minutes, needs.NeedsHelper)}.");
        }

        foreach (UnfinishedWork work in card.Facts.Unfinished)
        {
            Wrapped($"- not finished: {work.What}, begun {localTime(work.Started)}, last touched {localTime(work.Updated)}. Has the car been moved or lifted since? Then begin it anew.");
        }

        WriteStages(output, card, width);
        output.WriteLine();
        Wrapped(SafetyText.BeforeWeighing[0]);
        if (card.Next?.Key == "perches" || card.NextStage?.Key == "perches")
        {
            Wrapped(SafetyText.Perches);
        }

        Wrapped("A worksheet for pencil: 'fourpatch job --print FILE.html'.");

        void Wrapped(string text) => WeighingText.WriteWrapped(output, text, width);
    }

    /// <summary>"about 40 minutes, two people".</summary>
    internal static string Effort(int minutes, bool needsHelper) =>
        string.Create(CultureInfo.InvariantCulture, $"about {minutes} minutes, {(needsHelper ? "two people" : "one person")}");

    private static void WriteStages(TextWriter output, JobCard card, int width)
    {
        output.WriteLine();
        output.WriteLine("The order of work when a car is set up:");
        for (int i = 0; i < JobStage.Order.Count; i++)
        {
            JobStage stage = JobStage.Order[i];
            string sign = card.StoppedAt is null ? "" : card.IsBehind(stage) ? "[x] " : "[ ] ";
            WeighingText.WriteWrapped(output, string.Create(CultureInfo.InvariantCulture, $"{sign}{i + 1}. {stage.Title} ({stage.Key}): {stage.Tools}; {Effort(stage.Minutes, stage.NeedsHelper)}"), width);
        }

        WeighingText.WriteWrapped(
            output,
            card.StoppedAt is not { } stopped ? "Note with a weighing how far you are, and this list goes on from there: --condition stage=weigh."
                : $"You stopped after {stopped.Title.ToLowerInvariant()} ({stopped.Key}){(card.NextStage is { } next ? $"; next is {next.Title.ToLowerInvariant()}" : ": all done")}. Has the car been moved, lifted or driven since? Then begin a new set at 1; what is kept stays.",
            width);
    }

    private static string Sign(JobState state) => state switch
    {
        JobState.Done => "[x]",
        JobState.Open => "[ ]",
        _ => "[-]",
    };
}
