using System.CommandLine;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Records;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Commands.PlanningBuild;

/// <summary>What <c>plan</c>, <c>place</c> and <c>perch</c> start from: a vehicle and the loads it stands with.</summary>
internal sealed class PlanningInputs(CommandContext context)
{
    // Wheelbase and tracks may have been measured better since the weighing.
    private const double SameGeometryM = 0.1;
    private readonly Option<string> _unit = Opts.Unit();

    /// <summary>The vehicle file.</summary>
    public Option<string?> VehicleFile { get; } = Opts.Vehicle();

    /// <summary>The loads.</summary>
    public TypedLoadOptions Typed { get; } = new("--corners");

    /// <summary>A kept weighing instead of typed loads.</summary>
    public Option<string?> Record { get; } = RecordOptions.Record();

    /// <summary>JSON instead of text.</summary>
    public Option<bool> Json { get; } = Opts.Json();

    /// <summary>Adds the options to a command.</summary>
    public void AddTo(Command command)
    {
        command.Add(VehicleFile);
        command.Add(Typed.Loads);
        foreach (Option said in Typed.Said) command.Add(said);
        command.Add(Record);
        command.Add(_unit);
        command.Add(Json);
    }

    /// <summary>The vehicle typed or used last, with what answers say about it.</summary>
    public (Chosen Chosen, Vehicle Vehicle) ReadVehicle(ParseResult parsed)
    {
        var chosen = new Chosen(parsed, context);
        return (chosen, chosen.ReadVehicle(VehicleFile));
    }

    /// <summary>The same, which must stand on four corners.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="remedy">What to do with any other.</param>
    public (Chosen Chosen, Vehicle Vehicle) ReadCar(ParseResult parsed, string remedy)
    {
        (Chosen chosen, Vehicle vehicle) = ReadVehicle(parsed);
        return vehicle.HasFourCorners ? (chosen, vehicle) : throw new RefusalException(new InputError(
            ErrorCode.Contradiction, $"{vehicle.Name} does not stand on four corners", "a car or kart", remedy) { Field = "--vehicle" });
    }

    /// <summary>A wished share of the total, typed or from the vehicle file; null when nobody wishes.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="option">Says it.</param>
    /// <param name="lowest">Just above what nobody can mean.</param>
    /// <param name="highest">Just below it.</param>
    /// <param name="remedy">What to do about any other.</param>
    public static double? ReadTarget(ParseResult parsed, Option<string?> option, double lowest, double highest, string remedy)
    {
        if (parsed.GetValue(option) is not { } typed)
        {
            return null;
        }

        double share = Fourpatch.Files.Typed.Share(typed).OrRefuse(option.Name);
        return share > lowest && share < highest ? share : throw new RefusalException(new InputError(
            ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", FormattableString.Invariant($"a share between {lowest:0%} and {highest:0%}"), remedy) { Field = option.Name });
    }

    /// <summary>An option for a wished share.</summary>
    public static Option<string?> Target(string name, string what) => new(name) { Description = $"{what}; else the vehicle file's [target]", HelpName = "SHARE" };

    /// <summary>The unit of what is typed and shown.</summary>
    public MassUnit ReadUnit(ParseResult parsed) => Opts.ReadUnit(parsed, _unit);

    /// <summary>The weighing, every load of it known.</summary>
    public WeighingResult ReadWeighing(ParseResult parsed, Vehicle vehicle)
    {
        if (parsed.GetValue(Record) is not null)
        {
            return ReadRecord(parsed, vehicle);
        }

        if (parsed.GetValue(Typed.Loads) is null)
        {
            throw new RefusalException(new InputError(
                ErrorCode.Missing, "no weighing was given", "--corners CORNERS or --record ID", "type the loads as --corners FL=..,FR=..,RL=..,RR=.., or name a kept weighing") { Field = "--corners" });
        }

        WeighingResult weighing = Typed.Read(parsed, vehicle, ReadUnit(parsed));
        return weighing.Totals.TotalKg is { Value: > 0 }
            ? weighing.Without(ReasonCode.FarFromExpected)
            : throw new RefusalException(new InputError(ErrorCode.OutOfRange, "the loads sum to nothing", "a car that weighs something", "correct the loads") { Field = "--corners" });
    }

    // The loads are the record's, the vehicle is the file's: what has been learnt about its springs since then counts.
    private WeighingResult ReadRecord(ParseResult parsed, Vehicle vehicle)
    {
        if (Typed.Said.Prepend(Typed.Loads).FirstOrDefault(option => parsed.GetResult(option) is { Implicit: false }) is { } stray)
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, $"{stray.Name} does not go with --record", "", "leave one of the two out") { Field = stray.Name });
        }

        WeighingRecord record = RecordOptions.ReadRecord(parsed, Record, context)!;
        Dictionary<string, Measured?> loads = record.Result.Loads.ToDictionary(load => load.Name, load => load.LoadKg);
        if (!loads.Keys.SequenceEqual(WeighingResult.StationNames(vehicle)))
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, $"{record.Id} is of a vehicle on other wheels than {vehicle.Name}", "a weighing of this vehicle", "choose another record") { Field = "--record" });
        }

        if (record.Result.Vehicle.Name != vehicle.Name || !record.Result.Vehicle.StandsLike(vehicle, SameGeometryM))
        {
            throw new RefusalException(new InputError(ErrorCode.Contradiction, $"{record.Id} is of {record.Result.Vehicle.Name}, another car than {vehicle.Name}", "a weighing of this car", "choose another record, or another --vehicle") { Field = "--record" });
        }

        return loads.FirstOrDefault(load => load.Value is null).Key is { } missing
            ? throw new RefusalException(new InputError(ErrorCode.Missing, $"{record.Id} does not know the load of {missing}", "a load for every wheel", "weigh again, or choose another record") { Field = "--record" })
            : WeighingResult.Of(vehicle, loads, record.Result.Reasons).Without(ReasonCode.FarFromExpected);
    }

    /// <summary>The loads of a weighing without a gap.</summary>
    public static IReadOnlyList<Measured> LoadsOf(WeighingResult weighing) => [.. weighing.Loads.Select(load => load.LoadKg!)];

    /// <summary>The parts list, which must be given.</summary>
    public IReadOnlyList<Part> ReadParts(ParseResult parsed, Option<string?> option, Vehicle vehicle) => parsed.GetValue(option) is { } path
        ? PartsFile.Read(context.Files.Resolve(path), vehicle).OrRefuse()
        : throw new RefusalException(new InputError(
            ErrorCode.Missing, "no parts list was given", "--parts FILE.csv",
            "write a table with the columns item,action,mass_kg,behind_front_axle_mm,left_of_centre_mm") { Field = option.Name });

    /// <summary>The option for the parts list.</summary>
    public static Option<string?> Parts() => new("--parts") { Description = "what is still to be fitted, moved or taken off, one row a part", HelpName = "FILE.csv" };
}
