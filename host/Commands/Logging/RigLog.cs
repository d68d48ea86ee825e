using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Logging;

/// <summary>Writes what a rig sends into a log, and marks in it where something is missing. Not thread-safe.</summary>
internal sealed class RigLog
{
    private readonly LogSeries _writer;
    private readonly Dictionary<CellId, long> _lastNumber = [];
    private readonly Dictionary<string, DateTimeOffset> _lostAt = [];
    private readonly List<string> _news = [];
    private readonly Dictionary<CellId, (LogCalibration Line, CellCalibration? Calibration)> _stated;

    /// <summary>Logs from now on everything the rig's boards take in.</summary>
    public RigLog(LogSeries writer, RigSession rig)
    {
        _writer = writer;
        _stated = rig.Boards.SelectMany(CalibrationsOf).ToDictionary(stated => stated.Line.Cell);
        foreach (BoardFeed board in rig.Boards)
        {
            board.Observer = Take;
        }
    }

    /// <summary>Conversions written.</summary>
    public long Rows { get; private set; }

    /// <summary>Conversions that were read by the board but did not arrive.</summary>
    public long Missing { get; private set; }

    /// <summary>Stretches marked as gaps.</summary>
    public long Gaps { get; private set; }

    /// <summary>What a log begins with.</summary>
    public static LogHeader HeaderOf(RigSession rig)
    {
        return new LogHeader(JsonAnswer.SoftwareVersion, [.. rig.Boards.SelectMany(CalibrationsOf).Select(stated => stated.Line)]);
    }

    private static IEnumerable<(LogCalibration Line, CellCalibration? Calibration)> CalibrationsOf(BoardFeed board) =>
        Enumerable.Range(1, 4).Select(cell => (LogCalibration.Of(new CellId(board.BoardId, cell), board.Calibration(cell)), board.Calibration(cell)));

    /// <summary>What a person should be told since the last call.</summary>
    public IReadOnlyList<string> TakeNews()
    {
        string[] news = [.. _news];
        _news.Clear();
        return news;
    }

    /// <summary>Brings everything written so far to the disk.</summary>
    /// <exception cref="RefusalException">It could not be written.</exception>
    public void Flush() => Check(_writer.Flush());

    private void Take(BoardFeed board, BoardItem item)
    {
        switch (item.Kind)
        {
            case BoardItemKind.Sample:
                TakeSample(board, item);
                break;
            case BoardItemKind.Gap when item.Detail is BoardGap gap:
                AddGap(board.BoardId, string.Create(
                    CultureInfo.InvariantCulture,
                    $"board did not look for {gap.Duration.TotalMilliseconds:0} ms from device_us {gap.StartMicroseconds} ({(gap.Reason == Core.Wire.GapReason.Flash ? "flash written" : "late loop")})"));
                break;
            case BoardItemKind.Restarted:
                AddGap(board.BoardId, "board restarted; device_us begins again");
                _news.Add(board.Trouble);
                Forget(board.BoardId);
                break;
            case BoardItemKind.Lost:
                // Trying again finds other words for the same gap.
                Gaps += _lostAt.TryAdd(board.BoardId, item.HostTime) ? 1 : 0;
                Note(board.BoardId, $"no contact: {item.Detail}");
                _news.Add(board.Trouble);
                break;
            case BoardItemKind.Connected:
                Return(board, item.HostTime);
                break;
        }
    }

    private void Return(BoardFeed board, DateTimeOffset time)
    {
        if (_lostAt.Remove(board.BoardId, out DateTimeOffset lostAt))
        {
            string seconds = (time - lostAt).TotalSeconds.ToString("0.0", CultureInfo.InvariantCulture);
            Note(board.BoardId, $"contact again after {seconds} s");
            _news.Add($"board {board.BoardId} is back after {seconds} s, at {board.Connection.State.PortDescription}");
        }

        // Somebody may have calibrated it meanwhile: the loads from here on follow from that.
        foreach ((LogCalibration Line, CellCalibration? Calibration) now in CalibrationsOf(board).Where(now => _stated.GetValueOrDefault(now.Line.Cell).Line != now.Line))
        {
            _stated[now.Line.Cell] = now;
            Check(_writer.AddCalibration(now.Line));
        }

        Forget(board.BoardId);
    }

    private void TakeSample(BoardFeed board, BoardItem item)
    {
        Sample sample = item.Sample;
        var cell = new CellId(board.BoardId, sample.Cell);
        if (_lastNumber.TryGetValue(cell, out long last) && sample.Number > last + 1)
        {
            long missing = sample.Number - last - 1;
            Missing += missing;
            AddGap(board.BoardId, string.Create(CultureInfo.InvariantCulture, $"{missing} conversions of cell {sample.Cell} not delivered"));
        }

        _lastNumber[cell] = sample.Number;
        double? loadKg = sample.Status == SampleStatus.Ok && _stated.GetValueOrDefault(cell).Calibration is { IsCalibrated: true } calibration ? calibration.LoadKg(sample.Counts) : null;
        Check(_writer.Add(new LogRow(0, item.HostTime.UtcDateTime, sample.DeviceMicroseconds, cell, sample.Number, sample.Status, sample.Counts, loadKg)));
        Rows++;
    }

    private void AddGap(string board, string reason)
    {
        Gaps++;
        Note(board, reason);
    }

    private void Note(string board, string reason) => Check(_writer.AddGap(board, reason));

    private void Forget(string boardId)
    {
        foreach (CellId cell in _lastNumber.Keys.Where(cell => cell.Board == boardId).ToArray())
        {
            _lastNumber.Remove(cell);
        }
    }

    private static void Check(InputError? error)
    {
        if (error is not null)
        {
            throw new RefusalException(error);
        }
    }
}
