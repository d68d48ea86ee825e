using Fourpatch.Files;
using Fourpatch.Reports;
using Fourpatch.Rigs;
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
    [InlineData(60, 34)]
    [InlineData(120, 40)]
    public void Nothing_that_means_something_is_cut_off_at_the_edge(int width, int height)
    {
        const string News = "Zero taken and stored in the board. It moved by B1:1 +0.01, B1:2 -0.02, B1:3 +0.00, B1:4 +0.13 kg.";
        LiveView view = View(LiveState.Settled);
        LiveEntry[] entries =
        [
            new(17, LiveEntryKind.Take, DateTimeOffset.UnixEpoch, "", view.Result, null),
            new(18, LiveEntryKind.Mark, DateTimeOffset.UnixEpoch, "bars off, left sill down", view.Result, null),
        ];
        LiveStation[] stations =
        [
            .. view.Stations.Select(station => station with
            {
                PeakKg = 1234.5,
                Reading = station.Reading with { Reasons = [new Reason(ReasonCode.CastorHardlyCarries, station.Name, $"{station.Name}: castor 3 hardly carries; lower the wheel")] },
            }),
        ];
        string all = Together(Screen(view with { Entries = entries, News = new LiveNews(3, News), Stations = stations, Boards = [view.Boards[0] with { SkippedLines = 5, LostLines = 2 }] }, width, height));
        Assert.DoesNotContain("...", all, StringComparison.Ordinal);
        Assert.All(
            [News, "17 take", "18 mark", "RR 131.6", "bars off, left sill down", " left", "5 lines not readable, 2 lost, 0 dropped", "highest FL 1234.5 FR 1234.5", "FL: castor 3 hardly carries", "RR: castor 3 hardly carries"],
            piece => Assert.Contains(piece, all, StringComparison.Ordinal));
    }

    [Fact]
    public void On_60_by_20_the_caution_and_what_a_key_came_to_are_there_also_beside_an_alarm()
    {
        const string Alarm = "OVERLOAD FL: cell B1:1 carries 312 kg, rated 300 kg; stand clear, take the load off, and calibrate again";
        const string News = "Hands off: taken as soon as everything stands still. Take once more to give up.";
        LiveView view = View(LiveState.Settled, alarm: new LiveAlarm(LiveAlarmKind.Overload, Alarm)) with { News = new LiveNews(3, News) };
        string all = Together(Screen(view, 60, 20));
        Assert.All([Alarm, News, "Nobody under the car. Silence is not safety.", "q quit", "FL 1118.4", "RR 131.6"], piece => Assert.Contains(piece, all, StringComparison.Ordinal));
    }

    [Fact]
    public void One_dolly_is_shown_as_a_shop_scale_with_its_wheels_place_and_no_total()
    {
        var stance = DollyStance.Of(new() { Name = "trolley", Cells = [.. Enumerable.Range(1, 4).Select(cell => new CellId("B1", cell))], CellsAt = [new(-0.25, 0.2), new(-0.25, -0.2), new(0.25, 0.2), new(0.25, -0.2)] }, [33, 31, 29, 27])!;
        var reading = new StationReading { Station = "trolley", LoadKg = Measured.Exact(120).With(new Cause("noise", "noise"), 0.2), Stance = stance };
        LiveView view = View(LiveState.Settled) with
        {
            Result = WeighingResult.OfOneDolly(Garages.Plain, new StationLoad("trolley", reading.LoadKg), []),
            Stations = [new LiveStation(reading, LiveState.Settled, 0) { PeakKg = 131.5 }],
        };
        string[] lines = Screen(view, 60, 20);
        string all = Together(lines);
        Assert.All(["TROLLEY 120.0 kg settled", "wheel 17 mm forward, 7 mm left of the dolly's middle", "highest trolley 131.5 kg", "Nobody under the car"], piece => Assert.Contains(piece, all, StringComparison.Ordinal));
        Assert.All(["total", "front", "cross", "1-4"], piece => Assert.DoesNotContain(piece, all, StringComparison.Ordinal));
        Assert.Contains(lines, line => line.Contains("########", StringComparison.Ordinal));
    }

    private static string Together(string[] lines) => string.Join(' ', string.Join(' ', lines).Split(' ', StringSplitOptions.RemoveEmptyEntries));

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
