using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Vehicles;

namespace Fourpatch.Commands.Keeping;

/// <summary>Gathers what is known of a job from the records. Makes no file.</summary>
internal static class JobReading
{
    // A rig that was not weighed on in so many weighings says nothing of today's cells.
    private const int MostLookedAt = 20;

    /// <summary>The facts.</summary>
    /// <param name="context">The outside world.</param>
    /// <param name="rig">The rig used last.</param>
    /// <param name="vehicle">The car; null: none described.</param>
    /// <param name="parts">Rows of the parts list; null: none was given.</param>
    public static JobFacts Read(CommandContext context, UsedRig? rig, Vehicle? vehicle, int? parts)
    {
        DateTimeOffset now = context.Clock.GetUtcNow();
        if (context.DataFolder is not { } folder || !RecordStore.IsIn(folder))
        {
            return new JobFacts(vehicle, rig, [], null, [], parts, now);
        }

        using RecordStore store = RecordStore.OpenToLook(folder).OrRefuse();
        IReadOnlyList<RecordLine> lines = store.List(new RecordFilter()).OrRefuse();
        RecordLine? latest = vehicle is null ? null
            : lines.LastOrDefault(line => line.Kind == WeighingDocument.KindWord && line.Subject.Equals(vehicle.Name, StringComparison.OrdinalIgnoreCase));
        return new JobFacts(vehicle, rig, lines, latest is null ? null : store.FindWeighing(latest.Id).OrRefuse(), store.Unfinished().OrRefuse(), parts, now)
        {
            OnRig = lines.Reverse().Where(line => line.Kind == WeighingDocument.KindWord).Take(MostLookedAt)
                .Select(line => store.FindWeighing(line.Id).OrRefuse()).FirstOrDefault(record => record.Result.Basis is { } basis && basis.Evidence.Any()),
        };
    }
}
