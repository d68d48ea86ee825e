using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Tests.Commands;
using Fourpatch.Tests.Records;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Files;

/// <summary>One row of a parts list changed: the others stay letter by letter, whatever the file looks like.</summary>
public class PartsFileEditTests
{
    private const string Five = "item,action,mass_kg,behind_front_axle_mm,left_of_centre_mm";

    private static readonly Vehicle Car = VehicleFile.Parse(Cars.Plain + "\n[marks]\nfirewall = 410\n", "car.toml").Value;

    [Theory]
    [InlineData(Five + "\nbox,fit,40,500,0\nseat, fit ,12.50,1300,\"-330\"\n", Five + ",u_mass_kg,note\nbox,fit,38.4,500,0,0.04,weighed\nseat, fit ,12.50,1300,\"-330\"\n")]
    [InlineData("# mine\n\n" + Five + ",,\nseat,fit,12.5,1300,0\n# box\nbox,fit,40,500,0,,\n", "# mine\n\n" + Five + ",u_mass_kg,note\nseat,fit,12.5,1300,0\n# box\nbox,fit,38.4,500,0,0.04,weighed\n")]
    [InlineData(Five + "\r\nBox,fit,40,500,0\r\n", Five + ",u_mass_kg,note\r\nBox,fit,38.4,500,0,0.04,weighed\r\n")]
    [InlineData(Five + "\nbox,fit,40,500,0", Five + ",u_mass_kg,note\nbox,fit,38.4,500,0,0.04,weighed")]
    [InlineData("note,u_mass_kg," + Five + "\n\"a, b\",,box,fit,40,500,0\n", "note,u_mass_kg," + Five + "\nweighed,0.04,box,fit,38.4,500,0\n")]
    [InlineData("item\taction\tmass_kg\tbehind_front_axle_mm\tleft_of_centre_mm\nbox\tfit\t40\t500\t0\n", "item\taction\tmass_kg\tbehind_front_axle_mm\tleft_of_centre_mm\tu_mass_kg\tnote\nbox\tfit\t38.4\t500\t0\t0.04\tweighed\n")]
    [InlineData("item;action;mass_kg;behind_front_axle_mm;left_of_centre_mm;u_mass_kg;note\nbox;fit;40,5;500;0;;\nseat;fit;12,5;1300;0;;\n", "item;action;mass_kg;behind_front_axle_mm;left_of_centre_mm;u_mass_kg;note\nbox;fit;38,4;500;0;0,04;weighed\nseat;fit;12,5;1300;0;;\n")]
    [InlineData("item;action;mass_kg;behind_front_axle_mm;left_of_centre_mm;u_mass_kg;note\nbox;fit;40.5;500;0;;\n", "item;action;mass_kg;behind_front_axle_mm;left_of_centre_mm;u_mass_kg;note\nbox;fit;38.4;500;0;0.04;weighed\n")]
    [InlineData("item,action,mass_lb,behind_front_axle_mm,left_of_centre_mm,u_mass_lb,note\nbox,fit,90,500,0,,\n", "item,action,mass_lb,behind_front_axle_mm,left_of_centre_mm,u_mass_lb,note\nbox,fit,84.6575,500,0,0.0882,weighed\n")]
    public void Mass_uncertainty_and_note_are_written_in_the_manner_of_the_file(string before, string after) => Assert.Equal(
        after, PartsFileEdit.Replace(before, "parts.csv", Car, "box", part => part with { MassKg = 38.4, UMassKg = 0.04, Note = "weighed" }).OrFail());

    [Fact]
    public void A_place_is_written_from_the_mark_the_row_counts_from()
    {
        const string Before = Five + ",from_mark\nbox,fit,40,90,0,firewall\n";
        string after = PartsFileEdit.Replace(Before, "parts.csv", Car, "box", part => part with { BehindFrontAxleM = 0.7095, Action = PartAction.Fixed }).OrFail();
        Assert.Equal(Five + ",from_mark\nbox,fixed,40,299.5,0,firewall\n", after);
    }

    [Fact]
    public void A_note_with_commas_quotes_and_line_ends_stays_one_cell()
    {
        string after = PartsFileEdit.Replace(Five + "\nbox,fit,40,90,0\n", "parts.csv", Car, "box", part => part with { Note = "with \"oil\", and\nwater" }).OrFail();
        Assert.Equal("with \"oil\", and water", PartsFile.Parse(after, "parts.csv", Car).OrFail()[0].Note);
    }

    [Fact]
    public void What_would_not_be_read_back_is_refused()
    {
        InputError error = PartsFileEdit.Replace(Five + "\nbox,fit,40,90,0\n", "parts.csv", Car, "box", part => part with { MassKg = 99_000 }).Error!;
        Assert.Equal(("parts.csv", "mass_kg"), (error.File, error.Field));
    }

    [Fact]
    public void Of_random_lists_every_other_row_stays_letter_by_letter()
    {
        for (int seed = 1; seed <= 200; seed++)
        {
            var random = new Random(seed);
            string[] blanks = ["", " ", "  "];
            string Blank() => blanks[random.Next(3)];
            string[] rows = [.. Enumerable.Range(0, 1 + random.Next(8)).Select(i =>
                $"{Blank()}part {i}{Blank()},fit,{random.Next(1, 90)}.{random.Next(10)}0{Blank()},{Blank()}{random.Next(2000)},{random.Next(-400, 400)}{(random.Next(2) == 0 ? "" : ",")}{(random.Next(5) == 0 ? "\n# remark, with \" quote" : "")}")];
            string text = Five + "\n" + string.Join('\n', rows) + "\n";
            int chosen = random.Next(rows.Length);
            string after = PartsFileEdit.Replace(text, "parts.csv", Car, $"PART {chosen}", part => part with { MassKg = 1.5, UMassKg = 0.1 }).OrFail();
            string[] then = text.Split('\n'), now = after.Split('\n');
            Assert.Equal(then.Length, now.Length);
            int row = Array.FindIndex(then, line => line.TrimStart().StartsWith($"part {chosen}", StringComparison.Ordinal));
            Assert.All(Enumerable.Range(1, then.Length - 1).Where(line => line != row), line => Assert.True(then[line] == now[line], $"seed {seed}: {now[line]}"));
            Assert.Equal(1.5, PartsFile.Parse(after, "parts.csv", Car).OrFail()[chosen].MassKg);
        }
    }
}
