using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Vehicles;

namespace Fourpatch.Commands.PlanningBuild;

/// <summary>A driver from a preset: mass, posture, and where the hip joint is.</summary>
internal sealed class DriverOptions
{
    // A person on a bathroom scale, with suit and helmet (common practice, no source).
    private const double UMassKg = 1;

    private readonly Option<string?> _driver = new("--driver") { Description = "put a driver in: mass with suit and helmet", HelpName = "KG" };
    private readonly Option<string?> _posture = new("--posture") { Description = $"how the driver sits: {Words.List<SeatPosture>()}; upright unless said otherwise", HelpName = "HOW", CompletionSources = { _ => Words.All<SeatPosture>() } };
    private readonly Option<string?> _behind = new("--hip-behind") { Description = "hip joint behind the front axle", HelpName = "MM" };
    private readonly Option<string?> _left = new("--hip-left") { Description = "hip joint left of the centre line; 0 unless said otherwise", HelpName = "MM" };
    private readonly Option<string?> _above = new("--hip-above") { Description = "hip joint above ground", HelpName = "MM" };

    public void AddTo(Command command)
    {
        foreach (Option option in new Option[] { _driver, _posture, _behind, _left, _above }) command.Add(option);
    }

    /// <summary>The driver as parts; none when no driver was asked for.</summary>
    public IReadOnlyList<Part> Read(ParseResult parsed, MassUnit unit, Vehicle vehicle)
    {
        if (parsed.GetValue(_driver) is not { } typed)
        {
            return new[] { _posture, _behind, _left, _above }.FirstOrDefault(option => parsed.GetValue(option) is not null) is { } stray
                ? throw Refuse(ErrorCode.Contradiction, stray.Name, $"{stray.Name} goes with --driver", "", "add --driver KG, or leave it out")
                : [];
        }

        double massKg = Typed.Mass(typed, unit).OrRefuse(_driver.Name).MassKg;
        if (massKg is not (>= 20 and <= 250))
        {
            throw Refuse(ErrorCode.OutOfRange, _driver.Name, $"found {InputError.Quote(typed)}", "a driver of 20 to 250 kg", "correct it");
        }

        SeatPosture posture = SeatPosture.Upright;
        if (parsed.GetValue(_posture) is { } how && !Words.TryParse(how, out posture))
        {
            throw Refuse(ErrorCode.UnknownName, _posture.Name, $"found {InputError.Quote(how)}", Words.List<SeatPosture>(), "choose one of the two");
        }

        var bounds = new PartBounds(vehicle);
        double behindM = Length(parsed, _behind, bounds.BehindOf(0)) ?? throw Refuse(
            ErrorCode.Missing, _behind.Name, "is missing beside --driver", "the hip joint's distance behind the front axle in mm", "measure to the crease of seat and backrest, less 130 mm");
        return SeatedDriver.Of(massKg, UMassKg, posture, behindM, Length(parsed, _left, bounds.Left) ?? 0, Length(parsed, _above, PartBounds.Height));
    }

    private static double? Length(ParseResult parsed, Option<string?> option, NumberRule place)
    {
        if (parsed.GetValue(option) is not { } typed)
        {
            return null;
        }

        double lengthM = Typed.Length(typed).OrRefuse(option.Name).LengthM;
        return place.Allows(lengthM * 1000) ? lengthM : throw Refuse(ErrorCode.OutOfRange, option.Name, $"found {InputError.Quote(typed)}", place.Expected, "correct it; bare numbers are mm");
    }

    private static RefusalException Refuse(ErrorCode code, string field, string problem, string expected, string remedy) =>
        new(new InputError(code, problem, expected, remedy) { Field = field });
}
