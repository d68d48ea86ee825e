using System.Globalization;
using System.Xml.Linq;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Reports.Plots;
using Fourpatch.Tests.Commands;
using Fourpatch.Tests.Files;
using Fourpatch.Tests.Records;
using ScottPlot;
using SkiaSharp;

namespace Fourpatch.Tests.Reports;

public class PlotTests
{
    [Fact]
    public void Every_plot_draws_its_words_with_the_type_face_that_is_shipped()
    {
        using var folder = new ScratchFolder();
        foreach ((string name, Plot plot) in Plots())
        {
            Assert.Equal(PlotFile.Face, plot.Axes.Title.Label.FontName);
            string svg = Path.Combine(folder.Path, name + ".svg"), png = Path.Combine(folder.Path, name + ".png");
            Assert.Null(PlotFile.Write(plot, svg));
            Assert.Null(PlotFile.Write(plot, png));
            Assert.Equal("svg", XDocument.Load(svg).Root!.Name.LocalName);
            if (Environment.GetEnvironmentVariable("SHOTS") is { Length: > 0 } shots) File.Copy(png, Path.Combine(shots, $"plot-{name}.png"), overwrite: true);
            using SKBitmap picture = SKBitmap.Decode(png);
            Assert.Equal((1000, 600), (picture.Width, picture.Height));
            Assert.True(DarkPoints(picture, 0, 40) > 200, $"{name}: no title");
            Assert.True(DarkPoints(picture, 565, 600) > 40, $"{name}: no name of the axis");
        }
    }

    [Fact]
    public void The_type_face_is_in_the_program_and_not_one_of_the_computer()
    {
        using Stream stream = PlotFile.FaceStream();
        using SKTypeface face = SKTypeface.FromStream(stream);
        Assert.Equal("DejaVu Sans", face.FamilyName);
        Assert.DoesNotContain(PlotFile.Face, SKFontManager.Default.FontFamilies);
        _ = WeightPlots.LoadAgainstRise([], MassUnit.Kg);
        Assert.Equal("DejaVu Sans", ScottPlot.Fonts.GetTypeface(PlotFile.Face, false, false).FamilyName);
        Assert.Contains("Bitstream", File.ReadAllText(Repository.PathOf("host/fonts/LICENSE-DejaVu.txt")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Readings_of_raised_wheels_are_drawn_by_the_command_that_takes_them()
    {
        using var bench = new Bench();
        Cars.WriteTo(bench);
        bench.Write("raised.csv", "corner,rise_mm,reading_kg\n" + string.Concat(new[] { ("FL", 400), ("FR", 380), ("RL", 330), ("RR", 310) }
            .Select(corner => string.Create(CultureInfo.InvariantCulture, $"{corner.Item1},30,{corner.Item2 + 9}\n{corner.Item1},80,{corner.Item2 + 24}\n"))));
        Outcome drawn = await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--method", "one-by-one", "--from", "raised.csv", "--plot", "rise.svg", "--json");
        XDocument svg = XDocument.Load(Path.Combine(bench.Folder, "rise.svg"));
        Assert.Equal("svg", svg.Root!.Name.LocalName);

        // Four lines: one whole, three told apart by their dashes.
        Assert.Equal(3, svg.Descendants().Select(one => (string?)one.Attribute("stroke-dasharray")).OfType<string>().Distinct().Count());
        Assert.NotNull(drawn.Answer["corners_kg"]);
        Outcome refused = await bench.RunAsync("weigh", "--vehicle", "plain.toml", "--typed", "FL=1,FR=2,RL=3,RR=4", "--plot", "x.svg");
        Assert.Contains("one-by-one", Assert.Single(refused.ErrorLines), StringComparison.Ordinal);
    }

    [Fact]
    public void White_noise_is_a_floor_at_its_width_times_the_root_of_two_over_the_rate()
    {
        var random = new Random(5);
        double[] values = [.. Enumerable.Range(0, 20_000).Select(i => 40 + (0.01 * i) + Normal(random, 12))];
        var spectrum = NoiseSpectrum.Of(values, 80);
        double floor = Math.Sqrt(spectrum.CountsPerRootHz.Skip(3).SkipLast(1).Average(density => density * density));
        Assert.Equal(12 * Math.Sqrt(2 / 80.0), floor, 0.03 * floor);
        Assert.Equal(40, spectrum.FrequenciesHz[^1], 1e-9);
    }

    [Fact]
    public void A_hum_stands_out_where_it_is_with_the_power_that_the_recursion_of_one_frequency_finds()
    {
        const double Rate = 80, HumHz = 10, Amplitude = 30;
        double[] values = [.. Enumerable.Range(0, 8_192).Select(i => Amplitude * Math.Sin(2 * Math.PI * HumHz * i / Rate))];
        var spectrum = NoiseSpectrum.Of(values, Rate);
        int peak = Enumerable.Range(0, spectrum.CountsPerRootHz.Count).MaxBy(k => spectrum.CountsPerRootHz[k]);
        Assert.Equal(HumHz, spectrum.FrequenciesHz[peak], 1e-9);
        double step = spectrum.FrequenciesHz[0];
        double power = Enumerable.Range(peak - 3, 7).Sum(k => spectrum.CountsPerRootHz[k] * spectrum.CountsPerRootHz[k] * step);
        Assert.Equal(Tone.At(values, Rate, HumHz).Amplitude, Math.Sqrt(2 * power), 0.01 * Amplitude);
    }

    [Fact]
    public async Task A_log_is_drawn_as_drift_noise_and_spectrum()
    {
        using var bench = new Bench();
        bench.Write("evening.csv", LogOfTwoCells());
        foreach (string[] args in new string[][] { ["--plot", "drift.png"], ["--plot", "noise.png", "--show", "noise", "--cell", "B1:2"], ["--plot", "spectrum.png", "--show", "spectrum", "--cell", "B1:2"] })
        {
            Outcome drawn = await bench.RunAsync(["log", "summary", "evening.csv", .. args]);
            Assert.True(File.Exists(Path.Combine(bench.Folder, args[1])), drawn.Errors);
            if (Environment.GetEnvironmentVariable("SHOTS") is { Length: > 0 } shots) File.Copy(Path.Combine(bench.Folder, args[1]), Path.Combine(shots, "log-" + args[1]), overwrite: true);
        }
    }

    [Fact]
    public async Task Drift_draws_every_cell_with_a_mark_and_a_name_of_its_own_or_the_one_that_was_asked_for()
    {
        using var bench = new Bench();
        bench.Write("evening.csv", LogOfTwoCells());
        await bench.RunAsync("log", "summary", "evening.csv", "--plot", "all.svg");
        await bench.RunAsync("log", "summary", "evening.csv", "--plot", "one.svg", "--cell", "B1:2");
        string[] all = WordsOf("all.svg"), one = WordsOf("one.svg");
        Assert.All(new[] { "B1:1", "B1:2" }, cell => Assert.Contains(cell, all));
        Assert.Equal(2, all.Count(word => word.StartsWith("cell B1:", StringComparison.Ordinal)));
        Assert.Contains("B1:2", one);
        Assert.DoesNotContain(one, word => word.Contains("B1:1", StringComparison.Ordinal));
        Outcome refused = await bench.RunAsync("log", "summary", "evening.csv", "--plot", "x.svg", "--cell", "B1:3");
        Assert.Contains("this log has no cell B1:3", refused.Errors, StringComparison.Ordinal);

        string[] WordsOf(string file) => [.. XDocument.Load(Path.Combine(bench.Folder, file)).Descendants().Where(word => word.Name.LocalName == "text").Select(word => word.Value.Trim())];
    }

    [Fact]
    public void Records_of_one_day_have_the_time_of_day_below_them()
    {
        using var folder = new ScratchFolder();
        Plot plot = WeightPlots.History(
            [.. Enumerable.Range(0, 4).Select(i => new RecordLine($"r{i}", "weighing", $"w{i}", Samples.Evening.AddMinutes(40 * i), "Wren", "typed", true, 438 + i, 1.1, 0.47, 0.5, 0.5))],
            MassUnit.Kg, TimeZoneInfo.CreateCustomTimeZone("two east", TimeSpan.FromHours(2), "two east", "two east")).Value;
        string svg = Path.Combine(folder.Path, "day.svg");
        Assert.Null(PlotFile.Write(plot, svg));
        string[] words = [.. XDocument.Load(svg).Descendants().Where(one => one.Name.LocalName == "text").Select(one => one.Value.Trim())];
        string hour = Samples.Evening.ToOffset(TimeSpan.FromHours(2)).AddHours(1).ToString("HH", CultureInfo.InvariantCulture);
        Assert.Contains(words, word => System.Text.RegularExpressions.Regex.IsMatch(word, $@"^{hour}:\d\d$"));
    }

    [Theory]
    [InlineData("--plot x.png --show noise", "--cell")]
    [InlineData("--plot x.png --show noise --cell B9:1", "no cell B9:1")]
    [InlineData("--plot x.png --show spectrum --cell two", "B1:2")]
    [InlineData("--plot x.png --show colour", "--show")]
    [InlineData("--show noise", "--plot")]
    [InlineData("--plot x.doc", ".png")]
    public async Task A_plot_that_cannot_be_is_refused_in_one_line(string args, string place)
    {
        using var bench = new Bench();
        bench.Write("evening.csv", LogOfTwoCells());
        Outcome refused = await bench.RunAsync(["log", "summary", "evening.csv", .. args.Split(' ')]);
        Assert.Equal(2, refused.ExitCode);
        Assert.Contains(place, Assert.Single(refused.ErrorLines, line => !line.StartsWith("read ", StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.Empty(refused.Out);
        Assert.Empty(Directory.GetFiles(bench.Folder, "x.*"));
    }

    [Fact]
    public async Task A_history_of_looks_and_a_calibration_are_drawn_by_their_commands()
    {
        using var bench = new Bench();
        bench.Write("cell.csv", "load_kg,counts,direction\n0,8000,up\n20,208004,up\n40,408003,up\n60,608000,up\n40,408021,down\n20,208017,down\n0,8001,down\n");
        await bench.RunAsync("cal", "cell", "1", "--from", "cell.csv", "--plot", "residuals.svg");
        Assert.Equal("svg", XDocument.Load(Path.Combine(bench.Folder, "residuals.svg")).Root!.Name.LocalName);
        Assert.Equal(2, (await bench.RunAsync("cal", "cell", "1", "--from", "cell.csv", "--plot", "nowhere/x.svg")).ExitCode);
    }

    [Theory]
    [InlineData("good", 0, 24, 0)]
    [InlineData("drift", 40, 24, 1)]
    [InlineData("one", 0, 1, 0)]
    public async Task Looks_with_a_check_mass_are_drawn_with_their_limits_and_what_broke_a_rule(string name, double countsPerDay, int days, int exitCode)
    {
        using var bench = new Bench();
        bench.Write("looks.csv", "time_utc,board,cell,mass_kg,zero_counts,loaded_counts,held_zero_counts,held_kg_per_count,u_counts,held_u_span_ppm,held_capacity_kg\n"
            + string.Concat(Enumerable.Range(1, days).SelectMany(day => new[] { 1, 2 }.Select(cell => string.Create(
                CultureInfo.InvariantCulture, $"2026-10-{day:00}T18:00:00Z,B1,{cell},20,{1000 + Ripple(day, cell)},{201000 + (2 * Ripple(day + 2, cell)) + (cell == 1 ? countsPerDay * Math.Max(0, day - 10) : 0)},1000,1e-4,30,100,300\n")))));
        Outcome drawn = await bench.RunAsync("cal", "verify", "--from", "looks.csv", "--plot", "chart.svg");
        Assert.True(drawn.ExitCode == exitCode, drawn.Out + drawn.Errors);
        string[] words = [.. XDocument.Load(Path.Combine(bench.Folder, "chart.svg")).Descendants().Where(one => one.Name.LocalName == "text").Select(one => one.Value.Trim())];
        Assert.Contains(words, word => word.Contains("the limits, three units", StringComparison.Ordinal));
        Assert.Contains(words, word => word.StartsWith("cell B1:2: one unit is", StringComparison.Ordinal) && !word.Contains("OUT", StringComparison.Ordinal));
        Assert.Equal(exitCode == 1, words.Any(word => word.StartsWith("cell B1:1", StringComparison.Ordinal) && word.Contains("span OUT OF CONTROL", StringComparison.Ordinal)));
        Assert.Equal(exitCode == 1, words.Any(word => word.StartsWith("ringed", StringComparison.Ordinal)));
        await bench.RunAsync("cal", "verify", "--from", "looks.csv", "--plot", "chart.png");
        string png = Path.Combine(bench.Folder, "chart.png");
        if (Environment.GetEnvironmentVariable("SHOTS") is { Length: > 0 } shots) File.Copy(png, Path.Combine(shots, $"plot-looks-{name}.png"), overwrite: true);
        using SKBitmap picture = SKBitmap.Decode(png);
        Assert.True(DarkPoints(picture, 0, 40) > 200 && DarkPoints(picture, 565, 600) > 40);
        static double Ripple(int day, int cell) => new[] { 21, -13, 4, -27, 17, 9, -22 }[(day + (3 * cell)) % 7];
    }

    [Fact]
    public void An_excerpt_of_a_log_has_the_mean_of_every_stretch_and_forgets_what_lies_before_a_hole()
    {
        using var folder = new ScratchFolder();
        var text = new System.Text.StringBuilder("# schema: fourpatch.log/1\nhost_time_utc,device_us,board,cell,conversion,status,counts,load_kg\n");
        for (int i = 0; i < 8_000; i++)
        {
            int conversion = i < 4_000 ? i : i + 5;
            text.Append(CultureInfo.InvariantCulture, $"2026-11-24T19:05:00.000000Z,{i * 1_000_000L},B1,1,{conversion},ok,{i},{i / 100.0}\n");
        }

        ExcerptCell cell = LogExcerpt.Read([folder.File("log.csv", text.ToString())], CancellationToken.None).Value.Cells.Single();
        Assert.Equal(4_000, cell.Counts.Count);
        Assert.Equal(1, cell.RateHz!.Value, 1e-9);
        Assert.InRange(cell.MeanKg.Count, 1_000, 2_000);
        Assert.All(cell.MeanKg, mean => Assert.InRange(mean.Value - (mean.Second / 100), -0.021, 0.021));
    }

    private static IEnumerable<(string Name, Plot Plot)> Plots()
    {
        yield return ("residuals", CellPlots.Residuals(Samples.Fit(20, 253_100, 60, 596_800), 2, MassUnit.Kg).Value);
        yield return ("history", WeightPlots.History([.. Enumerable.Range(0, 7).Select(i => new RecordLine(
            $"r{i}", "weighing", $"w{i}", Samples.Evening.AddDays(9 * i), "Wren", "typed", i != 3, 438 + (12 * Math.Sin(i)) + i, 1.1, 0.47, 0.5, 0.5))], MassUnit.Kg, TimeZoneInfo.Utc).Value);
        yield return ("rise", WeightPlots.LoadAgainstRise(
            [.. new[] { "FL", "FR", "RL", "RR" }.Select((corner, i) => new RiseReadings(corner, 106 + (4 * i), 0.31, [.. new[] { 30.0, 50, 80 }.Select(rise => (rise, 106.0 + (4 * i) + (0.31 * rise) + (0.2 * Math.Sin(rise * (i + 1))), 0.4))]))], MassUnit.Kg).Value);
    }

    private static string LogOfTwoCells()
    {
        var random = new Random(3);
        var text = new System.Text.StringBuilder("# schema: fourpatch.log/1\nhost_time_utc,device_us,board,cell,conversion,status,counts,load_kg\n");
        for (int i = 0; i < 2_400; i++)
        {
            for (int cell = 1; cell <= 2; cell++)
            {
                double counts = 300_000 + (40 * Math.Log(1 + i)) + Normal(random, 25) + (cell == 2 ? 30 * Math.Sin(2 * Math.PI * 20 * i / 80) : 0);
                text.Append(CultureInfo.InvariantCulture, $"2026-11-24T19:05:00.000000Z,{i * 12_500L},B1,{cell},{i + 1},ok,{(int)counts},{counts * 1e-4:0.0000}\n");
            }
        }

        return text.ToString();
    }

    private static int DarkPoints(SKBitmap picture, int top, int bottom)
    {
        int dark = 0;
        for (int y = top; y < bottom; y++)
        {
            for (int x = 0; x < picture.Width; x++)
            {
                if (picture.GetPixel(x, y).Red < 100) dark++;
            }
        }

        return dark;
    }

    private static double Normal(Random random, double sigma) => sigma * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
