using System.CommandLine;
using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Reports;

namespace Fourpatch.Commands;

/// <summary><c>--save NAME</c> of a command whose answer is kept as a document, acceptable or not.</summary>
/// <param name="kind">What it is.</param>
/// <param name="wantsReason">Whether one that is not acceptable is only kept with a reason.</param>
internal sealed class DocumentSaving(DocumentKind kind, bool wantsReason = false)
{
    private readonly Option<string?> _because = new("--keep-because") { Description = "keep it even when it is not acceptable, with this reason", HelpName = "WHY" };
    private readonly Option<string?> _save = new("--save") { Description = "keep it among the records under this name", HelpName = "NAME" };

    public void AddTo(Command command)
    {
        command.Add(_save);
        if (wantsReason)
        {
            command.Add(_because);
        }
    }

    /// <summary>The name as typed; null when none was.</summary>
    public string? NameOf(ParseResult parsed) => parsed.GetValue(_save) is { } typed ? RecordSaving.ReadName(typed) : null;

    /// <summary>Reads the name and opens the file of records: before anything is measured, so that nothing is measured in vain.</summary>
    public void Check(ParseResult parsed, CommandContext context)
    {
        if (ReadBecause(parsed) is not null && parsed.GetValue(_save) is null)
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, $"{_because.Name} goes with {_save.Name}", "", "add --save NAME, or leave it out") { Field = _because.Name });
        }

        if (parsed.GetValue(_save) is { } name)
        {
            RecordSaving.ReadName(name);
            RecordOptions.Open(context).Dispose();
        }
    }

    /// <summary>Keeps it when that was asked for.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="context">The world.</param>
    /// <param name="subject">Vehicle, place or board.</param>
    /// <param name="isAcceptable">Whether something speaks against it.</param>
    /// <param name="inputs">All it was computed from.</param>
    /// <param name="answer">What is answered with <c>--json</c>.</param>
    /// <returns>Its id; null when it was not asked for.</returns>
    public string? Save(ParseResult parsed, CommandContext context, string subject, bool isAcceptable, JsonObject inputs, JsonAnswer answer)
    {
        if (parsed.GetValue(_save) is not { } name)
        {
            return null;
        }

        string? because = isAcceptable ? null : ReadBecause(parsed);
        if (wantsReason && !isAcceptable && because is null)
        {
            WeighingText.WriteWrapped(context.Terminal.ErrorOut, $"Not kept, because it is not good enough. To keep it all the same, say so with {_because.Name} \"WHY\".", context.Terminal.Width);
            return null;
        }

        return Keep(kind, RecordSaving.ReadName(name), context, subject, isAcceptable, inputs, because is null ? answer : answer.Put("kept_reason", because));
    }

    private string? ReadBecause(ParseResult parsed) => wantsReason && parsed.GetValue(_because) is { } why ? RecordSaving.ReadText(why, _because.Name, "a reason") : null;

    /// <summary>Keeps a document under a name.</summary>
    /// <returns>Its id.</returns>
    public static string Keep(DocumentKind kind, string name, CommandContext context, string subject, bool isAcceptable, JsonObject inputs, JsonAnswer answer)
    {
        var record = new DocumentRecord
        {
            Document = kind,
            Name = name,
            Time = context.Clock.GetUtcNow(),
            SoftwareVersion = JsonAnswer.SoftwareVersion,
            Subject = subject,
            IsAcceptable = isAcceptable,
            Inputs = RecordJson.AsRead(inputs),
            Answer = answer.ToObject(),
        };

        // What could not be computed again later is not kept.
        KeptDocuments.Again(record).OrRefuse("--save");
        using RecordStore store = RecordOptions.Open(context);
        return store.Save(record).OrRefuse().Id;
    }

    /// <summary>Tells the person where it is.</summary>
    public static void Say(string? id, CommandContext context)
    {
        if (id is not null)
        {
            context.Terminal.Out.WriteLine($"Kept as {id}.");
        }
    }
}
