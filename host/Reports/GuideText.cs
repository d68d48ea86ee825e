using Fourpatch.Records;

namespace Fourpatch.Reports;

/// <summary>Where somebody stands, as a person reads it in a terminal.</summary>
public static class GuideText
{
    /// <summary>Writes it.</summary>
    public static void Write(TextWriter output, GuideCard card, int width)
    {
        foreach (GuideStep step in card.Steps)
        {
            WeighingText.WriteWrapped(output, $"{Sign(step.State)} {step.Title}: {step.Found}", width);
        }

        output.WriteLine();
        output.WriteLine("Next, type:");
        WeighingText.WriteWrapped(output, "  " + card.NextCommand, width);
        WeighingText.WriteWrapped(output, "Why: " + card.NextWhy + ".", width);
        if (card.Next?.Key == "weigh")
        {
            WeighingText.WriteWrapped(output, SafetyText.BeforeWeighing[0], width);
        }
    }

    private static string Sign(GuideState state) => state switch
    {
        GuideState.Done => "[x] done:",
        GuideState.Next => "[ ] NEXT:",
        GuideState.Later => "[ ] later:",
        _ => "[-] not needed:",
    };
}
