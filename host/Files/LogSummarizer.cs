using System.Text;
using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;
using Fourpatch.Rigs;

namespace Fourpatch.Files;

/// <summary>Reads a log of any length once, in constant memory, and says what was in it.</summary>
/// <remarks>What runs for every row is compiled at its best at once: most logs are over before the runtime would come to that by itself.</remarks>
public sealed partial class LogSummarizer
{
    private const int MostGapReasons = 20;
    private const int LinesPerProgress = 20_000;

    // Lines of one board's cells may stand a little out of order; farther back the board has started again.
    private const long RestartUs = 1_000_000;

    private static readonly byte[] CalibrationKey = Encoding.UTF8.GetBytes(LogFormat.CalibrationKey);
    private static readonly byte[] GapKey = Encoding.UTF8.GetBytes(LogFormat.GapKey);

    private readonly List<BoardClock> _boards = [];
    private readonly Dictionary<string, long> _gapReasons = [];
    private readonly LogRowBytes _rowBytes = new();
    private readonly byte[] _firstTime = new byte[32];
    private readonly byte[] _lastTime = new byte[32];
    private string _file = "";
    private int _timeLength;
    private long _rows, _badLines, _gaps;
    private bool _isCutOff;

    private LogSummarizer()
    {
    }

    /// <summary>Reads the files of one log, in order.</summary>
    /// <param name="paths">At least one.</param>
    /// <param name="progress">Told now and then how many bytes of how many were read; null: nobody asks.</param>
    /// <param name="cancel">Gives up with an <see cref="OperationCanceledException"/>.</param>
    public static Result<LogSummary> Read(IReadOnlyList<string> paths, Action<long, long>? progress, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(paths);
        var summarizer = new LogSummarizer();
        var headers = new List<LogHeader>();
        long before = 0, total = 0;
        foreach (var path in paths)
        {
            // Its header is checked by the reader that knows it, before minutes are spent on the rest.
            if (LogReader.Open(path) is var opened && !opened.TryGet(out var reader, out var wrong))
                return wrong;
            reader.Dispose();
            headers.Add(reader.Header);
            total += new FileInfo(path).Length;
        }

        foreach (var (path, header) in paths.Zip(headers))
        {
            summarizer._file = path;
            foreach (var calibration in header.Calibrations)
                summarizer.TakeCalibration(calibration);
            try
            {
                using var stream = TextFile.Open(path, bufferBytes: 0, FileOptions.SequentialScan);
                if (!stream.CanSeek)
                    return TextFile.Refusal(path, "is a pipe, and a log is read more than once", "write it into a file first");
                before += summarizer.ReadOne(stream, read => progress?.Invoke(before + read, total), cancel);
            }
            catch (Exception error) when (TextFile.IsOfFileSystem(error))
            {
                return TextFile.Refusal(path, TextFile.Reason(error), "check the stick or disk it is on");
            }
        }

        return summarizer.Summary(paths);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private long ReadOne(Stream stream, Action<long> progress, CancellationToken cancel)
    {
        var lines = new LogLines(stream);
        var inHeader = true;
        _isCutOff = false;
        for (var count = 1; lines.Next(out var line); count++)
        {
            if (count % LinesPerProgress == 0)
            {
                cancel.ThrowIfCancellationRequested();
                progress(lines.Position);
            }

            if (!lines.IsWhole)
            {
                _isCutOff = true;
                _badLines++;
            }
            else if (inHeader)
            {
                inHeader = line.Length == 0 || line[0] == '#';
            }
            else
            {
                TakeLine(line, lines.IsOfUsualLength, count);
            }
        }

        return lines.Position;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void TakeLine(ReadOnlySpan<byte> line, bool isOfUsualLength, int number)
    {
        if (line.StartsWith(GapKey))
            TakeGap(LogFormat.Gap(Encoding.UTF8.GetString(line), 0));
        else if (!isOfUsualLength)
            _badLines++;
        else if (line.StartsWith(CalibrationKey))
            TakeCalibrationLine(Encoding.UTF8.GetString(line), number);
        else if (line.Length == 0 || line[0] == '#')
            return;
        else if (_rowBytes.TryRead(line, out var fields))
            TakeRow(fields, number);
        else
            _badLines++;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void TakeRow(in LogFields fields, int number)
    {
        if (_rows++ == 0)
        {
            _timeLength = fields.Time.Length;
            fields.Time.CopyTo(_firstTime);
        }

        var board = BoardOf(fields.Board);
        var elapsedUs = fields.DeviceUs + board.OffsetUs;
        var begins = elapsedUs < board.LastUs - RestartUs;
        if (begins)
        {
            // The board's time began again: the laptop's says how long it was away.
            var awayUs = (long)(LogRowBytes.TimeOf(fields.Time) - LogRowBytes.TimeOf(_lastTime.AsSpan(0, _timeLength))).TotalMicroseconds;
            board.OffsetUs = board.LastUs + Math.Max(0, awayUs) - fields.DeviceUs;
            elapsedUs = fields.DeviceUs + board.OffsetUs;
            board.Starts++;
        }

        board.LastUs = Math.Max(board.LastUs, elapsedUs);
        board.CellOf(fields.Cell).Add(elapsedUs, board.HasBegun(fields.Cell), fields, number, _file);
        fields.Time.CopyTo(_lastTime);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private BoardClock BoardOf(ReadOnlySpan<byte> name)
    {
        foreach (var board in _boards)
        {
            if (name.SequenceEqual(board.NameBytes))
                return board;
        }

        var added = new BoardClock(Encoding.ASCII.GetString(name));
        _boards.Add(added);
        return added;
    }

    private void TakeCalibrationLine(string line, int number)
    {
        if (LogFormat.Recalibration(line, number, _file) is LogRecalibration item)
            TakeCalibration(item.Calibration);
        else
            _badLines++;
    }

    private void TakeCalibration(LogCalibration calibration) =>
        BoardOf(Encoding.ASCII.GetBytes(calibration.Cell.Board)).CellOf(calibration.Cell.Cell).Calibration = calibration.Calibration();

    private void TakeGap(LogGap gap)
    {
        _gaps++;
        var reason = Digits().Replace(gap.Reason, "..");
        if (_gapReasons.TryGetValue(reason, out var count))
            _gapReasons[reason] = count + 1;
        else if (_gapReasons.Count < MostGapReasons)
            _gapReasons.Add(reason, 1);
    }

    private LogSummary Summary(IReadOnlyList<string> paths) => new()
    {
        Files = paths,
        StartedUtc = _rows == 0 ? null : LogRowBytes.TimeOf(_firstTime.AsSpan(0, _timeLength)),
        EndedUtc = _rows == 0 ? null : LogRowBytes.TimeOf(_lastTime.AsSpan(0, _timeLength)),
        Rows = _rows,
        BadLines = _badLines,
        IsCutOff = _isCutOff,
        Gaps = _gaps,
        GapReasons = [.. _gapReasons.OrderByDescending(reason => reason.Value).Select(reason => new GapReason(reason.Key, reason.Value))],
        Cells = [.. _boards.OrderBy(board => board.Name, StringComparer.Ordinal).SelectMany(board => board.Cells).Select(cell => cell.Summary())],
    };

    [GeneratedRegex("[0-9]+(\\.[0-9]+)?", RegexOptions.CultureInvariant)]
    private static partial Regex Digits();

    /// <summary>One board's time, made to go on where it began again, and its cells.</summary>
    private sealed class BoardClock(string name)
    {
        private readonly CellSeries?[] _cells = new CellSeries?[4];
        private readonly int[] _startsSeen = new int[4];

        public string Name { get; } = name;

        public byte[] NameBytes { get; } = Encoding.ASCII.GetBytes(name);

        public long OffsetUs { get; set; }

        public long LastUs { get; set; } = long.MinValue / 2;

        public int Starts { get; set; }

        public IEnumerable<CellSeries> Cells => _cells.OfType<CellSeries>().Where(cell => cell.HasRows);

        public CellSeries CellOf(int cell) => _cells[cell - 1] ??= new CellSeries(new CellId(Name, cell));

        /// <summary>Whether the board has started again since this cell was last asked for.</summary>
        public bool HasBegun(int cell)
        {
            var begun = _startsSeen[cell - 1] != Starts;
            _startsSeen[cell - 1] = Starts;
            return begun;
        }
    }
}
