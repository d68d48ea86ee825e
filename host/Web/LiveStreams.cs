using System.Text;
using System.Text.Json;
using Fourpatch.Files;
using Fourpatch.Reports;
using Fourpatch.Reports.Drawing;
using Fourpatch.Weighing;
using Microsoft.AspNetCore.Http;

namespace Fourpatch.Web;

/// <summary>
/// The live view as server-sent events: <c>hello</c> once, then <c>view</c>, <c>plan</c>, <c>entries</c> and <c>guide</c> whenever they change, <c>still</c> when nothing
/// does. A bounded number of listeners; one that does not read is let go. Thread-safe.
/// </summary>
internal sealed class LiveStreams(LiveSession session, GuideDesk guides, TimeProvider clock, bool hasSound, CancellationToken stop)
{
    /// <summary>Listeners at once: every phone and tablet of a team, several times.</summary>
    public const int Most = 24;

    private static readonly TimeSpan StillEvery = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan PlanEvery = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan TakeWithin = TimeSpan.FromSeconds(10);
    private const string NoPlan = "<none/>";
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web);

    private readonly Lock _gate = new();
    private readonly Dictionary<MassUnit, (long Number, byte[] Event)> _views = [];
    private int _open;

    /// <summary>Listeners now.</summary>
    public int Open => Volatile.Read(ref _open);

    /// <summary>Serves one listener until it goes, or the program ends.</summary>
    public async Task ServeAsync(HttpContext context, MassUnit unit)
    {
        try
        {
            if (Interlocked.Increment(ref _open) > Most)
            {
                context.Response.Headers.RetryAfter = "5";
                await PageHandler.WriteAsync(context, StatusCodes.Status503ServiceUnavailable, "Too many screens are watching already. Close one; this one tries again.").ConfigureAwait(false);
                return;
            }

            using var over = CancellationTokenSource.CreateLinkedTokenSource(context.RequestAborted, stop);
            context.Response.ContentType = "text/event-stream";
            await ListenAsync(context, unit, over).ConfigureAwait(false);
        }
        catch (Exception e) when (e is OperationCanceledException or IOException)
        {
            // The listener has gone, or everything ends.
        }
        finally
        {
            Interlocked.Decrement(ref _open);
        }
    }

    private async Task ListenAsync(HttpContext context, MassUnit unit, CancellationTokenSource over)
    {
        var figures = new Figures(unit);
        long seen = -1, guideSeen = -1;
        IReadOnlyList<LiveEntry>? entries = null;
        string plan = "";
        long planAt = 0;
        Task<LiveView>? fresh = null;
        await SendAsync(context, Event("hello", new { sound = hasSound, guides = Guides.All.Select(guide => new { guide.Id, guide.Title }), software = JsonAnswer.SoftwareVersion }), over).ConfigureAwait(false);
        while (true)
        {
            LiveView view = session.View;
            bool any = false;
            if (view.Number != seen)
            {
                seen = view.Number;
                any = true;
                await SendAsync(context, ViewEvent(view, unit), over).ConfigureAwait(false);
            }

            if (!ReferenceEquals(view.Entries, entries))
            {
                entries = view.Entries;
                await SendAsync(context, Event("entries", LiveWords.EntriesOf(view, figures, clock.LocalTimeZone)), over).ConfigureAwait(false);
            }

            if (plan.Length == 0 || clock.GetElapsedTime(planAt) >= PlanEvery)
            {
                planAt = clock.GetTimestamp();
                string now = view.Result.IsOneDolly ? NoPlan : PlanViewSvg.Of(view, unit, PlanViewStyle.Page);
                if (now != plan)
                {
                    plan = now;
                    await SendAsync(context, Event("plan", new { svg = plan }), over).ConfigureAwait(false);
                }
            }

            if (guides.View is { } guide && guide.Number != guideSeen)
            {
                guideSeen = guide.Number;
                await SendAsync(context, Event("guide", guide), over).ConfigureAwait(false);
            }

            if (!any)
            {
                await SendAsync(context, Event("still", new { }), over).ConfigureAwait(false);
            }

            fresh = fresh is null or { IsCompleted: true } ? session.NextAsync(seen, over.Token) : fresh;
            await WaitAsync(fresh, over.Token).ConfigureAwait(false);
        }
    }

    private async Task WaitAsync(Task fresh, CancellationToken over)
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(over);
        await Task.WhenAny(fresh, Task.Delay(StillEvery, clock, patience.Token)).ConfigureAwait(false);
        await patience.CancelAsync().ConfigureAwait(false);
        over.ThrowIfCancellationRequested();
    }

    // Every listener of one unit is told the same words: they are made once.
    private byte[] ViewEvent(LiveView view, MassUnit unit)
    {
        lock (_gate)
        {
            if (!_views.TryGetValue(unit, out (long Number, byte[] Event) made) || made.Number != view.Number)
            {
                made = (view.Number, Event("view", LiveWords.Of(view, new Figures(unit), clock.LocalTimeZone)));
                _views[unit] = made;
            }

            return made.Event;
        }
    }

    // JSON has no line ends of its own, so that nothing a person named can begin another event.
    private static byte[] Event<T>(string name, T data) =>
        [.. Encoding.UTF8.GetBytes($"event: {name}\ndata: "), .. JsonSerializer.SerializeToUtf8Bytes(data, Json), .. "\n\n"u8];

    private static async Task SendAsync(HttpContext context, byte[] bytes, CancellationTokenSource over)
    {
        over.CancelAfter(TakeWithin);
        await context.Response.Body.WriteAsync(bytes, over.Token).ConfigureAwait(false);
        await context.Response.Body.FlushAsync(over.Token).ConfigureAwait(false);
        over.CancelAfter(Timeout.InfiniteTimeSpan);
    }
}
