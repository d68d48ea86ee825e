using System.Buffers.Text;
using System.Collections.Concurrent;
using System.Net;
using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Http;

namespace Fourpatch.Web;

/// <summary>
/// Who may come in. Only requests that name the very address they arrived at (no other site's name can be pointed here), changes only
/// from this page itself, and, where the page is open to the network, only with the key of this run or the cookie it was exchanged for. Thread-safe.
/// </summary>
/// <param name="needsKey">True where the page is open to the network.</param>
internal sealed class Doorkeeper(bool needsKey)
{
    private const int KeyBytes = 24;
    private const int MostGuests = 64;
    private readonly ConcurrentDictionary<string, long> _guests = [];
    private readonly Lock _door = new();
    private long _visits;

    /// <summary>The key of this run.</summary>
    public string Key { get; } = NewKey();

    /// <summary>Why a request is not served: status and words; null when it may be.</summary>
    /// <remarks>Says nothing of what a right request would look like.</remarks>
    public (int Status, string Why)? Refuses(HttpContext context)
    {
        HttpRequest request = context.Request;
        if (!IsOwnAddress(context))
        {
            return (StatusCodes.Status421MisdirectedRequest, "This page answers only at its own address.");
        }

        if (!ComesFromHere(request, mustSay: !HttpMethods.IsGet(request.Method)))
        {
            return (StatusCodes.Status403Forbidden, "This page takes nothing from other pages.");
        }

        return !needsKey || HasCookie(request)
            ? null
            : (StatusCodes.Status403Forbidden, "This page needs its link: scan the code, or type the link, that the computer shows. After a restart of the program there is a new one.");
    }

    /// <summary>Whether the address itself is right; asked before the key is looked at.</summary>
    public static bool IsOwnAddress(HttpContext context)
    {
        HostString host = context.Request.Host;
        if (host.Port != context.Connection.LocalPort || context.Connection.LocalIpAddress is not { } local)
        {
            return false;
        }

        local = local.IsIPv4MappedToIPv6 ? local.MapToIPv4() : local;
        return (IPAddress.TryParse(host.Host, out IPAddress? named) && named.Equals(local)) || (host.Host == "localhost" && IPAddress.IsLoopback(local));
    }

    /// <summary>Exchanges the key for a cookie. Of too many guests the one seen longest ago is forgotten, and needs the link again.</summary>
    /// <returns>False when it is not the key of this run.</returns>
    public bool LetsIn(HttpContext context, string key)
    {
        if (!IsSame(key, Key))
        {
            return false;
        }

        string guest = NewKey();
        lock (_door)
        {
            if (_guests.Count >= MostGuests)
            {
                _guests.TryRemove(_guests.MinBy(known => known.Value).Key, out _);
            }

            _guests[guest] = Interlocked.Increment(ref _visits);
        }

        context.Response.Cookies.Append(CookieName(context.Request), guest, new CookieOptions { HttpOnly = true, SameSite = SameSiteMode.Strict, Path = "/", IsEssential = true });
        return true;
    }

    private bool HasCookie(HttpRequest request)
    {
        if (request.Cookies[CookieName(request)] is not { Length: > 0 and < 100 } cookie || !_guests.TryGetValue(cookie, out long seen))
        {
            return false;
        }

        // Not put back where the guest was forgotten at this very moment.
        _guests.TryUpdate(cookie, Interlocked.Increment(ref _visits), seen);
        return true;
    }

    // Cookies do not know ports: two programs on one computer must not take each other's away.
    private static string CookieName(HttpRequest request) => FormattableString.Invariant($"fourpatch-{request.HttpContext.Connection.LocalPort}");

    private static bool ComesFromHere(HttpRequest request, bool mustSay)
    {
        string origin = request.Headers.Origin.ToString();
        if (origin.Length > 0 ? origin != $"http://{request.Host.Value}" : mustSay)
        {
            return false;
        }

        string site = request.Headers["Sec-Fetch-Site"].ToString();
        return site is "" or "same-origin" or "none" || (!mustSay && request.Headers["Sec-Fetch-Mode"] == "navigate");
    }

    private static bool IsSame(string given, string expected) => CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(given), Encoding.UTF8.GetBytes(expected));

    private static string NewKey() => Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(KeyBytes));
}
