using System.Text.Json.Nodes;
using Fourpatch.Files;

namespace Fourpatch.Records;

/// <summary>Kinds of documents beside weighings and calibrations of one cell; their words stand in files, so none is ever renamed.</summary>
public enum DocumentKind
{
    /// <summary>Heights of the four places of a floor; its name is the place.</summary>
    Floor,

    /// <summary>Height of the centre of gravity from a lift.</summary>
    CgHeight,

    /// <summary>What a car will weigh when its parts are in.</summary>
    Plan,

    /// <summary>A look at calibrated cells with a check mass.</summary>
    CheckWeighing,

    /// <summary>The four cells of a dolly calibrated in place.</summary>
    Platform,

    /// <summary>Four pads calibrated by moving them round a car.</summary>
    Rotation,

    /// <summary>How stiff a car is in twist, by a plate under one wheel.</summary>
    Twist,
}

/// <summary>
/// Something that was computed and kept: what it was computed from and what was answered, each as JSON with units in the names, so that it can be
/// computed again and compared.
/// </summary>
public sealed record DocumentRecord : StoredRecord
{
    /// <summary>What it is.</summary>
    public required DocumentKind Document { get; init; }

    /// <inheritdoc/>
    public override string Kind => Words.Of(Document);

    /// <summary>Name of the vehicle, the place or the board it is about.</summary>
    public required string Subject { get; init; }

    /// <summary>False when it was kept in spite of what stood against it.</summary>
    public required bool IsAcceptable { get; init; }

    /// <summary>Everything it takes to compute it again: texts of files, not their names.</summary>
    public required JsonObject Inputs { get; init; }

    /// <summary>What was answered, as with <c>--json</c>.</summary>
    public required JsonObject Answer { get; init; }

    /// <summary>Every word that a record's kind may be.</summary>
    public static IReadOnlyList<string> AllKinds { get; } = [WeighingDocument.KindWord, CalibrationDocument.KindWord, .. Words.All<DocumentKind>()];
}

/// <summary>Work that was begun and is not finished: what is needed to go on after a break, a crash or a flat battery.</summary>
/// <param name="Key">What it is: one piece of work has one key.</param>
/// <param name="Started">When it was first saved.</param>
/// <param name="Updated">When it was last saved.</param>
/// <param name="State">As its command put it.</param>
public sealed record UnfinishedWork(string Key, DateTimeOffset Started, DateTimeOffset Updated, JsonObject State)
{
    /// <summary>What it is, in words and without its time.</summary>
    public string What => UnfinishedWeighing.Of(this)?.What ?? Key;
}
