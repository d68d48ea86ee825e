namespace Fourpatch.Tests;

/// <summary>Where the working copy of the project lies that these tests were built from.</summary>
internal static class Repository
{
    /// <summary>The folder of nanoFramework.sln.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>A file of the repository, by its path with forward slashes.</summary>
    public static string PathOf(string path) => Path.Combine(Root, Path.Combine(path.Split('/')));

    /// <summary>An assembly that another project of tests/ built in the same configuration as this one.</summary>
    public static string BuiltFor(string projectFolder, string framework, string assembly)
    {
        // .../bin/<configuration>/<framework>/
        string configuration = new DirectoryInfo(AppContext.BaseDirectory).Parent!.Name;
        return Path.Combine(Root, "tests", projectFolder, "bin", configuration, framework, assembly + ".dll");
    }

    private static string FindRoot()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "nanoFramework.sln")))
            {
                return folder.FullName;
            }
        }

        throw new InvalidOperationException("the tests run outside the working copy they were built in");
    }
}
