using System.Text.RegularExpressions;
using System.Xml.Linq;
using Fourpatch.Tests;

namespace Fourpatch.Board.Tests;

/// <summary>The nanoFramework projects list their files by hand; nothing here builds them, so their lists are compared.</summary>
public partial class ProjectFileTests
{
    [Theory]
    [InlineData("firmware/Fourpatch.Firmware.nfproj", "firmware")]
    [InlineData("firmware/core/Fourpatch.Core.nfproj", "shared-core")]
    public void The_project_lists_every_source_of_its_folder_and_no_other(string project, string folder)
    {
        var root = Repository.PathOf(folder);
        var expected = Directory.EnumerateFiles(root, "*.cs", SearchOption.AllDirectories)
            .Select(file => Path.GetRelativePath(root, file).Replace('\\', '/'))
            .Where(file => !BuildFolder().IsMatch(file))
            .Order(StringComparer.Ordinal);
        var home = Path.GetDirectoryName(Repository.PathOf(project))!;
        var listed = Items(project, "Compile")
            .Select(item => Path.GetRelativePath(root, Path.GetFullPath(Path.Combine(home, item.Attribute("Include")!.Value.Replace('\\', '/')))).Replace('\\', '/'))
            .Order(StringComparer.Ordinal);
        Assert.Equal(expected, listed);
    }

    [Theory]
    [InlineData("firmware/Fourpatch.Firmware.nfproj", "firmware/packages.config")]
    [InlineData("firmware/core/Fourpatch.Core.nfproj", "firmware/core/packages.config")]
    public void Every_reference_points_into_a_listed_package(string project, string config)
    {
        var packages = XDocument.Load(Repository.PathOf(config)).Root!.Elements("package")
            .Select(package => package.Attribute("id")!.Value + "." + package.Attribute("version")!.Value)
            .Order(StringComparer.Ordinal);
        var references = Items(project, "Reference")
            .Select(item => item.Elements().Single(element => element.Name.LocalName == "HintPath").Value.Replace('\\', '/'))
            .Select(path => Regex.Match(path, "packages/([^/]+)/lib/").Groups[1].Value)
            .Order(StringComparer.Ordinal);
        Assert.Equal(packages, references);
    }

    [Fact]
    public void Both_projects_agree_on_the_packages_they_share()
    {
        var core = File.ReadAllLines(Repository.PathOf("firmware/core/packages.config")).Where(line => line.Contains("<package ", StringComparison.Ordinal));
        var firmware = File.ReadAllLines(Repository.PathOf("firmware/packages.config"));
        Assert.All(core, line => Assert.Contains(line, firmware));
    }

    [Fact]
    public void The_solution_shows_both_projects_and_builds_neither()
    {
        var solution = File.ReadAllText(Repository.PathOf("nanoFramework.sln"));
        foreach (var project in new[] { "firmware/Fourpatch.Firmware.nfproj", "firmware/core/Fourpatch.Core.nfproj" })
        {
            var guid = XDocument.Load(Repository.PathOf(project)).Descendants().Single(element => element.Name.LocalName == "ProjectGuid").Value;
            Assert.Contains("\"" + project.Replace('/', '\\') + "\", \"{" + guid + "}\"", solution, StringComparison.Ordinal);
            Assert.Contains("{" + guid + "}.Release|Any CPU.ActiveCfg", solution, StringComparison.Ordinal);
            Assert.DoesNotContain("{" + guid + "}.Release|Any CPU.Build.0", solution, StringComparison.Ordinal);
            Assert.DoesNotContain("{" + guid + "}.Debug|Any CPU.Build.0", solution, StringComparison.Ordinal);
        }
    }

    private static IEnumerable<XElement> Items(string project, string kind)
        => XDocument.Load(Repository.PathOf(project)).Descendants().Where(element => element.Name.LocalName == kind && element.Parent!.Name.LocalName == "ItemGroup");

    [GeneratedRegex("(^|/)(bin|obj)/")]
    private static partial Regex BuildFolder();
}
