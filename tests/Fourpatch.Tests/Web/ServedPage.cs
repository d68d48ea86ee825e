using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Fourpatch.Tests.Commands;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Web;

/// <summary><c>serve</c> on a garage at four times its pace, and somebody who asks it things.</summary>
internal sealed partial class ServedPage : IAsyncDisposable
{
    private readonly Running _serve;

    private ServedPage(Bench bench, Running serve, GarageLinks links, Uri link)
    {
        Bench = bench;
        _serve = serve;
        Links = links;
        Link = link;
        Address = new Uri(link.GetLeftPart(UriPartial.Authority));
        Client = NewClient();
    }

    public Bench Bench { get; }

    public GarageLinks Links { get; }

    /// <summary>The link as it was told, with its key where there is one.</summary>
    public Uri Link { get; }

    /// <summary>The page without a key.</summary>
    public Uri Address { get; }

    /// <summary>Follows no redirects, keeps cookies, sends what a page of this address sends.</summary>
    public HttpClient Client { get; }

    public string Out => _serve.Out;

    /// <summary>Starts it and waits until it says where.</summary>
    public static Task<ServedPage> StartAsync(string more = "", VirtualGarage? garage = null, int port = 0, string car = Cars.Plain)
    {
        var clock = new FastClock(TimeProvider.System, 4);
        return StartAsync(clock, new GarageLinks(garage ?? Garages.Pads(), clock), more, port, car);
    }

    public static async Task<ServedPage> StartAsync(TimeProvider clock, GarageLinks links, string more, int port, string car = Cars.Plain, string? layout = null)
    {
        var bench = new Bench(links, clock) { Data = "data", Width = 400 };
        Cars.WriteTo(bench);
        bench.Write("plain.toml", car);
        if (layout is not null)
        {
            bench.Write("layout.toml", layout);
            more += " --layout layout.toml";
        }

        Running serve = bench.Start(["serve", "--port", "virtual", "--vehicle", "plain.toml", "--page-port", $"{port}", .. more.Split(' ', StringSplitOptions.RemoveEmptyEntries)]);
        await serve.UntilAsync(running => running.Out.Contains("Ctrl-C ends.", StringComparison.Ordinal), "the address");
        return new ServedPage(bench, serve, links, new Uri(OwnLink().Match(serve.Out).Groups[1].Value));
    }

    public HttpClient NewClient()
    {
        var client = new HttpClient(new SocketsHttpHandler { AllowAutoRedirect = false }) { BaseAddress = Address, Timeout = TimeSpan.FromSeconds(60) };
        client.DefaultRequestHeaders.Add("Origin", Address.OriginalString.TrimEnd('/'));
        return client;
    }

    /// <summary>Posts as the page does.</summary>
    public Task<HttpResponseMessage> PostAsync(string path, object body) => Client.PostAsync(path, JsonContent.Create(body));

    /// <summary>Reads events until one satisfies; gives its data. Comes again, as the page does, while there is no room for one more.</summary>
    public async Task<JsonNode> EventAsync(string name, Func<JsonNode, bool> satisfies, HttpClient? client = null)
    {
        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(60));
        using HttpResponseMessage answer = await OpenLiveAsync(client ?? Client, patience.Token);
        using Stream stream = await answer.Content.ReadAsStreamAsync(patience.Token);
        using var reader = new StreamReader(stream, Encoding.UTF8);
        string current = "";
        JsonNode? last = null;
        try
        {
            while (await reader.ReadLineAsync(patience.Token) is { } line)
            {
                if (line.StartsWith("event: ", StringComparison.Ordinal))
                {
                    current = line[7..];
                }
                else if (line.StartsWith("data: ", StringComparison.Ordinal) && current == name)
                {
                    last = JsonNode.Parse(line[6..])!;
                    if (satisfies(last))
                    {
                        return last;
                    }
                }
            }
        }
        catch (OperationCanceledException)
        {
        }

        throw new InvalidOperationException($"no such {name}; the last: {last?.ToJsonString()}\n{_serve.Out}{_serve.Errors}");
    }

    private static async Task<HttpResponseMessage> OpenLiveAsync(HttpClient client, CancellationToken patience)
    {
        while (true)
        {
            HttpResponseMessage answer = await client.GetAsync("/live", HttpCompletionOption.ResponseHeadersRead, patience);
            if (answer.StatusCode != HttpStatusCode.ServiceUnavailable)
            {
                return answer.EnsureSuccessStatusCode();
            }

            answer.Dispose();
            await Task.Delay(200, patience);
        }
    }

    public Task<JsonNode> SettledAsync() => EventAsync("view", view => (string)view["verdictKind"]! == "settled");

    /// <summary>Waits for a question of the guide that runs.</summary>
    public async Task<JsonNode> QuestionAsync(string text) =>
        (await EventAsync("guide", guide => guide["question"] is { } question && ((string)question["text"]!).Contains(text, StringComparison.Ordinal)))["question"]!;

    /// <summary>Answers the question when it comes.</summary>
    public async Task AnswerAsync(string question, string answer)
    {
        JsonNode asked = await QuestionAsync(question);
        using HttpResponseMessage heard = await PostAsync("/guide", new { answer, question = (int)asked["number"]! });
        Assert.Equal(202, (int)heard.StatusCode);
    }

    /// <summary>Ends it as Ctrl-C does.</summary>
    public async Task<Outcome> StopAsync()
    {
        _serve.Stop();
        return await _serve.EndAsync();
    }

    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        _serve.Stop();
        await _serve.EndAsync();
        Bench.Dispose();
    }

    [GeneratedRegex(@"On this computer: (\S+)")]
    private static partial Regex OwnLink();
}
