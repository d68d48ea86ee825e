using System.CommandLine;
using Fourpatch.Records;
using Fourpatch.Reports;
using Fourpatch.Vehicles;

namespace Fourpatch.Commands;

/// <summary><c>--stiffness-from RECORD</c>: what an earlier weighing told of how stiff the car is in twist, for every command that can use it.</summary>
internal sealed class StiffnessOption
{
    /// <summary>The option itself.</summary>
    public Option<string?> Option { get; } = new("--stiffness-from")
    {
        Description = $"how stiff the car is in twist, as a kept weighing told it: one with --shim or with raised wheels, or {KeptTwist.Newest} for the newest with --shim", HelpName = "RECORD",
    };

    /// <summary>The vehicle with what the record tells; the vehicle itself when none was named.</summary>
    /// <exception cref="Fourpatch.Commands.RefusalException">There is no such record, it does not tell, or it is another car's.</exception>
    public Vehicle Read(ParseResult parsed, Vehicle vehicle, CommandContext context)
    {
        if (parsed.GetValue(Option) is not { } typed)
        {
            return vehicle;
        }

        using RecordStore store = RecordOptions.OpenExisting(context);
        return KeptTwist.Learnt(store, typed.Trim(), vehicle).OrRefuse(Option.Name);
    }
}
