using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Records;

/// <summary>How a step of a job stands.</summary>
public enum JobState
{
    /// <summary>Behind you.</summary>
    Done,

    /// <summary>Still to do.</summary>
    Open,

    /// <summary>This job does without it.</summary>
    NotNeeded,
}

/// <summary>A step of a job, from an empty bench to a car that is set.</summary>
/// <param name="Key">One word.</param>
/// <param name="Title">In plain words.</param>
/// <param name="State">How it stands.</param>
/// <param name="Found">What files and records say of it.</param>
/// <param name="Command">What does it.</param>
/// <param name="Tools">What it needs.</param>
/// <param name="Minutes">About.</param>
/// <param name="NeedsHelper">Whether a second person is needed.</param>
public sealed record JobStep(string Key, string Title, JobState State, string Found, string Command, string Tools, int Minutes, bool NeedsHelper);

/// <summary>What is known of a job.</summary>
/// <param name="Vehicle">The car; null: none described.</param>
/// <param name="Rig">The rig used last; null: none.</param>
/// <param name="Lines">Every record there is, the newest last.</param>
/// <param name="Latest">The newest weighing of the car; null: none.</param>
/// <param name="Unfinished">Work begun and not finished.</param>
/// <param name="Parts">Rows of the parts list; null: none was given.</param>
/// <param name="Now">Time.</param>
public sealed record JobFacts(
    Vehicle? Vehicle, UsedRig? Rig, IReadOnlyList<RecordLine> Lines, WeighingRecord? Latest, IReadOnlyList<UnfinishedWork> Unfinished, int? Parts, DateTimeOffset Now)
{
    /// <summary>The newest weighing whose loads came from cells, of whichever car; null: none.</summary>
    public WeighingRecord? OnRig { get; init; }
}

/// <summary>Where a car's job stands, and what comes next. Immutable.</summary>
public sealed record JobCard
{
    // A cell of a garage is looked at once a month (common practice, no source).
    private const int LookEveryDays = 30;
    private const string CheckWeighing = "check-weighing";

    private JobCard(JobFacts facts)
    {
        Facts = facts;
        // The way of the guide first, so that both say the same comes next; then what makes a first weighing better.
        Steps = [Rig(), Calibrated(), Car(), Weighed(), Planned(), Floor(), Checked(), Set()];
        string? noted = facts.Latest?.Result.Conditions.GetValueOrDefault(JobStage.Condition);
        StoppedAt = JobStage.Order.FirstOrDefault(stage => stage.Key.Equals(noted, StringComparison.OrdinalIgnoreCase));
    }

    /// <summary>What it was made from.</summary>
    public JobFacts Facts { get; }

    /// <summary>Every step, in order.</summary>
    public IReadOnlyList<JobStep> Steps { get; }

    /// <summary>The first that is open; null: none is.</summary>
    public JobStep? Next => Steps.FirstOrDefault(step => step.State == JobState.Open);

    /// <summary>The stage that the newest weighing notes; null: none noted.</summary>
    public JobStage? StoppedAt { get; }

    /// <summary>The stage after it; null: the last is done, or none is noted.</summary>
    public JobStage? NextStage => StoppedAt is null ? null : JobStage.Order.SkipWhile(stage => stage != StoppedAt).Skip(1).FirstOrDefault();

    private bool IsTyped => Facts.Latest?.Result.Basis is TypedBasis && Facts.Rig is null;

    /// <summary>Whether a stage lies behind, in the set that the newest weighing belongs to.</summary>
    public bool IsBehind(JobStage stage) => StoppedAt is not null && JobStage.Order.TakeWhile(one => one != StoppedAt).Append(StoppedAt).Contains(stage);

    /// <summary>Puts it together.</summary>
    public static JobCard Of(JobFacts facts) => new(facts);

    private JobStep Rig() => Facts.Rig is { } rig
        ? Step(JobState.Done, $"{(rig.Boards.Count == 1 ? "board" : "boards")} {string.Join(", ", rig.Boards)} at {string.Join(", ", rig.Ports)}{(rig.LayoutFile is { } file ? $", layout {Path.GetFileName(file)}" : "")}")
        : IsTyped ? Step(JobState.NotNeeded, "the loads are read off other scales and typed in") : Step(JobState.Open, "none used yet; 'fourpatch guide' asks the ports and says what comes first");

    private static JobStep Step(JobState state, string found) => new("rig", "Bring up the rig", state, found, "fourpatch guide", "the rig on its cables, tape and pen for labels", 10, false);

    private JobStep Calibrated()
    {
        RecordLine? kept = Facts.Lines.LastOrDefault(line => line is { IsAcceptable: true, Kind: "calibration" or "platform" or "rotation" });
        bool byWeighing = Facts.OnRig?.Result.Basis is { } basis && basis.Evidence.All(cell => cell.Calibration is { IsCalibrated: true });
        (JobState state, string found) = kept is not null ? (JobState.Done, $"{kept.Subject}, {Ago(kept.Time)}")
            : byWeighing ? (JobState.Done, "every cell of the last weighing on the rig was calibrated")
            : IsTyped ? (JobState.NotNeeded, "the scales are not this program's")
            : (JobState.Open, "no calibration among the records; 'fourpatch cal show' asks the board");
        return new("calibrate", "Calibrate the cells", state, found, "fourpatch cal cell 1", "known masses up to half a corner's load (help for all over 20 kg), 15 minutes of power in place first", 45, false);
    }

    private JobStep Checked()
    {
        const string Tools = "the check mass, always the same one";
        RecordLine? look = Facts.Lines.LastOrDefault(line => line is { IsAcceptable: true, Kind: CheckWeighing or "calibration" or "platform" or "rotation" });
        (JobState state, string found) = look is not null && (Facts.Now - look.Time).TotalDays <= LookEveryDays ? (JobState.Done, look.Kind == CheckWeighing ? $"check weighing, {Ago(look.Time)}" : $"calibrated {Ago(look.Time)}: no look is due yet")
            : IsTyped ? (JobState.NotNeeded, "the scales are not this program's")
            : (JobState.Open, look is null ? "no look with a check mass among the records" : $"the last was {Ago(look.Time)}; once in {LookEveryDays} days is good practice");
        return new("check", "Look at the cells with a check mass", state, found, "fourpatch cal verify", Tools, 10, false);
    }

    private JobStep Car() => new(
        "car", "Describe the car", Facts.Vehicle is null ? JobState.Open : JobState.Done, Facts.Vehicle is null ? "none described yet" : Described(Facts.Vehicle),
        "fourpatch vehicle new", "tape, plumb bob and string, chalk", 20, true);

    private JobStep Floor()
    {
        RecordLine? survey = Facts.Lines.LastOrDefault(line => line.Kind == "floor");
        return new(
            "floor", "Survey the floor", survey is null ? JobState.Open : JobState.Done, survey is null ? "no survey among the records" : $"{survey.Name}, {Ago(survey.Time)}",
            "fourpatch floor", "hose with water, straightedge or laser; paint for four marks", 30, true);
    }

    private JobStep Weighed()
    {
        RecordLine[] own = [.. Facts.Lines.Where(line => IsOwn(line) && line.Kind == WeighingDocument.KindWord)];
        RecordLine? good = own.LastOrDefault(line => line.IsAcceptable);
        string found = own.Length == 0 ? "not yet, or not kept with --save"
            : string.Create(CultureInfo.InvariantCulture, $"{own.Length} kept, the last \"{own[^1].Name}\", {Ago(own[^1].Time)}{(own[^1].IsAcceptable ? "" : ", not acceptable")}");
        return new("weigh", "Weigh", good is null ? JobState.Open : JobState.Done, found, "fourpatch weigh --save NAME", "somebody to steer while you push, chocks, tyre gauge", 40, true);
    }

    private JobStep Planned()
    {
        RecordLine? plan = Facts.Lines.LastOrDefault(line => IsOwn(line) && line.Kind == "plan");
        (JobState state, string found) = plan is not null ? (JobState.Done, $"\"{plan.Name}\", {Ago(plan.Time)}")
            : Facts.Parts is { } parts ? (JobState.Done, parts == 1 ? "a parts list of 1 row" : string.Create(CultureInfo.InvariantCulture, $"a parts list of {parts} rows"))
            : (JobState.Open, "no plan among the records; --parts FILE.csv shows a list");
        return new("plan", "Plan what is still to come", state, found, "fourpatch plan", "scales for the parts on the shelf, tape", 30, false);
    }

    private JobStep Set()
    {
        double? wish = Facts.Vehicle?.Target.Cross;
        Measured? cross = Facts.Latest?.Result.Totals.CrossShare;
        (JobState state, string found) = Facts.Vehicle is { HasFourCorners: false } ? (JobState.NotNeeded, "no diagonal: it needs four corners")
            : wish is null ? (JobState.NotNeeded, "no cross share is wished for in the vehicle file")
            : cross is null ? (JobState.Open, string.Create(CultureInfo.InvariantCulture, $"wished for {100 * wish:0.##} %, not weighed yet"))
            : (Math.Abs(cross.Value - wish.Value) <= cross.Expand().HalfWidth ? JobState.Done : JobState.Open,
                string.Create(CultureInfo.InvariantCulture, $"cross {DisplayRounding.Text(cross * 100)} %, wished for {100 * wish:0.##} %"));
        return new("perches", "Set the diagonals", state, found, "fourpatch perch", "spanner for the perches, jack, rated stands", 60, true);
    }

    private bool IsOwn(RecordLine line) => Facts.Vehicle is { } vehicle && line.Subject.Equals(vehicle.Name, StringComparison.OrdinalIgnoreCase);

    private static string Described(Vehicle vehicle) => vehicle.HasFourCorners
        ? string.Create(CultureInfo.InvariantCulture, $"{vehicle.Name}: wheelbase {vehicle.WheelbaseM * 1000:0} mm, tracks {vehicle.TrackFrontM * 1000:0} and {vehicle.TrackRearM * 1000:0} mm")
        : string.Create(CultureInfo.InvariantCulture, $"{vehicle.Name}: {vehicle.FreeWheels.Count} places to stand on");

    private string Ago(DateTimeOffset time) => (int)Math.Max(0, (Facts.Now - time).TotalDays) switch
    {
        0 => "today",
        1 => "yesterday",
        var days => string.Create(CultureInfo.InvariantCulture, $"{days} days ago"),
    };
}
