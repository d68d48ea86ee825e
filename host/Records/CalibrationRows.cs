namespace Fourpatch.Records;

/// <summary>A calibration's document as rows, and back.</summary>
internal static class CalibrationRows
{
    /// <summary>The row of what a board held for a cell; null for nothing.</summary>
    public static long? HeldNumber(Rows rows, string cell, string? held) =>
        held is null ? null : rows.Shared("held_calibration", ["cell", "held"], cell, held);

    public static void Insert(Rows rows, long number, CalibrationDocument document)
    {
        rows.Insert(
            "calibration", number, document.Cell, document.Date, document.CapacityKg, document.LabelMillivoltsPerVolt, document.ExpectedLoadKg,
            HeldNumber(rows, document.Cell, document.Held), document.ZeroCounts, document.UZeroCounts, document.KgPerCount, document.UKgPerCount);
        for (int place = 0; place < document.Points.Count; place++)
        {
            PointDocument point = document.Points[place];
            rows.Insert("calibration_point", number, place, point.LoadKg, point.Counts, point.UCounts, point.Direction, point.ULoadKg, point.Reference, point.Settled);
        }
    }

    public static CalibrationDocument Read(Rows rows, RecordHead head) => rows.One(
        """
        SELECT c.cell, c.date, c.capacity_kg, c.label_mv_per_v, c.expected_load_kg, h.held, c.zero_counts, c.u_zero_counts, c.kg_per_count, c.u_kg_per_count
        FROM calibration c LEFT JOIN held_calibration h ON h.number = c.held WHERE c.record = $1
        """,
        row => new CalibrationDocument
        {
            Id = head.Id,
            Name = head.Name,
            TimeUtc = head.TimeUtc,
            SoftwareVersion = head.SoftwareVersion,
            Cell = row.GetString(0),
            Date = row.GetString(1),
            CapacityKg = row.NumberOrNull(2),
            LabelMillivoltsPerVolt = row.NumberOrNull(3),
            ExpectedLoadKg = row.NumberOrNull(4),
            Held = row.TextOrNull(5),
            ZeroCounts = row.NumberOrNull(6),
            UZeroCounts = row.NumberOrNull(7),
            KgPerCount = row.NumberOrNull(8),
            UKgPerCount = row.NumberOrNull(9),
            Points = rows.All(
                "SELECT load_kg, counts, u_counts, direction, u_load_kg, reference, settled FROM calibration_point WHERE calibration = $1 ORDER BY place",
                point => new PointDocument(
                    point.GetDouble(0), point.GetDouble(1), point.GetString(3), point.GetDouble(4), point.GetString(5), point.GetBoolean(6), point.NumberOrNull(2)),
                head.Number),
        },
        head.Number);
}
