using Fourpatch.Links;
using Fourpatch.Weighing;

namespace Fourpatch.Web;

/// <summary>Ports for a guide: the live session lets go of the rig when the guide first asks for a port, and has it back when this is disposed.</summary>
internal sealed class LentLinks(ILinkOpener links, LiveSession session) : ILinkOpener, IDisposable
{
    private readonly SemaphoreSlim _gate = new(1);
    private IDisposable? _loan;

    public async ValueTask<ILink> OpenAsync(PortAddress address, CancellationToken cancel)
    {
        await _gate.WaitAsync(cancel).ConfigureAwait(false);
        try
        {
            _loan ??= await session.BorrowAsync(cancel).ConfigureAwait(false);
        }
        finally
        {
            _gate.Release();
        }

        return await links.OpenAsync(address, cancel).ConfigureAwait(false);
    }

    public IReadOnlyList<string> SerialPorts() => links.SerialPorts();

    public void Dispose()
    {
        _loan?.Dispose();
        _gate.Dispose();
    }
}
