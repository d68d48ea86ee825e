using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.Measuring;

/// <summary>The steps of a lift that has not come to its end, in a table of their own after every reading: what <c>--from</c> reads.</summary>
internal sealed class LiftDraft(CommandContext context)
{
    private readonly string? _path = context.DataFolder is { } folder
        ? Path.Combine(folder, string.Create(CultureInfo.InvariantCulture, $"lift-{context.Clock.GetUtcNow():yyyyMMdd-HHmmss}.csv"))
        : null;

    private IReadOnlyList<LiftStep> _steps = [];
    private bool _failed;

    /// <summary>Keeps the steps so far. What cannot be kept is no reason to stop.</summary>
    public void Keep(IReadOnlyList<LiftStep> steps)
    {
        _steps = steps;
        if (_path is null)
        {
            return;
        }

        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(_path)!);
            _failed = AtomicFile.WriteText(_path, Table()) is not null;
        }
        catch (Exception error) when (TextFile.IsOfFileSystem(error))
        {
            _failed = true;
        }
    }

    /// <summary>Says where the steps are, to people who leave.</summary>
    public void Say(Dialogue dialogue)
    {
        if (_steps.Count == 0)
        {
            return;
        }

        if (_path is null || _failed)
        {
            dialogue.Say("What was read, as lines of a file for 'fourpatch cgheight --from FILE.csv':");
            foreach (string line in Table().TrimEnd('\n').Split('\n'))
            {
                dialogue.Say(line);
            }
        }
        else
        {
            dialogue.Say($"Kept in {_path}: {Words.Count(_steps.Count, "reading")}. 'fourpatch cgheight --from' with that file computes from them.");
        }
    }

    /// <summary>The lift has come to its end.</summary>
    public void Forget()
    {
        try
        {
            if (_path is not null)
            {
                File.Delete(_path);
            }
        }
        catch (Exception error) when (TextFile.IsOfFileSystem(error))
        {
            // Then a table is left that hurts nobody.
        }
    }

    private string Table() => "rise_mm,other_axle_kg,direction\n" + string.Concat(_steps.Select(step => string.Create(
        CultureInfo.InvariantCulture, $"{step.RiseM * 1000:0.###},{step.StayKg:0.####},{(step.RiseM == 0 ? "" : step.IsDown == true ? "down" : "up")}\n")));
}
