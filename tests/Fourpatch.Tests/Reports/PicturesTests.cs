using Fourpatch.Commands;
using Fourpatch.Tests.Commands;

namespace Fourpatch.Tests.Reports;

/// <summary>
/// The pictures in README are the program's own. They are drawn anew here and compared; <c>PICTURES=write</c> in the environment writes them instead.
/// </summary>
public class PicturesTests
{
    private const string Folder = "hardware-notes/pictures";

    [Fact]
    public async Task The_pictures_of_README_are_what_the_program_draws_now()
    {
        using var bench = new Bench { Data = "data" };
        bench.Write("car.toml", InsideLinks.BuiltInText("wren.toml"));
        bench.Write("parts.csv", File.ReadAllText(Repository.PathOf("host/examples/wren-parts.csv")));
        Outcome plan = await bench.RunAsync(
            "plan", "--vehicle", "car.toml", "--corners", "FL=69.4,FR=65.2,RL=59.8,RR=61.0", "--resolution", "0.2", "--parts", "parts.csv", "--svg", "walk.svg");
        Assert.Equal(0, plan.ExitCode);
        string[] weigh = ["weigh", "--vehicle", "car.toml", "--typed", "FL=106.1,FR=100.7,RL=116.5,RR=115.2", "--u-corner", "0.2", "--save", "wren"];
        Assert.Equal(0, (await bench.RunAsync(weigh)).ExitCode);
        Assert.Equal(0, (await bench.RunAsync("report", "wren", "--out", "wren.html")).ExitCode);
        string page = bench.Read("wren.html");
        int from = page.IndexOf("<svg", StringComparison.Ordinal);
        string planView = page[from..(page.IndexOf("</svg>", from, StringComparison.Ordinal) + "</svg>".Length)];
        (string Name, string Svg)[] pictures =
        [
            ("weighing.svg", planView + "\n"),
            ("walk.svg", bench.Read("walk.svg")),
        ];
        string readme = File.ReadAllText(Repository.PathOf("README.md"));
        foreach ((string name, string svg) in pictures)
        {
            string path = Repository.PathOf($"{Folder}/{name}");
            Assert.Contains("xmlns=\"http://www.w3.org/2000/svg\"", svg, StringComparison.Ordinal);
            string drawn = svg.ReplaceLineEndings("\n");
            if (Environment.GetEnvironmentVariable("PICTURES") == "write")
            {
                Directory.CreateDirectory(Path.GetDirectoryName(path)!);
                File.WriteAllText(path, drawn);
            }

            Assert.True(File.Exists(path) && File.ReadAllText(path).ReplaceLineEndings("\n") == drawn, $"{name} is stale: run this test with PICTURES=write and look at it");
            Assert.Contains($"({Folder}/{name})", readme, StringComparison.Ordinal);
        }
    }
}
