using Fourpatch.Files;
using Fourpatch.Tests.Files;
using Fourpatch.Tests.VirtualRig;

namespace Fourpatch.Tests.Commands.Interviews;

/// <summary>
/// The interviews as a process of their own on a pseudo-terminal of the system, made by <c>script</c> (util-linux): the keys pass the
/// terminal driver, Ctrl-C is a signal, Ctrl-D the end of input.
/// </summary>
[Collection(KeepsTime.Name)]
public class TerminalTests
{
    [PseudoTerminalFact]
    public async Task A_car_is_described_at_a_terminal_with_slips_and_second_thoughts()
    {
        using var folder = new ScratchFolder();
        using var person = new Person(folder, "vehicle new --data data");
        await person.AnswerAsync("1. What is the vehicle called?", "Wren");
        await person.AnswerAsync("2. What is it?", "?");
        await person.SeesAsync("Car and kart stand on four corners.");
        await person.AnswerAsync("2. What is it?", "");
        await person.AnswerAsync("3. Where do you hold", "mark");
        await person.AnswerAsync("4. Wheelbase on the left side", "241");
        await person.SeesAsync("did you mean cm?");
        await person.AnswerAsync("4. Wheelbase", "cm");
        await person.SeesAsync("= 2310 mm");
        await person.AnswerAsync("5. Wheelbase on the right side", "back");
        await person.AnswerAsync("4. Wheelbase on the left side, hub to hub [2310 mm]", "2411");
        await person.AnswerAsync("5. Wheelbase", "2403");
        await person.AnswerAsync("Is it right as it stands?", "no");
        await person.AnswerAsync("5. Wheelbase", "2413");
        await person.AnswerAsync("6. Track in front", "56in");
        await person.AnswerAsync("7. Track behind", "4ft 7in");
        await person.AnswerAsync("8. That is enough to weigh", "");
        await person.AnswerAsync("9. Which file", "");
        await person.AnswerAsync("All right?", "6");
        await person.AnswerAsync("6. Track in front", "1421");
        await person.AnswerAsync("All right?", "");
        await person.SeesAsync("Written to wren.toml, and read back the same.");
        Assert.Equal(0, await person.ExitCodeAsync());

        // (2311 + 2313) / 2; 1421 - 100; 55 x 25.4 - 100.
        var wren = VehicleFile.Read(Path.Combine(folder.Path, "wren.toml")).Value;
        Assert.Equal([2.312, 1.321, 1.297], [wren.WheelbaseM, wren.TrackFrontM, wren.TrackRearM], new Near(1e-9));
    }

    [PseudoTerminalTheory]
    [InlineData("\u0003")]
    [InlineData("\u0004")]
    public async Task Ctrl_C_and_Ctrl_D_leave_and_the_next_time_goes_on(string key)
    {
        using var folder = new ScratchFolder();
        using (var person = new Person(folder, "rig new --data data"))
        {
            await person.AnswerAsync("1. How is the rig built?", "lever");
            await person.AnswerAsync("2. Which cell stands under FL?", "B1:3");
            await person.SeesAsync("3. Which cell stands under FR?");
            person.Press(key);
            await person.SeesAsync("What you typed is kept");
            Assert.Equal(1, await person.ExitCodeAsync());
        }

        Assert.Empty(Directory.EnumerateFiles(folder.Path));
        using var again = new Person(folder, "rig new --data data");
        await again.AnswerAsync("Go on from there?", "");
        await again.AnswerAsync("3. Which cell stands under FR?", "quit");
        await again.SeesAsync("nothing was written");
        Assert.Equal(1, await again.ExitCodeAsync());
    }

    [PseudoTerminalFact]
    public async Task Parts_are_described_at_a_terminal()
    {
        using var folder = new ScratchFolder();
        folder.File("wren.toml", "name = \"Wren\"\nwheelbase_mm = 2311\ntrack_front_mm = 1321\ntrack_rear_mm = 1295\n");
        using var person = new Person(folder, "parts new --vehicle wren.toml --data data --unit lb");
        await person.AnswerAsync("1. Which parts list?", "");
        await person.AnswerAsync("What is the part called?", "Battery");
        await person.AnswerAsync("What is done with it?", "fitt");
        await person.SeesAsync("did you mean fit?");
        await person.AnswerAsync("What is done with it?", "yes");
        await person.AnswerAsync("Mass", "15");
        await person.AnswerAsync("How far behind the front axle line", "350");
        await person.AnswerAsync("How far left", "12000");
        await person.SeesAsync("on this vehicle");
        await person.AnswerAsync("How far left", "120 right");
        await person.AnswerAsync("How high", "");
        await person.AnswerAsync("What carries it?", "");
        await person.AnswerAsync("How sure is the mass?", "");
        await person.AnswerAsync("A note", "");
        await person.AnswerAsync("Next part, or nothing to finish", "");
        await person.AnswerAsync("Which file shall the list", "");
        await person.AnswerAsync("All right?", "");
        Assert.Equal(0, await person.ExitCodeAsync());
        Assert.Contains("Battery,fit,6.80388555,350,-120,", File.ReadAllText(Path.Combine(folder.Path, "parts.csv")), StringComparison.Ordinal);
    }
}
