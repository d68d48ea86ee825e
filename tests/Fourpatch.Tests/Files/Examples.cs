namespace Fourpatch.Tests.Files;

/// <summary>
/// One good file of every format, each using every key or column. All figures are invented: "Wren" is a home-built
/// hill-climb single-seater.
/// </summary>
internal static class Examples
{
    public const string Vehicle = """
        name = "Wren"
        kind = "car"
        wheelbase_mm = 2410
        track_front_mm = 1395
        track_rear_mm = 1370.5
        spring_base_front_mm = 900
        spring_base_rear_mm = 880
        wheel_radius_front_mm = 268
        wheel_radius_rear_mm = 281
        cg_height_mm = 330
        chassis_torsion_nm_per_deg = 2900

        [wheel_rate_n_per_mm]
        front = 21.5
        rear = 24

        [anti_roll_n_per_mm]
        front = 6
        rear = 0

        [tyre_rate_n_per_mm]
        front = 180
        rear = inf

        [perch]
        spring_travel_per_wheel_travel_front = 0.72
        spring_travel_per_wheel_travel_rear = 0.8
        thread_pitch_mm = 2

        [marks]
        firewall = 410
        nose = -620

        [limits]
        class_minimum_kg = 430
        budget_kg = 455
        front_axle_kg = 400
        rear_axle_kg = 400
        front_tyre_kg = 250
        rear_tyre_kg = 280

        [expected_kg]
        FL = 100
        FR = 98
        RL = 128
        RR = 126

        [target]
        front_share = 0.44
        left_share = 0.5
        cross_share = 0.5

        [uncertainty]
        wheelbase_mm = 1.5
        track_front_mm = 2
        cg_height_mm = 25
        chassis_torsion_nm_per_deg = 400

        [uncertainty.wheel_rate_n_per_mm]
        front = 1
        rear = 1.5
        """;

    public const string Motorcycle = """
        name = "Wagtail"
        kind = "motorcycle"
        [wheel.front]
        behind_front_axle_mm = 0
        left_of_centre_mm = 0
        [wheel.rear]
        behind_front_axle_mm = 1420
        left_of_centre_mm = 0
        """;

    public const string Pads = """
        [station.FL]
        cells = ["B1:1"]
        tare_kg = 1.2
        u_tare_kg = 0.05
        lever_factor = 2.95
        u_lever_factor = 0.01
        [station.FR]
        cells = ["B1:2"]
        [station.RL]
        cells = ["B1:3"]
        [station.RR]
        cells = ["B1:4"]
        """;

    public const string FourDollies = """
        [station.FL]
        dolly = "one"
        [station.FR]
        dolly = "two"
        [dolly.one]
        cells = ["B1:1", "B1:2", "B1:3", "B1:4"]
        tare_kg = 12.4
        wheel_centre_rise_mm = 52
        cells_mm = [[-250, 200], [-250, -200], [250, 200], [250, -200]]
        [dolly.two]
        cells = ["B2:1", "B2:2", "B2:3", "B2:4"]
        """;

    public const string Scenario = """
        vehicle = "wren.toml"
        build = "pads"
        rate_hz = 80
        duration_s = 600
        temperature_rise_k = -6

        [car]
        mass_kg = 452
        cg_behind_front_axle_mm = 1354
        cg_left_of_centre_mm = 8
        cg_height_mm = 330

        [floor_mm]
        FL = 0
        FR = 3.5
        RL = -2
        RR = 1

        [[board]]
        id = "B1"
        rate_error_percent = 4

        [[board.cell]]
        capacity_kg = 500
        mv_per_v = 2
        zero_counts = 81234
        kg_per_count = -1.164e-4
        span_error_percent = 0.2
        nonlinearity_percent = 0.03
        hysteresis_percent = 0.02
        creep_percent = 0.02
        temp_zero_percent_per_k = 0.002
        temp_span_percent_per_k = 0.001
        zero_error_counts = 40

        [[board.cell]]
        calibrated = false

        [[board.cell]]

        [[board.cell]]

        [noise]
        white_counts_rms = 40
        sway_kg = 0.4
        sway_hz = 1.6
        drift_kg_per_h = 0.1
        flicker_counts_rms = 5
        mains_kg = 0.2
        mains_hz = 60

        [[fault]]
        name = "stuck"
        board = "B1"
        cell = 2
        at_s = 30
        for_s = 10

        [[fault]]
        name = "silence"
        at_s = 90
        """;

    public const string Parts = """
        item,action,mass_kg,behind_front_axle_mm,left_of_centre_mm,above_ground_mm,stage,carried_by,from_mark,to_behind_mm,to_left_mm,to_above_mm,min_behind_mm,max_behind_mm,min_left_mm,max_left_mm,max_mass_kg,volume_l,density_kg_per_l,u_mass_kg,u_position_mm,note
        engine,fit,78.5,1720,0,310,2,,,,,,,,,,,,,0.5,20,"with oil, without exhaust"
        radiator,fit,5.2,-350,0,280,2,body,firewall,,,,,,,,,,,,,
        brake disc,remove,4.1,0,690,268,,FL,,,,,,,,,,,,,,
        battery,move,6.4,300,120,200,,,,1200,-150,,,,,,,,,,,
        pump,movable,3,900,0,200,,,,,,,600,1500,-200,200,,,,,,
        nose spot,ballast-spot,,-300,0,150,,,,,,,,,,,12,,,,,
        fuel,fixed,9,1100,0,240,,,,,,,,,,,,25,0.745,,,
        """;

    public const string CellReadings = """
        load_kg,counts,direction,u_load_kg
        0,81234,up,
        20,253100,up,0.02
        40,424980.5,up,0.04
        0,81240,down,
        """;

    public const string PlatformReadings = """
        spot,mass_kg,counts_1,counts_2,counts_3,counts_4,u_mass_kg,plate
        ,0,100,200,300,400,,
        front left,80,500000,90000,90000,10000,0.1,
        middle,80,170000,170000,170000,170000,,2
        middle,,170000,170000,170000,170000,,
        """;

    public const string RotationReadings = """
        placement,at_FL,at_FR,at_RL,at_RR,counts_1,counts_2,counts_3,counts_4
        ,,,,,100,200,300,400
        first,1,2,3,4,900000,880000,1100000,1090000
        second,4,1,2,3,890000,900000,1080000,1110000
        """;

    public const string OneByOneReadings = """
        corner,rise_mm,reading_kg,u_reading_kg,u_rise_mm
        FL,52,118.5,0.3,1
        FL,80,124,,
        rr,52,140,,
        """;

    public const string LiftReadings = """
        rise_mm,other_axle_kg,direction
        0,254,
        300,262.5,up
        450,266.9,up
        300,262.7,down
        """;

    public const string Log = """
        # schema: fourpatch.log/1
        # software_version: 0.1.0
        # units: host_time_utc is UTC; device_us microseconds since the board's start
        # calibration: B1:1 zero_counts=81234.0625 kg_per_count=0.0001164
        # calibration: B1:2 zero_counts= kg_per_count=
        host_time_utc,device_us,board,cell,conversion,status,counts,load_kg
        2026-11-24T19:05:00.000000Z,4294967296000,B1,1,12,ok,1081234,116.4
        # gap: B1 calibration commit
        2026-11-24T19:05:00.100000Z,4294967396000,B1,2,13,saturated-high,8388607,
        2026-11-24T19:05:00.200000Z,4294967496000,B1,3,14,no-device,,

        """;
}
