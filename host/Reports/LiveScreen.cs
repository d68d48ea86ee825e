namespace Fourpatch.Reports;

/// <summary>What a piece of a screen is, for those who see colours; the words say it to everybody.</summary>
public enum LiveTone
{
    Plain,
    Quiet,
    Settled,
    Moving,
    Alarm,
}

/// <summary>A line of a screen: pieces of text at columns. Not thread-safe.</summary>
public sealed class LiveLine
{
    private readonly List<(string Text, LiveTone Tone)> _pieces = [];
    private int _end;

    /// <summary>Pieces from left to right, gaps filled with blanks.</summary>
    public IReadOnlyList<(string Text, LiveTone Tone)> Pieces => _pieces;

    /// <summary>The line without its tones.</summary>
    public string Text => string.Concat(_pieces.Select(piece => piece.Text));

    /// <summary>Adds a piece; never to the left of the end of what is there.</summary>
    public LiveLine Put(int column, string text, LiveTone tone = LiveTone.Plain)
    {
        if (column > _end)
        {
            _pieces.Add((new string(' ', column - _end), LiveTone.Plain));
            _end = column;
        }

        _pieces.Add((text, tone));
        _end += text.Length;
        return this;
    }

    /// <summary>A line of one piece.</summary>
    public static LiveLine Of(string text, LiveTone tone = LiveTone.Plain) => new LiveLine().Put(0, text, tone);
}

/// <summary>
/// The live screen of a terminal: the car from above, nose up, big figures at the wheels; on a small screen rows by axle. What matters less
/// gives way first; a wheel, an alarm and the keys never do.
/// </summary>
/// <param name="words">What there is to show.</param>
/// <param name="width">Columns, at least 20.</param>
/// <param name="height">Rows, at least 8.</param>
/// <param name="ink">What big figures are drawn with.</param>
public sealed class LiveScreen(LiveWords words, int width, int height, char ink)
{
    /// <summary>The keys in the order of the job.</summary>
    public const string Keys = "space take  u undo  z zero  t tare  f freeze  n units  m mark  p peaks  1-4 one wheel  q quit";
    private const string DollyKeys = "space take  u undo  z zero  t tare  f freeze  n units  m mark  p peaks  q quit";

    private const string Caution = "Nobody under the car. Silence is not safety.";
    private const int Margin = 1;
    private readonly int _room = width - 1;

    /// <summary>The lines, no more than there are rows, none longer than there are columns.</summary>
    public IReadOnlyList<LiveLine> Lines()
    {
        List<(int Priority, List<LiveLine> Lines)> parts = words.Goal is null ? Whole() : Close();

        // The least important part that is there goes, of equals the first, until the rest fits.
        while (parts.Sum(part => part.Lines.Count) > height && parts.Max(part => part.Priority) > 0)
        {
            int least = parts.Max(part => part.Priority);
            parts.RemoveAt(parts.FindIndex(part => part.Priority == least));
        }

        return [.. parts.SelectMany(part => part.Lines).Take(height)];
    }

    private List<(int, List<LiveLine>)> Whole()
    {
        bool fourCorners = words.Stations.Count == 4 && words.Stations[0].Name == "FL";
        var parts = new List<(int, List<LiveLine>)> { (0, [Head()]), (0, Wrapped(words.Alarm, LiveTone.Alarm, 3)), (0, Held()) };
        if (fourCorners)
        {
            (int across, int down) = Size();
            parts.Add((0, Axle(words.Stations[0], words.Stations[1], "front " + words.Front, across, down)));
            parts.Add((3, [Waist()]));
            parts.Add((0, Axle(words.Stations[2], words.Stations[3], "rear " + words.Rear, across, down)));
        }
        else
        {
            parts.Add((0, [.. words.Stations.Select(station => LiveLine.Of(Fit($" {station.Name,-12} {station.Figure,8} {words.Unit}  {station.State} {station.Tare}"), ToneOf(station)))]));
        }

        string total = Fit($" total {words.Total} {words.Unit}");
        int doubtAt = Math.Min(_room, Math.Max(24, total.Length + 2));
        parts.Add((2, [LiveLine.Of(total).Put(doubtAt, Fit(words.Doubt, _room - doubtAt), LiveTone.Quiet)]));
        parts.Add((4, fourCorners ? [LiveLine.Of(Shortest($" (+) {words.Cg}", $" (+) {words.ShortCg}"), LiveTone.Quiet)] : []));
        parts.Add((2, Wrapped(TroublesNotYetSaid(), LiveTone.Moving, 3)));
        parts.Add((2, Warnings()));
        parts.Add((3, Stances()));
        parts.Add((5, Entries()));
        parts.Add((6, Peaks()));
        parts.Add((7, [.. words.Boards.Where(board => words.Alarm.Length == 0 || !words.Alarm.Contains(board, StringComparison.Ordinal)).SelectMany(board => Wrapped(board, LiveTone.Quiet, 2))]));
        parts.Add((8, [.. words.Cells.SelectMany(cell => Wrapped($"{cell.Station,-3} {cell.Id,-6} {cell.Status}, {cell.Load}, highest {cell.Peak}, {cell.Age}, {cell.Rate}, {cell.Counters}", LiveTone.Quiet, 3))]));
        parts.Add((1, Wrapped(words.News, LiveTone.Plain, 3)));
        parts.Add((1, [LiveLine.Of(Fit(" " + Caution), LiveTone.Quiet)]));
        parts.Add((0, Wrapped(Keys, LiveTone.Quiet, 3)));
        return parts;
    }

    private List<(int, List<LiveLine>)> Close()
    {
        GoalWords goal = words.Goal!;
        StationWords station = words.Stations.First(one => one.Name == goal.Station);
        int across = Math.Clamp(_room / Math.Max(1, BigDigits.Columns(Widest([station]), 1)), 1, 8);
        int down = Math.Clamp((height - 10) / BigDigits.Rows, 1, Math.Max(1, across / 2));
        string others = string.Join("  ", words.Stations.Where(one => one.Name != goal.Station).Select(one => $"{one.Name} {one.Figure}"));
        string target = goal.Target.Length > 0 ? $"target {goal.Target}: {goal.Distance}" : "no target";
        return
        [
            (0, [Head()]),
            (0, Wrapped(words.Alarm, LiveTone.Alarm, 3)),
            (0, Held()),
            (0, [LiveLine.Of(Fit($" {goal.Where.ToUpperInvariant()}  {station.Figure} {words.Unit}  {station.State} {station.Tare}"), ToneOf(station))]),
            (0, [.. BigDigits.Draw(station.Figure, across, down, ink).Select(row => new LiveLine().Put(Margin, Fit(row, _room - Margin), ToneOf(station)))]),
            (2, Wrapped(station.Stance, LiveTone.Plain, 2)),
            (2, words.IsOneDolly && goal.Target.Length == 0 ? [] : [LiveLine.Of(Fit($" {target}"))]),
            (3, [words.IsOneDolly
                ? LiveLine.Of(Fit($" {words.Doubt}"), LiveTone.Quiet)
                : LiveLine.Of(Shortest($" {others}  total {words.Total} {words.Unit}  {words.Doubt}", $" {others}  total {words.Total}"), LiveTone.Quiet)]),
            (2, Wrapped(TroublesNotYetSaid(), LiveTone.Moving, 3)),
            (2, Warnings()),
            (4, Entries()),
            (5, Peaks()),
            (1, Wrapped(words.News, LiveTone.Plain, 3)),
            (1, Wrapped(Caution, LiveTone.Plain, 2)),
            (0, Wrapped(words.IsOneDolly ? DollyKeys : "0 all wheels  " + Keys, LiveTone.Quiet, 3)),
        ];
    }

    private List<LiveLine> Warnings() => Wrapped(string.Join("; ", words.Warnings), LiveTone.Moving, Math.Max(3, height / 6));

    private List<LiveLine> Stances() =>
        [.. words.Stations.Where(station => station.Stance.Length > 0).SelectMany(station => Wrapped($"{station.Name} {station.Stance}", LiveTone.Quiet, 2))];

    private List<LiveLine> Peaks() => words.Stations.All(station => station.Peak == Figures.Unknown)
        ? []
        : Wrapped($"highest {string.Join("  ", words.Stations.Select(station => $"{station.Name} {station.Peak}"))} {words.Unit}", LiveTone.Quiet, 2);

    // The total follows from the loads, and the share from both: on a narrow screen they give way, a note does not.
    private List<LiveLine> Entries() =>
    [
        .. words.LastEntries.SelectMany(entry =>
        {
            string before = $"{entry.Number,3} {entry.Kind} {entry.Time}  ";
            string whole = $" {before}{entry.Text}  {entry.Note}".TrimEnd();
            return whole.Length <= _room ? [LiveLine.Of(whole, LiveTone.Quiet)] : Wrapped($"{before}{entry.Loads.Replace("  ", " ", StringComparison.Ordinal)}  {entry.Note}".TrimEnd(), LiveTone.Quiet, 2);
        }),
    ];

    private string Shortest(string text, string shorter) => text.Length <= _room ? text : Fit(shorter);

    private LiveLine Head()
    {
        (string label, LiveTone tone) = words.VerdictKind switch
        {
            "settled" => ("SETTLED", LiveTone.Settled),
            "moving" => ("MOVING", LiveTone.Moving),
            "too-noisy" => ("TOO NOISY", LiveTone.Moving),
            "board-lost" => ("BOARD LOST", LiveTone.Alarm),
            "away" => ("WAIT", LiveTone.Moving),
            "over" => ("OVER", LiveTone.Moving),
            _ => ("NOT KNOWN", LiveTone.Moving),
        };
        string right = Fit($"{words.Vehicle}  {words.Time}", Math.Max(0, _room - label.Length - 4));
        string awaited = words.IsTakeAwaited ? "  taking, hands off" : "";
        LiveLine line = new LiveLine().Put(Margin, label, words.Frozen.Length > 0 ? LiveTone.Moving : tone).Put(Margin + label.Length, Fit(awaited, Math.Max(0, _room - label.Length - right.Length - 3)));
        return line.Put(_room - right.Length, right, LiveTone.Quiet);
    }

    private List<LiveLine> Held() =>
        [.. new[] { words.Frozen, words.Tared }.Where(text => text.Length > 0).Select(text => LiveLine.Of(Fit(" " + text), LiveTone.Moving))];

    private (int Across, int Down) Size()
    {
        int columns = Math.Max(BigDigits.Columns(Widest(words.Stations), 1), 1);
        int across = Math.Min(4, ((_room / 2) - 2) / columns);
        return across < 1 || height < 18 ? (0, 0) : (across, across >= 3 && height >= 34 ? 2 : 1);
    }

    // As wide as the widest figure usually is, so that the picture does not jump with every digit.
    private static string Widest(IEnumerable<StationWords> stations) => stations.Select(station => station.Figure).Append("888.8").MaxBy(figure => BigDigits.Columns(figure, 1))!;

    private List<LiveLine> Axle(StationWords left, StationWords right, string share, int across, int down)
    {
        int digitsAt = (width / 2) + 1;
        string leftLabel = Label(left, isWhole: true);
        string rightLabel = Label(right, isWhole: true);
        bool fits = Margin + leftLabel.Length + 2 + rightLabel.Length <= _room;
        if (!fits)
        {
            (leftLabel, rightLabel) = (Label(left, isWhole: false), Label(right, isWhole: false));
            fits = Margin + leftLabel.Length + 2 + rightLabel.Length <= _room;
        }

        if (!fits)
        {
            return [LiveLine.Of(Fit(leftLabel), ToneOf(left)), LiveLine.Of(Fit(rightLabel), ToneOf(right))];
        }

        int rightAt = Math.Min(Math.Max(Margin + leftLabel.Length + 2, digitsAt), _room - rightLabel.Length);
        LiveLine label = new LiveLine().Put(Margin, leftLabel, ToneOf(left));
        if (Margin + leftLabel.Length + 2 + share.Length + 2 + rightLabel.Length <= _room)
        {
            // The share of an axle stands on it, between its wheels.
            rightAt = Math.Min(Math.Max(Margin + leftLabel.Length + share.Length + 4, digitsAt), _room - rightLabel.Length);
            label.Put(rightAt - share.Length - 2, share, LiveTone.Quiet);
        }

        label.Put(rightAt, rightLabel, ToneOf(right));
        if (across == 0)
        {
            return [label];
        }

        IReadOnlyList<string> leftRows = BigDigits.Draw(left.Figure, across, down, ink);
        IReadOnlyList<string> rightRows = BigDigits.Draw(right.Figure, across, down, ink);
        return [label, .. leftRows.Zip(rightRows, (one, other) => new LiveLine().Put(Margin, one, ToneOf(left)).Put(digitsAt, other, ToneOf(right)))];
    }

    private string Label(StationWords station, bool isWhole) => isWhole
        ? $"{station.Name} {station.Figure} {words.Unit} {station.State}{(station.Tare.Length > 0 && width >= 90 ? ", " + station.Tare : "")}"
        : $"{station.Name} {station.Figure} {station.State}";

    private LiveLine Waist()
    {
        string left = Fit($"left {words.Left}", _room - Margin);
        int crossAt = Math.Min(_room, Math.Max(left.Length + 3, (width / 2) - 6));
        return new LiveLine().Put(Margin, left).Put(crossAt, Fit($"cross (/) {words.Cross}", _room - crossAt));
    }

    private string TroublesNotYetSaid() =>
        string.Join("; ", words.Troubles.Where(trouble => words.Alarm.Length == 0 || !words.Alarm.Contains(trouble, StringComparison.Ordinal)));

    private List<LiveLine> Wrapped(string text, LiveTone tone, int most) =>
        text.Length == 0 ? [] : [.. Capped([.. WeighingText.Wrapped(" " + text, width)], most).Select(line => LiveLine.Of(Fit(line), tone))];

    // What had to be left out is not passed over in silence.
    private IEnumerable<string> Capped(string[] lines, int most) =>
        lines.Length <= most ? lines : lines.Take(most - 1).Append(Fit(lines[most - 1] + new string('.', _room)));

    private string Fit(string text) => Fit(text, _room);

    private static string Fit(string text, int room) => text.Length <= room ? text : room <= 3 ? text[..room] : text[..(room - 3)] + "...";

    private static LiveTone ToneOf(StationWords station) => station.State switch
    {
        "settled" => LiveTone.Settled,
        "not known" => LiveTone.Alarm,
        _ => LiveTone.Moving,
    };
}
