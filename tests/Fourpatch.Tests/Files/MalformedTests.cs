using CsCheck;
using Fourpatch.Files;

namespace Fourpatch.Tests.Files;

/// <summary>
/// Bad input of every format. Each case is a good example with one thing changed; each must give exactly one line that
/// names the place and the remedy.
/// </summary>
public class MalformedTests
{
    private static readonly Fourpatch.Vehicles.Vehicle Wren = VehicleFile.Parse(Examples.Vehicle, "wren.toml").Value;

    /// <summary>Reader, good text, what is replaced by what, and two pieces the line must contain: the place and the remedy.</summary>
    public static TheoryData<string, string, string, string, string> Changes()
    {
        var data = new TheoryData<string, string, string, string, string>();

        // Vehicle: grammar, unknown keys, wrong types, impossible and implausible numbers, missing keys, contradictions.
        data.Add("vehicle", "name = \"Wren\"", "name = \"Wren", "f:1:", "write KEY = VALUE");
        data.Add("vehicle", "name = \"Wren\"", "name = Wren", "f:1:", "write KEY = VALUE");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = 2410 mm", "f:3:", "write KEY = VALUE");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = 2,410", "f:3:", "decimal point");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm =", "f:3:", "write KEY = VALUE");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = 02410", "f:3:", "write KEY = VALUE");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = 2410\nwheelbase_mm = 2410", "f:4:", "leave one of the two out");
        data.Add("vehicle", "[perch]", "[marks]", "f:", "leave one of the two out");
        data.Add("vehicle", "[perch]", "[perch", "f:25:", "write KEY = VALUE");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = " + new string('[', 200), "f:3: nests lists or tables more than 64 deep", "write KEY = VALUE");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = 2410\n" + string.Join('.', Enumerable.Repeat("a", 5_000)) + " = 1", "f:4: found a key of 5000 parts with dots between them, expected at most 16;", "write KEY = VALUE");
        data.Add("vehicle", "[perch]", "[" + string.Join('.', Enumerable.Repeat("a", 5_000)) + "]\n[perch]", "f:25: found a key of 5000 parts with dots between them, expected at most 16;", "write KEY = VALUE");
        data.Add("vehicle", "wheelbase_mm", "wheelbase_m", "f:3: wheelbase_m:", "did you mean wheelbase_mm?");
        data.Add("vehicle", "wheelbase_mm", "weelbase_mm", "f:3: weelbase_mm:", "did you mean wheelbase_mm?");
        data.Add("vehicle", "track_front_mm = 1395", "track_font_mm = 1395", "f:4: track_font_mm:", "did you mean track_front_mm?");
        data.Add("vehicle", "[wheel_rate_n_per_mm]\n", "[wheel_rates_n_per_mm]\n", "wheel_rates_n_per_mm:", "did you mean wheel_rate_n_per_mm?");
        data.Add("vehicle", "front = 21.5", "frnt = 21.5", "wheel_rate_n_per_mm.frnt:", "did you mean front?");
        data.Add("vehicle", "class_minimum_kg", "clas_minimum_kg", "limits.clas_minimum_kg:", "did you mean class_minimum_kg?");
        data.Add("vehicle", "thread_pitch_mm", "thread_pich_mm", "perch.thread_pich_mm:", "did you mean thread_pitch_mm?");
        data.Add("vehicle", "left_share", "leftshare", "target.leftshare:", "did you mean left_share?");
        data.Add("vehicle", "RL = 128", "LR = 128", "expected_kg.LR:", "did you mean");
        data.Add("vehicle", "budget_kg = 455", "zzzzzzzzzzzzzzz = 455", "limits.zzzzzzzzzzzzzzz:", "use one of class_minimum_kg");
        data.Add("vehicle", "wheelbase_mm = 1.5", "wheelbase = 1.5", "uncertainty.wheelbase:", "did you mean wheelbase_mm?");
        data.Add("vehicle", "[uncertainty.wheel_rate_n_per_mm]", "[uncertainty.wheel_rate]", "uncertainty.wheel_rate:", "did you mean wheel_rate_n_per_mm?");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = \"2410\"", "f:3: wheelbase_mm: found \"2410\"", "without quotes");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = \"260cm\"", "f:3: wheelbase_mm: found \"260cm\"", "without quotes");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = true", "f:3: wheelbase_mm: found true", "write a plain number");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = [2410]", "f:3: wheelbase_mm: found a list", "write a plain number");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = 2026-11-24", "f:3: wheelbase_mm: found \"2026-11-24\"", "write a plain number");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = { left = 2410 }", "f:3: wheelbase_mm: found a table", "write a plain number");
        data.Add("vehicle", "name = \"Wren\"", "name = 7", "f:1: name: found 7", "double quotes");
        data.Add("vehicle", "name = \"Wren\"", "name = \"  \"", "f:1: name:", "one line of text");
        data.Add("vehicle", "name = \"Wren\"", "name = \"a\\nb\"", "f:1: name:", "instead of pasting it");
        data.Add("vehicle", "kind = \"car\"", "kind = \"cart\"", "f:2: kind: found \"cart\"", "did you mean car?");
        data.Add("vehicle", "[perch]", "[[perch]]", "f:25: perch: found a list of tables", "header in square brackets");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = -2410", "f:3: wheelbase_mm: found -2410", "correct the number");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = 0", "f:3: wheelbase_mm: found 0", "correct the number");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = nan", "f:3: wheelbase_mm:", "correct the number");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = inf", "f:3: wheelbase_mm:", "correct the number");
        data.Add("vehicle", "front = 21.5", "front = 0", "wheel_rate_n_per_mm.front: found 0", "correct the number");
        data.Add("vehicle", "front = 6", "front = -6", "anti_roll_n_per_mm.front: found -6", "correct the number");
        data.Add("vehicle", "thread_pitch_mm = 2", "thread_pitch_mm = 16", "perch.thread_pitch_mm: found 16", "correct the number");
        data.Add("vehicle", "travel_front = 0.72", "travel_front = 72", "perch.spring_travel_per_wheel_travel_front: found 72", "correct the number");
        data.Add("vehicle", "front = 21.5", "front = 1e-300", "wheel_rate_n_per_mm.front: found 1E-300, expected a rate in N/mm (inf: rigid), from 0.001 to 100000;", "correct the number");
        data.Add("vehicle", "chassis_torsion_nm_per_deg = 2900", "chassis_torsion_nm_per_deg = 1e-300", "chassis_torsion_nm_per_deg: found 1E-300, expected a stiffness in Nm per degree (inf: rigid), from 0.1 to 1000000;", "correct the number");
        data.Add("vehicle", "chassis_torsion_nm_per_deg = 400", "chassis_torsion_nm_per_deg = 1e100", "uncertainty.chassis_torsion_nm_per_deg: found 1E+100, expected a standard uncertainty in Nm per degree, from 0 to 1000000;", "correct the number");
        data.Add("vehicle", "chassis_torsion_nm_per_deg = 400", "chassis_torsion_nm_per_deg = 4000", "uncertainty.chassis_torsion_nm_per_deg: is larger than the value itself", "correct one of the two");
        data.Add("vehicle", "front_share = 0.44", "front_share = 44", "target.front_share: found 44, expected a share (52 % is 0.52), from 0 to 1;", "correct the number");
        data.Add("vehicle", "wheelbase_mm = 1.5", "wheelbase_mm = -1.5", "uncertainty.wheelbase_mm: found -1.5", "correct the number");
        data.Add("vehicle", "FL = 100", "FL = -100", "expected_kg.FL: found -100", "correct the number");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = 241", "f:3: wheelbase_mm: found 241 mm", "did you mean cm?");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = 102", "f:3: wheelbase_mm: found 102 mm", "did you mean in?");
        data.Add("vehicle", "wheelbase_mm = 2410", "wheelbase_mm = 24100", "f:3: wheelbase_mm: found 24100 mm", "did you mean one digit too many?");
        data.Add("vehicle", "track_front_mm = 1395", "track_front_mm = 139.5", "f:4: track_front_mm: found 139.5 mm", "did you mean cm?");
        data.Add("vehicle", "track_front_mm = 1395", "track_front_mm = 2500", "f:4: track_front_mm:", "check whether the two were exchanged");
        data.Add("vehicle", "wheel_radius_front_mm = 268", "wheel_radius_front_mm = 26.8", "wheel_radius_front_mm: found 26.8 mm", "did you mean cm?");
        data.Add("vehicle", "cg_height_mm = 330", "cg_height_mm = 33", "cg_height_mm: found 33 mm", "did you mean cm?");
        data.Add("vehicle", "wheelbase_mm = 2410\n", "", "wheelbase_mm: is missing", "add a line wheelbase_mm = ...");
        data.Add("vehicle", "track_rear_mm = 1370.5\n", "", "track_rear_mm: is missing", "add a line track_rear_mm = ...");
        data.Add("vehicle", "name = \"Wren\"\n", "", "name: is missing", "add a line name = ...");
        data.Add("vehicle", "RR = 126\n", "", "expected_kg.RR: is missing", "add RR = ... below [expected_kg]");
        data.Add("vehicle", "kind = \"car\"", "kind = \"motorcycle\"", "f:3: wheelbase_mm: does not go with [wheel.NAME]", "leave it out");
        data.Add("vehicle", "[perch]", "[wheel.spare]\nbehind_front_axle_mm = 0\nleft_of_centre_mm = 0\n[perch]", "f:25: wheel: a car has its four corners already", "say another kind");
        data.Add("motorcycle", "[wheel.rear]\nbehind_front_axle_mm = 1420\nleft_of_centre_mm = 0", "", "f:2: wheel: has 1 wheels", "add [wheel.NAME]");
        data.Add("motorcycle", "behind_front_axle_mm = 1420\n", "", "wheel.rear.behind_front_axle_mm: is missing", "below [wheel.rear]");
        data.Add("motorcycle", "[wheel.rear]", "[wheel.\"rear wheel\"]", "f:6: wheel: found the wheel \"rear wheel\"", "plainer name");

        // Layout.
        data.Add("layout", "cells = [\"B1:1\"]", "cells = [\"B1:5\"]", "f:2: station.FL.cells: found \"B1:5\"", "the cell's number");
        data.Add("layout", "cells = [\"B1:1\"]", "cells = [\"B1\"]", "f:2: station.FL.cells: found \"B1\"", "a colon and the cell's number");
        data.Add("layout", "cells = [\"B1:1\"]", "cells = \"B1:1\"", "f:2: station.FL.cells: found \"B1:1\"", "in square brackets");
        data.Add("layout", "cells = [\"B1:1\"]", "cells = [1]", "f:2: station.FL.cells: found a list", "in square brackets");
        data.Add("layout", "cells = [\"B1:1\"]", "cells = []", "f:2: station.FL.cells: found 0 cells", "name the cells");
        data.Add("layout", "cells = [\"B1:1\"]", "cells = [\"B 1:1\"]", "f:2: station.FL.cells: found \"B 1:1\"", "the board's id");
        data.Add("layout", "cells = [\"B1:2\"]", "cells = [\"B1:1\"]", "f:8: station.FR.cells: B1:1 already belongs to [station.FL]", "name another cell");
        data.Add("layout", "cells = [\"B1:2\"]\n", "", "f:7: station.FR.cells: is missing", "below [station.FR]");
        data.Add("layout", "[station.FR]", "[station.FX]", "f:7: station.FX: \"FX\" is no station", "did you mean FL?");
        data.Add("layout", "tare_kg = 1.2", "tare_kg = -1.2", "f:3: station.FL.tare_kg: found -1.2", "correct the number");
        data.Add("layout", "lever_factor = 2.95", "lever_factor = 0", "f:5: station.FL.lever_factor: found 0", "correct the number");
        data.Add("layout", "lever_factor = 2.95", "leverfactor = 2.95", "f:5: station.FL.leverfactor:", "did you mean lever_factor?");
        data.Add("layout", "tare_kg = 1.2", "dolly = \"one\"", "f:2: station.FL.cells: a station on a dolly has no cells of its own", "leave one of the two out");
        data.Add("dollies", "dolly = \"two\"", "dolly = \"tow\"", "f:4: station.FR.dolly: found \"tow\"", "did you mean two?");
        data.Add("dollies", "dolly = \"two\"", "dolly = \"one\"", "station: the dolly one stands under 2 wheels", "name another dolly");
        data.Add("dollies", "dolly = \"two\"", "cells = [\"B3:1\"]", "dolly: the dolly two stands under no wheel", "leave the dolly out");
        data.Add("dollies", "[station.FL]\ndolly = \"one\"\n[station.FR]\ndolly = \"two\"\n", "", "station: no station, and 2 dollies", "add [station.FL]");
        data.Add("dollies", "cells = [\"B2:1\", \"B2:2\", \"B2:3\", \"B2:4\"]", "cells = [\"B2:1\", \"B2:2\"]", "dolly.two.cells: found 2 cells", "name the cells");
        data.Add("dollies", ", [250, -200]]", "]", "f:9: dolly.one.cells_mm: found 3 entries", "one pair of numbers");
        data.Add("dollies", "[250, -200]]", "[250]]", "f:9: dolly.one.cells_mm: found 4 entries", "one pair of numbers");
        data.Add("dollies", "[250, -200]]", "[250, 200]]", "f:9: dolly.one.cells_mm: two cells sit at the same place", "measure each cell");
        data.Add("dollies", "cells_mm = [[-250, 200]", "cells_mm = [\"a\"", "f:9: dolly.one.cells_mm: found a list", "in square brackets");
        data.Add("dollies", "wheel_centre_rise_mm = 52", "wheel_centre_rise_mm = 5200", "dolly.one.wheel_centre_rise_mm: found 5200", "correct the number");

        // Scenario.
        data.Add("scenario", "build = \"pads\"", "build = \"pad\"", "f:2: build: found \"pad\"", "did you mean pads?");
        data.Add("scenario", "build = \"pads\"\n", "", "build: is missing", "add a line build");
        data.Add("scenario", "vehicle = \"wren.toml\"\n", "", "vehicle: is missing", "add a line vehicle");
        data.Add("scenario", "rate_hz = 80", "rate_hz = 800", "f:3: rate_hz: found 800", "correct the number");
        data.Add("scenario", "mass_kg = 452", "mass_lb = 452", "f:8: car.mass_lb:", "did you mean mass_kg?");
        data.Add("scenario", "[floor_mm]\nFL = 0\n", "[floor_mm]\n", "floor_mm.FL: is missing", "below [floor_mm]");
        data.Add("scenario", "[floor_mm]", "[truth_kg]\nFL = 1\nFR = 1\nRL = 1\nRR = 1\n[floor_mm]", "car: [car] and [truth_kg] are both given", "give one of the two");
        data.Add("scenario", "build = \"pads\"", "build = \"four-dollies\"", "board: found 1 boards", "add or leave out a [[board]]");
        data.Add("scenario", "[floor_mm]", "[lever]\nfactor = 3\n[floor_mm]", "lever: [lever] has no meaning for this build", "change build");
        data.Add("scenario", "[floor_mm]", "[dolly]\ntare_kg = 3\n[floor_mm]", "dolly: [dolly] has no meaning for this build", "change build");
        data.Add("scenario", "id = \"B1\"", "id = \"B:1\"", "board.id: found \"B:1\"", "plainer name");
        data.Add("scenario", "kg_per_count = -1.164e-4", "kg_per_count = 0", "board.cell.kg_per_count: found 0", "leave the key out");
        data.Add("scenario", "calibrated = false", "calibrated = \"no\"", "board.cell.calibrated: found \"no\"", "without quotes");
        data.Add("scenario", "creep_percent", "crep_percent", "board.cell.crep_percent:", "did you mean creep_percent?");
        data.Add("scenario", "\n[[board.cell]]\n\n[[board.cell]]\n\n[noise]", "\n[[board.cell]]\n\n[noise]", "board.cell: found 3 cells", "one for each cell");
        data.Add("scenario", "name = \"stuck\"", "name = \"stucked\"", "fault.name: found \"stucked\"", "did you mean stuck?");
        data.Add("scenario", "cell = 2", "cell = 5", "fault.cell: found 5", "correct the number");
        data.Add("scenario", "cell = 2", "cell = 2.5", "fault.cell: found 2.5", "whole number");
        data.Add("scenario", "board = \"B1\"", "board = \"B2\"", "fault.board: found \"B2\"", "did you mean B1?");
        data.Add("scenario", "name = \"silence\"", "name = \"silence\"\ncell = 2", "fault.cell: silence strikes the whole board", "leave the cell out");
        data.Add("scenario", "mains_hz = 60", "mains_hz = 400", "noise.mains_hz: found 400", "correct the number");

        // Parts.
        data.Add("parts", "item,action,", "item,axtion,", "f:1: axtion: the column \"axtion\" is not known", "did you mean action?");
        data.Add("parts", "item,action,mass_kg,", "item,action,mass,", "f:1: mass: the column \"mass\" is not known", "did you mean mass_kg?");
        data.Add("parts", "note\nengine", "stage\nengine", "f:1: stage: the column stage is there twice", "leave one of the two out");
        data.Add("parts", "engine,fit,78.5", "engine,fitt,78.5", "f:2: action: found \"fitt\"", "did you mean fit?");
        data.Add("parts", "engine,fit,78.5", "engine,,78.5", "f:2: action: is blank", "fill in the cell");
        data.Add("parts", "engine,fit,78.5", ",fit,78.5", "f:2: item: is blank", "fill in the cell");
        data.Add("parts", "engine,fit,78.5", "engine,fit,", "f:2: mass_kg: is blank", "fill in the cell");
        data.Add("parts", "engine,fit,78.5", "engine,fit,heavy", "f:2: mass_kg: found \"heavy\"", "the unit belongs in the header");
        data.Add("parts", "engine,fit,78.5", "engine,fit,78.5kg", "f:2: mass_kg: found \"78.5kg\"", "the unit belongs in the header");
        data.Add("parts", "engine,fit,78.5", "engine,fit,\"78,5\"", "f:2: mass_kg: found \"78,5\"", "decimal point");
        data.Add("parts", "engine,fit,78.5", "engine,fit,-78.5", "f:2: mass_kg: found \"-78.5\"", "correct the number");
        data.Add("parts", "78.5,1720", "78.5,17200", "f:2: behind_front_axle_mm: found \"17200\"", "correct the number");
        data.Add("parts", "5.2,-350", "5.2,-3500", "f:3: behind_front_axle_mm: found \"-3500\"", "correct the number");
        data.Add("parts", "1720,0,310", "1720,1720,310", "f:2: left_of_centre_mm: found \"1720\"", "correct the number");
        data.Add("parts", "1720,0,310", "1720,0,-310", "f:2: above_ground_mm: found \"-310\"", "correct the number");
        data.Add("parts", "radiator,fit", "engine,fit", "f:3: item: \"engine\" stands in line 2 already", "a name of its own");
        data.Add("parts", "body,firewall", "body,firewal", "f:3: from_mark: found \"firewal\"", "did you mean firewall?");
        data.Add("parts", "body,firewall", "boot,firewall", "f:3: carried_by: found \"boot\"", "did you mean body?");
        data.Add("parts", ",1200,-150,", ",,,", "f:5: to_behind_mm: is blank", "fill in where to");
        data.Add("parts", "battery,move", "battery,fit", "f:5: to_behind_mm: found \"1200\" with the action fit", "write move as the action");
        data.Add("parts", "600,1500,-200,200", "1500,600,-200,200", "f:6: min_behind_mm: found \"1500\" above max_behind_mm \"600\"", "exchange the two");
        data.Add("parts", "600,1500,-200,200", "600,,-200,200", "f:6: max_behind_mm: is blank", "clear the other end");
        data.Add("parts", "600,1500,-200,200", ",,,", "f:6: min_behind_mm: is blank", "fill in where to");
        data.Add("parts", "nose spot,ballast-spot,,", "nose spot,ballast-spot,4,", "f:7: mass_kg: found \"4\"", "max_mass_kg");
        data.Add("parts", ",12,,,,,", ",,,,,,", "f:7: max_mass_kg: is blank", "fill in where to");
        data.Add("parts", "25,0.745", "25,745", "f:8: density_kg_per_l: found \"745\"", "correct the number");
        data.Add("parts", "\"with oil, without exhaust\"", "with oil, without exhaust", "f:2: found \"without exhaust\" behind the last column", "double quotes");
        data.Add("parts", "\"with oil, without exhaust\"", "\"with oil, without exhaust", "f:2:", "close the quote");

        // Stored readings.
        data.Add("cell", "load_kg,counts", "load,counts", "f:1: load:", "did you mean load_kg?");
        data.Add("cell", "load_kg,counts,direction,u_load_kg", "load_kg,counts", "f:1: direction: the column direction is missing", "add it to the header line");
        data.Add("cell", "253100,up", "253100,upp", "f:3: direction: found \"upp\"", "did you mean up?");
        data.Add("cell", "253100,up", "25310000,up", "f:3: counts: found \"25310000\"", "correct the number");
        data.Add("cell", "20,253100", "-20,253100", "f:3: load_kg: found \"-20\"", "correct the number");
        data.Add("cell", "20,253100", "20,", "f:3: counts: is blank", "fill in the cell");
        data.Add("platform", ",,2\n", ",,5\n", "f:4: plate: found \"5\"", "correct the number");
        data.Add("platform", ",,2\n", ",,1.5\n", "f:4: plate: found \"1.5\"", "whole number");
        data.Add("platform", "front left,80", ",80", "f:3: spot: is blank", "fill in the cell");
        data.Add("platform", "500000,90000", ",90000", "f:3: counts_1: is blank", "fill in the cell");
        data.Add("rotate", "first,1,2,3,4", "first,1,2,3,3", "f:3: at_RR: cell 3 stands under RL already", "correct one of the two");
        data.Add("rotate", "first,1,2,3,4", "first,1,2,3,", "f:3: at_RR: is blank while other wheels have a cell", "fill it in");
        data.Add("rotate", "first,1,2,3,4", "first,1,2,3,7", "f:3: at_RR: found \"7\"", "correct the number");
        data.Add("rotate", "second,4", ",4", "f:4: placement: is blank", "fill in the cell");
        data.Add("one", "FL,80", "FF,80", "f:3: corner: found \"FF\"", "did you mean FL?");
        data.Add("one", "FL,80,124", "FL,80,", "f:3: reading_kg: is blank", "fill in the cell");
        data.Add("one", "FL,80,124", "FL,8000,124", "f:3: rise_mm: found \"8000\"", "correct the number");
        data.Add("lift", "0,254,", "10,254,", "rise_mm: no row has rise 0", "with the car level");
        data.Add("lift", "300,262.5,up", "300,NaN,up", "f:3: other_axle_kg: found \"NaN\"", "the unit belongs in the header");

        // Log: what makes the whole file unreadable.
        data.Add("log", "# schema: fourpatch.log/1", "# schema: fourpatch.log/2", "f:1: found \"fourpatch.log/2\"", "the program version that wrote it");
        data.Add("log", "# schema: fourpatch.log/1\n", "", "f:1: this is no log", "written by fourpatch log");
        data.Add("log", "host_time_utc,device_us,board", "host_time_utc,board", "f:6: found", "restore the header line");
        data.Add("log", "B1:1 zero_counts", "B1 zero_counts", "f:4: found", "restore the line");
        return data;
    }

    [Theory]
    [MemberData(nameof(Changes))]
    public void One_line_names_the_place_and_the_remedy(string format, string good, string bad, string place, string remedy)
    {
        var text = GoodText(format).ReplaceLineEndings("\n");
        Assert.Contains(good, text, StringComparison.Ordinal);
        var at = text.IndexOf(good, StringComparison.Ordinal);
        var error = ErrorOf(format, text[..at] + bad + text[(at + good.Length)..]);
        Assert.NotNull(error);
        Assert.Contains(place, error.OneLine, StringComparison.Ordinal);
        Assert.Contains(remedy, error.Remedy, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', error.OneLine);
        Assert.Equal("f", error.File);
    }

    // The unchanged examples are good: otherwise the cases above would prove nothing.
    [Theory]
    [MemberData(nameof(Formats))]
    public void The_unchanged_example_is_good(string format) => Assert.Null(ErrorOf(format, GoodText(format)));

    public static TheoryData<string> Formats() => [.. AllFormats];

    [Theory]
    [InlineData("92,4", "decimal point")]
    [InlineData("", "write it")]
    [InlineData("abc", "write it like")]
    [InlineData("92.4 quarters", "use one of")]
    [InlineData("92.4kgs", "did you mean kg?")]
    [InlineData("92.4+", "write it like")]
    [InlineData("92.4--3", "write it like")]
    [InlineData("92.4kg+3", "behind every number")]
    [InlineData("12st-4lb", "a space instead of the dash")]
    [InlineData("4lb 12st", "put + between")]
    [InlineData("3.0-92.4", "minus sign")]
    [InlineData("5/0", "write it like")]
    [InlineData("9 8", "put + between")]
    [InlineData("1e3", "did you mean")]
    public void A_mass_nobody_can_read_is_refused_with_a_way_on(string text, string remedy) => Refused(Typed.Mass(text).Error, remedy);

    [Theory]
    [InlineData("8ft-6in", "a space instead of the dash")]
    [InlineData("6-3/8in", "behind every number")]
    [InlineData("8ft 6", "behind every number")]
    [InlineData("26OO", "use one of")]
    [InlineData("2600 m m", "write it like")]
    [InlineData("9999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999999", "write it like")]
    public void A_length_nobody_can_read_is_refused_with_a_way_on(string text, string remedy) => Refused(Typed.Length(text).Error, remedy);

    [Theory]
    [InlineData("share", "52", "did you mean 52%?")]
    [InlineData("share", "1", "did you mean 1%?")]
    [InlineData("share", "152%", "from 0% to 100%")]
    [InlineData("share", "-5%", "from 0% to 100%")]
    [InlineData("share", "half", "write it like 52% or 0.52")]
    [InlineData("share", "0,52", "decimal point")]
    [InlineData("rate", "200", "add the unit")]
    [InlineData("rate", "200lb", "did you mean lb/in?")]
    [InlineData("rate", "0N/mm", "above 0")]
    [InlineData("pitch", "16", "did you mean 16tpi?")]
    [InlineData("pitch", "0", "above 0")]
    [InlineData("pitch", "xtpi", "write it like")]
    [InlineData("volume", "12gal", "did you mean usgal?")]
    [InlineData("volume", "-1l", "minus sign")]
    [InlineData("percent", "a", "write it like")]
    [InlineData("percent", "-1", "minus sign")]
    [InlineData("unit", "stone", "choose one of the three")]
    [InlineData("fault", "stucked", "did you mean stuck?")]
    [InlineData("fault", "stuck:5", "a cell from 1 to 4")]
    [InlineData("fault", "stuck@soon", "stuck:2@30")]
    [InlineData("fault", "silence:2", "leave the cell out")]
    [InlineData("fault", "", "use one of")]
    [InlineData("corners", "", "write NAME=VALUE")]
    [InlineData("corners", "FL=1,FR=2,RL=3", "add RR=...")]
    [InlineData("corners", "FL=1,FL=2,RL=3,RR=4", "leave one of them out")]
    [InlineData("corners", "FL=1,FR=2,LR=3,RR=4", "did you mean")]
    [InlineData("corners", "FL=92,4,FR=2,RL=3,RR=4", "decimal point")]
    [InlineData("corners", "FL=1 FR=2 RL=3 RR=4", "put a comma")]
    [InlineData("corners", "FL=,FR=2,RL=3,RR=4", "write it, for example")]
    [InlineData("corners", "FL=-5,FR=2,RL=3,RR=4", "minus sign")]
    [InlineData("corners", "1,2,3,4", "write NAME=VALUE")]
    public void Anything_else_nobody_can_read_is_refused_with_a_way_on(string what, string text, string remedy) => Refused(
        what switch
        {
            "share" => Typed.Share(text).Error,
            "rate" => Typed.SpringRateNPerM(text).Error,
            "pitch" => Typed.ThreadPitchM(text).Error,
            "volume" => Typed.VolumeL(text).Error,
            "percent" => Typed.PercentAsFraction(text).Error,
            "unit" => MassUnits.Parse(text).Error,
            "fault" => FaultOption.Parse(text).Error,
            _ => CornerList.Masses(text).Error,
        },
        remedy);

    [Fact]
    public void No_file_whatever_makes_a_reader_throw()
    {
        var junk = "=[]{}\"'#,;\n\r\t.-_0189eEaz\0\u00e9\ud83d\\".ToCharArray();
        var change = Gen.Select(Gen.Int[0, AllFormats.Length - 1], Gen.Int[0, 4000], Gen.Int[0, 12], Gen.Int[0, junk.Length - 1].Array[0, 4]);
        change.Sample((format, at, removed, inserted) =>
        {
            var text = GoodText(AllFormats[format]);
            var from = at % text.Length;
            var changed = string.Concat(text.AsSpan(0, from), new string([.. inserted.Select(index => junk[index])]), text.AsSpan(Math.Min(text.Length, from + removed)));
            var line = ErrorOf(AllFormats[format], changed)?.OneLine ?? "";
            Assert.DoesNotContain('\n', line);
        });
    }

    private static readonly string[] AllFormats = ["vehicle", "motorcycle", "layout", "dollies", "scenario", "parts", "cell", "platform", "rotate", "one", "lift", "log"];

    private static void Refused(InputError? error, string remedy)
    {
        Assert.NotNull(error);
        Assert.Contains(remedy, error.Remedy, StringComparison.Ordinal);
        Assert.NotEmpty(error.Problem);
        Assert.NotEmpty(error.Expected);
        Assert.DoesNotContain('\n', error.OneLine);
    }

    private static string GoodText(string format) => format switch
    {
        "vehicle" => Examples.Vehicle,
        "motorcycle" => Examples.Motorcycle,
        "layout" => Examples.Pads,
        "dollies" => Examples.FourDollies,
        "scenario" => Examples.Scenario,
        "parts" => Examples.Parts,
        "cell" => Examples.CellReadings,
        "platform" => Examples.PlatformReadings,
        "rotate" => Examples.RotationReadings,
        "one" => Examples.OneByOneReadings,
        "lift" => Examples.LiftReadings,
        _ => Examples.Log,
    };

    private static InputError? ErrorOf(string format, string text) => format switch
    {
        "vehicle" or "motorcycle" => VehicleFile.Parse(text, "f").Error,
        "layout" or "dollies" => LayoutFile.Parse(text, "f").Error,
        "scenario" => ScenarioFile.Parse(text, "f").Error,
        "parts" => PartsFile.Parse(text, "f", Wren).Error,
        "cell" => ReadingsFile.ParseCell(text, "f").Error,
        "platform" => ReadingsFile.ParsePlatform(text, "f").Error,
        "rotate" => ReadingsFile.ParseRotation(text, "f").Error,
        "one" => ReadingsFile.ParseOneByOne(text, "f").Error,
        "lift" => ReadingsFile.ParseLift(text, "f").Error,
        _ => WholeLog(text),
    };

    private static InputError? WholeLog(string text)
    {
        if (!LogReader.Begin("f", new StringReader(text)).TryGet(out var reader, out var error))
            return error;
        using (reader)
        {
            while (reader.Next() is not null)
            {
            }
        }

        return null;
    }
}
