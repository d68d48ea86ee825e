namespace Fourpatch.Records;

/// <summary>A weighing's document as rows, and back.</summary>
internal static class WeighingRows
{
    // A column of a unique index may not be null, so "infinite" and "none" have values of their own.
    private static readonly string[] CauseColumns = ["key", "name", "degrees_of_freedom", "shape", "remedy"];

    public static void Insert(Rows rows, long number, WeighingDocument document, string vehicleName)
    {
        long vehicle = rows.Shared("vehicle", ["name", "toml"], vehicleName, document.Vehicle);
        rows.Run(
            "INSERT INTO weighing (record, method, acceptable, vehicle, kept_because) VALUES ($1, $2, $3, $4, $5)",
            number, document.Method, document.Acceptable, vehicle, document.KeptBecause);
        for (int place = 0; place < document.Boards.Count; place++)
        {
            rows.Insert("weighing_board", number, place, rows.Shared("board", ["name"], document.Boards[place]));
        }

        foreach ((string name, string value) in document.Conditions)
        {
            rows.Insert("weighing_condition", number, name, value);
        }

        for (int place = 0; place < document.Reasons.Count; place++)
        {
            ReasonDocument reason = document.Reasons[place];
            rows.Insert("weighing_reason", number, place, reason.Code, reason.Corner, reason.Text);
        }

        for (int place = 0; place < document.Results.Count; place++)
        {
            ResultDocument result = document.Results[place];
            rows.Insert("weighing_result", number, place, result.Name, result.Value, result.Expanded, result.K);
        }

        InsertLoads(rows, number, document);
        if (document.Typed is { } typed)
        {
            InsertTyped(rows, number, typed);
        }

        if (document.Rig is { } rig)
        {
            InsertRig(rows, number, rig);
        }

        if (document.Raised is { } raised)
        {
            RaisedRows.Insert(rows, number, raised);
        }
    }

    public static WeighingDocument Read(Rows rows, RecordHead head) => rows.One(
        "SELECT w.method, w.acceptable, v.toml, w.kept_because FROM weighing w JOIN vehicle v ON v.number = w.vehicle WHERE w.record = $1",
        row => new WeighingDocument
        {
            Id = head.Id,
            Name = head.Name,
            TimeUtc = head.TimeUtc,
            SoftwareVersion = head.SoftwareVersion,
            Method = row.GetString(0),
            Acceptable = row.GetBoolean(1),
            Vehicle = row.GetString(2),
            KeptBecause = row.TextOrNull(3),
            Boards = rows.All("SELECT b.name FROM weighing_board w JOIN board b ON b.number = w.board WHERE w.weighing = $1 ORDER BY w.place", board => board.GetString(0), head.Number),
            Conditions = new(
                rows.All("SELECT name, value FROM weighing_condition WHERE weighing = $1", one => (Name: one.GetString(0), Value: one.GetString(1)), head.Number)
                    .ToDictionary(one => one.Name, one => one.Value),
                StringComparer.Ordinal),
            Reasons = rows.All(
                "SELECT code, corner, text FROM weighing_reason WHERE weighing = $1 ORDER BY place",
                reason => new ReasonDocument(reason.GetString(0), reason.GetString(2), reason.TextOrNull(1)), head.Number),
            Results = rows.All(
                "SELECT name, value, expanded, k FROM weighing_result WHERE weighing = $1 ORDER BY place",
                result => new ResultDocument(result.GetString(0), result.NumberOrNull(1), result.NumberOrNull(2), result.NumberOrNull(3)), head.Number),
            Loads = ReadLoads(rows, head.Number, out IReadOnlyList<CauseDocument> causes),
            Causes = causes,
            Typed = ReadTyped(rows, head.Number),
            Rig = ReadRig(rows, head.Number),
            Raised = RaisedRows.Read(rows, head.Number),
        },
        head.Number);

    private static void InsertLoads(Rows rows, long number, WeighingDocument document)
    {
        Dictionary<string, long> causes = document.Causes.ToDictionary(
            cause => cause.Key,
            cause => rows.Shared("cause", CauseColumns, cause.Key, cause.Name, cause.DegreesOfFreedom ?? double.PositiveInfinity, cause.Shape, cause.Remedy ?? ""));
        for (int load = 0; load < document.Loads.Count; load++)
        {
            rows.Insert("weighing_load", number, load, document.Loads[load].Station, document.Loads[load].LoadKg);
            IReadOnlyList<ContributionDocument> contributions = document.Loads[load].Contributions;
            for (int place = 0; place < contributions.Count; place++)
            {
                rows.Insert("weighing_contribution", number, load, place, causes[contributions[place].Key], contributions[place].AmountKg);
            }
        }
    }

    private static List<LoadDocument> ReadLoads(Rows rows, long number, out IReadOnlyList<CauseDocument> causes)
    {
        var all = rows.All(
            "SELECT n.load, n.amount_kg, c.key, c.name, c.degrees_of_freedom, c.shape, c.remedy FROM weighing_contribution n JOIN cause c ON c.number = n.cause WHERE n.weighing = $1 ORDER BY n.load, n.place",
            row => (
                Load: row.GetInt64(0),
                AmountKg: row.GetDouble(1),
                Cause: new CauseDocument(
                    row.GetString(2), row.GetString(3), row.GetString(5), double.IsPositiveInfinity(row.GetDouble(4)) ? null : row.GetDouble(4),
                    row.GetString(6) is { Length: > 0 } remedy ? remedy : null)),
            number);
        causes = [.. all.Select(one => one.Cause).DistinctBy(cause => cause.Key)];
        ILookup<long, ContributionDocument> ofLoad = all.ToLookup(one => one.Load, one => new ContributionDocument(one.Cause.Key, one.AmountKg));
        return rows.All(
            "SELECT place, station, load_kg FROM weighing_load WHERE weighing = $1 ORDER BY place",
            row => new LoadDocument(row.GetString(1), [.. ofLoad[row.GetInt64(0)]], row.NumberOrNull(2)), number);
    }

    private static void InsertTyped(Rows rows, long number, TypedDocument typed)
    {
        rows.Insert("typed_basis", number, typed.UCornerKg, typed.ResolutionKg, typed.SameScale, typed.USpanShare);
        for (int place = 0; place < typed.Loads.Count; place++)
        {
            TypedLoadDocument load = typed.Loads[place];
            rows.Insert("typed_load", number, place, load.Station, load.LoadKg, load.LastDigitKg);
        }
    }

    private static TypedDocument? ReadTyped(Rows rows, long number) => rows.All(
        "SELECT u_corner_kg, resolution_kg, same_scale, u_span_share FROM typed_basis WHERE weighing = $1",
        row => new TypedDocument
        {
            UCornerKg = row.NumberOrNull(0),
            ResolutionKg = row.NumberOrNull(1),
            SameScale = row.GetBoolean(2),
            USpanShare = row.NumberOrNull(3),
            Loads = rows.All(
                "SELECT station, load_kg, last_digit_kg FROM typed_load WHERE weighing = $1 ORDER BY place",
                load => new TypedLoadDocument(load.GetString(0), load.GetDouble(1), load.GetDouble(2)), number),
        },
        number).SingleOrDefault();

    private static void InsertRig(Rows rows, long number, RigDocument rig)
    {
        AssumedDocument assumed = rig.Assumed;
        rows.Insert(
            "rig_basis", number, rows.Shared("layout", ["toml"], rig.Layout),
            assumed.ErrorShareOfCapacity, assumed.ZeroDriftShareOfCapacity, assumed.TemperatureShareOfLoad, assumed.ExtrapolationShareOfExcess, assumed.CapacityOfLoad);
        for (int place = 0; place < rig.Cells.Count; place++)
        {
            CellDocument cell = rig.Cells[place];
            MeanDocument? mean = cell.Mean;
            rows.Insert(
                "cell_reading", number, place, cell.Cell, cell.Trouble, CalibrationRows.HeldNumber(rows, cell.Cell, cell.Calibration),
                mean?.Status, mean?.Verdict, mean?.Counts, mean?.UCounts, mean?.DegreesOfFreedom, mean?.SlopeCountsPerSecond, mean?.NoiseCounts,
                mean?.Used, mean?.Rejected, mean?.EndMicroseconds);
        }
    }

    private static RigDocument? ReadRig(Rows rows, long number) => rows.All(
        """
        SELECT l.toml, b.error_share_of_capacity, b.zero_drift_share_of_capacity, b.temperature_share_of_load, b.extrapolation_share_of_excess, b.capacity_of_load
        FROM rig_basis b JOIN layout l ON l.number = b.layout WHERE b.weighing = $1
        """,
        row => new RigDocument
        {
            Layout = row.GetString(0),
            Assumed = new(row.GetDouble(1), row.GetDouble(2), row.GetDouble(3), row.GetDouble(4), row.GetDouble(5)),
            Cells = rows.All(
                """
                SELECT r.cell, r.trouble, h.held, r.status, r.verdict, r.counts, r.u_counts, r.degrees_of_freedom, r.slope_counts_per_second, r.noise_counts, r.used, r.rejected, r.end_microseconds
                FROM cell_reading r LEFT JOIN held_calibration h ON h.number = r.calibration WHERE r.weighing = $1 ORDER BY r.place
                """,
                cell => new CellDocument
                {
                    Cell = cell.GetString(0),
                    Trouble = cell.TextOrNull(1),
                    Calibration = cell.TextOrNull(2),
                    Mean = cell.IsDBNull(3) ? null : new(
                        cell.GetString(3), cell.GetString(4), cell.GetDouble(5), cell.GetDouble(6), cell.GetDouble(7), cell.GetDouble(8), cell.GetDouble(9),
                        cell.GetInt64(10), cell.GetInt64(11), cell.GetInt64(12)),
                },
                number),
        },
        number).SingleOrDefault();
}
