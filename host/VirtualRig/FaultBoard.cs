namespace Fourpatch.VirtualRig;

/// <summary>The faults of one board, each with its time. Not thread-safe.</summary>
internal sealed class FaultBoard
{
    private readonly List<(ScenarioFault Fault, double FromUs, double UntilUs)> _faults = [];

    /// <summary>Microseconds of the garage up to which the board has come.</summary>
    public double NowUs { get; set; }

    /// <summary>Adds a fault.</summary>
    /// <param name="fault">Its times count from the garage's start.</param>
    /// <exception cref="ArgumentException">A time that cannot be.</exception>
    public void Add(ScenarioFault fault)
    {
        if (!(fault.AtS >= 0) || fault.ForS is <= 0 or double.NaN) throw new ArgumentException($"Fault {fault.Kind}: its start must be 0 s or later and its length above 0 s.", nameof(fault));

        // Over a day there are thousands: what is past is asked about no more.
        _faults.RemoveAll(f => f.UntilUs <= NowUs && f.Fault.Kind != FaultKind.BoardReset);
        _faults.Add((fault, fault.AtS * 1e6, (fault.AtS + (fault.ForS ?? double.PositiveInfinity)) * 1e6));
        _faults.Sort((a, b) => a.FromUs.CompareTo(b.FromUs));
    }

    /// <summary>Takes back every fault of a kind that is under way or still to come.</summary>
    public void Remove(FaultKind kind) => _faults.RemoveAll(f => f.Fault.Kind == kind);

    /// <summary>Whether a fault of the board is on.</summary>
    public bool IsOn(FaultKind kind) => IsOn(kind, 0);

    /// <summary>Whether a fault is on at a cell (0 to 3).</summary>
    public bool IsOn(FaultKind kind, int cellIndex)
    {
        // Called for every conversion: a plain loop.
        for (var i = 0; i < _faults.Count; i++)
        {
            var (fault, fromUs, untilUs) = _faults[i];
            if (fault.Kind == kind && NowUs >= fromUs && NowUs < untilUs && (fault.StrikesBoard || (fault.Cell ?? 1) - 1 == cellIndex)) return true;
        }
        return false;
    }

    /// <summary>True once for the resets that have become due since the last call.</summary>
    public bool TakeReset()
    {
        var isDue = false;
        for (var i = _faults.Count - 1; i >= 0; i--)
        {
            if (_faults[i].Fault.Kind != FaultKind.BoardReset || NowUs < _faults[i].FromUs) continue;
            _faults.RemoveAt(i);
            isDue = true;
        }
        return isDue;
    }
}
