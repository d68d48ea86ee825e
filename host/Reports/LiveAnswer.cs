using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Weighing;

namespace Fourpatch.Reports;

/// <summary>A live view as <c>fourpatch.watch/1</c>, one object a line.</summary>
public static class LiveAnswer
{
    /// <summary>The whole answer.</summary>
    public static JsonAnswer Of(LiveView view)
    {
        var answer = new JsonAnswer("watch")
            .Put("time_utc", view.Time.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture))
            .Put("settled", view.IsSettled)
            .Put("state", Words.Of(view.Verdict))
            .Put("alarm", view.Alarm is { } alarm ? new JsonObject { ["kind"] = Words.Of(alarm.Kind), ["text"] = alarm.Text } : null);
        WeighingAnswer.PutResults(answer, view.Result);
        return answer
            .Put("stations", view.Stations.Select(station => new JsonObject
            {
                ["name"] = station.Name,
                ["load_kg"] = station.LoadKg?.Value,
                ["settled"] = station.State == LiveState.Settled,
                ["status"] = station.Reading.Reasons is [{ } reason, ..] ? Words.Of(reason.Code) : "ok",
                ["age_s"] = AgeS(view, station.Name),
                ["tare_kg"] = station.TareKg,
                ["peak_kg"] = station.PeakKg,
                ["stance"] = StanceOf(station.Reading.Stance),
            }))
            .Put("cells", view.Cells.Select(cell => new JsonObject
            {
                ["board"] = cell.Id.Board,
                ["cell"] = cell.Id.Cell,
                ["status"] = Words.Of(cell.Status),
                ["age_s"] = cell.Age?.TotalSeconds,
                ["conversion"] = cell.Conversion,
                ["rate_hz"] = cell.RateHz,
                ["peak_kg"] = cell.PeakKg,
                ["used"] = cell.Good,
                ["not_used"] = cell.Bad,
            }))
            .Put("boards", view.Boards.Select(board => new JsonObject { ["id"] = board.BoardId }))
            .PutQuality(view.Result.IsAcceptable, view.Result.Reasons);
    }

    private static JsonObject? StanceOf(DollyStance? stance) => stance is null ? null : new JsonObject
    {
        ["wheel_behind_middle_mm"] = stance.WheelAt?.BehindM * 1000,
        ["wheel_left_of_middle_mm"] = stance.WheelAt?.LeftM * 1000,
        ["castors_hardly_carrying"] = new JsonArray([.. stance.HardlyCarrying.Select(castor => (JsonNode)castor)]),
        ["castor_carrying_most"] = stance.CarryingMost,
    };

    // The oldest of a station's cells; null when one of them has nothing good.
    private static double? AgeS(LiveView view, string station)
    {
        TimeSpan?[] ages = [.. view.Cells.Where(cell => cell.Station == station).Select(cell => cell.Age)];
        return ages.Length == 0 || ages.Any(age => age is null) ? null : ages.Max()!.Value.TotalSeconds;
    }
}
