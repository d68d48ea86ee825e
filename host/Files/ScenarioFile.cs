using System.Globalization;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Files;

/// <summary>
/// Reads a scenario file (TOML) for the virtual rig. Defaults are those of <see cref="Scenario"/>; lengths are in mm,
/// frame stiffness in N/mm. <c>[lever]</c> has <c>factor</c> and, where one station differs, <c>FL</c> to <c>RR</c>.
/// </summary>
public static class ScenarioFile
{
    private static readonly NumberRule Any = new("a number");
    private static readonly NumberRule AtLeast0 = new("a number", 0);
    private static readonly NumberRule Percent = new("a percentage", -50, 50);
    private static readonly NumberRule Seconds = new("a time in seconds", 0);
    private static readonly NumberRule Load = new("a load in kg", 0, 5_000);
    private static readonly NumberRule Mass = new("a mass in kg", 0, 20_000, LowestExcluded: true);
    private static readonly NumberRule Place = new("a distance in mm", -10_000, 10_000);
    private static readonly NumberRule Height = new("a height in mm", -500, 500);
    private static readonly NumberRule Counts = new("counts within 24 bits", -8_388_608, 8_388_607);
    private static readonly NumberRule LeverFactor = new("station load per cell load", 0, 20, LowestExcluded: true);

    public static Result<Scenario> Read(string path) => TextFile.Read(path).Then(text => Parse(text, path));

    public static Result<Scenario> Parse(string text, string file) => TomlDocument.Parse(text, file).Then<Scenario>(root =>
    {
        var build = root.Word<RigBuild>("build") ?? RigBuild.Pads;
        if (!root.Has("build"))
            root.Report("build", root.Line, ErrorCode.Missing, "is missing", Words.List<RigBuild>(), "add a line build = \"pads\"");
        var boards = Boards(root, build);
        var scenario = new Scenario
        {
            VehiclePath = root.RequiredText("vehicle", "the path of a vehicle file in double quotes"),
            Build = build,
            RateHz = root.Number("rate_hz", new NumberRule("conversions per second", 5, 100)) ?? 10,
            DurationS = root.Number("duration_s", new NumberRule("a time in seconds", 0, LowestExcluded: true)),
            StartsEmpty = root.Flag("starts_empty") ?? false,
            TemperatureRiseK = root.Number("temperature_rise_k", new NumberRule("a temperature difference in kelvin", -60, 60)) ?? 0,
            Car = Car(root),
            TruthKg = root.CornerNumbers("truth_kg", Load),
            FloorM = root.CornerNumbers("floor_mm", Height)?.Select(FileNumbers.MFromMm) ?? Corners.Same(0.0),
            LeverFactor = Levers(root, build),
            Dolly = Dolly(root, build),
            Boards = boards,
            Noise = Noise(root),
            Faults = [.. root.SectionList("fault").Select(section => Fault(section, boards))],
        };
        root.End();
        if ((scenario.Car is null) == (scenario.TruthKg is null) || (scenario.Car is null && build is RigBuild.OneDolly or RigBuild.FourDollies))
            root.Report("car", root.LineOf(root.Has("truth_kg") ? "truth_kg" : "car"), ErrorCode.Contradiction, scenario.Car is null ? "[car] is missing" : "[car] and [truth_kg] are both given", "[car], or for pads and levers [truth_kg]", "give one of the two; dollies need [car]");
        return root.Problems.First is { } error ? error : scenario;
    });

    private static ScenarioCar? Car(TomlSection root)
    {
        if (root.Section("car") is not { } section)
            return null;
        var car = new ScenarioCar
        {
            MassKg = section.RequiredNumber("mass_kg", Mass),
            CgBehindFrontAxleM = FileNumbers.MFromMm(section.RequiredNumber("cg_behind_front_axle_mm", Place)),
            CgLeftOfCentreM = FileNumbers.MFromMm(section.Number("cg_left_of_centre_mm", Place) ?? 0),
            CgHeightM = FileNumbers.MFromMm(section.Number("cg_height_mm", new NumberRule("a height in mm", 0, 3_000)) ?? 450),
        };
        section.End();
        return car;
    }

    private static Corners<double> Levers(TomlSection root, RigBuild build)
    {
        if (root.Section("lever") is not { } section)
            return Corners.Same(build == RigBuild.Lever ? 3.0 : 1.0);
        var all = section.Number("factor", LeverFactor) ?? 3;
        var factors = Corners.Each(corner => section.Number(corner.ToString(), LeverFactor) ?? all);
        section.End();
        OnlyFor(root, "lever", build == RigBuild.Lever, "build = \"lever\"");
        return factors;
    }

    private static ScenarioDolly Dolly(TomlSection root, RigBuild build)
    {
        var standard = new ScenarioDolly();
        if (root.Section("dolly") is not { } section)
            return standard;
        var castors = section.Items<double>("castor_heights_mm", "four heights in mm");
        if (castors is not null && (castors.Count != 4 || !castors.All(Height.Allows)))
            section.Report("castor_heights_mm", section.LineOf("castor_heights_mm"), ErrorCode.OutOfRange, string.Create(CultureInfo.InvariantCulture, $"found {castors.Count} numbers"), "four heights in mm, from -500 to 500", "write one for each castor, 0 for a good one");
        var dolly = new ScenarioDolly
        {
            CellsAt = LayoutFile.Points(section, "cells_mm", 4) ?? standard.CellsAt,
            CastorHeightsM = castors?.Select(FileNumbers.MFromMm).ToList() ?? standard.CastorHeightsM,
            FrameStiffnessNPerM = section.Number("frame_stiffness_n_per_mm", new NumberRule("a stiffness in N/mm", 0, LowestExcluded: true)) is double nPerMm ? FileNumbers.NPerMFromNPerMm(nPerMm) : standard.FrameStiffnessNPerM,
            TareKg = section.Number("tare_kg", Load) ?? standard.TareKg,
            WheelCentreRiseM = section.Number("wheel_centre_rise_mm", new NumberRule("a height in mm", 0, 500)) is double mm ? FileNumbers.MFromMm(mm) : standard.WheelCentreRiseM,
        };
        section.End();
        OnlyFor(root, "dolly", build is RigBuild.OneDolly or RigBuild.FourDollies, "build = \"one-dolly\" or \"four-dollies\"");
        return dolly;
    }

    private static void OnlyFor(TomlSection root, string table, bool fits, string build)
    {
        if (!fits)
            root.Report(table, root.LineOf(table), ErrorCode.Contradiction, $"[{table}] has no meaning for this build", build, "leave the table out, or change build");
    }

    private static List<ScenarioBoard> Boards(TomlSection root, RigBuild build)
    {
        var wanted = build == RigBuild.FourDollies ? 4 : 1;
        var sections = root.SectionList("board");
        if (!root.Has("board"))
            return [.. Enumerable.Range(1, wanted).Select(number => new ScenarioBoard { Id = string.Create(CultureInfo.InvariantCulture, $"B{number}"), Cells = DefaultCells() })];

        var boards = new List<ScenarioBoard>();
        foreach (var section in sections)
        {
            var id = section.RequiredText("id", Names.Expected);
            if (section.Has("id") && !Names.IsName(id))
                section.Report("id", section.LineOf("id"), ErrorCode.Syntax, $"found {InputError.Quote(id)}", Names.Expected, "choose a shorter or plainer name");
            if (boards.Any(board => board.Id == id))
                section.Report("id", section.LineOf("id"), ErrorCode.Duplicate, $"found {InputError.Quote(id)} again", "every board once", "give this board another id");
            var cells = section.SectionList("cell").Select(Cell).ToList();
            if (section.Has("cell") && cells.Count != 4)
                section.Report("cell", section.LineOf("cell"), ErrorCode.OutOfRange, string.Create(CultureInfo.InvariantCulture, $"found {cells.Count} cells"), "four [[board.cell]], or none for four default cells", "write one for each cell of the board");
            boards.Add(new ScenarioBoard { Id = id, Cells = cells.Count > 0 ? cells : DefaultCells(), RateErrorPercent = section.Number("rate_error_percent", Percent) ?? 0 });
            section.End();
        }

        if (boards.Count != wanted)
            root.Report("board", root.LineOf("board"), ErrorCode.Contradiction, string.Create(CultureInfo.InvariantCulture, $"found {boards.Count} boards"), string.Create(CultureInfo.InvariantCulture, $"{wanted} for build {Words.Of(build)}"), "add or leave out a [[board]]");
        return boards;
    }

    private static ScenarioCell[] DefaultCells() => [new(), new(), new(), new()];

    private static ScenarioCell Cell(TomlSection section)
    {
        var standard = new ScenarioCell();
        var cell = new ScenarioCell
        {
            CapacityKg = section.Number("capacity_kg", new NumberRule("a capacity in kg", 0, 50_000, LowestExcluded: true)) ?? standard.CapacityKg,
            MvPerV = section.Number("mv_per_v", new NumberRule("a rated output in mV/V", 0, 10, LowestExcluded: true)) ?? standard.MvPerV,
            ZeroCounts = section.Number("zero_counts", Counts) ?? 0,
            KgPerCount = section.Number("kg_per_count", new NumberRule("a span in kg per count, negative for a cell mounted upside down", -1, 1)),
            Calibrated = section.Flag("calibrated") ?? true,
            ZeroErrorCounts = section.Number("zero_error_counts", Counts) ?? 0,
            SpanErrorPercent = section.Number("span_error_percent", Percent) ?? 0,
            NonlinearityPercent = section.Number("nonlinearity_percent", Percent) ?? 0,
            HysteresisPercent = section.Number("hysteresis_percent", Percent) ?? 0,
            CreepPercent = section.Number("creep_percent", Percent) ?? 0,
            TempZeroPercentPerK = section.Number("temp_zero_percent_per_k", Percent) ?? 0,
            TempSpanPercentPerK = section.Number("temp_span_percent_per_k", Percent) ?? 0,
        };
        if (cell.KgPerCount == 0)
            section.Report("kg_per_count", section.LineOf("kg_per_count"), ErrorCode.OutOfRange, "found 0", "a span other than 0", "leave the key out for what the rated output gives");
        section.End();
        return cell;
    }

    private static ScenarioNoise Noise(TomlSection root)
    {
        var standard = new ScenarioNoise();
        if (root.Section("noise") is not { } section)
            return standard;
        var noise = new ScenarioNoise
        {
            WhiteCountsRms = section.Number("white_counts_rms", AtLeast0),
            SwayKg = section.Number("sway_kg", AtLeast0) ?? 0,
            SwayHz = section.Number("sway_hz", new NumberRule("a frequency in Hz", 0, 20, LowestExcluded: true)) ?? standard.SwayHz,
            DriftKgPerH = section.Number("drift_kg_per_h", Any) ?? 0,
            FlickerCountsRms = section.Number("flicker_counts_rms", AtLeast0) ?? 0,
            MainsKg = section.Number("mains_kg", AtLeast0) ?? 0,
            MainsHz = section.Number("mains_hz", new NumberRule("a frequency in Hz", 40, 70)) ?? standard.MainsHz,
        };
        section.End();
        return noise;
    }

    private static ScenarioFault Fault(TomlSection section, List<ScenarioBoard> boards)
    {
        var kind = section.Word<FaultKind>("name");
        if (!section.Has("name"))
            section.Report("name", section.Line, ErrorCode.Missing, "is missing", Words.List<FaultKind>(), "add name = \"unplugged\" below [[fault]]");
        var fault = new ScenarioFault
        {
            Kind = kind ?? FaultKind.Unplugged,
            Board = section.Text("board", "the id of a board"),
            Cell = section.Number("cell", new NumberRule("the number of a cell", 1, 4)) is double cell ? (int)cell : null,
            AtS = section.Number("at_s", Seconds) ?? 0,
            ForS = section.Number("for_s", new NumberRule("a time in seconds", 0, LowestExcluded: true)),
        };
        if (section.Number("cell", Any) is double number && number != Math.Floor(number))
            section.Report("cell", section.LineOf("cell"), ErrorCode.WrongType, string.Create(CultureInfo.InvariantCulture, $"found {number}"), "a cell from 1 to 4", "write a whole number");
        if (fault.Board is { } id && !boards.Any(board => board.Id == id))
            section.Report("board", section.LineOf("board"), ErrorCode.UnknownName, $"found {InputError.Quote(id)}", "the id of a board of this file", Nearest.Remedy(id, [.. boards.Select(board => board.Id)]));
        if (fault.StrikesBoard && fault.Cell is not null)
            section.Report("cell", section.LineOf("cell"), ErrorCode.Contradiction, $"{Words.Of(fault.Kind)} strikes the whole board", "no cell", "leave the cell out");
        section.End();
        return fault;
    }
}
