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
            .Put("settled", view.IsSettled);
        WeighingAnswer.PutResults(answer, view.Result);
        return answer
            .Put("stations", view.Stations.Select(station => new JsonObject
            {
                ["name"] = station.Station,
                ["load_kg"] = station.LoadKg?.Value,
                ["settled"] = station.IsSettled,
                ["status"] = station.Reasons is [{ } reason, ..] ? Words.Of(reason.Code) : "ok",
                ["age_s"] = view.Boards.Count == 0 ? null : view.Boards.Max(board => board.Age.TotalSeconds),
            }))
            .Put("boards", view.Boards.Select(board => new JsonObject { ["id"] = board.BoardId }))
            .PutQuality(view.Result.IsAcceptable, view.Result.Reasons);
    }
}
