using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;

namespace Fourpatch.Links;

/// <summary>What a look at a port found.</summary>
/// <param name="Found">Null: nobody answered, or the port cannot be opened.</param>
/// <param name="IsTaken">True: another program has the port.</param>
public readonly record struct PortAnswer<T>(T? Found, bool IsTaken)
    where T : class;

/// <summary>Asks a board who it is and what it holds.</summary>
public static class BoardProbe
{
    // A board speaks at least once a second; one that was reset when its port was opened boots first.
    private static readonly TimeSpan FirstWordPatience = TimeSpan.FromSeconds(5);

    // Once somebody speaks there, it is the computer that is slow.
    private static readonly TimeSpan AnswersPatience = TimeSpan.FromSeconds(15);

    /// <summary>Identity, calibrations and names.</summary>
    /// <exception cref="LinkUnavailableException">No answer, or one this program does not understand.</exception>
    public static async Task<BoardState> ReadAllAsync(CommandPost post, CancellationToken cancel)
    {
        BoardIdentity identity = ReadIdentity(await post.AskAsync(BoardCommand.Identify(), cancel).ConfigureAwait(false));
        var calibrations = new CellCalibration[WireFormat.CellCount];
        var names = new string[WireFormat.CellCount];
        for (int cell = 1; cell <= WireFormat.CellCount; cell++)
        {
            calibrations[cell - 1] = ReadCalibration(await post.AskAsync(BoardCommand.Calibration(cell), cancel).ConfigureAwait(false), Verbs.Calibration, cell);
            names[cell - 1] = ReadName(await post.AskAsync(BoardCommand.Name(cell), cancel).ConfigureAwait(false), cell);
        }

        return new BoardState { Identity = identity, Calibrations = calibrations, CellNames = names };
    }

    /// <summary>Opens a port for a moment and asks who is there.</summary>
    /// <returns>Nothing when it cannot be opened, nothing is heard for five seconds, or fifteen seconds after the first word no answer is complete.</returns>
    public static Task<PortAnswer<BoardIdentity>> TryIdentifyAsync(PortAddress address, ILinkOpener links, TimeProvider clock, CancellationToken cancel) => TryAskAsync(
        address, async (post, deadline) => ReadIdentity(await post.AskAsync(BoardCommand.Identify(), deadline).ConfigureAwait(false)), links, clock, cancel);

    /// <summary>The same, and what the board holds.</summary>
    /// <returns>As <see cref="TryIdentifyAsync"/>.</returns>
    public static Task<PortAnswer<BoardState>> TryReadAllAsync(PortAddress address, ILinkOpener links, TimeProvider clock, CancellationToken cancel) =>
        TryAskAsync(address, ReadAllAsync, links, clock, cancel);

    private static async Task<PortAnswer<T>> TryAskAsync<T>(
        PortAddress address, Func<CommandPost, CancellationToken, Task<T>> ask, ILinkOpener links, TimeProvider clock, CancellationToken cancel)
        where T : class
    {
        using var timeout = new CancellationTokenSource(FirstWordPatience, clock);
        using var deadline = CancellationTokenSource.CreateLinkedTokenSource(cancel, timeout.Token);
        try
        {
            await using ILink link = await links.OpenAsync(address, deadline.Token).ConfigureAwait(false);
            using var post = new CommandPost(clock);
            post.Open(link);
            Task<T> asking = ask(post, deadline.Token);
            Task reading = Task.Run(() => DeliverAnswersAsync(link, post, () => timeout.CancelAfter(AnswersPatience), deadline.Token), deadline.Token);
            Task first = await Task.WhenAny(asking, reading).ConfigureAwait(false);

            // Neither may go on behind the back of a port that is closed.
            post.Close();
            await deadline.CancelAsync().ConfigureAwait(false);
            await Task.WhenAll(asking, reading).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            return first == asking ? new(await asking.ConfigureAwait(false), IsTaken: false) : new(null, IsTaken(reading.Exception?.InnerException));
        }
        catch (Exception e) when (e is IOException or OperationCanceledException or ObjectDisposedException)
        {
            cancel.ThrowIfCancellationRequested();
            return new(null, IsTaken(e));
        }

        static bool IsTaken(Exception? e) => e is LinkUnavailableException { IsTaken: true };
    }

    /// <summary>Understands the answer to a command that carries a calibration.</summary>
    /// <exception cref="LinkUnavailableException">It is something else.</exception>
    public static CellCalibration ReadCalibration(Answer answer, string verb, int cell)
    {
        FieldReader fields = Fields(answer, verb);
        var calibration = new CellCalibration();
        if (!fields.TryNext() || !fields.TryDecimal(cell, cell, out int _) || !CalibrationFields.TryRead(fields, calibration))
        {
            throw NotUnderstood(verb);
        }

        return calibration;
    }

    /// <summary>The fields after the verb of an answer.</summary>
    /// <exception cref="LinkUnavailableException">The board refused, or answered something else.</exception>
    public static FieldReader Fields(Answer answer, string verb)
    {
        var fields = new FieldReader();
        fields.Begin(answer.Rest, answer.Rest.Length);
        if (!answer.IsOk)
        {
            throw new LinkUnavailableException($"the board refused '{verb}': {System.Text.Encoding.ASCII.GetString(answer.Rest)}");
        }

        return fields.TryWord(verb) ? fields : throw NotUnderstood(verb);
    }

    private static BoardIdentity ReadIdentity(Answer answer)
    {
        FieldReader fields = Fields(answer, Verbs.Identify);
        var identity = new Identity();
        if (identity.TryRead(fields))
        {
            return new BoardIdentity(
                identity.BoardId.ToString(), identity.FirmwareVersion.ToString(), identity.BootId, identity.ResetReason, identity.CommitNumber, identity.CommitChecksum);
        }

        throw identity.ProtocolVersion != 0 && identity.ProtocolVersion != WireFormat.ProtocolVersion
            ? new LinkUnavailableException(
                $"the board speaks protocol version {identity.ProtocolVersion}, this program version {WireFormat.ProtocolVersion}: flash the firmware that belongs to this program")
            : NotUnderstood(Verbs.Identify);
    }

    private static string ReadName(Answer answer, int cell)
    {
        FieldReader fields = Fields(answer, Verbs.Name);
        var name = new AsciiText(WireFormat.NameLengthMax);
        return fields.TryNext() && fields.TryDecimal(cell, cell, out int _) && fields.TryNext() && fields.TryText(name) && fields.AtEnd
            ? name.ToString()
            : throw NotUnderstood(Verbs.Name);
    }

    private static async Task DeliverAnswersAsync(ILink link, CommandPost post, Action heard, CancellationToken cancel)
    {
        var decoder = new BoardDecoder();
        var ignored = new List<BoardItem>();
        byte[] buffer = new byte[1024];
        while (true)
        {
            int count = await link.ReadAsync(buffer, cancel).ConfigureAwait(false);
            if (count == 0)
            {
                return;
            }

            bool isFirst = decoder.GoodLines == 0;
            if (decoder.Take(buffer.AsSpan(0, count), default, ignored, post.Deliver) > 0 && isFirst)
            {
                heard();
            }

            ignored.Clear();
        }
    }

    private static LinkUnavailableException NotUnderstood(string verb) =>
        new($"the board's answer to '{verb}' is not understood: flash the firmware that belongs to this program");
}
