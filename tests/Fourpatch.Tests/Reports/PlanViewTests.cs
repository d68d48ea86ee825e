using Fourpatch.Files;
using Fourpatch.Reports;
using Fourpatch.Tests.Commands;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Reports;

/// <summary>The weighed car from above in plain characters: nose up, the driver's left on the left.</summary>
public class PlanViewTests
{
    private static readonly double[] Example = [400, 380, 330, 310];

    [Fact]
    public void At_eighty_columns_it_is_drawn()
    {
        const string Expected = """
                                         front 54.93 % +/- 0.04
                                FL  400.0 [#]---------------[#] 380.0  FR
                                                    :       /
                                                    :      /
                                                    :    /
                                                    :   /
                                                    :  /
                                                    : /
                    left 51.41 % +/- 0.04          (+)          cross (/) 50.00 % +/- 0.04
                                                   /:
                                                  / :
                                                 /  :
                                                /   :
                                               /    :
                                             /      :
                                            /       :
                                RL  330.0 [#]---------------[#] 310.0  RR
                                          rear 45.07 % +/- 0.04
            total 1420.0 +/- 1.1 kg
            each wheel +/- 0.5 kg (all +/- are 95 %)
            diagonals FR+RL minus FL+RR 0.0 +/- 1.1 kg
            centre of gravity (+) 1172.0 +/- 1.0 mm behind the front axle, 21.0 +/- 0.6 mm
              left of the centre line

            """;
        Assert.Equal(Expected.ReplaceLineEndings("\n"), PlanViewText.Of(Result(Garages.Plain, Example), new Figures(MassUnit.Kg), 80));
    }

    [Fact]
    public void Where_there_is_no_room_it_is_rows_by_axle()
    {
        const string Expected = """
            FL   400.0   FR   380.0
              front 54.93 % +/- 0.04
            RL   330.0   RR   310.0
              rear  45.07 % +/- 0.04
              left  51.41 % +/- 0.04
              cross 50.00 % +/- 0.04
            total 1420.0 +/- 1.1 kg
            each wheel +/- 0.5 kg (all +/- are 95 %)
            diagonals FR+RL minus FL+RR 0.0 +/- 1.1 kg
            centre of gravity (+) 1172.0 +/- 1.0 mm behind the front
              axle, 21.0 +/- 0.6 mm left of the centre line

            """;
        Assert.Equal(Expected.ReplaceLineEndings("\n"), PlanViewText.Of(Result(Garages.Plain, Example), new Figures(MassUnit.Kg), 60));
    }

    [Fact]
    public void In_pounds_no_kilogram_is_left()
    {
        string text = PlanViewText.Of(Result(Garages.Plain, Example), new Figures(MassUnit.Lb), 80);
        Assert.Contains("FL  882.0 [#]", text, StringComparison.Ordinal);
        Assert.Contains("total 3131 +/- 3 lb", text, StringComparison.Ordinal);
        Assert.DoesNotContain("kg", text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(80)]
    [InlineData(40)]
    public void A_wheel_that_is_not_known_is_two_dashes_and_nothing_follows_from_it(int width)
    {
        string text = PlanViewText.Of(Result(Garages.Plain, [400, null, 330, 310]), new Figures(MassUnit.Kg), width);
        Assert.Contains(width == 80 ? "[#] --  FR" : "FR      --", text, StringComparison.Ordinal);
        Assert.Contains("total --", text, StringComparison.Ordinal);
        Assert.Contains("front --", text, StringComparison.Ordinal);
        Assert.DoesNotContain("(+)", text, StringComparison.Ordinal);
        Assert.DoesNotContain("diagonals", text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(2.6, 1.5, 1.48)] // an ordinary car
    [InlineData(1.05, 1.1, 1.4)] // a kart
    [InlineData(6.0, 1.2, 1.2)] // very long
    [InlineData(1.5, 2.4, 2.4)] // very wide
    [InlineData(2.2, 0.9, 1.8)] // a narrow front
    [InlineData(5.9, 2.4, 1.1)]
    public void On_any_screen_no_line_is_longer_than_it_and_nothing_is_cut_off(double wheelbaseM, double trackFrontM, double trackRearM)
    {
        Vehicle vehicle = Garages.Plain with { WheelbaseM = wheelbaseM, TrackFrontM = trackFrontM, TrackRearM = trackRearM };
        WeighingResult result = Result(vehicle, [400, 380, 330, 310], new TypedUncertainty(UCornerKg: 0.25));
        foreach (MassUnit unit in new[] { MassUnit.Kg, MassUnit.Lb, MassUnit.N })
        {
            for (int width = 40; width <= 132; width += width < 81 ? 1 : 17)
            {
                var written = new StringWriter { NewLine = "\n" };
                WeighingText.Write(written, result, unit, width);
                string text = written.ToString();
                Assert.All(text.Split('\n'), line => Assert.True(line.Length <= width, $"{width} columns: {line}"));
                Assert.All(text.Split('\n'), line => Assert.Equal(line.TrimEnd(), line));
                string[] wanted = text.Contains("[#]", StringComparison.Ordinal)
                    ? ["front 54.93 % +/- 0.04", "left 51.41 % +/- 0.04", "cross (/) 50.00 % +/- 0.04", "rear 45.07 % +/- 0.04", "(+)", "FL  ", "  FR", "RL  ", "  RR"]
                    : ["front 54.93 % +/- 0.04", "left  51.41 % +/- 0.04", "cross 50.00 % +/- 0.04", "rear  45.07 % +/- 0.04", "FL ", "FR ", "RL ", "RR "];
                Assert.All(wanted, piece => Assert.True(text.Contains(piece, StringComparison.Ordinal), $"{width} columns, {unit}: '{piece}' is not in\n{text}"));
            }
        }
    }

    [Fact]
    public void A_drawing_keeps_the_cars_own_proportions()
    {
        int Rows(Vehicle vehicle) => PlanViewText.Of(Result(vehicle, Example), new Figures(MassUnit.Kg), 80).Split('\n').ToList() is { } lines
            ? lines.FindIndex(line => line.Contains("RL  ", StringComparison.Ordinal)) - lines.FindIndex(line => line.Contains("FL  ", StringComparison.Ordinal)) : 0;
        int Columns(Vehicle vehicle) => PlanViewText.Of(Result(vehicle, Example), new Figures(MassUnit.Kg), 80).Split('\n').First(line => line.Contains("FL  ", StringComparison.Ordinal)) is { } line
            ? line.LastIndexOf('[') - line.IndexOf('[', StringComparison.Ordinal) : 0;
        Vehicle square = Garages.Plain with { WheelbaseM = 1.5, TrackFrontM = 1.5, TrackRearM = 1.5 };
        Vehicle long2 = square with { WheelbaseM = 2.25 };
        Assert.Equal(Columns(square), 2 * Rows(square));
        Assert.Equal(1.5, (double)Rows(long2) / Rows(square), 1);
    }

    [Fact]
    public void A_long_name_is_wrapped_too()
    {
        var written = new StringWriter();
        WeighingText.Write(written, Result(Garages.Plain with { Name = string.Join(' ', Enumerable.Repeat("Goldfinch", 20)) }, Example), MassUnit.Kg, 60);
        Assert.All(written.ToString().Split('\n'), line => Assert.True(line.TrimEnd().Length <= 60));
    }

    private static WeighingResult Result(Vehicle vehicle, double?[] loadsKg, TypedUncertainty? said = null)
    {
        Dictionary<string, TypedLoad> loads = new[] { "FL", "FR", "RL", "RR" }.Zip(loadsKg).Where(pair => pair.Second is not null)
            .ToDictionary(pair => pair.First, pair => new TypedLoad(pair.Second!.Value, 1));
        return TypedWeighing.Of(vehicle, loads, said ?? new TypedUncertainty());
    }

    private static WeighingResult Result(Vehicle vehicle, double[] loadsKg) => Result(vehicle, [.. loadsKg.Select(load => (double?)load)]);
}
