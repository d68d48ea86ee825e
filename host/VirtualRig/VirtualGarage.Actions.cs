using Fourpatch.Rigs;
using Fourpatch.Vehicles;

namespace Fourpatch.VirtualRig;

/// <summary>What a person in the garage does, and what is true there.</summary>
public sealed partial class VirtualGarage
{
    private readonly Dictionary<Corner, double> _blocksM = [];
    private AxleLift? _lift;

    /// <summary>Whether any wheel stands on the rig.</summary>
    public bool IsCarOn { get; private set; }

    /// <summary>Temperature less that of the calibration, kelvin.</summary>
    public double TemperatureRiseK { get; private set; }

    /// <summary>The car's loads on a level floor with nothing under its wheels.</summary>
    public Truth OnLevelFloor
    {
        get
        {
            lock (_gate) return new(_car.OnLevelFloorKg(), _vehicle);
        }
    }

    /// <summary>The car's loads on the scenario's floor with nothing under its wheels.</summary>
    public Truth OnFloor
    {
        get
        {
            lock (_gate) return new(_car.OnFloorKg(), _vehicle);
        }
    }

    /// <summary>The car's loads as it stands at present: with blocks, dollies and lifts.</summary>
    public Truth AsItStands
    {
        get
        {
            lock (_gate) return new(WheelsNow(), _vehicle);
        }
    }

    /// <summary>Height of the car's centre of gravity above ground, metres.</summary>
    public double TrueCgHeightM => _car.CgHeightM;

    /// <summary>What a cell truly carries at present, kg (without the car's sway).</summary>
    /// <exception cref="ArgumentException">There is no such cell.</exception>
    public double TrueCellKg(CellId cell)
    {
        lock (_gate) return _steadyCellsKg[FlatCell(cell)];
    }

    /// <summary>Puts the car on all pads, levers or dollies.</summary>
    /// <exception cref="InvalidOperationException">There is only one dolly: say which corner with <see cref="PlaceDolly"/>.</exception>
    public void PutCarOn() => Change(() =>
    {
        if (_stands is DollyStands stands)
        {
            if (stands.Dollies.Count == 1) throw new InvalidOperationException("One dolly carries one corner: place it under that.");
            for (var i = 0; i < stands.Dollies.Count; i++) Put(stands.Dollies[i], (Corner)i, Scenario.Dolly.WheelCentreRiseM);
        }
        IsCarOn = true;
    });

    /// <summary>Takes the car off everything; it stands on the floor.</summary>
    public void TakeCarOff() => Change(() =>
    {
        if (_stands is DollyStands stands)
        {
            foreach (var dolly in stands.Dollies) dolly.UnderCorner = null;
        }
        IsCarOn = false;
    });

    /// <summary>Puts a known mass on a pad, in the place of the wheel; 0 takes it off.</summary>
    /// <param name="pad">1 to 4: the pad of that cell, counted through all boards.</param>
    /// <param name="massKg">0 or more.</param>
    public void LoadPad(int pad, double massKg)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(massKg);
        Change(() => Pads.Put(Index(pad, nameof(pad)), massKg));
    }

    /// <summary>Takes all known masses off the pads or dollies.</summary>
    public void ClearMasses() => Change(() =>
    {
        for (var i = 0; i < 4 && _stands is PadStands; i++) Pads.Put(i, 0);
        if (_stands is not DollyStands stands) return;
        foreach (var dolly in stands.Dollies) dolly.KnownKg = 0;
    });

    /// <summary>Moves the pads round the car.</summary>
    /// <param name="padAt">Which pad (1 to 4) stands under each corner; each once.</param>
    public void ArrangePads(Corners<int> padAt)
    {
        ArgumentNullException.ThrowIfNull(padAt);
        if (!padAt.ToArray().Order().SequenceEqual([1, 2, 3, 4])) throw new ArgumentException("Each of the pads 1 to 4 stands under one corner.", nameof(padAt));
        Change(() => Pads.Arrange(padAt.Select(pad => pad - 1).ToArray()));
    }

    /// <summary>Puts a dolly under a wheel (from where it was).</summary>
    /// <param name="corner">Which wheel.</param>
    /// <param name="riseM">How far it lifts the wheel's centre above where it stood; null: the scenario's figure.</param>
    /// <param name="dolly">1 to 4, in the order of the boards.</param>
    /// <exception cref="InvalidOperationException">The car cannot stand so, or its springs are not known; nothing has changed then.</exception>
    public void PlaceDolly(Corner corner, double? riseM = null, int dolly = 1) => Change(() =>
    {
        Put(DollyAt(dolly), corner, riseM ?? Scenario.Dolly.WheelCentreRiseM);
        IsCarOn = true;
    });

    /// <summary>Takes a dolly away from its wheel; it stands free.</summary>
    public void RemoveDolly(int dolly = 1) => Change(() =>
    {
        DollyAt(dolly).UnderCorner = null;
        IsCarOn = _stands is DollyStands stands && stands.Dollies.Any(d => d.UnderCorner is not null);
    });

    /// <summary>Where on a dolly its wheel stands, from the middle of the frame.</summary>
    /// <exception cref="InvalidOperationException">The dolly would tip; nothing has changed then.</exception>
    public void StandWheelAt(FramePoint at, int dolly = 1) => Change(() => DollyAt(dolly).WheelAt = at, undo: Keep(dolly));

    /// <summary>Puts a known mass on a dolly; 0 takes it off.</summary>
    /// <param name="massKg">0 or more.</param>
    /// <param name="at">Where, from the middle of the frame.</param>
    /// <param name="dolly">1 to 4.</param>
    /// <exception cref="InvalidOperationException">The dolly would tip; nothing has changed then.</exception>
    public void LoadDolly(double massKg, FramePoint at, int dolly = 1)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(massKg);
        Change(() => (DollyAt(dolly).KnownKg, DollyAt(dolly).KnownAt) = (massKg, at), undo: Keep(dolly));
    }

    /// <summary>Puts a plate under one castor of a dolly; 0 takes it away.</summary>
    /// <param name="castor">1 to 4, below the cell of that number.</param>
    /// <param name="heightM">Its thickness.</param>
    /// <param name="dolly">1 to 4.</param>
    public void SetCastorPlate(int castor, double heightM, int dolly = 1) => Change(() => DollyAt(dolly).SetPlate(Index(castor, nameof(castor)), heightM));

    /// <summary>Puts a block or plate under a wheel or its pad; 0 takes it away.</summary>
    /// <param name="corner">Which wheel.</param>
    /// <param name="heightM">By how much it stands higher for it.</param>
    /// <exception cref="InvalidOperationException">The car cannot stand so, or its springs are not known; nothing has changed then.</exception>
    public void SetBlock(Corner corner, double heightM)
    {
        var before = _blocksM.GetValueOrDefault(corner);
        Change(() => _blocksM[corner] = heightM, () => _blocksM[corner] = before);
    }

    /// <summary>Lifts one axle at its hubs, suspension blocked; the other stays on its pads.</summary>
    /// <param name="isFront">Which axle goes up.</param>
    /// <param name="riseM">Rise of its hubs against the other ones, from level; 0 lowers it.</param>
    /// <exception cref="InvalidOperationException">It cannot be lifted so far, or the springs are not known; nothing has changed then.</exception>
    public void LiftAxle(bool isFront, double riseM)
    {
        var before = _lift;
        Change(() => _lift = riseM == 0 ? null : new(isFront, riseM), () => _lift = before);
    }

    /// <summary>Moves a perch.</summary>
    /// <param name="corner">Which.</param>
    /// <param name="riseAtWheelM">How far that lifts the corner, measured at the wheel; adds to earlier moves.</param>
    /// <exception cref="InvalidOperationException">The car cannot stand so, or its springs are not known; nothing has changed then.</exception>
    public void MovePerch(Corner corner, double riseAtWheelM)
    {
        var before = _car.PerchRisesM;
        Change(() => _car.PerchRisesM = before.With(corner, before[corner] + riseAtWheelM), () => _car.PerchRisesM = before);
    }

    /// <summary>Makes it warmer or colder.</summary>
    /// <param name="riseK">Temperature less that of the calibration, kelvin.</param>
    public void SetTemperatureRise(double riseK)
    {
        lock (_gate) TemperatureRiseK = riseK;
    }

    /// <summary>Makes something go wrong from now on.</summary>
    /// <param name="kind">What.</param>
    /// <param name="board">Board id; null: the first.</param>
    /// <param name="cell">1 to 4; null: 1, and nothing for what strikes the whole board.</param>
    /// <param name="duration">Null: for good.</param>
    public void StartFault(FaultKind kind, string? board = null, int? cell = null, TimeSpan? duration = null)
    {
        lock (_gate)
        {
            ScenarioFault fault = new() { Kind = kind, Board = board, Cell = cell, AtS = _nowUs * 1e-6, ForS = duration?.TotalSeconds };
            BoardOf(fault).Faults.Add(fault);
        }
    }

    /// <summary>Makes good every fault of a kind, on every board.</summary>
    public void EndFaults(FaultKind kind)
    {
        lock (_gate)
        {
            foreach (var board in _boards) board.Faults.Remove(kind);
        }
    }

    private PadStands Pads => _stands as PadStands ?? throw new InvalidOperationException("This build has dollies, no pads.");

    private static int Index(int number, string what) => number is >= 1 and <= 4 ? number - 1 : throw new ArgumentOutOfRangeException(what, number, "From 1 to 4.");

    private Dolly DollyAt(int number)
    {
        if (_stands is not DollyStands stands) throw new InvalidOperationException("This build has pads, no dolly.");
        return number >= 1 && number <= stands.Dollies.Count
            ? stands.Dollies[number - 1]
            : throw new ArgumentOutOfRangeException(nameof(number), number, $"From 1 to {stands.Dollies.Count}.");
    }

    private static void Put(Dolly dolly, Corner corner, double riseM) => (dolly.UnderCorner, dolly.RiseM) = ((int)corner, riseM);

    private Action Keep(int number)
    {
        var dolly = DollyAt(number);
        var (wheelAt, knownKg, knownAt) = (dolly.WheelAt, dolly.KnownKg, dolly.KnownAt);
        return () => (dolly.WheelAt, dolly.KnownKg, dolly.KnownAt) = (wheelAt, knownKg, knownAt);
    }

    /// <summary>Does something and works out what it makes of the loads; takes it back when the car or a dolly cannot stand so.</summary>
    private void Change(Action action, Action? undo = null)
    {
        lock (_gate)
        {
            var wasOn = IsCarOn;
            var places = (_stands as DollyStands)?.Dollies.Select(dolly => (dolly.UnderCorner, dolly.RiseM)).ToArray();
            try
            {
                action();
                Refresh();
            }
            catch (InvalidOperationException)
            {
                IsCarOn = wasOn;
                for (var i = 0; i < places?.Length; i++) (((DollyStands)_stands).Dollies[i].UnderCorner, ((DollyStands)_stands).Dollies[i].RiseM) = places[i];
                undo?.Invoke();
                Refresh();
                throw;
            }
        }
    }

    private void Refresh()
    {
        // Worked out also while the car is away, so that what cannot be is refused at once.
        var standing = WheelsNow();
        var wheels = IsCarOn ? standing.ToArray() : new double[4];
        wheels.CopyTo(_wheelsKg, 0);
        if (_stands is DollyStands stands)
        {
            foreach (var dolly in stands.Dollies) dolly.Refresh();
        }
        if (_stands.WhyNot(_wheelsKg) is { } reason) throw new InvalidOperationException(reason);
        for (var i = 0; i < _steadyCellsKg.Length; i++) _steadyCellsKg[i] = _stands.CellKg(i, _wheelsKg);
    }

    private Corners<double> WheelsNow() => _lift is { } lift
        ? _car.LiftedKg(lift)
        : _car.StandingKg(Corners.Each(corner => new Footing(_blocksM.GetValueOrDefault(corner), RiseAt(corner))));

    private double? RiseAt(Corner corner) =>
        (_stands as DollyStands)?.Dollies.FirstOrDefault(dolly => dolly.UnderCorner == (int)corner)?.RiseM;
}
