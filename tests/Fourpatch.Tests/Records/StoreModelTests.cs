using System.Text.Json.Nodes;
using CsCheck;
using Fourpatch.Records;

namespace Fourpatch.Tests.Records;

/// <summary>
/// Random sequences of what commands do to the file of records, by two programs that have it open at once and are now and then cut off, against
/// a list of what must be in it. A sequence that fails is shrunk and printed with its seed.
/// </summary>
public class StoreModelTests
{
    private const int Sequences = 60;

    private enum Deed
    {
        SaveWeighing, SaveCalibration, SaveAgain, Keep, Finish, Drop, Delete, Reopen, CutOff,
    }

    [Fact]
    public void The_file_of_records_holds_what_a_simple_list_says_after_any_sequence() =>
        Gen.Select(Gen.Enum<Deed>(), Gen.Bool, Gen.Int[0, 7]).List[1, 25].Sample(
            deeds =>
            {
                using var bench = new Model();
                foreach ((Deed deed, bool isSecond, int number) in deeds)
                {
                    bench.Do(deed, isSecond ? 1 : 0, number);
                }

                return true;
            },
            iter: Environment.GetEnvironmentVariable("PROOF") == "full" ? 50 * Sequences : Sequences,
            print: deeds => string.Join(", ", deeds.Select(deed => $"{deed.Item1}({(deed.Item2 ? 2 : 1)}, {deed.Item3})")));

    private sealed class Model : IDisposable
    {
        private readonly RecordFolder _folder = new();
        private readonly RecordStore[] _programs;
        private readonly List<(string Id, StoredRecord Record)> _kept = [];
        private readonly SortedDictionary<string, int> _unfinished = new(StringComparer.Ordinal);

        public Model() => _programs = [_folder.Open(), _folder.Open()];

        public void Do(Deed deed, int program, int number)
        {
            RecordStore store = _programs[program];
            switch (deed)
            {
                case Deed.SaveWeighing:
                    Save(store, Samples.Typed($"w{number}", [100 + number, 90, 80, 70], new()), null);
                    break;
                case Deed.SaveCalibration:
                    Save(store, Samples.Calibration($"c{number}", new("B1", 1 + (number % 4)), Samples.Fit(20, 253_100 + number, 60, 596_800)), null);
                    break;
                case Deed.SaveAgain when _kept.Count > 0:
                    Save(store, _kept[number % _kept.Count].Record, null);
                    break;
                case Deed.Keep:
                    store.SaveUnfinished($"work {number % 3}", new JsonObject { ["step"] = number }, Samples.Evening.AddMinutes(number)).OrFail();
                    _unfinished[$"work {number % 3}"] = number;
                    break;
                case Deed.Finish:
                    Save(store, Samples.Typed($"f{number}", [200 + number, 90, 80, 70], new()), $"work {number % 3}");
                    _unfinished.Remove($"work {number % 3}");
                    break;
                case Deed.Drop:
                    Assert.Equal(_unfinished.Remove($"work {number % 3}"), store.DropUnfinished($"work {number % 3}").OrFail());
                    break;
                case Deed.Delete when _kept.Count > 0:
                    store.Delete([_kept[number % _kept.Count].Id]).OrFail();
                    _kept.RemoveAt(number % _kept.Count);
                    break;
                case Deed.Reopen:
                    store.Dispose();
                    _programs[program] = _folder.Open();
                    break;
                case Deed.CutOff:
                    CutOff(number);
                    break;
            }

            Compare();
        }

        public void Dispose()
        {
            Array.ForEach(_programs, store => store.Dispose());
            _folder.Dispose();
        }

        private void Save(RecordStore store, StoredRecord record, string? finishes)
        {
            Kept kept = store.Save(record, finishes).OrFail();
            Assert.Equal(_kept.TrueForAll(one => one.Id != kept.Id), kept.IsNew);
            if (kept.IsNew)
            {
                _kept.Add((kept.Id, record));
            }
        }

        // A program that dies within a transaction leaves one that was never ended.
        private void CutOff(int number)
        {
            using var connection = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={_folder.File};Pooling=False");
            connection.Open();
            using Microsoft.Data.Sqlite.SqliteCommand command = connection.CreateCommand();
            command.CommandText = $"BEGIN IMMEDIATE; DELETE FROM record WHERE number % 2 = {number % 2}; DELETE FROM unfinished";
            command.ExecuteNonQuery();
        }

        private void Compare()
        {
            foreach (RecordStore store in _programs)
            {
                Assert.Equal(_kept.Select(one => one.Id).Order(StringComparer.Ordinal), store.List(new()).OrFail().Select(line => line.Id).Order(StringComparer.Ordinal));
                Assert.Equal(
                    _unfinished.Select(work => $"{work.Key} {work.Value}"),
                    store.Unfinished().OrFail().Select(work => $"{work.Key} {(int)work.State["step"]!}").Order(StringComparer.Ordinal));
                if (_kept is [.., var last])
                {
                    Assert.Equal(RecordTests.Text(last.Record), RecordTests.Text(store.Find(last.Id).OrFail()).Replace($"\"id\": \"{last.Id}\"", "\"id\": \"\"", StringComparison.Ordinal));
                }
            }
        }
    }
}
