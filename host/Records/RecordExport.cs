using System.Globalization;
using System.Text;
using Fourpatch.Files;
using Fourpatch.Weighing;

namespace Fourpatch.Records;

/// <summary>Form of an export.</summary>
public enum ExportForm
{
    /// <summary>One line a weighing, for a spreadsheet. Cannot be brought back.</summary>
    Csv,

    /// <summary>Everything, in one file.</summary>
    Json,

    /// <summary>Everything, in one folder with a file for each record, a table, the vehicle files and a page that explains them.</summary>
    Folder,
}

/// <summary>Writes records out of the file of records, whole or not at all.</summary>
public static class RecordExport
{
    /// <summary>Name and version of a file with many records.</summary>
    public const string ManySchema = "fourpatch.records/1";

    /// <summary>Folder of the records inside an exported folder.</summary>
    public const string RecordsFolder = "records";

    private static readonly string[] Named =
    [
        "total_kg", "front_share", "left_share", "cross_share", "diagonal_difference_kg", "rear_left_minus_right_kg", "cg_behind_front_axle_mm", "cg_left_of_centre_mm",
    ];

    private static readonly string[] FourCorners = ["FL", "FR", "RL", "RR"];

    private const string ReadMe = """
        Records of weighings, written by fourpatch.

        weighings.csv    one line a weighing: kg and mm, shares from 0 to 1; columns that begin with
                         uncertainty_ are the half-widths of 95 % intervals. Opens in any spreadsheet.
        records/         one file a record with everything it holds: the readings as they came, the
                         calibrations, the causes of uncertainty, the results as they were told.
        vehicles/        the vehicle files that were in use.

        To bring them into another computer's records: fourpatch records import FOLDER
        A record keeps its id everywhere, so nothing is there twice however often it is imported.

        """;

    /// <summary>Writes.</summary>
    /// <param name="store">Where the records are.</param>
    /// <param name="ids">Which, and in which order.</param>
    /// <param name="form">How.</param>
    /// <param name="path">A file, which is replaced, or a folder, which must not be there yet.</param>
    /// <returns>Records written; with <see cref="ExportForm.Csv"/> those that are weighings.</returns>
    public static Result<int> Write(RecordStore store, IReadOnlyList<string> ids, ExportForm form, string path) => store.Guard<int>(() => form switch
    {
        ExportForm.Csv => ToFile(path, stream => WriteCsv(store, ids, stream)),
        ExportForm.Json => ToFile(path, stream => WriteJson(store, ids, stream)),
        _ => RecordTroubles.Guard(path, () => WriteFolder(store, ids, path), "--out DIR"),
    });

    private static Result<int> ToFile(string path, Func<Stream, int> write)
    {
        int count = 0;
        return AtomicFile.Write(path, stream => count = write(stream)) is { } error ? error : count;
    }

    private static int WriteJson(RecordStore store, IReadOnlyList<string> ids, Stream stream)
    {
        using var text = new StreamWriter(stream, AtomicFile.Utf8, leaveOpen: true);
        text.Write($"{{\n\"schema\": \"{ManySchema}\",\n\"software_version\": \"{JsonAnswer.SoftwareVersion}\",\n\"records\": [");
        int count = 0;
        foreach (RecordDocument document in store.Documents(ids))
        {
            text.Write(count++ == 0 ? "\n" : ",\n");
            text.Write(RecordJson.TextOf(document).TrimEnd());
        }

        text.Write("\n]\n}\n");
        return count;
    }

    private static int WriteCsv(RecordStore store, IReadOnlyList<string> ids, Stream stream)
    {
        using var text = new StreamWriter(stream, AtomicFile.Utf8, leaveOpen: true);
        IEnumerable<string> values = FourCorners.Select(corner => corner + "_kg").Concat(Named);
        text.Write($"id,time_utc,name,car,method,acceptable,kept_because,{string.Join(',', values.SelectMany(name => new[] { name, "uncertainty_" + name }))},wheels_kg,conditions,software_version\n");
        int count = 0;
        foreach (WeighingDocument document in store.Documents(ids).OfType<WeighingDocument>())
        {
            text.Write(CsvLine(document));
            count++;
        }

        return count;
    }

    private static string CsvLine(WeighingDocument document)
    {
        var record = (WeighingRecord)RecordMapping.FromDocument(document);
        WeighingResult result = record.Result;
        var cells = new List<string>
        {
            document.Id, document.TimeUtc, CsvTable.TextCell(document.Name), CsvTable.TextCell(result.Vehicle.Name), document.Method, document.Acceptable ? "yes" : "no", CsvTable.TextCell(document.KeptBecause ?? ""),
        };
        foreach (string corner in FourCorners)
        {
            StationLoad? load = result.Vehicle.HasFourCorners ? result.Loads.First(one => one.Name == corner) : null;
            cells.Add(Number(load?.LoadKg?.Value));
            cells.Add(Number(load?.LoadKg?.Expand().HalfWidth));
        }

        foreach (string name in Named)
        {
            ToldResult? told = record.Told.FirstOrDefault(one => one.Name == name);
            cells.Add(Number(told?.Value));
            cells.Add(Number(told?.Expanded));
        }

        cells.Add(result.Vehicle.HasFourCorners ? "" : CsvTable.TextCell(string.Join(' ', result.Loads.Select(load => $"{load.Name}={Number(load.LoadKg?.Value)}"))));
        cells.Add(CsvTable.TextCell(string.Join("; ", document.Conditions.Select(condition => $"{condition.Key}={condition.Value}"))));
        cells.Add(document.SoftwareVersion);
        return string.Join(',', cells) + "\n";
    }

    private static Result<int> WriteFolder(RecordStore store, IReadOnlyList<string> ids, string path)
    {
        if (File.Exists(path) || (Directory.Exists(path) && Directory.EnumerateFileSystemEntries(path).Any()))
        {
            return new InputError(ErrorCode.CannotWrite, "is there already", "a new folder", "name another with --out") { File = path };
        }

        string temporary = $"{Path.TrimEndingDirectorySeparator(Path.GetFullPath(path))}.{Guid.NewGuid():N}.tmp";
        try
        {
            if (Fill(store, ids, temporary) is { } error)
            {
                return error with { File = path };
            }

            if (Directory.Exists(path))
            {
                Directory.Delete(path);
            }

            Directory.Move(temporary, path);
            return ids.Count;
        }
        finally
        {
            if (Directory.Exists(temporary))
            {
                Directory.Delete(temporary, recursive: true);
            }
        }
    }

    private static InputError? Fill(RecordStore store, IReadOnlyList<string> ids, string folder)
    {
        Directory.CreateDirectory(Path.Combine(folder, RecordsFolder));
        Directory.CreateDirectory(Path.Combine(folder, "vehicles"));
        var vehicles = new Dictionary<string, string>();
        foreach (RecordDocument document in store.Documents(ids))
        {
            if (AtomicFile.WriteText(Path.Combine(folder, RecordsFolder, document.Id + ".json"), RecordJson.TextOf(document)) is { } error)
            {
                return error;
            }

            if (document is WeighingDocument weighing)
            {
                vehicles.TryAdd(weighing.Vehicle, ((WeighingRecord)RecordMapping.FromDocument(weighing)).Result.Vehicle.Name);
            }
        }

        int number = 0;
        foreach ((string toml, string name) in vehicles)
        {
            if (AtomicFile.WriteText(Path.Combine(folder, "vehicles", string.Create(CultureInfo.InvariantCulture, $"{++number:00}-{FileName(name)}.toml")), toml) is { } error)
            {
                return error;
            }
        }

        return AtomicFile.Write(Path.Combine(folder, "weighings.csv"), stream => WriteCsv(store, ids, stream))
            ?? AtomicFile.WriteText(Path.Combine(folder, "README.txt"), ReadMe);
    }

    private static string FileName(string name)
    {
        var safe = new StringBuilder();
        foreach (char letter in name.Take(32))
        {
            safe.Append(char.IsAsciiLetterOrDigit(letter) ? char.ToLowerInvariant(letter) : '-');
        }

        return safe.ToString();
    }

    private static string Number(double? value) => value is double number ? number.ToString("R", CultureInfo.InvariantCulture) : "";
}
