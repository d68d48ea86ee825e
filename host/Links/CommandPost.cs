using System.Collections.Concurrent;
using Fourpatch.Core.Wire;

namespace Fourpatch.Links;

/// <summary>Sends commands over whatever link is open and matches the answers. Thread-safe.</summary>
/// <param name="clock">For the patience with an answer.</param>
/// <param name="asking">Called whenever an answer begins to be awaited: whoever holds back the reading must let go.</param>
public sealed class CommandPost(TimeProvider clock, Action? asking = null) : IDisposable
{
    private const int Tries = 6;
    private static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(600);
    private readonly ConcurrentDictionary<int, TaskCompletionSource<Answer>> _waiting = new();
    private readonly SemaphoreSlim _writing = new(1);
    private volatile ILink? _link;
    private int _lastNumber;

    /// <summary>True while an answer is awaited.</summary>
    public bool IsWaiting => !_waiting.IsEmpty;

    /// <summary>Commands go out over this link from now on.</summary>
    public void Open(ILink link) => _link = link;

    /// <summary>There is no link any more; who waits for an answer is told.</summary>
    public void Close()
    {
        _link = null;
        foreach (TaskCompletionSource<Answer> waiting in _waiting.Values)
        {
            waiting.TrySetCanceled();
        }
    }

    /// <summary>Takes an answer that came.</summary>
    public void Deliver(Answer answer)
    {
        if (_waiting.TryGetValue(answer.Number, out TaskCompletionSource<Answer>? waiting))
        {
            waiting.TrySetResult(answer);
        }
    }

    /// <summary>Sends a command, again if no answer comes.</summary>
    /// <exception cref="LinkUnavailableException">No link, or no answer to any try.</exception>
    public async Task<Answer> AskAsync(BoardCommand command, CancellationToken cancel)
    {
        int number = 1 + (int)((uint)Interlocked.Increment(ref _lastNumber) % WireFormat.CommandNumberMax);
        byte[] bytes = command.ToBytes(number);
        var answered = new TaskCompletionSource<Answer>(TaskCreationOptions.RunContinuationsAsynchronously);
        _waiting[number] = answered;
        asking?.Invoke();
        try
        {
            for (int attempt = 0; attempt < Tries; attempt++)
            {
                await WriteAsync(bytes, command.Verb, cancel).ConfigureAwait(false);
                try
                {
                    return await answered.Task.WaitAsync(Patience, clock, cancel).ConfigureAwait(false);
                }
                catch (TimeoutException)
                {
                    // Lost on the way there or back: commands may be repeated.
                }
            }
        }
        catch (TaskCanceledException) when (answered.Task.IsCanceled)
        {
            throw new LinkUnavailableException($"contact was lost while the board was asked to {command.Verb}");
        }
        finally
        {
            _waiting.TryRemove(number, out _);
        }

        throw new LinkUnavailableException($"the board does not answer '{command.Verb}'");
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Close();
        _writing.Dispose();
    }

    private async Task WriteAsync(byte[] bytes, string verb, CancellationToken cancel)
    {
        ILink link = _link ?? throw new LinkUnavailableException($"no contact with the board; '{verb}' was not sent");
        await _writing.WaitAsync(cancel).ConfigureAwait(false);
        try
        {
            await link.WriteAsync(bytes, cancel).ConfigureAwait(false);
        }
        catch (Exception e) when (e is (IOException and not LinkUnavailableException) or ObjectDisposedException)
        {
            throw new LinkUnavailableException($"contact was lost while the board was asked to {verb}", e);
        }
        finally
        {
            _writing.Release();
        }
    }
}
