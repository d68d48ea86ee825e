namespace Fourpatch.Links;

/// <summary>
/// Opens the port of one board. A board that was known may come back under another name: every serial port that is there is
/// tried, and kept only when the same board answers. Its old name may be another board's now: then the other ports are tried
/// first. Not thread-safe.
/// </summary>
/// <param name="address">Where to look first.</param>
/// <param name="links">Opens ports and lists them.</param>
/// <param name="clock">For the patience with each port.</param>
internal sealed class BoardSearch(PortAddress address, ILinkOpener links, TimeProvider clock)
{
    private volatile bool _isAnotherThere;

    /// <summary>Where it was looked for, or found, last.</summary>
    public PortAddress Address { get; private set; } = address;

    /// <summary>Another board than the one looked for answers at the address.</summary>
    public void NoteAnother() => _isAnotherThere = true;

    /// <summary>Opens the port.</summary>
    /// <param name="wanted">The board; null when it has not been met yet, and whoever answers at the address is right.</param>
    /// <param name="cancel">Gives up.</param>
    /// <exception cref="LinkUnavailableException">It is nowhere.</exception>
    public async Task<ILink> OpenAsync(BoardIdentity? wanted, CancellationToken cancel)
    {
        LinkUnavailableException? unavailable = null;
        if (!_isAnotherThere)
        {
            try
            {
                return await links.OpenAsync(Address, cancel).ConfigureAwait(false);
            }
            catch (LinkUnavailableException e)
            {
                unavailable = e;
            }
        }

        _isAnotherThere = false;
        if (wanted is not null && Address.Kind == PortKind.Serial)
        {
            foreach (string port in links.SerialPorts())
            {
                PortAddress other = Address with { Target = port };
                if (other != Address && await BoardProbe.TryIdentifyAsync(other, links, clock, cancel).ConfigureAwait(false) is { Found: { } found } && found.BoardId == wanted.BoardId)
                {
                    Address = other;
                    return await links.OpenAsync(other, cancel).ConfigureAwait(false);
                }
            }
        }

        return unavailable is null ? await links.OpenAsync(Address, cancel).ConfigureAwait(false) : throw unavailable;
    }
}
