using Fourpatch.Calibrating;
using Fourpatch.Files;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Calibration;

/// <summary>Leads a person through the spots of one dolly: with and without the plate under castor 1, castors turned, and the check on another patch of floor.</summary>
internal sealed class PlatformGuide(Dialogue dialogue, CalBoard board, MassUnit unit)
{
    private const string Middle = "middle";
    private static readonly string[] Spots = [Middle, "towards castor 1", "towards castor 2", "towards castor 3", "towards castor 4"];
    private static readonly (double Degrees, string Words)[] Turns =
        [(0, "as they rolled here"), (90, "a quarter turn on"), (180, "half a turn on"), (270, "three quarters of a turn on")];

    private readonly SteadyReader _reader = new(dialogue, board.Rig);
    private readonly List<PlatformRow> _rows = [];
    private IReadOnlyList<CellMean> _empty = [];
    private Func<Task>? _repeatLast;

    /// <summary>Takes the readings.</summary>
    /// <param name="mass">The known mass when it was given on the command line.</param>
    /// <param name="turnsCastors">True: also read what the direction of the castors does.</param>
    /// <param name="cancel">Gives up.</param>
    public async Task<IReadOnlyList<PlatformRow>> TakeAsync(KnownMass? mass, bool turnsCastors, CancellationToken cancel)
    {
        dialogue.Say("Calibrating the four cells of one dolly where it stands. \"quit\" leaves at any time; nothing is stored before you say so.");
        dialogue.Say("Castors locked, on sound level floor. Dead weight only, inside the castors; nobody stands on a dolly. Pull the dolly the last 100 mm always in the same direction.");
        await AskStepAsync("The dolly empty, hands off, then press Enter.").ConfigureAwait(false);
        await AddAsync("empty", new Load(null, 0), null, null, cancel).ConfigureAwait(false);
        Load load = mass is not null ? new Load(mass, mass.Kg) : dialogue.Ask("What will you put on it? unknown, or " + KnownMassText.Forms, ReadLoad);
        await SpotsAsync(load, null, cancel).ConfigureAwait(false);
        if (turnsCastors)
        {
            await TurnsAsync(load, cancel).ConfigureAwait(false);
        }

        if (dialogue.AskYesNo("Spots alone cannot tell cells 1 and 4 from 2 and 3. Do them again with a plate of about 1 mm under castor 1?"))
        {
            await AskStepAsync("Take the mass off, put the plate under castor 1, then press Enter.").ConfigureAwait(false);
            await SpotsAsync(load, 1, cancel).ConfigureAwait(false);
            await AskStepAsync("Take the mass off and the plate away, then press Enter.").ConfigureAwait(false);
        }

        if (load.Known is null)
        {
            await AddKnownAsync(cancel).ConfigureAwait(false);
        }

        return _rows;
    }

    /// <summary>Moves the dolly with its mass to another patch of floor, where the sum must be the same. Null when it is left out.</summary>
    public async Task<IReadOnlyList<PatchCheck>?> CheckPatchAsync(PlatformFit fit, CancellationToken cancel)
    {
        if (!dialogue.AskYesNo("Last check: on another patch of floor the sum must not change. Do it now?"))
        {
            return null;
        }

        // What was read before is computed already.
        _repeatLast = null;
        await AskStepAsync("No plate under any castor. The mass in the middle, on this patch. Hands off, then press Enter.").ConfigureAwait(false);
        PatchReading here = await ReadPatchAsync(LoadedAsync, cancel).ConfigureAwait(false);
        await AskStepAsync("Unlock the castors, pull the dolly with its mass to another patch, the last 100 mm in the same direction as ever, lock them. Hands off, then press Enter.").ConfigureAwait(false);
        PatchReading there = await ReadPatchAsync(LoadedAsync, cancel).ConfigureAwait(false);
        await AskStepAsync("Take the mass off there, hands off, then press Enter.").ConfigureAwait(false);
        PatchReading empty = await ReadPatchAsync(EmptyAsync, cancel).ConfigureAwait(false);
        return
        [
            PatchCheck.Of(fit, here.Counts, there.Counts, Math.Max(here.UCounts, there.UCounts)),
            PatchCheck.Of(fit, fit.ZeroCounts!, empty.Counts, Math.Max(here.UCounts, empty.UCounts)),
        ];
    }

    /// <summary>Asks whether the result shall be kept.</summary>
    public bool WantsToStore() => dialogue.AskYesNo($"Store this in board {board.Id} for cells 1 to 4?");

    private Result<Load> ReadLoad(string typed) => typed.Equals("unknown", StringComparison.OrdinalIgnoreCase)
        ? new Load(null, null)
        : KnownMassText.Parse(typed, unit).Then<Load>(known => new Load(known, known.Kg));

    private async Task SpotsAsync(Load load, int? plate, CancellationToken cancel)
    {
        foreach (string spot in Spots)
        {
            await AskStepAsync($"Put {load.Words} {(spot == Middle ? "in the middle of the dolly" : spot + ", half way out and never near tipping")}. Hands off, then press Enter.").ConfigureAwait(false);
            await AddAsync(spot, load, plate, null, cancel).ConfigureAwait(false);
        }
    }

    private async Task TurnsAsync(Load load, CancellationToken cancel)
    {
        dialogue.Say("Now the castors: the same load in the middle, all four castors turned alike, the dolly not moved from its place.");
        foreach ((double degrees, string words) in Turns)
        {
            await AskStepAsync($"Put {load.Words} in the middle, castors {words}. Hands off, then press Enter.").ConfigureAwait(false);
            await AddAsync("castors turned", load, null, degrees, cancel).ConfigureAwait(false);
        }

        await AskStepAsync("Turn the castors back as they rolled here, then press Enter.").ConfigureAwait(false);
    }

    private async Task AddKnownAsync(CancellationToken cancel)
    {
        while (true)
        {
            string typed = dialogue.Ask("So far only ratios are known. One known mass gives the kilograms: KIND:VALUE, or Enter to leave it at ratios.");
            if (typed.Length == 0)
            {
                return;
            }

            if (KnownMassText.Parse(typed, unit).TryGet(out KnownMass? known, out InputError? error))
            {
                var load = new Load(known, known.Kg);
                await AskStepAsync($"Put {load.Words} in the {Middle}, no plate. Hands off, then press Enter.").ConfigureAwait(false);
                await AddAsync(Middle, load, null, null, cancel).ConfigureAwait(false);
                return;
            }

            dialogue.Say(error.OneLine);
        }
    }

    private async Task AddAsync(string spot, Load load, int? plate, double? castorDegrees, CancellationToken cancel)
    {
        _rows.Add(await RowAsync().ConfigureAwait(false));
        _repeatLast = async () => _rows[^1] = await RowAsync().ConfigureAwait(false);

        async Task<PlatformRow> RowAsync()
        {
            IReadOnlyList<CellMean> means = await (load.MassKg is 0 ? EmptyAsync(cancel) : LoadedAsync(cancel)).ConfigureAwait(false);
            return new(
                spot, load.MassKg, CountsOf(means), load.Known?.StandardUncertaintyKg ?? 0, plate, castorDegrees, UCountsOf(means), load.Known?.Reference ?? "");
        }
    }

    private async Task<PatchReading> ReadPatchAsync(Func<CancellationToken, Task<IReadOnlyList<CellMean>>> takeAsync, CancellationToken cancel)
    {
        var reading = new PatchReading(await takeAsync(cancel).ConfigureAwait(false));
        _repeatLast = async () => reading.Means = await takeAsync(cancel).ConfigureAwait(false);
        return reading;
    }

    /// <summary>Asks for the next step; whoever sees only now that the last reading was not as it should be, takes it once more before.</summary>
    private async Task AskStepAsync(string question)
    {
        string more = _repeatLast is null ? "" : " Or type again to repeat the last reading first.";
        while (dialogue.AskEnter(question + more, _repeatLast is null ? [] : ["again"]).Length > 0)
        {
            dialogue.AskEnter("Put everything as it should have been for the last reading. Hands off, then press Enter.");
            await _repeatLast!().ConfigureAwait(false);
        }
    }

    private async Task<IReadOnlyList<CellMean>> EmptyAsync(CancellationToken cancel) => _empty = await _reader.TakeAsync(board.AllCells, cancel).ConfigureAwait(false);

    private Task<IReadOnlyList<CellMean>> LoadedAsync(CancellationToken cancel) => _reader.TakeLoadedAsync(_empty, cancel);

    private static double[] CountsOf(IReadOnlyList<CellMean> means) => [.. means.Select(mean => mean.Counts)];

    private static double UCountsOf(IReadOnlyList<CellMean> means) => means.Max(mean => mean.StandardUncertaintyCounts);

    /// <summary>A reading on one patch of floor, until it is repeated.</summary>
    private sealed class PatchReading(IReadOnlyList<CellMean> means)
    {
        public IReadOnlyList<CellMean> Means { private get; set; } = means;

        public IReadOnlyList<double> Counts => CountsOf(Means);

        public double UCounts => UCountsOf(Means);
    }

    /// <summary>What stands on the dolly: a known mass, the one unknown mass (both null), or nothing (0 kg).</summary>
    private sealed record Load(KnownMass? Known, double? MassKg)
    {
        public string Words => Known?.Description ?? "the mass";
    }
}
