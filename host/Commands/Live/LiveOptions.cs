using System.CommandLine;
using System.Globalization;
using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Records;
using Fourpatch.Rigs;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.Live;

/// <summary>What every command that shows a live session is told, and the session that comes of it.</summary>
internal sealed class LiveOptions
{
    private static readonly TimeSpan Window = TimeSpan.FromSeconds(5);
    private readonly Option<string[]> _ports = Opts.Ports();
    private readonly Option<string?> _layout = Opts.Layout();
    private readonly Option<string?> _vehicle = Opts.Vehicle();
    private readonly Option<string> _unit = Opts.Unit();
    private readonly Option<string> _controlLines = Opts.ControlLines();
    private readonly Option<string?> _save = new("--save") { Description = "keep what is taken among the records, too, as NAME 1, NAME 2 ...", HelpName = "NAME" };

    public void AddTo(Command command)
    {
        foreach (Option option in new Option[] { _ports, _layout, _vehicle, _unit, _controlLines, _save })
        {
            command.Options.Add(option);
        }
    }

    /// <summary>Connects.</summary>
    public async Task<LiveStart> StartAsync(ParseResult parsed, CommandContext context, CancellationToken cancel)
    {
        var chosen = new Chosen(parsed, context);
        IReadOnlyList<PortAddress> ports = [.. chosen.ReadPorts(_ports, _controlLines, _layout).Select(port => port with { IsAtOwnPace = true })];
        Vehicle vehicle = chosen.ReadVehicle(_vehicle);
        RigLayout? layout = chosen.ReadLayoutToLook(vehicle) is { } read ? LiveSetup.ForLooking(read) : null;
        MassUnit unit = Opts.ReadUnit(parsed, _unit);
        string? save = parsed.GetValue(_save) is { } typed ? RecordSaving.ReadName(typed) : null;
        if (save is not null)
        {
            if (layout is not null && LiveSetup.IsOneDolly(layout))
            {
                throw new RefusalException(new InputError(
                    ErrorCode.Contradiction, "one dolly going round shows one wheel, and a record is of a whole vehicle", "", "leave --save out, or weigh with --method one-by-one --save NAME") { Field = "--save" });
            }

            RecordOptions.Open(context).Dispose();
        }

        Task<RigSession> ConnectAsync(CancellationToken giveUp) => RigSession.ConnectAsync(ports, layout, context.Links, context.Clock, giveUp);
        RigSession rig = await ConnectAsync(cancel).ConfigureAwait(false);
        try
        {
            chosen.Connected(rig);
        }
        catch
        {
            await rig.DisposeAsync().ConfigureAwait(false);
            throw;
        }

        var setup = new LiveSetup(vehicle, new WeighSettings(Window, Window), ConnectAsync, new LiveWork(context, save), context.Clock, layout);
        return new LiveStart(new LiveSession(rig, setup), chosen, RigOptionsOf(parsed, ports), unit)
        {
            DollyOptions = layout is not null && LiveSetup.IsOneDolly(layout) ? [$"{_layout.Name}={chosen.LayoutFile}"] : [],
        };
    }

    private IReadOnlyList<string> RigOptionsOf(ParseResult parsed, IReadOnlyList<PortAddress> ports) =>
        [.. ports.Select(port => $"{_ports.Name}={port}"), $"{_controlLines.Name}={parsed.GetValue(_controlLines)}"];
}

/// <summary>A live session and what it was told.</summary>
/// <param name="Session">The session; whoever has this disposes it.</param>
/// <param name="Chosen">Vehicle and rig.</param>
/// <param name="RigOptions">Options that name the same rig to another command.</param>
/// <param name="Unit">Of masses.</param>
internal sealed record LiveStart(LiveSession Session, Chosen Chosen, IReadOnlyList<string> RigOptions, MassUnit Unit)
{
    /// <summary>Options that name the dolly's layout to a command that goes round with it; none without such a dolly.</summary>
    public IReadOnlyList<string> DollyOptions { get; init; } = [];

    /// <summary>Lets the session run while something shows it, and ends it then, whatever happens.</summary>
    /// <param name="show">Shows it; that it was cancelled is the usual end.</param>
    /// <param name="cancel">Ctrl-C.</param>
    public async Task RunAsync(Func<CancellationToken, Task> show, CancellationToken cancel)
    {
        using var over = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        Task running = Task.Run(() => Session.RunAsync(over.Token), CancellationToken.None);
        try
        {
            Task showing = show(over.Token);
            if (await Task.WhenAny(showing, running).ConfigureAwait(false) == running && !running.IsCompletedSuccessfully)
            {
                await over.CancelAsync().ConfigureAwait(false);
            }

            await showing.ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (over.IsCancellationRequested)
        {
            // Being told to stop is the usual end of a live screen, not an error.
        }
        finally
        {
            await over.CancelAsync().ConfigureAwait(false);
            try
            {
                await running.ConfigureAwait(false);
            }
            catch (OperationCanceledException)
            {
            }

            await Session.DisposeAsync().ConfigureAwait(false);
        }
    }
}

/// <summary>Zeros into the boards, weighings among the records.</summary>
/// <param name="context">The outside world.</param>
/// <param name="save">Name of the records; null: none are kept.</param>
internal sealed class LiveWork(CommandContext context, string? save) : ILiveWork
{
    private static readonly TimeSpan ZeroWindow = TimeSpan.FromSeconds(10);

    public async Task<string> TakeZeroAsync(RigSession rig, CancellationToken cancel)
    {
        try
        {
            ZeroReading reading = await ZeroTaking.ReadAsync(rig, ZeroWindow, cancel).ConfigureAwait(false);
            if (!reading.IsGood)
            {
                return $"Zero NOT taken, the old one holds: {string.Join("; ", reading.Reasons.Select(reason => reason.Text))}";
            }

            await ZeroTaking.StoreAsync(rig, reading, cancel).ConfigureAwait(false);
            return "Zero taken and stored in the board. It moved by " + string.Join(", ", reading.Zeros.Select(zero => string.Create(
                CultureInfo.InvariantCulture, $"{zero.Cell} {zero.MovedKg:+0.00;-0.00;0.00}"))) + " kg.";
        }
        catch (Exception e) when (e is NotStoredException or IOException)
        {
            return $"Zero NOT stored: {e.Message}";
        }
    }

    public (LiveEntry Entry, string News) Keep(LiveEntry take)
    {
        if (save is null)
        {
            return (take, "");
        }

        if (take.Result.Conditions.ContainsKey(LiveDesk.TareCondition))
        {
            return (take, "Only in this session, not kept: a record is of whole loads, and a tare is on. Tare once more puts it back.");
        }

        string name = string.Create(CultureInfo.InvariantCulture, $"{save} {take.Number}");
        var record = WeighingRecord.Of(name, take.Result, take.Time, JsonAnswer.SoftwareVersion, take.Result.IsAcceptable ? null : "taken live");
        return OpenAnd(store => store.Save(record)).TryGet(out Kept? kept, out InputError? error)
            ? (take with { RecordId = kept.Id }, $"Kept as {kept.Id}, \"{name}\".")
            : (take, $"Only in this session, not kept: {error.OneLine}");
    }

    public string Forget(LiveEntry take) => OpenAnd(store => store.Delete([take.RecordId!])).TryGet(out _, out InputError? error)
        ? $"Record {take.RecordId} is gone."
        : $"Record {take.RecordId} is still there: {error.OneLine}";

    private Result<T> OpenAnd<T>(Func<RecordStore, Result<T>> work)
        where T : notnull
    {
        if (!RecordStore.Open(RecordOptions.Folder(context)).TryGet(out RecordStore? store, out InputError? error))
        {
            return error;
        }

        using (store)
        {
            return work(store);
        }
    }
}
