using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Planning;

/// <summary>One filling of a tank.</summary>
/// <param name="VolumeL">Litres in it.</param>
/// <param name="Vehicle">What the vehicle then weighs.</param>
public sealed record TankFilling(double VolumeL, Prediction Vehicle);

/// <summary>The finished vehicle with a tank at several fillings, everything else as planned.</summary>
public static class TankSweep
{
    // Ten steps or fewer, each 1, 2 or 5 times a power of ten.
    private const int MostSteps = 10;

    /// <summary>Kilograms a litre of the tank's content: as stated, else its mass over its volume; null when neither tells.</summary>
    public static double? DensityKgPerL(Part tank) => tank.DensityKgPerL
        ?? (tank is { MassKg: > 0 and { } mass, VolumeL: > 0 and { } volume } ? mass / volume : null);

    /// <summary>Fillings from one volume to another; both ends are among them.</summary>
    /// <param name="vehicle">Its geometry and springs.</param>
    /// <param name="loadsKg">As weighed.</param>
    /// <param name="parts">The list, the tank among them.</param>
    /// <param name="tank">A row with a volume, fitted or already weighed; its mass is what the plan takes to be in it.</param>
    /// <param name="fromL">Litres, 0 or more.</param>
    /// <param name="toL">Litres, above <paramref name="fromL"/>.</param>
    /// <exception cref="ArgumentException">The tank has no density, or is taken off.</exception>
    public static IReadOnlyList<TankFilling> Of(Vehicle vehicle, IReadOnlyList<Measured> loadsKg, IReadOnlyList<Part> parts, Part tank, double fromL, double toL)
    {
        var density = DensityKgPerL(tank) ?? throw new ArgumentException($"{tank.Item} has no density.", nameof(tank));
        if (tank.Action is PartAction.Remove or PartAction.BallastSpot) throw new ArgumentException($"{tank.Item} is not in the finished vehicle.", nameof(tank));
        MassChange[] others = [.. parts.Where(part => part != tank).SelectMany(MassChange.Of)];
        return [.. Volumes(fromL, toL).Select(volume => new TankFilling(volume, Planner.Predict(vehicle, loadsKg, [.. others, .. Filled(tank, volume * density)]).IfItCanBe(vehicle)))];
    }

    private static IEnumerable<MassChange> Filled(Part tank, double contentKg)
    {
        // A statement about the mass of the nominal filling is one about all of them, in proportion.
        var filled = tank with { MassKg = contentKg, UMassKg = tank is { UMassKg: { } u, MassKg: > 0 and { } m } ? u * contentKg / m : tank.UMassKg };
        var was = MassChange.MassOf(tank);
        return tank.Action switch
        {
            PartAction.Fit => MassChange.Of(filled),

            // In the weighing already: only the difference is new.
            PartAction.Move => [.. MassChange.Of(tank).Take(1), .. MassChange.Of(filled).Skip(1)],
            _ => [MassChange.At(tank, MassChange.MassOf(filled) - was)],
        };
    }

    private static IEnumerable<double> Volumes(double fromL, double toL)
    {
        var rough = (toL - fromL) / MostSteps;
        var power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        var step = new[] { 1.0, 2, 5, 10 }.First(leading => leading * power >= rough * (1 - 1e-9)) * power;
        for (var i = 0; fromL + (i * step) < toL - (1e-9 * step); i++) yield return fromL + (i * step);
        yield return toL;
    }
}
