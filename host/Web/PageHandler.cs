using System.Reflection;
using System.Text.Json;
using Fourpatch.Commands;
using Fourpatch.Commands.Live;
using Fourpatch.Files;
using Fourpatch.Reports;
using Fourpatch.Weighing;
using Microsoft.AspNetCore.Http;

namespace Fourpatch.Web;

/// <summary>Answers every request to the page: a handful of fixed paths, nothing that could name a file.</summary>
internal sealed class PageHandler(LiveStart start, CommandContext context, Doorkeeper door, LiveStreams streams, GuideDesk guides)
{
    private const int LongestText = 200;
    private static readonly TimeSpan BodyWithin = TimeSpan.FromSeconds(5);

    private static readonly Dictionary<string, (string Type, byte[] Bytes)> Files = new()
    {
        ["/"] = ("text/html; charset=utf-8", Embedded("page.html")),
        ["/page.css"] = ("text/css; charset=utf-8", Embedded("page.css")),
        ["/page.js"] = ("text/javascript; charset=utf-8", Embedded("page.js")),
        ["/mark.svg"] = ("image/svg+xml", Embedded("mark.svg")),
    };

    // Asks again for the page itself: a cookie as strict as ours comes along only when this site sends one there.
    private const string Inside = "<!doctype html><meta charset=utf-8><meta http-equiv=refresh content=\"0;url=/\"><title>Fourpatch</title><link rel=icon href=\"/mark.svg\"><p><a href=\"/\">Go on</a>";

    /// <summary>Answers one request.</summary>
    public async Task HandleAsync(HttpContext http)
    {
        PutHeaders(http.Response.Headers);
        try
        {
            await AnswerAsync(http).ConfigureAwait(false);
        }
        catch (BadHttpRequestException bad)
        {
            await WriteAsync(http, bad.StatusCode, bad.StatusCode == StatusCodes.Status413PayloadTooLarge ? "That is too much." : "That cannot be read.").ConfigureAwait(false);
        }
        catch (Exception e) when (e is OperationCanceledException or IOException)
        {
            // Whoever asked has gone.
        }
    }

    /// <summary>A short answer in words.</summary>
    public static async Task WriteAsync(HttpContext http, int status, string text)
    {
        if (!http.Response.HasStarted)
        {
            http.Response.StatusCode = status;
            http.Response.ContentType = "text/plain; charset=utf-8";
            await http.Response.WriteAsync(text + "\n", http.RequestAborted).ConfigureAwait(false);
        }
    }

    private async Task AnswerAsync(HttpContext http)
    {
        HttpRequest request = http.Request;
        if (request is { Method: "GET", Path.Value: "/" } && request.Query.TryGetValue("key", out var key) && Doorkeeper.IsOwnAddress(http) && door.LetsIn(http, key.ToString()))
        {
            http.Response.ContentType = "text/html; charset=utf-8";
            await http.Response.WriteAsync(Inside, http.RequestAborted).ConfigureAwait(false);
        }
        else if (door.Refuses(http) is { } refusal)
        {
            await WriteAsync(http, refusal.Status, refusal.Why).ConfigureAwait(false);
        }
        else if (HttpMethods.IsGet(request.Method))
        {
            await GetAsync(http).ConfigureAwait(false);
        }
        else if (HttpMethods.IsPost(request.Method) && request.Path.Value is "/do" or "/guide")
        {
            await PostAsync(http).ConfigureAwait(false);
        }
        else
        {
            await WriteAsync(http, StatusCodes.Status405MethodNotAllowed, "Not that way.").ConfigureAwait(false);
        }
    }

    private async Task GetAsync(HttpContext http)
    {
        string path = http.Request.Path.Value ?? "";
        if (path == "/live")
        {
            await streams.ServeAsync(http, MassUnits.Parse(http.Request.Query["unit"].ToString()) is { IsOk: true } unit ? unit.Value : start.Unit).ConfigureAwait(false);
        }
        else if (Files.TryGetValue(path, out (string Type, byte[] Bytes) file))
        {
            http.Response.ContentType = file.Type;
            http.Response.ContentLength = file.Bytes.Length;
            await http.Response.Body.WriteAsync(file.Bytes, http.RequestAborted).ConfigureAwait(false);
        }
        else
        {
            await WriteAsync(http, StatusCodes.Status404NotFound, "There is nothing here.").ConfigureAwait(false);
        }
    }

    private async Task PostAsync(HttpContext http)
    {
        if (!http.Request.HasJsonContentType())
        {
            await WriteAsync(http, StatusCodes.Status415UnsupportedMediaType, "That cannot be read.").ConfigureAwait(false);
            return;
        }

        PageRequest? asked;
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(http.RequestAborted);
        patience.CancelAfter(BodyWithin);
        try
        {
            asked = await JsonSerializer.DeserializeAsync<PageRequest>(http.Request.Body, PageRequest.Json, patience.Token).ConfigureAwait(false);
        }
        catch (JsonException)
        {
            asked = null;
        }
        catch (IOException bad) when (bad is not BadHttpRequestException && !http.RequestAborted.IsCancellationRequested)
        {
            // The server tells a length of a part that is no number so.
            asked = null;
        }
        catch (OperationCanceledException) when (!http.RequestAborted.IsCancellationRequested)
        {
            await WriteAsync(http, StatusCodes.Status408RequestTimeout, "That took too long.").ConfigureAwait(false);
            return;
        }

        (int status, string text) = asked is null || asked.IsTooLong(LongestText) ? (StatusCodes.Status400BadRequest, "That cannot be read.")
            : http.Request.Path == "/do" ? Do(asked)
            : Lead(asked);
        await WriteAsync(http, status, text).ConfigureAwait(false);
    }

    private (int Status, string Text) Do(PageRequest asked)
    {
        if (!Words.TryParse(asked.Action ?? "", out LiveAction action))
        {
            return (StatusCodes.Status400BadRequest, "There is no such action.");
        }

        LiveGoal? goal = null;
        if (action == LiveAction.Goal && asked.Station is { Length: > 0 } station)
        {
            double? targetKg = null;
            if (asked.Target is { Length: > 0 } typed)
            {
                if (!Typed.Mass(typed, UnitOf(asked)).TryGet(out TypedMass mass, out InputError? error))
                {
                    return (StatusCodes.Status400BadRequest, error.OneLine);
                }

                targetKg = mass.MassKg;
            }

            goal = new LiveGoal(station, targetKg);
        }

        return start.Session.Ask(new LiveRequest(action, asked.Note ?? "", goal))
            ? (StatusCodes.Status202Accepted, "asked")
            : (StatusCodes.Status429TooManyRequests, "Too much at once; try again.");
    }

    private (int Status, string Text) Lead(PageRequest asked)
    {
        if (asked.Answer is { } answer)
        {
            string line = string.Concat(answer.Select(letter => char.IsControl(letter) ? ' ' : letter));
            return guides.Answer(asked.Question, line)
                ? (StatusCodes.Status202Accepted, "heard")
                : (StatusCodes.Status409Conflict, "That is not asked any more.");
        }

        if (asked.Leave)
        {
            guides.Leave();
            return (StatusCodes.Status202Accepted, "left");
        }

        if (Guides.All.FirstOrDefault(guide => guide.Id == asked.Start) is not { } wanted)
        {
            return (StatusCodes.Status400BadRequest, "There is no such guide.");
        }

        LiveView view = start.Session.View;
        MassUnit unit = UnitOf(asked);
        string corners = LiveWords.Of(view, new Figures(unit), context.Clock.LocalTimeZone).Corners;
        if (!Guides.Args(wanted, [.. start.RigOptions, .. wanted.UsesDolly ? start.DollyOptions : []], start.Chosen.VehicleFile!, unit, view, corners, asked.Target ?? "").TryGet(out IReadOnlyList<string>? args, out InputError? error2))
        {
            return (StatusCodes.Status409Conflict, error2.OneLine);
        }

        return guides.Start(wanted.Title, args)
            ? (StatusCodes.Status202Accepted, "started")
            : (StatusCodes.Status409Conflict, "Another guide is running: finish it or leave it first.");
    }

    private MassUnit UnitOf(PageRequest asked) => MassUnits.Parse(asked.Unit ?? "") is { IsOk: true } unit ? unit.Value : start.Unit;

    private static void PutHeaders(IHeaderDictionary headers)
    {
        headers.ContentSecurityPolicy =
            "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
        headers.XContentTypeOptions = "nosniff";
        headers.XFrameOptions = "DENY";
        headers.CacheControl = "no-store";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "screen-wake-lock=(self), camera=(), microphone=(), geolocation=()";
    }

    private static byte[] Embedded(string name)
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream($"page/{name}")!;
        byte[] bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}

/// <summary>What the page may ask for; every field may be missing.</summary>
internal sealed record PageRequest(string? Action, string? Note, string? Station, string? Target, string? Unit, string? Start, string? Answer, int Question, bool Leave)
{
    public static JsonSerializerOptions Json { get; } = new(JsonSerializerDefaults.Web) { MaxDepth = 4 };

    public bool IsTooLong(int most) => new[] { Action, Note, Station, Target, Unit, Start, Answer }.Any(text => text?.Length > most);
}
