using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Weighing;
using Microsoft.Data.Sqlite;

namespace Fourpatch.Tests.Records;

/// <summary>A record gives back what was kept, and can be computed again from what it holds.</summary>
public class RecordTests
{
    private static readonly bool IsFull = Environment.GetEnvironmentVariable("PROOF") == "full";

    [Fact]
    public void Every_record_that_is_kept_is_read_back_as_it_was_and_gives_the_same_when_computed_again()
    {
        using var folder = new RecordFolder();
        using RecordStore store = folder.Open();
        int refusedOnes = 0;
        foreach (StoredRecord record in Samples.Every())
        {
            string id = store.Save(record).Value.Id;
            StoredRecord read = store.Find(id).Value;
            Assert.Equal(Text(record with { Id = id }), Text(read));

            // What this version wrote comes out to the last digit; only figures of an earlier one have half-widths that were less well worked out.
            Assert.True(AgainOf(read) is { Agrees: true, LargestShare: <= Recomputation.SameShare }, $"{record.Name}: {AgainOf(read).LargestShare}");
            refusedOnes += read is WeighingRecord { Result.IsAcceptable: false } ? 1 : 0;
        }

        // Else the samples would say nothing about those that are kept in spite of what stands against them.
        Assert.True(refusedOnes >= 2);
    }

    [Fact]
    public void Any_rig_with_any_figures_is_read_back_and_computed_again_the_same()
    {
        using var folder = new RecordFolder();
        using RecordStore store = folder.Open();
        for (int seed = 100; seed < (IsFull ? 5100 : 250); seed++)
        {
            WeighingResult result = Samples.RandomRig(new Random(seed)).Compute(Samples.Plain);
            WeighingRecord record = Samples.Weighing($"rig {seed}", result);
            string id = store.Save(record).Value.Id;
            WeighingRecord read = store.FindWeighing(id).Value;
            Assert.True(Text(record with { Id = id }) == Text(read), $"seed {seed} is not read back as it was");
            Assert.True(Recomputation.Of(read) is { Agrees: true, LargestShare: <= Recomputation.SameShare }, $"seed {seed}: {Recomputation.Of(read).LargestShare}");
            Assert.Equal(result.Reasons, read.Recompute().Reasons);
        }
    }

    [Theory]
    [InlineData("UPDATE cell_reading SET counts = counts * (1 + 1e-9)")]
    [InlineData("UPDATE cell_reading SET u_counts = u_counts * (1 + 1e-6)")]
    [InlineData("UPDATE rig_basis SET error_share_of_capacity = error_share_of_capacity * 1.0001")]
    [InlineData("UPDATE weighing_result SET value = value + 1e-6 WHERE name = 'cross_share'")]
    [InlineData("UPDATE weighing_load SET load_kg = load_kg * (1 + 1e-9)")]
    [InlineData("UPDATE held_calibration SET held = replace(held, '10000000000', '10000000001')")]
    [InlineData("UPDATE record SET name = 'rods'")]
    [InlineData("UPDATE weighing_condition SET value = 'absent'")]
    public void What_was_changed_behind_the_programs_back_is_refused_by_its_id_and_can_still_be_forgotten(string meddling)
    {
        using var folder = new RecordFolder();
        using RecordStore store = folder.Open();
        WeighingResult result = Samples.Pads([100, 110, 120, 130.5]).Compute(Samples.Plain) with { Conditions = new Dictionary<string, string> { ["driver"] = "aboard" } };
        string id = store.Save(Samples.Weighing("pads", result)).Value.Id;
        string sound = store.Save(Samples.Typed("sound", [1, 2, 3, 4], new())).Value.Id;
        Sql.Run(folder.File, meddling.Contains("record SET", StringComparison.Ordinal) ? meddling + $" WHERE id = '{id}'" : meddling);
        InputError error = store.Find(id).Error!;
        Assert.Contains($"{id} is not as it was kept", error.OneLine, StringComparison.Ordinal);
        if (!meddling.Contains("weighing_", StringComparison.Ordinal))
        {
            Assert.Equal("sound", store.Find(sound).OrFail().Name);
        }

        store.Delete([store.FindHead(id).OrFail().Id]).OrFail();
        Assert.Equal([sound], store.List(new()).Value.Select(line => line.Id));
    }

    [Theory]
    [InlineData("counts", 1 + 1e-9)]
    [InlineData("u_counts", 1 + 1e-6)]
    [InlineData("error_share_of_capacity", 1.0001)]
    [InlineData("value", 1 + 1e-6)]
    [InlineData("load_kg", 1 + 1e-9)]
    [InlineData("calibration", 1 + 1e-10)]
    public void What_no_longer_fits_its_readings_is_noticed(string field, double factor)
    {
        RecordDocument document = RecordMapping.ToDocument(Samples.Weighing("pads", Samples.Pads([100, 110, 120, 130.5]).Compute(Samples.Plain)));
        JsonNode whole = JsonNode.Parse(RecordJson.TextOf(document))!;
        Assert.True(Agrees(whole));
        Assert.True(Scale(whole, field, factor) > 0);
        Assert.False(Agrees(whole));

        static bool Agrees(JsonNode node) => Recomputation.Of((WeighingRecord)RecordMapping.FromDocument(RecordJson.Parse(node.ToJsonString(), "record.json").OrFail())).Agrees;
    }

    [Fact]
    public void A_document_written_and_read_is_the_same_in_any_culture()
    {
        using var comma = new Files.CommaCulture();
        foreach (StoredRecord record in Samples.Every())
        {
            RecordDocument document = RecordMapping.ToDocument(record);
            RecordDocument read = RecordJson.Parse(RecordJson.TextOf(document), "record.json").Value;
            Assert.Equal(RecordJson.HashOf(document), RecordJson.HashOf(read));
            Assert.Equal(RecordJson.TextOf(document), RecordJson.TextOf(RecordMapping.ToDocument(RecordMapping.FromDocument(read))));
        }
    }

    [Fact]
    public void Keeping_the_same_record_twice_keeps_it_once()
    {
        using var folder = new RecordFolder();
        using RecordStore store = folder.Open();
        Kept first = store.Save(Samples.Typed("once", [1, 2, 3, 4], new())).Value;
        Assert.Equal(first with { IsNew = false }, store.Save(Samples.Typed("once", [1, 2, 3, 4], new())).Value);
        Assert.NotEqual(first.Id, store.Save(Samples.Typed("twice", [1, 2, 3, 4], new())).Value.Id);
        Assert.Equal(2, store.List(new RecordFilter()).Value.Count);
    }

    [Fact]
    public void Two_records_whose_hashes_begin_alike_get_ids_of_their_own()
    {
        using var folder = new RecordFolder();
        using RecordStore store = folder.Open();
        WeighingRecord record = Samples.Typed("one", [1, 2, 3, 4], new());
        string usual = RecordId.Of(RecordJson.HashOf(RecordMapping.ToDocument(record)));
        store.Save(Samples.Typed("other", [5, 6, 7, 8], new())).OrFail();
        Sql.Run(folder.File, $"UPDATE record SET id = '{usual}'");
        string id = store.Save(record).Value.Id;
        Assert.StartsWith(usual + "-", id, StringComparison.Ordinal);
        Assert.Equal("one", store.Find(id).Value.Name);
        Assert.Equal("other", store.FindHead(usual).Value.Name);
        Assert.True(RecordId.Fits(id, RecordJson.HashOf(RecordMapping.ToDocument(record))));
    }

    [Fact]
    public void An_id_is_the_beginning_of_the_hash_in_letters_that_cannot_be_mistaken()
    {
        byte[] hash = [0x00, 0x44, 0x32, 0x14, 0xC7, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0, 0, 0, 0, 0];

        // 00000 00001 00010 00011 00100 00101 00110 00111 11111...: 0 to 7, then the last letter.
        Assert.Equal("0123-4567", RecordId.Of(hash));
        Assert.Equal("0123-4567-zzzz", RecordId.Of(hash, 12));
        Assert.True(RecordId.Fits("0123-4567", hash) && RecordId.Fits("0123-4567-zzzz", hash));
        Assert.False(RecordId.Fits("0123-4568", hash) || RecordId.Fits("0123", hash) || RecordId.Fits("", hash) || RecordId.Fits("01234567", hash));
        Assert.Equal("0101k", RecordId.Plain(" O1-oLK "));
        Assert.Null(RecordId.Plain("ab"));
        Assert.Null(RecordId.Plain("after perches"));
    }

    // Everything of this name, wherever it stands.
    private static int Scale(JsonNode? node, string field, double factor)
    {
        int scaled = 0;
        if (node is JsonArray list)
        {
            scaled += list.Sum(one => Scale(one, field, factor));
        }
        else if (node is JsonObject at)
        {
            foreach ((string name, JsonNode? value) in at.ToList())
            {
                scaled += Scale(value, field, factor);
                if (name == field && value is JsonValue)
                {
                    // A calibration is the text of its integers, the span among them.
                    at[name] = value.GetValueKind() == JsonValueKind.Number
                        ? value.GetValue<double>() * factor
                        : value.GetValue<string>().Replace("10000000000", ((long)(10_000_000_000 * factor)).ToString(CultureInfo.InvariantCulture), StringComparison.Ordinal);
                    scaled++;
                }
            }
        }

        return scaled;
    }

    internal static Recomputation AgainOf(StoredRecord record) => record switch
    {
        WeighingRecord weighing => Recomputation.Of(weighing),
        CalibrationRecord calibration => Recomputation.Of(calibration),
        DocumentRecord document => Recomputation.Of(document, document.Answer),
        _ => throw new InvalidOperationException(record.Name),
    };

    internal static string Text(StoredRecord record) => RecordJson.TextOf(RecordMapping.ToDocument(record));
}

/// <summary>Looks into a file of records, and meddles with it, behind the program's back.</summary>
internal static class Sql
{
    public static int Run(string file, string sql)
    {
        using SqliteConnection connection = Open(file);
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        return command.ExecuteNonQuery();
    }

    public static string Ask(string file, string sql)
    {
        using SqliteConnection connection = Open(file);
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        using SqliteDataReader reader = command.ExecuteReader();
        var lines = new List<string>();
        while (reader.Read())
        {
            lines.Add(string.Join('|', Enumerable.Range(0, reader.FieldCount).Select(column => reader.GetValue(column))));
        }

        return string.Join('\n', lines);
    }

    /// <summary>The value, or a failed test that shows the refusal.</summary>
    public static T OrFail<T>(this Result<T> result)
        where T : notnull
    {
        Assert.True(result.IsOk, result.Error?.OneLine);
        return result.Value;
    }

    private static SqliteConnection Open(string file)
    {
        var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = file, Pooling = false }.ToString());
        connection.Open();
        return connection;
    }
}
