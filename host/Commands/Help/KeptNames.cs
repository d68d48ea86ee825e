using System.CommandLine;
using System.CommandLine.Completions;
using Fourpatch.Files;
using Fourpatch.Records;

namespace Fourpatch.Commands.Help;

/// <summary>
/// Completes names of what is kept wherever a command takes one: by what helps call it, so that an option is completed as its help reads. Files are
/// left to the shell, which knows folders.
/// </summary>
internal static class KeptNames
{
    // As many as a list shows; older ones are found by their beginning all the same.
    private const int Newest = 50;

    /// <summary>Gives every option and argument below a command that names a record, a place or a car its names.</summary>
    public static void CompleteIn(Command command, CommandContext context)
    {
        foreach (Option option in command.Options)
        {
            Complete(option.HelpName, option.CompletionSources, context);
        }

        foreach (Argument argument in command.Arguments)
        {
            Complete(argument.Name, argument.CompletionSources, context);
        }

        foreach (Command below in command.Subcommands)
        {
            CompleteIn(below, context);
        }
    }

    private static void Complete(string? called, List<Func<CompletionContext, IEnumerable<CompletionItem>>> sources, CommandContext context)
    {
        Func<RecordStore, IEnumerable<string>>? names = called switch
        {
            "ID" or "RECORD" or "BEFORE" or "AFTER" => Records,
            "PLACE" => store => store.List(new RecordFilter(Kind: Words.Of(DocumentKind.Floor))).TryGet(out IReadOnlyList<RecordLine>? floors, out _) ? floors.Select(floor => floor.Name).Distinct() : [],
            "CAR" => store => store.Cars().TryGet(out IReadOnlyList<string>? cars, out _) ? cars : [],
            _ => null,
        };
        if (names is not null)
        {
            sources.Add(line => In(line, context, names));
        }
    }

    // A name that several records bear names none of them: those go by their ids.
    private static IEnumerable<string> Records(RecordStore store) => !store.List(new RecordFilter(Newest: Newest)).TryGet(out IReadOnlyList<RecordLine>? lines, out _) ? []
        : [.. lines.GroupBy(line => line.Name).SelectMany(named => named.Count() == 1 ? [named.Key] : named.Select(line => line.Id)), .. lines.Count > 0 ? [RecordStore.Newest] : Array.Empty<string>()];

    /// <summary>Whatever cannot be read completes nothing: a shell has no place for complaints.</summary>
    private static List<CompletionItem> In(CompletionContext line, CommandContext context, Func<RecordStore, IEnumerable<string>> names)
    {
        string? folder = line.ParseResult.GetValue<string?>("--data") is { Length: > 0 } typed ? context.Files.Resolve(typed) : context.DataFolder;
        if (folder is null || !RecordStore.IsIn(folder) || !RecordStore.OpenToLook(folder).TryGet(out RecordStore? store, out _))
        {
            return [];
        }

        using (store)
        {
            return [.. names(store).Select(name => new CompletionItem(name))];
        }
    }
}
