using System.Globalization;
using Fourpatch.Planning;
using Fourpatch.Reports;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.WeighingCar;

/// <summary>Weighs a second time with a plate of known thickness under one pad: the change is the car's twist stiffness.</summary>
/// <param name="terminal">The person.</param>
/// <param name="figures">How masses are written.</param>
internal sealed class ShimGuide(ITerminal terminal, Figures figures)
{
    private readonly Dialogue _dialogue = new(terminal);

    /// <summary>Leads through it and tells what came of it.</summary>
    /// <param name="before">The weighing without the plate.</param>
    /// <param name="corner">Which pad.</param>
    /// <param name="heightM">How thick.</param>
    /// <param name="weighAsync">Weighs.</param>
    /// <returns>Both weighings; null when the loads did not tell.</returns>
    public async Task<PlateTrial?> LearnAsync(WeighingResult before, Corner corner, double heightM, Func<Task<WeighingResult>> weighAsync)
    {
        string mm = (heightM * 1000).ToString("0.##", CultureInfo.InvariantCulture);
        foreach (string sentence in SafetyText.OnToPads)
        {
            _dialogue.Say("! " + sentence);
        }

        _dialogue.AskEnter($"Push the car off, lay the plate of {mm} mm under the pad of {corner}, push the car on again, rock it and let it come to rest. Hands off, then press Enter.");
        WeighingResult after = await weighAsync().ConfigureAwait(false);
        Measured?[] with = [.. after.Loads.Select(load => load.LoadKg)], without = [.. before.Loads.Select(load => load.LoadKg)];
        PlateTrial? trial = after.IsAcceptable && before.IsAcceptable
            ? new PlateTrial(before.Vehicle, corner, heightM, PlateTrial.UsualUThicknessM, Corners.From<Measured>(without!), Corners.From<Measured>(with!))
            : null;
        if (trial?.Response() is null)
        {
            _dialogue.Say(after.IsAcceptable && before.IsAcceptable
                ? "The loads did not answer beyond what the scales can tell: take a thicker plate, or check which pad it lay under."
                : "One of the two weighings is not acceptable, so nothing is learnt from the plate: " + string.Join("; ", before.Reasons.Concat(after.Reasons).Select(reason => reason.Text)));
            return null;
        }

        KeptTwist.Write(terminal.Out, trial, figures.Unit, terminal.Width);
        _dialogue.Say($"for 'fourpatch perch': --shim {corner}={mm} --shim-corners {string.Join(',', after.Loads.Select(load => string.Create(CultureInfo.InvariantCulture, $"{load.Name}={load.LoadKg!.Value:0.0#}")))}");
        _dialogue.AskEnter("Push the car off, take the plate away, then press Enter.");
        return trial;
    }
}
