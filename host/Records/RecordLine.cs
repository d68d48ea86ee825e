namespace Fourpatch.Records;

/// <summary>One record in a list.</summary>
/// <param name="Id">See <see cref="RecordId"/>.</param>
/// <param name="Kind">See <see cref="StoredRecord.Kind"/>.</param>
/// <param name="Name">What its person calls it.</param>
/// <param name="Time">When it was measured.</param>
/// <param name="Subject">Name of the car, the place or the board, or the cell calibrated.</param>
/// <param name="Method">How it was weighed; null for what is no weighing.</param>
/// <param name="IsAcceptable">False when a weighing was kept in spite of what stood against it, or a calibration was refused, or what a document says is not acceptable.</param>
/// <param name="TotalKg">Null when not known.</param>
/// <param name="UTotalKg">Expanded uncertainty of it, 95 %.</param>
/// <param name="FrontShare">0 to 1, null when not known.</param>
/// <param name="LeftShare">0 to 1, null when not known.</param>
/// <param name="CrossShare">0 to 1, null when not known.</param>
/// <param name="UFrontShare">Expanded uncertainty of it, 95 %.</param>
/// <param name="ULeftShare">Of the left share.</param>
/// <param name="UCrossShare">Of the cross share.</param>
public sealed record RecordLine(
    string Id, string Kind, string Name, DateTimeOffset Time, string Subject, string? Method, bool IsAcceptable,
    double? TotalKg, double? UTotalKg, double? FrontShare, double? LeftShare, double? CrossShare,
    double? UFrontShare = null, double? ULeftShare = null, double? UCrossShare = null);

/// <summary>Which records are meant; null: any.</summary>
/// <param name="Car">Name of the car, capitals do not matter.</param>
/// <param name="From">Not before.</param>
/// <param name="Before">Before this moment.</param>
/// <param name="Method">How it was weighed.</param>
/// <param name="Kind">See <see cref="StoredRecord.Kind"/>.</param>
/// <param name="Newest">At most so many, the newest.</param>
public sealed record RecordFilter(string? Car = null, DateTimeOffset? From = null, DateTimeOffset? Before = null, string? Method = null, string? Kind = null, int? Newest = null);

/// <summary>What stands in the table of all records.</summary>
internal sealed record RecordHead(long Number, string Id, string Kind, string Name, string TimeUtc, string SoftwareVersion, byte[] Sha256);
