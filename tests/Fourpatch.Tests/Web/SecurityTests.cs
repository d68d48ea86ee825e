using System.Diagnostics;
using System.Net;
using System.Net.Http.Headers;
using System.Net.Sockets;
using System.Text;
using System.Text.Json.Nodes;

namespace Fourpatch.Tests.Web;

/// <summary>What the page keeps out. The rules are those of RFC 9110, RFC 6265bis (SameSite) and the Content Security Policy of the W3C.</summary>
[Collection(KeepsTime.Name)]
public class SecurityTests
{
    public static readonly string[] Paths = ["/", "/page.css", "/page.js", "/mark.svg", "/live"];

    [Fact]
    public async Task Open_to_the_network_nothing_is_shown_or_changed_without_the_key()
    {
        await using ServedPage page = await ServedPage.StartAsync("--lan");
        Assert.Matches("key=[A-Za-z0-9_-]{32}$", page.Link.OriginalString);
        string key = page.Link.Query["?key=".Length..];
        var tries = new List<HttpRequestMessage>();
        foreach (string path in Paths)
        {
            tries.Add(new(HttpMethod.Get, path));
        }

        foreach (string query in new[] { "?key=", "?key=wrong", $"?key={key[..^1]}", $"?key={key}x", $"?KEY2={key}", $"?token={key}", $"?key={key.ToUpperInvariant()}" })
        {
            tries.Add(new(HttpMethod.Get, "/" + query));
        }

        // The key is for the page's own path, once; not for anything else, nor in any other place.
        tries.Add(new(HttpMethod.Get, $"/live?key={key}"));
        tries.Add(new(HttpMethod.Get, "/") { Headers = { Authorization = new AuthenticationHeaderValue("Bearer", key) } });
        tries.Add(new(HttpMethod.Get, "/") { Headers = { { "Cookie", $"fourpatch-{page.Address.Port}={key}" } } });
        tries.Add(new(HttpMethod.Get, "/") { Headers = { { "Cookie", $"key={key}" } } });
        tries.Add(new(HttpMethod.Post, "/do") { Content = Json($$"""{"action":"mark","key":"{{key}}"}""") });
        tries.Add(new(HttpMethod.Post, $"/do?key={key}") { Content = Json("""{"action":"mark"}""") });
        tries.Add(new(HttpMethod.Post, "/guide") { Content = Json("""{"start":"check"}""") });
        foreach (HttpRequestMessage request in tries)
        {
            using HttpResponseMessage answer = await page.Client.SendAsync(request);
            string text = await answer.Content.ReadAsStringAsync();
            Assert.True(answer.StatusCode == HttpStatusCode.Forbidden, $"{request.Method} {request.RequestUri}: {answer.StatusCode}");
            Assert.DoesNotContain("Plain", text, StringComparison.Ordinal);
            Assert.DoesNotContain(key, text, StringComparison.Ordinal);
        }

        // With the key: a cookie no script can read, no other site can send; the page comes up at its address without the key.
        using HttpResponseMessage inside = await page.Client.GetAsync($"/?key={key}");
        string cookie = Assert.Single(inside.Headers.GetValues("Set-Cookie"));
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=strict", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain(key, cookie, StringComparison.Ordinal);
        Assert.Contains("url=/\"", await inside.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await page.Client.GetAsync("/")).StatusCode);
        Assert.Equal(HttpStatusCode.Accepted, (await page.PostAsync("/do", new { action = "mark", note = "in" })).StatusCode);
        JsonNode entries = await page.EventAsync("entries", entries => entries.AsArray().Count > 0);
        Assert.Single(entries.AsArray());
        Assert.Contains("Whoever has the link", page.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_link_lets_in_as_often_as_it_is_opened_and_whoever_was_not_seen_for_longest_is_forgotten()
    {
        await using ServedPage page = await ServedPage.StartAsync("--lan");
        using HttpClient early = page.NewClient(), idle = page.NewClient();
        await early.GetAsync(page.Link);
        await idle.GetAsync(page.Link);
        for (int i = 0; i < 70; i++)
        {
            using HttpClient one = page.NewClient();
            using HttpResponseMessage inside = await one.GetAsync(page.Link);
            Assert.True(inside.StatusCode == HttpStatusCode.OK, $"opening {i}: {inside.StatusCode}");
            Assert.Equal(HttpStatusCode.OK, (await one.GetAsync("/")).StatusCode);
            Assert.Equal(HttpStatusCode.OK, (await early.GetAsync("/")).StatusCode);
        }

        Assert.Equal(HttpStatusCode.Forbidden, (await idle.GetAsync("/")).StatusCode);
    }

    [Fact]
    public async Task By_itself_it_listens_to_this_computer_only_and_to_no_other_name_or_page()
    {
        await using ServedPage page = await ServedPage.StartAsync();
        string port = $":{page.Address.Port}";
        foreach (string host in new[] { "evil.example" + port, "127.0.0.1", "127.0.0.1:1", "localhost.evil.example" + port, "127.0.0.1.evil.example" + port, "0.0.0.0" + port, "[::1]" + port, "192.168.1.5" + port })
        {
            Assert.Equal(421, await StatusAsync(page, $"GET / HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n"));
        }

        Assert.Equal(200, await StatusAsync(page, $"GET / HTTP/1.1\r\nHost: localhost{port}\r\nConnection: close\r\n\r\n"));
        const string Body = """{"action":"mark"}""";
        foreach (string origin in new[] { "", "Origin: null\r\n", "Origin: http://evil.example\r\n", $"Origin: https://127.0.0.1{port}\r\n", "Origin: http://127.0.0.1\r\n", $"Origin: http://127.0.0.1{port}\r\nSec-Fetch-Site: cross-site\r\n" })
        {
            Assert.Equal(403, await StatusAsync(page, $"POST /do HTTP/1.1\r\nHost: 127.0.0.1{port}\r\n{origin}Content-Type: application/json\r\nContent-Length: {Body.Length}\r\nConnection: close\r\n\r\n{Body}"));
        }

        // Another page may not even look.
        Assert.Equal(403, await StatusAsync(page, $"GET /live HTTP/1.1\r\nHost: 127.0.0.1{port}\r\nOrigin: http://evil.example\r\nConnection: close\r\n\r\n"));
        Assert.Equal(403, await StatusAsync(page, $"GET /live HTTP/1.1\r\nHost: 127.0.0.1{port}\r\nSec-Fetch-Site: cross-site\r\nConnection: close\r\n\r\n"));
        Assert.Equal("[]", (await page.EventAsync("entries", _ => true)).ToJsonString());

        IPAddress[] others = [.. Fourpatch.Web.PageServer.OwnAddresses()];
        foreach (IPAddress address in others)
        {
            using var elsewhere = new TcpClient();
            await Assert.ThrowsAnyAsync<SocketException>(() => elsewhere.ConnectAsync(address, page.Address.Port));
        }
    }

    [Fact]
    public async Task Every_answer_forbids_what_the_page_does_not_need()
    {
        await using ServedPage page = await ServedPage.StartAsync();
        foreach (string path in new[] { "/", "/page.js", "/nothing" })
        {
            using HttpResponseMessage answer = await page.Client.GetAsync(path);
            string policy = Assert.Single(answer.Headers.GetValues("Content-Security-Policy"));
            Assert.StartsWith("default-src 'none'; script-src 'self'; style-src 'self';", policy, StringComparison.Ordinal);
            Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
            Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
            Assert.Equal("no-referrer", Assert.Single(answer.Headers.GetValues("Referrer-Policy")));
            Assert.False(answer.Headers.Contains("Server"));
        }

        string html = await page.Client.GetStringAsync("/");
        Assert.DoesNotMatch("<script>|<style|style=|onclick|https?://", html);
        Assert.DoesNotMatch("https?://(?!www.w3.org/2000/svg)|innerHTML|eval\\(", await page.Client.GetStringAsync("/page.js"));
    }

    [Theory]
    [InlineData("/../../etc/passwd")]
    [InlineData("/..%2f..%2fetc%2fpasswd")]
    [InlineData("/%2e%2e/%2e%2e/etc/passwd")]
    [InlineData("/page.html")]
    [InlineData("//etc/passwd")]
    [InlineData("/page.css/../../plain.toml")]
    [InlineData("/plain.toml")]
    [InlineData("/page%00.css")]
    public async Task No_path_leads_to_a_file(string path)
    {
        await using ServedPage page = await ServedPage.StartAsync();
        Assert.InRange(await StatusAsync(page, $"GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{page.Address.Port}\r\nConnection: close\r\n\r\n"), 400, 404);
    }

    [Fact]
    public async Task Large_slow_and_broken_requests_are_refused_and_the_weighing_goes_on()
    {
        await using ServedPage page = await ServedPage.StartAsync();
        string head = $"Host: 127.0.0.1:{page.Address.Port}\r\nOrigin: {page.Address.OriginalString.TrimEnd('/')}\r\nConnection: close\r\n";
        string Post(string body, string type = "application/json") => $"POST /do HTTP/1.1\r\n{head}Content-Type: {type}\r\nContent-Length: {body.Length}\r\n\r\n{body}";
        Assert.Equal(413, await StatusAsync(page, Post($$"""{"note":"{{new string('x', 5000)}}"}""")));
        Assert.Equal(400, await StatusAsync(page, Post($$"""{"action":"mark","note":"{{new string('x', 300)}}"}""")));
        Assert.Equal(400, await StatusAsync(page, Post("{\"action\":")));
        Assert.Equal(400, await StatusAsync(page, Post("[[[[[[[[1]]]]]]]]")));
        Assert.Equal(400, await StatusAsync(page, Post("null")));
        Assert.Equal(400, await StatusAsync(page, Post("""{"action":"quit"}""")));
        foreach (string length in new[] { "FFFFFFFFFFFFFFFF", "x", "-1" })
        {
            Assert.Equal(400, await StatusAsync(page, $"POST /do HTTP/1.1\r\n{head}Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n{length}\r\n{{\"action\":\"mark\"}}\r\n0\r\n\r\n"));
        }

        Assert.Equal(415, await StatusAsync(page, Post("""{"action":"mark"}""", "text/plain")));
        Assert.Equal(405, await StatusAsync(page, $"PUT /do HTTP/1.1\r\n{head}Content-Length: 0\r\n\r\n"));
        Assert.Equal(405, await StatusAsync(page, $"POST /page.js HTTP/1.1\r\n{head}Content-Length: 0\r\n\r\n"));
        Assert.Equal(431, await StatusAsync(page, $"GET / HTTP/1.1\r\n{head}X: {new string('x', 10_000)}\r\n\r\n"));
        Assert.Equal(414, await StatusAsync(page, $"GET /{new string('x', 3000)} HTTP/1.1\r\n{head}\r\n"));

        // A body that never comes is not waited for.
        long started = Stopwatch.GetTimestamp();
        Assert.Equal(408, await StatusAsync(page, $"POST /do HTTP/1.1\r\n{head}Content-Type: application/json\r\nContent-Length: 100\r\n\r\n{{"));
        Assert.InRange(Stopwatch.GetElapsedTime(started).TotalSeconds, 0, 20);
        await page.SettledAsync();
        Assert.Equal("[]", (await page.EventAsync("entries", _ => true)).ToJsonString());
    }

    [Fact]
    public async Task A_thousand_screens_at_once_are_refused_politely_but_for_a_few_and_the_weighing_goes_on()
    {
        await using ServedPage page = await ServedPage.StartAsync();
        using var crowd = new HttpClient(new SocketsHttpHandler { MaxConnectionsPerServer = 2000 }) { BaseAddress = page.Address, Timeout = TimeSpan.FromSeconds(60) };
        HttpResponseMessage[] answers = await Task.WhenAll(Enumerable.Range(0, 1000).Select(_ => crowd.GetAsync("/live", HttpCompletionOption.ResponseHeadersRead)));
        int watching = answers.Count(answer => answer.StatusCode == HttpStatusCode.OK);
        Assert.InRange(watching, 1, Fourpatch.Web.LiveStreams.Most);
        HttpResponseMessage refused = answers.First(answer => answer.StatusCode != HttpStatusCode.OK);
        Assert.All(answers.Where(answer => answer.StatusCode != HttpStatusCode.OK), answer => Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.StatusCode));
        Assert.Equal("5", refused.Headers.RetryAfter!.ToString());
        Assert.Contains("Too many screens", await refused.Content.ReadAsStringAsync(), StringComparison.Ordinal);

        // Actions are still heard, and once some have gone there is room again.
        Assert.Equal(HttpStatusCode.Accepted, (await page.PostAsync("/do", new { action = "mark" })).StatusCode);
        foreach (HttpResponseMessage answer in answers)
        {
            answer.Dispose();
        }

        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(60));
        while (true)
        {
            using HttpResponseMessage again = await page.Client.GetAsync("/live", HttpCompletionOption.ResponseHeadersRead);
            if (again.StatusCode == HttpStatusCode.OK)
            {
                break;
            }

            await Task.Delay(200, patience.Token);
        }

        await page.EventAsync("entries", entries => entries.AsArray().Count == 1);
        await page.SettledAsync();
    }

    [Fact]
    public async Task Words_of_people_stay_words()
    {
        const string Nasty = "<img src=x onerror=alert(1)>";
        string car = Fourpatch.Tests.Commands.Cars.Plain.Replace("\"Plain\"", "\"<b>Wren</b> & event: view\"", StringComparison.Ordinal);
        await using ServedPage page = await ServedPage.StartAsync(car: car);
        await page.PostAsync("/do", new { action = "mark", note = Nasty });
        await page.PostAsync("/do", new { action = "mark", note = "two\r\nevent: view\r\ndata: {}\r\n\r\n" });
        JsonNode entries = await page.EventAsync("entries", entries => entries.AsArray().Count == 2);
        Assert.Equal(Nasty, (string)entries[0]!["note"]!);
        Assert.DoesNotContain('\n', (string)entries[1]!["note"]!);
        Assert.Equal("<b>Wren</b> & event: view", (string)(await page.EventAsync("view", _ => true))["vehicle"]!);

        // Raw bytes of the stream: no line but those of its own events.
        using Stream stream = await page.Client.GetStreamAsync("/live");
        using var reader = new StreamReader(stream);
        for (int lines = 0; lines < 60; lines++)
        {
            Assert.Matches("^(event: (hello|view|entries|plan|guide|still)|data: \\{.*\\}|data: \\[.*\\]|)$", await reader.ReadLineAsync());
        }

        // An option cannot be smuggled in where a value belongs.
        await page.SettledAsync();
        HttpResponseMessage refused = await page.PostAsync("/guide", new { start = "perch", target = "--data=elsewhere" });
        Assert.Equal(HttpStatusCode.Conflict, refused.StatusCode);
        Assert.False(Directory.Exists(Path.Combine(page.Bench.Folder, "elsewhere")));
    }

    [Fact]
    public async Task It_ends_promptly_with_streams_open_and_a_guide_at_its_question()
    {
        ServedPage page = await ServedPage.StartAsync();
        Task<string>[] listeners = [.. Enumerable.Range(0, 8).Select(_ => page.NewClient().GetStringAsync("/live"))];
        await page.SettledAsync();
        await page.PostAsync("/guide", new { start = "cal-cell-1" });
        await page.QuestionAsync("Take everything off cell B1:1");
        long started = Stopwatch.GetTimestamp();
        Assert.Equal(0, (await page.StopAsync()).ExitCode);
        Assert.InRange(Stopwatch.GetElapsedTime(started).TotalSeconds, 0, 3);
        await Task.WhenAll(listeners.Select(async listener => await Record.ExceptionAsync(() => listener)));
        page.Client.Dispose();
        page.Bench.Dispose();
    }

    private static StringContent Json(string text) => new(text, Encoding.UTF8, "application/json");

    /// <summary>The status that raw bytes are answered with.</summary>
    private static async Task<int> StatusAsync(ServedPage page, string request)
    {
        using var client = new TcpClient();
        await client.ConnectAsync(IPAddress.Loopback, page.Address.Port);
        await using NetworkStream stream = client.GetStream();
        await stream.WriteAsync(Encoding.Latin1.GetBytes(request));
        using var reader = new StreamReader(stream, Encoding.Latin1);
        string? line = await reader.ReadLineAsync().WaitAsync(TimeSpan.FromSeconds(60));
        return line?.Split(' ') is [_, var status, ..] ? int.Parse(status, System.Globalization.CultureInfo.InvariantCulture) : 0;
    }
}
