using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Vehicles;

namespace Fourpatch.Commands.PlanningBuild;

/// <summary><c>part</c>: single parts, weighed and fitted, in the parts list.</summary>
internal static class PartCommand
{
    public static Command Build(CommandContext context) => new("part", "The rig as a shop scale: weigh a part into the parts list, and mark it as fitted.")
    {
        PartWeighCommand.Build(context),
        PartFitCommand.Build(context),
    };

    /// <summary>The name of a part.</summary>
    public static Argument<string> Item() => new("NAME") { Description = "the part, as the parts list calls it" };
}

/// <summary>A parts list of which one row is read and changed.</summary>
internal sealed class PartsList
{
    private const string Mark = "\uFEFF";

    private readonly string _path;
    private readonly string _text;
    private readonly bool _hasMark;
    private readonly Vehicle _vehicle;

    private PartsList(string file, string path, string text, bool hasMark, Vehicle vehicle, Part part) =>
        (File, _path, _text, _hasMark, _vehicle, Part) = (file, path, text, hasMark, vehicle, part);

    /// <summary>The list as typed.</summary>
    public string File { get; }

    /// <summary>The row that was asked for.</summary>
    public Part Part { get; }

    /// <summary>Reads the list and finds the row.</summary>
    public static PartsList Read(ParseResult parsed, Option<string?> option, Argument<string> item, Vehicle vehicle, CommandContext context)
    {
        string file = parsed.GetValue(option) ?? throw new RefusalException(new InputError(ErrorCode.Missing, "no parts list was given", "--parts FILE.csv", "name it, or write one with 'fourpatch parts new'") { Field = option.Name });
        string path = context.Files.Resolve(file);
        string text = TextFile.Read(path).OrRefuse();
        string name = (parsed.GetValue(item) ?? "").Trim();
        IReadOnlyList<Part> parts = PartsFile.Parse(text, path, vehicle).OrRefuse();
        Part part = parts.FirstOrDefault(one => one.Item.Equals(name, StringComparison.OrdinalIgnoreCase)) ?? throw new RefusalException(new InputError(
            ErrorCode.UnknownName, $"{InputError.Quote(name)} is not in the parts list", "an item of the list", $"{Nearest.Remedy(name, [.. parts.Select(one => one.Item)])}; 'fourpatch parts new' adds a row") { Field = item.Name });
        return new PartsList(file, path, text, TextFile.BeginsWithMark(path).OrRefuse(), vehicle, part);
    }

    /// <summary>Writes the list whole, its one row changed. What somebody else changed in other rows meanwhile stays changed.</summary>
    /// <exception cref="RefusalException">It cannot be written, or this very row was changed meanwhile; then it is as it was.</exception>
    public void Write(Func<Part, Part> change)
    {
        string text = TextFile.Read(_path).OrRefuse();
        if (text != _text && PartsFile.Parse(text, _path, _vehicle).OrRefuse().FirstOrDefault(one => one.Item == Part.Item) != Part)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Contradiction, $"the row of {Part.Item} was changed while it was being weighed", "the row as it was", "look at the list, then weigh again") { File = File });
        }

        string edited = PartsFileEdit.Replace(text, _path, _vehicle, Part.Item, change).OrRefuse();
        if (AtomicFile.WriteText(_path, (_hasMark ? Mark : "") + edited) is { } error)
        {
            throw new RefusalException(error);
        }
    }
}
