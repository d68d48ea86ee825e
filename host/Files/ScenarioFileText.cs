using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Files;

/// <summary>Writes a scenario file that <see cref="ScenarioFile"/> reads back as the same scenario.</summary>
public static class ScenarioFileText
{
    /// <summary>Writes the file whole; null when it is there, else what was wrong.</summary>
    public static InputError? Write(string path, Scenario scenario) => AtomicFile.WriteText(path, Of(scenario));

    public static string Of(Scenario scenario)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        var toml = new TomlText();
        toml.Comment("A scenario for the virtual rig: masses in kg, lengths in mm, times in seconds.");
        toml.Text("vehicle", scenario.VehiclePath);
        toml.Text("build", Words.Of(scenario.Build), Words.List<RigBuild>());
        toml.Number("rate_hz", scenario.RateHz);
        toml.Number("duration_s", scenario.DurationS);
        if (scenario.StartsEmpty)
            toml.Flag("starts_empty", true, "nothing stands on the rig");
        NonZero(toml, "temperature_rise_k", scenario.TemperatureRiseK);
        if (scenario.Car is { } car)
        {
            toml.Table("car", "as it truly is");
            toml.Number("mass_kg", car.MassKg);
            toml.Mm("cg_behind_front_axle_mm", car.CgBehindFrontAxleM);
            toml.Mm("cg_left_of_centre_mm", car.CgLeftOfCentreM);
            toml.Mm("cg_height_mm", car.CgHeightM);
        }

        FourCorners(toml, "truth_kg", scenario.TruthKg, FileNumbers.Plain, "true load at each corner");
        FourCorners(toml, "floor_mm", scenario.FloorM == Corners.Same(0.0) ? null : scenario.FloorM, FileNumbers.Mm, "height of the floor under each wheel");
        if (scenario.Build == RigBuild.Lever)
            FourCorners(toml, "lever", scenario.LeverFactor, FileNumbers.Plain, "station load per cell load");
        if (scenario.Build is RigBuild.OneDolly or RigBuild.FourDollies)
            Dolly(toml, scenario.Dolly);
        foreach (var board in scenario.Boards)
        {
            toml.TableOfList("board");
            toml.Text("id", board.Id);
            NonZero(toml, "rate_error_percent", board.RateErrorPercent);
            foreach (var cell in board.Cells)
                Cell(toml, cell);
        }

        Noise(toml, scenario.Noise);
        foreach (var fault in scenario.Faults)
        {
            toml.TableOfList("fault");
            toml.Text("name", Words.Of(fault.Kind));
            if (fault.Board is { } id)
                toml.Text("board", id);
            toml.Number("cell", fault.Cell);
            toml.Number("at_s", fault.AtS);
            toml.Number("for_s", fault.ForS);
        }

        return toml.ToString();
    }

    private static void Dolly(TomlText toml, ScenarioDolly dolly)
    {
        toml.Table("dolly");
        toml.Items("cells_mm", dolly.CellsAt.Select(LayoutFile.Pair), "behind and left of the frame's middle");
        toml.Items("castor_heights_mm", dolly.CastorHeightsM.Select(FileNumbers.Mm), "how far each castor stands too high");
        toml.Number("frame_stiffness_n_per_mm", dolly.FrameStiffnessNPerM, FileNumbers.NPerMm);
        toml.Number("tare_kg", dolly.TareKg);
        toml.Mm("wheel_centre_rise_mm", dolly.WheelCentreRiseM);
    }

    private static void Cell(TomlText toml, ScenarioCell cell)
    {
        toml.TableOfList("board.cell");
        toml.Number("capacity_kg", cell.CapacityKg);
        toml.Number("mv_per_v", cell.MvPerV);
        toml.Number("zero_counts", cell.ZeroCounts);
        toml.Number("kg_per_count", cell.KgPerCount);
        if (!cell.Calibrated)
            toml.Flag("calibrated", false, "the board holds nothing for this cell");
        NonZero(toml, "zero_error_counts", cell.ZeroErrorCounts);
        NonZero(toml, "span_error_percent", cell.SpanErrorPercent);
        NonZero(toml, "nonlinearity_percent", cell.NonlinearityPercent);
        NonZero(toml, "hysteresis_percent", cell.HysteresisPercent);
        NonZero(toml, "creep_percent", cell.CreepPercent);
        NonZero(toml, "temp_zero_percent_per_k", cell.TempZeroPercentPerK);
        NonZero(toml, "temp_span_percent_per_k", cell.TempSpanPercentPerK);
    }

    private static void Noise(TomlText toml, ScenarioNoise noise)
    {
        var standard = new ScenarioNoise();
        if (noise == standard)
            return;
        toml.Table("noise");
        toml.Number("white_counts_rms", noise.WhiteCountsRms);
        NonZero(toml, "sway_kg", noise.SwayKg);
        toml.Number("sway_hz", noise.SwayHz);
        NonZero(toml, "drift_kg_per_h", noise.DriftKgPerH);
        NonZero(toml, "flicker_counts_rms", noise.FlickerCountsRms);
        NonZero(toml, "mains_kg", noise.MainsKg);
        toml.Number("mains_hz", noise.MainsHz);
    }

    private static void FourCorners(TomlText toml, string table, Corners<double>? values, Func<double, string> write, string comment)
    {
        if (values is null)
            return;
        toml.Table(table, comment);
        foreach (var corner in Corners.All)
            toml.Number(corner.ToString(), values[corner], write);
    }

    private static void NonZero(TomlText toml, string key, double value)
    {
        if (value != 0)
            toml.Number(key, value);
    }
}
