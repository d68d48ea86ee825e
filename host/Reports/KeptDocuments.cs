using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Records;

namespace Fourpatch.Reports;

/// <summary>A kept document computed again by this version of the program.</summary>
/// <param name="Answer">As <c>--json</c> gives it now.</param>
/// <param name="Write">Writes it for people: where to, in which unit, how wide.</param>
public sealed record ComputedAgain(JsonObject Answer, Action<TextWriter, MassUnit, int> Write);

/// <summary>How documents of each kind are computed again. A kind that is kept is one line here.</summary>
public static class KeptDocuments
{
    private static readonly Dictionary<DocumentKind, Func<JsonObject, ComputedAgain>> Kinds = new()
    {
        [DocumentKind.Floor] = KeptFloor.Again,
        [DocumentKind.CgHeight] = KeptCgHeight.Again,
        [DocumentKind.Plan] = KeptPlan.Again,
        [DocumentKind.CheckWeighing] = KeptCalibrations.LooksAgain,
        [DocumentKind.Platform] = KeptCalibrations.PlatformAgain,
        [DocumentKind.Twist] = KeptTwist.Again,
        [DocumentKind.Rotation] = KeptCalibrations.RotationAgain,
    };

    /// <summary>Computes a document again from what it holds.</summary>
    /// <returns>An error when it cannot be: its inputs are not what they should be, or no line above knows its kind.</returns>
    public static Result<ComputedAgain> Again(DocumentRecord record) => RecordTroubles.Guard<ComputedAgain>(record.Id, () =>
        Kinds.TryGetValue(record.Document, out Func<JsonObject, ComputedAgain>? again)
            ? again(record.Inputs)
            : new InputError(ErrorCode.CannotRead, $"a {record.Kind} cannot be computed again", "", "what was told then is in --json") { File = record.Id });
}
