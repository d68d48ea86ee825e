using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;
using Fourpatch.Links;
using Fourpatch.Rigs;
using Fourpatch.Uncertainty;
using Fourpatch.VirtualRig;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.VirtualRig;

/// <summary>One board of a soak as a laptop hears it, with its books held against what it sent, and one fault at a time.</summary>
internal sealed class SoakBoard
{
    private static readonly TimeSpan Window = TimeSpan.FromSeconds(2);
    private readonly VirtualGarage _garage;
    private readonly VirtualBoard _board;
    private readonly BoardDecoder _decoder = new();
    private readonly List<BoardItem> _items = [];
    private readonly byte[] _buffer = new byte[8192];
    private readonly CellFeed[] _feeds;
    private readonly long[] _heard = new long[4];
    private readonly long[] _lostSoFar = new long[4];
    private readonly uint[] _desynced = new uint[4];
    private readonly long[] _statuses = new long[Enum.GetValues<SampleStatus>().Length + 1];
    private readonly CellCalibration[] _calibrations;
    private int _statusCell;
    private long _skipped, _lostLines;
    private bool _mayHaveLost;
    private uint? _bootId;
    private double _heardAtS;
    private int _commands;
    private bool _isStreaming;
    private TimeSpan _longestGap;

    public SoakBoard(VirtualGarage garage, VirtualBoard board, IReadOnlyList<CellCalibration> calibrations)
    {
        (_garage, _board) = (garage, board);
        _calibrations = [.. calibrations];
        _feeds = [.. Enumerable.Range(1, 4).Select(cell => new CellFeed(new CellId(board.Id, cell)))];
        lock (garage.Gate) board.Listen(isLossless: true);
    }

    public string Id => _board.Id;

    /// <summary>Conversions that came, of whatever status.</summary>
    public long Samples { get; private set; }

    /// <summary>Counter lines whose books were held against the samples before them.</summary>
    public long BooksHeld { get; private set; }

    public long Boots { get; private set; }

    /// <summary>Whether the board is heard, as a laptop judges it: a good line within 1.6 s.</summary>
    public bool IsPresent => _garage.Now.TotalSeconds - _heardAtS <= 1.6;

    /// <summary>Takes what has come, and asks for samples where none are sent.</summary>
    public void Listen(string when)
    {
        int count;
        do
        {
            lock (_garage.Gate) count = _board.Take(_buffer);
            _items.Clear();
            if (_decoder.Take(_buffer.AsSpan(0, count), default, _items, _ => { }) > 0) _heardAtS = _garage.Now.TotalSeconds;
            foreach (var item in _items) Take(item, when);
        }
        while (count == _buffer.Length);

        if (!IsPresent) Forget();
    }

    /// <summary>Sends stream,on when the board does not stream.</summary>
    public void AskForSamples()
    {
        if (_isStreaming) return;
        lock (_garage.Gate) _board.Give(BoardCommand.Stream(true).ToBytes((_commands++ % WireFormat.CommandNumberMax) + 1));
    }

    /// <summary>The load of a cell, 1 to 4, where it would be shown as good; null where it is flagged.</summary>
    public Measured? GoodKg(int cell)
    {
        if (!IsPresent) return null;
        var calibration = _calibrations[cell - 1];
        var mean = _feeds[cell - 1].Mean(Window, 0.025 / calibration.KgPerCount, StationNoise.AllowedCounts);
        if (!mean.HasValue || mean.Verdict != SettlingVerdict.Settled) return null;
        var kg = CellCauses.LoadKg(mean, calibration, new CellAssumptions());

        // As a station flags it: more than 1 % of the capacity the wrong way round.
        return kg.Value < -0.01 * calibration.CapacityGrams / 1000 ? null : kg;
    }

    /// <summary>Lets a fault begin.</summary>
    /// <returns>What must have been seen some time after its end; the words say what was not.</returns>
    public Func<string?> StartFault(FaultKind kind, int cell, TimeSpan duration)
    {
        Array.Clear(_statuses);
        _statusCell = cell;
        _longestGap = TimeSpan.Zero;
        var (desynced, boots, spoiled) = (_desynced[cell - 1], Boots, Spoiled);
        long[] estimates = [.. Enumerable.Range(0, 4).Select(Estimate)], lost = [.. Enumerable.Range(0, 4).Select(_board.NeverRead)];
        _garage.StartFault(kind, Id, cell, kind == FaultKind.BoardReset ? null : duration);
        return kind switch
        {
            FaultKind.Unplugged => () => Seen(SampleStatus.NoDevice),
            FaultKind.Saturated => () => Seen(SampleStatus.SaturatedHigh),
            FaultKind.Stuck => () => Seen(SampleStatus.Stuck),
            FaultKind.SlippedBits => () => _desynced[cell - 1] > desynced ? null : "no slipped bits were counted",
            FaultKind.BoardReset => () => Boots == boots + 1 ? null : $"{Boots - boots} boots",
            FaultKind.LineNoise => () => Spoiled > spoiled ? null : "no spoiled line was counted",
            FaultKind.Silence => () => _longestGap < duration - TimeSpan.FromSeconds(0.1) ? $"the longest gap told was {_longestGap}" : Missed(estimates, lost),
            _ => () => null,
        };
    }

    private long Spoiled => _decoder.SkippedLines + _decoder.LostSampleLines;

    private long Estimate(int cell) => _board.Controller?.Cell(cell).Counters.MissedEstimate ?? 0;

    private string? Seen(SampleStatus status) => _statuses[(int)status] > 0 ? null : $"no {status} of cell {_statusCell}";

    private string? Missed(long[] estimates, long[] lost)
    {
        for (var i = 0; i < 4; i++)
        {
            var (estimate, truth) = (Estimate(i) - estimates[i], _board.NeverRead(i) - lost[i]);
            if (Math.Abs(estimate - truth) > 1) return $"cell {i + 1}: {estimate} estimated, {truth} never read";
        }
        return null;
    }

    private void Take(BoardItem item, string when)
    {
        switch (item.Kind)
        {
            case BoardItemKind.Sample:
                Samples++;
                _heard[item.Sample.Cell - 1]++;
                if (item.Sample.Cell == _statusCell) _statuses[(int)item.Sample.Status]++;
                _feeds[item.Sample.Cell - 1].Take(item.Sample);
                break;
            case BoardItemKind.Pulse when item.Detail is BoardPulse pulse:
                if (pulse.BootId != _bootId) Booted(pulse.BootId);
                _isStreaming = pulse.IsStreaming;
                for (var i = 0; i < 4; i++) _feeds[i].TakeHealth(pulse.Health[i]);
                if (_statusCell > 0) _statuses[(int)pulse.Health[_statusCell - 1]]++;
                break;
            case BoardItemKind.Tally when item.Detail is CellTally tally:
                Hold(tally, when);
                break;
            case BoardItemKind.Gap when item.Detail is BoardGap gap:
                if (gap.Duration > _longestGap) _longestGap = gap.Duration;
                break;
        }
    }

    private void Booted(uint bootId)
    {
        if (_bootId is not null) Boots++;
        _bootId = bootId;
        _decoder.Restart();
        Array.Clear(_heard);
        Array.Clear(_lostSoFar);
        Array.Clear(_desynced);
        _mayHaveLost = false;
        (_skipped, _lostLines) = (_decoder.SkippedLines, _decoder.LostSampleLines);
        Forget();
    }

    private void Forget()
    {
        foreach (var feed in _feeds) feed.Clear();
    }

    // Lines keep their order: all that the board calls delivered has come before the line that says so, but for what the line spoiled.
    private void Hold(CellTally tally, string when)
    {
        // A boot is known by its heartbeat; if that was spoiled, the counters are another boot's.
        if (_bootId is null || tally.Read < _heard[tally.Cell - 1]) return;
        var open = (long)tally.Read - tally.Delivered - tally.Idle - tally.Settling - tally.Overlapped - tally.Desynced - tally.Unsent;
        Assert.True(open is >= 0 and <= 2, $"{when}, {Id}: {open} conversions of cell {tally.Cell} are not explained: {tally}");
        _mayHaveLost |= _skipped != _decoder.SkippedLines || _lostLines != _decoder.LostSampleLines;
        (_skipped, _lostLines) = (_decoder.SkippedLines, _decoder.LostSampleLines);
        var lost = tally.Delivered - _heard[tally.Cell - 1];
        var before = _lostSoFar[tally.Cell - 1];
        Assert.True(_mayHaveLost ? lost >= before : lost == before, $"{when}, {Id}: cell {tally.Cell}: {tally.Delivered} delivered, {_heard[tally.Cell - 1]} heard, {before} lost before");
        _lostSoFar[tally.Cell - 1] = lost;
        _desynced[tally.Cell - 1] = tally.Desynced;

        // Each of the four tells within the second what it lost.
        if (tally.Cell == 4) _mayHaveLost = _garage.Now.TotalSeconds - _noisyUntilS < 3;
        BooksHeld++;
    }

    private double _noisyUntilS = double.NegativeInfinity;

    /// <summary>Lines may be spoiled until so much later than now.</summary>
    public void ExpectNoise(TimeSpan duration) => _noisyUntilS = (_garage.Now + duration).TotalSeconds;
}
