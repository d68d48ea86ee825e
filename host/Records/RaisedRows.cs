using Microsoft.Data.Sqlite;

namespace Fourpatch.Records;

/// <summary>Readings with wheels raised as rows, and back.</summary>
internal static class RaisedRows
{
    public static void Insert(Rows rows, long number, RaisedDocument raised)
    {
        AssumedDocument assumed = raised.Assumed;
        rows.Insert(
            "raised_basis", number, raised.Layout is { } layout ? rows.Shared("layout", ["toml"], layout) : null, raised.TotalKg, raised.UTotalKg,
            assumed.ErrorShareOfCapacity, assumed.ZeroDriftShareOfCapacity, assumed.TemperatureShareOfLoad, assumed.ExtrapolationShareOfExcess, assumed.CapacityOfLoad);
        for (int place = 0; place < raised.Taken.Count; place++)
        {
            TakenDocument taken = raised.Taken[place];
            rows.Insert(
                "raised_reading", number, place, taken.Corner, taken.As,
                taken.RisesM[0], taken.RisesM[1], taken.RisesM[2], taken.RisesM[3], taken.URisesM[0], taken.URisesM[1], taken.URisesM[2], taken.URisesM[3],
                string.Join(',', taken.AtWheelCentre), taken.TypedKg, taken.UTypedKg, taken.KeptBecause);
            for (int cell = 0; cell < taken.Cells.Count; cell++)
            {
                CellDocument of = taken.Cells[cell];
                MeanDocument? mean = of.Mean;
                rows.Insert(
                    "raised_cell", number, place, cell, of.Cell, of.Trouble, CalibrationRows.HeldNumber(rows, of.Cell, of.Calibration),
                    mean?.Status, mean?.Verdict, mean?.Counts, mean?.UCounts, mean?.DegreesOfFreedom, mean?.SlopeCountsPerSecond, mean?.NoiseCounts,
                    mean?.Used, mean?.Rejected, mean?.EndMicroseconds);
            }
        }
    }

    public static RaisedDocument? Read(Rows rows, long number) => rows.All(
        """
        SELECT l.toml, b.total_kg, b.u_total_kg, b.error_share_of_capacity, b.zero_drift_share_of_capacity, b.temperature_share_of_load, b.extrapolation_share_of_excess, b.capacity_of_load
        FROM raised_basis b LEFT JOIN layout l ON l.number = b.layout WHERE b.weighing = $1
        """,
        row => new RaisedDocument
        {
            Layout = row.TextOrNull(0),
            TotalKg = row.NumberOrNull(1),
            UTotalKg = row.NumberOrNull(2),
            Assumed = new(row.GetDouble(3), row.GetDouble(4), row.GetDouble(5), row.GetDouble(6), row.GetDouble(7)),
            Taken = ReadTaken(rows, number),
        },
        number).SingleOrDefault();

    private static List<TakenDocument> ReadTaken(Rows rows, long number)
    {
        ILookup<long, CellDocument> cells = rows.All(
            """
            SELECT r.reading, r.cell, r.trouble, h.held, r.status, r.verdict, r.counts, r.u_counts, r.degrees_of_freedom, r.slope_counts_per_second, r.noise_counts, r.used, r.rejected, r.end_microseconds
            FROM raised_cell r LEFT JOIN held_calibration h ON h.number = r.calibration WHERE r.weighing = $1 ORDER BY r.reading, r.place
            """,
            cell => (Reading: cell.GetInt64(0), Of: CellOf(cell)), number).ToLookup(one => one.Reading, one => one.Of);
        return rows.All(
            """
            SELECT place, corner, taken_as, rise_fl_m, rise_fr_m, rise_rl_m, rise_rr_m, u_rise_fl_m, u_rise_fr_m, u_rise_rl_m, u_rise_rr_m, at_wheel_centre, typed_kg, u_typed_kg, kept_because
            FROM raised_reading WHERE weighing = $1 ORDER BY place
            """,
            row => new TakenDocument
            {
                Corner = row.GetString(1),
                As = row.GetString(2),
                RisesM = [row.GetDouble(3), row.GetDouble(4), row.GetDouble(5), row.GetDouble(6)],
                URisesM = [row.GetDouble(7), row.GetDouble(8), row.GetDouble(9), row.GetDouble(10)],
                AtWheelCentre = row.GetString(11).Split(',', StringSplitOptions.RemoveEmptyEntries),
                TypedKg = row.NumberOrNull(12),
                UTypedKg = row.GetDouble(13),
                KeptBecause = row.TextOrNull(14),
                Cells = [.. cells[row.GetInt64(0)]],
            },
            number);
    }

    private static CellDocument CellOf(SqliteDataReader row) => new()
    {
        Cell = row.GetString(1),
        Trouble = row.TextOrNull(2),
        Calibration = row.TextOrNull(3),
        Mean = row.IsDBNull(4) ? null : new(
            row.GetString(4), row.GetString(5), row.GetDouble(6), row.GetDouble(7), row.GetDouble(8), row.GetDouble(9), row.GetDouble(10),
            row.GetInt64(11), row.GetInt64(12), row.GetInt64(13)),
    };
}
