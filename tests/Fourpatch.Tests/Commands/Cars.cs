namespace Fourpatch.Tests.Commands;

/// <summary>Vehicle and scenario files for commands. Names and figures are invented but for the worked example's.</summary>
internal static class Cars
{
    /// <summary>The car of the worked corner example: wheelbase 2.600 m, tracks 1.500 and 1.480 m.</summary>
    public const string Plain = """
        name = "Plain"
        wheelbase_mm = 2600
        track_front_mm = 1500
        track_rear_mm = 1480
        """;

    public const string ThreeWheeler = """
        name = "Tern"
        kind = "three-wheeler"
        [wheel.front-left]
        behind_front_axle_mm = 0
        left_of_centre_mm = 650
        [wheel.front-right]
        behind_front_axle_mm = 0
        left_of_centre_mm = -650
        [wheel.rear]
        behind_front_axle_mm = 2300
        left_of_centre_mm = 0
        """;

    /// <summary>Four pads whose true loads are written down, 80 conversions a second.</summary>
    public const string Pads = """
        vehicle = "plain.toml"
        build = "pads"
        rate_hz = 80

        [truth_kg]
        FL = 118.4
        FR = 109.9
        RL = 127.3
        RR = 131.6

        [[board]]
        id = "B1"
        [[board.cell]]
        capacity_kg = 300
        zero_counts = 41250
        span_error_percent = 0.02
        [[board.cell]]
        capacity_kg = 300
        zero_counts = -18730
        span_error_percent = -0.015
        [[board.cell]]
        capacity_kg = 300
        zero_counts = 7710
        kg_per_count = -6.95e-5
        [[board.cell]]
        capacity_kg = 300
        zero_counts = 96400
        nonlinearity_percent = 0.01
        """;

    /// <summary>What <see cref="Pads"/> says, in corner order.</summary>
    public static readonly double[] PadsTruthKg = [118.4, 109.9, 127.3, 131.6];

    /// <summary>Writes plain.toml and pads.toml, and what else is wanted.</summary>
    public static void WriteTo(Bench bench)
    {
        bench.Write("plain.toml", Plain);
        bench.Write("three.toml", ThreeWheeler);
        bench.Write("pads.toml", Pads);
    }
}
