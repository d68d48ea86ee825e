using Fourpatch.Files;
using Fourpatch.Reports;
using Fourpatch.Tests.Commands;
using Fourpatch.Uncertainty;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Reports;

/// <summary>The live screen at every size: what must never give way.</summary>
public class LiveScreenTests
{
    private const string Lost = "no contact with board B1: the cable of board B1 at /dev/ttyUSB0 was pulled, or its supply has failed";

    private static LiveView View(LiveState state, string why = "", LiveAlarm? alarm = null)
    {
        double[] loads = [1118.44, 109.9, 27.3, 131.6];
        Measured? Load(int at) => state == LiveState.NotKnown ? null : Measured.Exact(loads[at]).With(new Cause($"noise {at}", "noise"), 0.2);
        LiveStation[] stations =
        [
            .. WeighingResult.StationNames(Garages.Plain).Select((name, at) => new LiveStation(
                new StationReading { Station = name, LoadKg = Load(at), Reasons = why.Length > 0 ? [new Reason(ReasonCode.NotAvailable, name, $"{name}: {why}")] : [] }, state, 0)),
        ];
        var result = WeighingResult.Of(Garages.Plain, stations.ToDictionary(station => station.Name, station => station.LoadKg), [.. stations.SelectMany(station => station.Reading.Reasons)]);
        return new LiveView
        {
            Time = DateTimeOffset.UnixEpoch,
            Result = result,
            Stations = stations,
            Verdict = state == LiveState.Settled ? LiveVerdict.Settled : state == LiveState.NotKnown ? LiveVerdict.BoardLost : LiveVerdict.Moving,
            Boards = [new BoardView("B1", "virtual", state != LiveState.NotKnown, why, TimeSpan.Zero, 0, 0, 0)],
            Alarm = alarm,
        };
    }

    private static string[] Screen(LiveView view, int width, int height, MassUnit unit = MassUnit.Kg) =>
        [.. new LiveScreen(LiveWords.Of(view, new Figures(unit), TimeZoneInfo.Utc), width, height, '#').Lines().Select(line => line.Text)];

    [Fact]
    public void At_every_size_no_line_is_too_long_or_too_many_and_every_wheel_is_there()
    {
        LiveView[] views =
        [
            View(LiveState.Settled), View(LiveState.Moving), View(LiveState.NotKnown, Lost, new LiveAlarm(LiveAlarmKind.BoardLost, "BOARD LOST " + Lost)),
            View(LiveState.TooNoisy) with { Goal = new LiveGoal("FL", 1200) },
        ];
        foreach (LiveView view in views)
        {
            for (int width = 20; width <= 140; width += 3)
            {
                for (int height = 8; height <= 60; height += 4)
                {
                    string[] lines = Screen(view, width, height, MassUnit.Lb);
                    Assert.True(lines.Length <= height && lines.All(line => line.Length < width), $"{width} x {height}:\n{string.Join('\n', lines)}");
                    string all = string.Join('\n', lines);
                    if (width >= 60)
                    {
                        Assert.All(["FL", "FR", "RL", "RR"], wheel => Assert.True(all.Contains(wheel + " ", StringComparison.Ordinal) || view.Goal is not null, $"{width} x {height} without {wheel}:\n{all}"));
                    }
                }
            }
        }
    }

    [Fact]
    public void On_60_by_20_a_lost_board_is_said_once_and_costs_no_wheel_and_no_key()
    {
        string[] lines = Screen(View(LiveState.NotKnown, Lost, new LiveAlarm(LiveAlarmKind.BoardLost, "BOARD LOST " + Lost)), 60, 20);
        string all = string.Join(' ', string.Join(' ', lines).Split(' ', StringSplitOptions.RemoveEmptyEntries));
        Assert.Equal(2, all.Split(Lost).Length);
        Assert.All(["FL -- kg not known", "FR -- kg not known", "RL -- kg not known", "RR -- kg not known", "space take", "q quit"], piece => Assert.Contains(piece, all, StringComparison.Ordinal));
        Assert.StartsWith(" BOARD LOST", lines[0], StringComparison.Ordinal);
    }

    [Fact]
    public void On_60_by_20_the_figures_are_large_and_shares_stand_where_they_act()
    {
        string[] lines = Screen(View(LiveState.Settled), 60, 20);
        Assert.Contains(lines, line => line.Contains("### ###", StringComparison.Ordinal));
        int front = Array.FindIndex(lines, line => line.Contains("front ", StringComparison.Ordinal));
        int left = Array.FindIndex(lines, line => line.Contains("left ", StringComparison.Ordinal));
        int rear = Array.FindIndex(lines, line => line.Contains("rear ", StringComparison.Ordinal));
        Assert.True(front >= 0 && left > front && rear > left, string.Join('\n', lines));
        Assert.Contains(lines, line => line.Contains("each +/- ", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("0123456789.-")]
    public void Every_figure_has_its_own_shape(string figures)
    {
        string[] shapes = [.. figures.Select(figure => string.Join('\n', BigDigits.Draw(figure.ToString(), 1, 1, '#')))];
        Assert.Equal(shapes.Length, shapes.Distinct().Count());
        Assert.Equal(BigDigits.Columns("118.4", 2), BigDigits.Draw("118.4", 2, 1, '#')[0].Length);
    }

    [Fact]
    public void A_trouble_of_several_wheels_is_said_once_with_their_names()
    {
        LiveView view = View(LiveState.NotKnown, Lost);
        Assert.Equal([Lost], view.Troubles);
        LiveStation other = view.Stations[0] with { Reading = view.Stations[0].Reading with { Reasons = [new Reason(ReasonCode.Stuck, "FL", "FL: stuck")] } };
        Assert.Equal(["FL: stuck", $"FR, RL, RR: {Lost}"], (view with { Stations = [other, .. view.Stations.Skip(1)] }).Troubles);
    }
}
