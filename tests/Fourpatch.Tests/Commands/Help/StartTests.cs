using System.Reflection;
using System.Runtime.Loader;

namespace Fourpatch.Tests.Commands.Help;

/// <summary>What only says something about itself must not wait for anything heavy: the store, the web server, the solver, the plotter.</summary>
public class StartTests
{
    private static readonly string[] Heavy = ["Microsoft.Data.Sqlite", "SQLitePCLRaw", "Microsoft.AspNetCore", "Google.", "ScottPlot", "SkiaSharp", "HarfBuzzSharp", "MathNet.Numerics", "QRCoder", "System.IO.Ports"];

    [Theory]
    [InlineData("--version")]
    [InlineData("--help")]
    [InlineData("weigh", "--help")]
    [InlineData("help", "weighing")]
    [InlineData("completion", "bash")]
    public void Version_and_help_load_nothing_heavy(params string[] args)
    {
        var fresh = new FreshProgram();
        Assert.Equal(0, fresh.Run(args));
        Assert.Contains("System.CommandLine", fresh.Asked);
        Assert.Empty(fresh.Asked.Where(name => Heavy.Any(heavy => name.StartsWith(heavy, StringComparison.Ordinal))));
    }

    [Fact]
    public void What_is_heavy_would_be_noticed()
    {
        // An answer that draws on the records: nothing is kept in this folder, so it is refused, but only after the store was looked for.
        var fresh = new FreshProgram();
        string folder = Directory.CreateTempSubdirectory("fourpatch-").FullName;
        File.WriteAllText(Path.Combine(folder, "records.sqlite"), "");
        fresh.Run("records", "list", "--data", folder, "--json");
        Directory.Delete(folder, recursive: true);
        Assert.Contains(fresh.Asked, name => name.StartsWith("Microsoft.Data.Sqlite", StringComparison.Ordinal));
    }

    // The program loaded once more, with its own copies of everything beside it; writes down every assembly it asks for.
    private sealed class FreshProgram() : AssemblyLoadContext(null, isCollectible: false)
    {
        public HashSet<string> Asked { get; } = [];

        public int Run(params string[] args)
        {
            Assembly program = LoadFromAssemblyPath(Path.Combine(AppContext.BaseDirectory, "fourpatch.dll"));
            return (int)program.EntryPoint!.Invoke(null, [args])!;
        }

        protected override Assembly? Load(AssemblyName assemblyName)
        {
            lock (Asked)
            {
                Asked.Add(assemblyName.Name!);
            }

            string path = Path.Combine(AppContext.BaseDirectory, assemblyName.Name + ".dll");
            return File.Exists(path) ? LoadFromAssemblyPath(path) : null;
        }
    }
}
