using System.Text.Json.Nodes;
using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Files;

public class JsonTests
{
    private const string Quality = """{"acceptable":true,"reasons":[{"code":"floor-unknown","corner":null,"text":"No survey of this floor."}]}""";
    private const string FourCorners = """{"FL":116.4,"FR":114.25,"RL":null,"RR":127}""";

    private const string ThreeShares = """{"front_share":0.001,"left_share":0.001,"cross_share":null}""";

    private const string EachResult = """
        "corners_kg":{"FL":1,"FR":1,"RL":1,"RR":1},"total_kg":452,"front_share":0.51,"left_share":0.5,"cross_share":null,
        "diagonal_difference_kg":1.5,"rear_left_minus_right_kg":-2,"cg_behind_front_axle_mm":1180,"cg_left_of_centre_mm":4
        """;

    private const string Uncertain = $$"""
        {{EachResult}},"uncertainty":{ {{EachResult}} },"k":{ {{EachResult}} },"quality":{{Quality}}
        """;

    private const string Causes = $$"""
        [{"name":"floor","contribution_kg":{{FourCorners}},"degrees_of_freedom":null}]
        """;

    private const string Cell = """
        {"board":"B1","cell":1,"trouble":null,"status":"ok","verdict":"settled","counts":1,"u_counts":1,"degrees_of_freedom":9,"used":100,"rejected":0,"zero_counts":1,"kg_per_count":1e-4}
        """;

    private const string Compared = """{"id":"k7f3-m2qa","name":"before","time_utc":"t","car":"Wren","method":"typed","acceptable":true}""";
    private const string Found = """{"predicted":1,"found":2,"difference":1,"uncertainty":0.5,"k":2,"differs":true}""";
    private const string Change = """{"before":1,"after":2,"change":1,"uncertainty":0.5,"k":2,"changed":true}""";

    /// <summary>One good answer of every schema, with every field there is.</summary>
    private static readonly Dictionary<string, string> Good = new()
    {
        ["error"] = """ "code":"unknown-key","message":"x","file":null,"line":null,"field":null,"expected":null """,
        ["weigh"] = $$"""
            {{Uncertain}},"causes":{{Causes}},"covariance_kg2":[[1,0,0,0],[0,1,0,0],[0,0,1,0],[0,0,0,null]],"conditions":{"driver":"aboard","fuel_l":12},
            "boards":[{"id":"B1","firmware_version":"0.1.0","protocol_version":1,"boot_id":null}],"calibration_age_h":null,"method":"one-by-one","time_utc":"t",
            "record_id":null,"naive_total_kg":500,"over_read_kg_per_mm":{{FourCorners}},"twist_stiffness_kg_per_mm":1,"friction_kg":{{FourCorners}},"largest_cause":"floor","kept_reason":null,
            "wheels_kg":{"front":92},"wheels_uncertainty_kg":{"front":null},"would_carry_kg":{"front":1,"rear":1,"left":1,"right":1},
            "would_carry_uncertainty_kg":{"front":1,"rear":1,"left":1,"right":1},"level_floor":{"place":"garage","effect":{{ThreeShares}},{{EachResult}},"uncertainty":{ {{EachResult}} },
            "k":{ {{EachResult}} },"largest_cause":null,"reasons":[]},"cg_ellipse":{"semi_major_mm":9,"semi_minor_mm":4,"major_axis_deg":12},"vehicle":{"name":"Wren","file":"wren.toml"},"rig":{"port":"virtual","layout_file":null}
            """,
        ["check"] = $$"""
            "seconds":10,"cells":[{"board":"B1","cell":1,"rate_hz":10.4,"noise_counts_rms":22.5,"saturated":0,"distinct_counts":90,"zero_counts":null,"verdict":"good",
            "reason":null,"noise_kg_rms":null,"lost":0,"conversions":104,"health":"good","status":"ok",
            "counters":{"read":1,"delivered":1,"idle":0,"settling":4,"overlapped":0,"desynced":0,"unsent":0,"suspect":0,"missed":0},"fitted":true,"expected_noise_counts_rms":21.5,"load_kg":null,"peak_kg":null,
            "capacity_kg":null,"drift_counts_per_min":1,"u_drift_counts_per_min":1,"k_drift":2,"mains_counts":null,"mains_seen_at_hz":null,"settling":4,"overlapped":0,"desynced":0}],
            "plugs":[{"board":"B1","verdict":"as-stored","stored_as":[1,2,3,4],"text":null}],"quality":{{Quality}},"boards":[]
            """,
        ["zero"] = $$""" "stored":true,"cells":[{"board":"B1","cell":1,"zero_counts":41250.1,"u_zero_counts":0.7,"moved_kg":-0.012}],"quality":{{Quality}} """,
        ["ports"] = """ "ports":[{"port":"COM3","is_rig":false,"board":null,"note":"the programming socket"}] """,
        ["log-summary"] = $$"""
            "files":["a.csv"],"started_utc":"t","ended_utc":"t","rows":1,"bad_lines":0,"cut_off":false,"gaps":1,"gap_reasons":[{"reason":"late loop","count":1}],
            "cells":[{"board":"B1","cell":1,"rows":1,"statuses":{"ok":1},"rate_hz":null,"duration_s":0,"missing":0,"longest_hole_s":0,"counts":null,
            "load_kg":{"mean":1,"spread":null,"lowest":1,"highest":1,"drift_per_h":null,"uncertainty":{"mean":null,"drift_per_h":null},"k":{"mean":2,"drift_per_h":2} } }],"quality":{{Quality}}
            """,
        ["report"] = $$""" "record_id":"k7f3-m2qa","out":"a.html","pdf":"a.pdf","since_record_id":"2abc-defg","text":"Wren","quality":{{Quality}} """,
        ["job"] = """
            "vehicle":{"name":"Wren","file":"wren.toml"},"steps":[{"step":"rig","title":"Describe the rig","state":"open","found":"none","command":"fourpatch rig new","tools":"tape","minutes":10,"helper":false}],
            "next":"rig","stages":[{"stage":"tyres","title":"Pressures and tyres","tools":"gauge","minutes":10,"helper":false,"done":true}],"stopped_at":"tyres",
            "unfinished":[{"work":"weigh","started_utc":"t","updated_utc":"t"}],"printed":"a.html"
            """,
        ["log"] = $$""" "file":"a.csv","files":["a.csv"],"started_utc":"t","ended_utc":"t","rows":1,"lost":0,"bad_lines":0,"gaps":0,"boards":[],"quality":{{Quality}} """,
        ["demo"] = $$""" "seed":1,"out":null,"files":["a"],"steps":[{"name":"weigh","answer":{"schema":"x"},"truth":null}],"quality":{{Quality}} """,
        ["watch"] = $$"""
            "time_utc":"t","settled":false,"state":"board-lost","alarm":{"kind":"board-lost","text":"x"},{{Uncertain}},
            "stations":[{"name":"FL","load_kg":null,"settled":false,"status":"stale","age_s":12,"tare_kg":0,"peak_kg":3}],
            "cells":[{"board":"B1","cell":1,"status":"ok","age_s":0.1,"conversion":812,"rate_hz":80,"used":400,"not_used":0}],"boards":[]
            """,
        ["lever"] = $$"""
            "wheel_kg":120,"factor":3,"uncertainty":{"wheel_kg":1,"factor":null},"k":{"wheel_kg":2,"factor":null},"quality":{{Quality}},"beam_share_kg":null,"placement_effect_kg_per_mm":0.2,
            "block_kg":null,"level_effect_kg_per_mm":0.1,"side_force_effect_kg_per_n":0.06,"wheel_at_rating_kg":450,"least_factor":2.44,"recommended_factor":null,"largest_cause":"place"
            """,
        ["floor"] = $$"""
            "shims_mm":{{FourCorners}},"pitch_deg":0.1,"roll_deg":-0.1,"twist_mm":3,"effect":{"front_share":0,"left_share":0,"cross_share":null},
            "uncertainty":{"pitch_deg":1,"roll_deg":1,"twist_mm":1,"slope_percent":0.1,"effect":{{ThreeShares}},"after_levelling":{{ThreeShares}} },
            "k":{"pitch_deg":2,"roll_deg":2,"twist_mm":2,"slope_percent":2,"effect":{{ThreeShares}},"after_levelling":{{ThreeShares}} },"quality":{{Quality}},
            "untwist_shims_mm":{{FourCorners}},"slope_push_kg":5,"place":"garage","record_id":null,"shim_pieces_mm":{"FL":[],"FR":[6,3],"RL":[12],"RR":[]},
            "untwist_pieces_mm":{"FL":[],"FR":[6,3],"RL":[12],"RR":[]},"slope_percent":1.5,"downhill":"rear","effect_kg":{{FourCorners}},"after_levelling":{{ThreeShares}},
            "jacking":[{"corner":"RL","rise_mm":5,"total_mm":5}],"method":"laser"
            """,
        ["cgheight"] = $$""" "cg_height_mm":330,"uncertainty":{"cg_height_mm":20},"k":{"cg_height_mm":2.1},"quality":{{Quality}},"steps":[{"rise_mm":300,"other_axle_kg":260,"residual_kg":0.1}],"largest_cause":"rise","lifted":"front","angle_deg":11,"record_id":null """,
        ["twist"] = $$"""
            "twist_stiffness_nm_per_rad":18000,"twist_stiffness_kg_per_mm":0.84,"uncertainty":{"twist_stiffness_nm_per_rad":100,"twist_stiffness_kg_per_mm":null},
            "k":{"twist_stiffness_nm_per_rad":2,"twist_stiffness_kg_per_mm":2},"corner":"FL","thickness_mm":6,"without_kg":{{FourCorners}},"with_kg":{{FourCorners}}
            """,
        ["explain"] = """
            "id":"k7f3-m2qa","name":"before","diagonal_difference_kg":-4,"uncertainty":{"diagonal_difference_kg":1},"k":{"diagonal_difference_kg":2},
            "parts":[{"source":"tyre-sizes","kg":1,"uncertainty_kg":1,"k":2,"how":"x"}],"unknown":["floor"]
            """,
        ["choose"] = """
            "mass_kg":700,"front_share":0.46,"heaviest_wheel_kg":189,"builds":[{"build":"one-dolly","cells":4,"boards":1,"least_rating_kg":252,"rating_kg":null,"noise_kg_rms":0.003,
            "smallest_change_kg":0.002,"zero_drift_kg_per_k":0.0004,"cost":"low","stops_first":"the floor"}]
            """,
        ["plan"] = $$"""
            {{Uncertain}},"cg_height_mm":330,"causes":[],"covariance_kg2":[[1,0,0,0],[0,1,0,0],[0,0,1,0],[0,0,0,1]],"ride_height_change_mm":{{FourCorners}},
            "limits":[{"name":"budget_kg","limit_kg":455,"predicted_kg":460,"kept":false}],"record_id":null,"sweep":[{"volume_l":5,"total_kg":452,"front_share":0.5,"left_share":0.5,"cross_share":null}]
            """,
        ["part-weigh"] = $$"""
            "item":"gearbox","parts_file":"parts.csv","mass_kg":38.4,"balance_from_first_support_mm":null,"behind_front_axle_mm":410,"uncertainty":{"mass_kg":0.1,"balance_from_first_support_mm":null},
            "k":{"mass_kg":2,"balance_from_first_support_mm":null},"supports":[{"name":"FL","load_kg":38.4}],"listed_kg":42,"note":"with oil","written":true,"quality":{{Quality}}
            """,
        ["part-fit"] = $$"""
            "item":"gearbox","parts_file":"parts.csv","marked":true,"results":{"total_kg":{{Found}},"front_share":{{Found}},"left_share":{{Found}},"cross_share":{{Found}},"diagonal_difference_kg":{{Found}},
            "rear_left_minus_right_kg":{{Found}},"cg_behind_front_axle_mm":{{Found}},"cg_left_of_centre_mm":{{Found}} },
            "explanation":{"mass_kg":null,"further_behind_mm":{"value":-70,"uncertainty":25,"k":2},"further_left_mm":null},"quality":{{Quality}}
            """,
        ["place"] = $$"""
            "moves":[{"item":"battery","behind_front_axle_mm":1,"left_of_centre_mm":2,"mass_kg":6,"from_behind_mm":3,"from_left_mm":4}],
            "ballast":[{"item":"nose","behind_front_axle_mm":-300,"left_of_centre_mm":0,"mass_kg":4}],{{Uncertain}},"added_mass_kg":4
            """,
        ["perch"] = $$"""
            "turns":{{FourCorners}},"perch_mm":{{FourCorners}},{{Uncertain}},"solution":"attitude-kept","ride_height_change_mm":{{FourCorners}},
            "alternatives":[{"solution":"least-movement","turns":{{FourCorners}},"perch_mm":{{FourCorners}},"ride_height_change_mm":{{FourCorners}}}]
            """,
        ["cal-cell"] = """
            "zero_counts":81234.5,"kg_per_count":1.16e-4,"u_zero_counts":3,"u_kg_per_count":1e-8,"correlation":-0.4,"residual_kg_rms":0.01,"lack_of_fit":{"statistic":1,"p":0.4,"verdict":"straight"},
            "accepted":true,"reasons":[],"uncertainty":{"zero_counts":6,"kg_per_count":2e-8},"k":{"zero_counts":2,"kg_per_count":2},"board":"B1","cell":1,"points":4,"written":false,"record_id":null,"hysteresis_kg":null
            """,
        ["cal-platform"] = $$"""
            "zero_counts":[1,2,3,4],"kg_per_count":[1e-4,1e-4,1e-4,null],"twist_determined":false,"condition_number":12,"uncertainty":{"zero_counts":[1,2,3,4],"kg_per_count":[1,2,3,4]},
            "k":{"zero_counts":[2,2,2,2],"kg_per_count":[2,2,2,2]},"quality":{{Quality}},"board":"B1","relative":false,"kg_per_count_ratio":[1,1,1,null],"castor_share":null,"residual_kg_rms":0.02,"undetermined":"x","accepted":true,"written":false,"record_id":null,"kept_reason":"x"
            """,
        ["cal-rotate"] = $$"""
            "zero_counts":[1,2,3,4],"kg_per_count":[null,null,null,null],"kg_per_count_ratio":[1,1,1,1],"corners_kg":{{FourCorners}},"total_kg":null,"front_share":0.5,"left_share":0.5,"cross_share":0.5,
            "cg_behind_front_axle_mm":1,"cg_left_of_centre_mm":1,"consistency":{"statistic":1,"p":0.3,"verdict":"agree"},
            "uncertainty":{"kg_per_count":[1,1,1,1],"kg_per_count_ratio":[1,1,1,1],"corners_kg":{{FourCorners}},"total_kg":null,"front_share":0,"left_share":0,"cross_share":0,"cg_behind_front_axle_mm":1,"cg_left_of_centre_mm":1},
            "k":{"kg_per_count":[1,1,1,1],"kg_per_count_ratio":[1,1,1,1],"corners_kg":{{FourCorners}},"total_kg":null,"front_share":0,"left_share":0,"cross_share":0,"cg_behind_front_axle_mm":1,"cg_left_of_centre_mm":1},
            "residual_share_rms":0.001,"quality":{{Quality}},"board":null,"placements":2,"accepted":true,"written":false,"record_id":null,"kept_reason":"x"
            """,
        ["cal-verify"] = $$"""
            "checks":[{"board":"B1","cell":1,"applied_kg":20,"read_kg":20.1,"error_kg":0.1,"uncertainty_kg":0.2,"k":2,"within":true,
            "time_utc":"t","looks":2,"in_control":true,"text":"x","zero_change_kg":{"value":0,"uncertainty":1,"k":2},"span_change_share":{"value":0,"uncertainty":1,"k":2},
            "zero_trend_kg_per_30_days":null,"span_trend_share_per_30_days":{"value":0,"uncertainty":1,"k":2},
            "zero_chart_kg":{"values":[0,1],"centre":0,"lower_limit":-3,"upper_limit":3,"signals":[{"rule":"six-up-or-down","at":1}]},
            "span_chart_share":{"values":[],"centre":0,"lower_limit":-3,"upper_limit":3,"signals":[]},"acceptance":{"within":true,"text":"x"} }],"quality":{{Quality}},"record_id":null
            """,
        ["records-list"] = """
            "records":[{"id":"k7f3-m2qa","kind":"weighing","name":"before","time_utc":"t","subject":"Wren","method":"typed","acceptable":true,"total_kg":452,"front_share":0.5,"left_share":null,
            "cross_share":0.5,"uncertainty":{"total_kg":1,"front_share":0.001,"left_share":null,"cross_share":0.001}}]
            """,
        ["records-show"] = $$"""
            "id":"k7f3-m2qa","kind":"weighing","name":"before","time_utc":"t","recorded_by_version":"0.1.0",
            "weighing":{ {{Uncertain}},"causes":{{Causes}},"covariance_kg2":[[1,0,0,0],[0,1,0,0],[0,0,1,0],[0,0,0,null]],"conditions":{"driver":"aboard"},"boards":[{"id":"B1"}],
            "calibration_age_h":null,"method":"typed","kept_reason":null,"vehicle":{"name":"Wren","file":null},"wheels_kg":{"front":92},"largest_cause":"floor","naive_total_kg":500,
            "over_read_kg_per_mm":{{FourCorners}},"twist_stiffness_kg_per_mm":1,"friction_kg":{{FourCorners}} },
            "readings":[{"station":"FL","typed_kg":116},{{Cell}},{"station":"RR","taken_as":"pushed-down","rises_mm":{{FourCorners}},"typed_kg":null,"kept_because":null,"cells":[{{Cell}}]}],
            "calibration":{"board":"B1","cell":1,"date":"2026-11-24","accepted":true,"zero_counts":1,"u_zero_counts":1,"kg_per_count":1e-4,"u_kg_per_count":1e-8,
            "points":[{"load_kg":20,"counts":1,"u_counts":null,"direction":"up","u_load_kg":0.02,"reference":"cans"}]},
            "document":{"subject":"Wren","acceptable":true,"inputs":{"x":1},"answer":{"schema":"x"} },
            "recomputed":{"agrees":true,"largest_share":0}
            """,
        ["records-compare"] = $$"""
            "before":{{Compared}},"after":{{Compared}},"loads_kg":{"FL":{{Change}}},
            "results":{"total_kg":{{Change}},"front_share":{{Change}},"left_share":{{Change}},"cross_share":{{Change}},"diagonal_difference_kg":{{Change}},"rear_left_minus_right_kg":{{Change}},
            "cg_behind_front_axle_mm":{{Change}},"cg_left_of_centre_mm":{{Change}} },"circumstances":[{"of":"car","name":"driver","before":null,"after":"aboard"}],"common_causes":["span"],
            "causes":[{"name":"span","common":true,"contribution_to_total_change_kg":0,"contribution_to_cross_share_change":null,"degrees_of_freedom":null}],"quality":{{Quality}}
            """,
        ["guide"] = """
            "ports":[{"port":"/dev/ttyUSB0","board":"B1","uncalibrated_cells":[1,4]}],"vehicle_file":"car.toml",
            "steps":[{"step":"rig","title":"a rig","state":"done","found":"board B1","command":"fourpatch ports"}],"next":"calibrate","next_command":"fourpatch cal cell 1","why":"x"
            """,
        ["records-export"] = """ "out":"away","form":"folder","records":3 """,
        ["records-import"] = """ "from":"away","imported":3,"already_there":0 """,
        ["records-delete"] = """ "deleted":["k7f3-m2qa"] """,
        ["records-backup"] = """ "out":"copy.sqlite","records":3 """,
        ["cal-show"] = """ "cells":[{"board":"B1","cell":1,"calibrated":true,"zero_counts":1,"kg_per_count":1e-4,"age_h":3,"u_zero_counts":1,"u_kg_per_count":1e-9,"largest_load_kg":80,"note":null}],"boards":[] """,
    };

    public static TheoryData<string> Names() => [.. Good.Keys];

    private static JsonObject Answer(string name) =>
        JsonNode.Parse($$"""{"schema":"fourpatch.{{name}}/1","software_version":"0.1.0",{{Good[name]}}}""")!.AsObject();

    [Fact]
    public void Every_schema_has_its_example_here() => Assert.Equal(Schemas.Names.Where(name => name != "common").ToHashSet(), Good.Keys.ToHashSet());

    [Theory]
    [MemberData(nameof(Names))]
    public void A_good_answer_keeps_its_contract(string name) => Assert.Null(AnswerSchemas.Complaint(Answer(name).ToJsonString()));

    [Theory]
    [MemberData(nameof(Names))]
    public void A_field_nobody_knows_breaks_it_at_every_level(string name)
    {
        foreach (var inner in Objects(Answer(name)).Select(place => place.Path).ToList())
        {
            // Conditions are the person's own words, as are the wheels of other vehicles; answers that are quoted keep to schemas of their own.
            if (inner is "$.conditions" or "$.wheels_kg" or "$.wheels_uncertainty_kg" or "$.weighing.conditions" or "$.weighing.wheels_kg" or "$.steps[0].answer" or "$.document.inputs" or "$.document.answer")
                continue;
            var answer = Answer(name);
            Objects(answer).Single(place => place.Path == inner).Object["surprise"] = 1;
            Assert.True(AnswerSchemas.Complaint(answer.ToJsonString()) is not null, $"{name}: a surprise at {inner} passed");
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_field_must_have_its_own_type(string name)
    {
        foreach (var field in Answer(name).Select(field => field.Key).Where(key => key != "schema"))
        {
            var answer = Answer(name);
            answer[field] = answer[field] is JsonValue value && value.GetValueKind() == System.Text.Json.JsonValueKind.String ? 7 : "text";
            var mayBeText = field is "file" or "field" or "expected" or "out" or "record_id" or "kept_reason" or "board" or "largest_cause" or "place" or "undetermined" && Answer(name)[field] is null;
            if (!mayBeText)
                Assert.True(AnswerSchemas.Complaint(answer.ToJsonString()) is not null, $"{name}: a wrong type in {field} passed");
        }
    }

    [Theory]
    [InlineData("weigh", "corners_kg", "total_kg", "front_share", "left_share", "cross_share", "diagonal_difference_kg", "rear_left_minus_right_kg", "cg_behind_front_axle_mm", "cg_left_of_centre_mm", "causes", "covariance_kg2", "uncertainty", "k", "quality", "conditions", "software_version", "boards", "calibration_age_h")]
    [InlineData("error", "code", "message", "file", "line", "field", "expected")]
    [InlineData("lever", "wheel_kg", "factor", "uncertainty")]
    [InlineData("floor", "shims_mm", "pitch_deg", "roll_deg", "twist_mm", "effect", "uncertainty")]
    [InlineData("cgheight", "cg_height_mm", "uncertainty")]
    [InlineData("plan", "corners_kg", "cross_share", "uncertainty", "quality")]
    [InlineData("place", "moves", "ballast", "front_share")]
    [InlineData("perch", "turns", "perch_mm", "cross_share")]
    [InlineData("cal-cell", "zero_counts", "kg_per_count", "u_zero_counts", "u_kg_per_count", "correlation", "residual_kg_rms", "lack_of_fit", "accepted", "reasons")]
    [InlineData("cal-platform", "zero_counts", "kg_per_count", "twist_determined", "condition_number", "uncertainty")]
    [InlineData("cal-rotate", "kg_per_count", "kg_per_count_ratio", "front_share", "consistency")]
    [InlineData("check", "cells")]
    public void What_others_rely_on_must_be_there(string name, params string[] fields)
    {
        foreach (var field in fields)
        {
            var answer = Answer(name);
            Assert.True(answer.Remove(field));
            Assert.True(AnswerSchemas.Complaint(answer.ToJsonString()) is not null, $"{name} without {field} passed");
        }
    }

    [Fact]
    public void A_missing_corner_is_null_and_not_left_out()
    {
        var answer = Answer("weigh");
        answer["corners_kg"]!.AsObject().Remove("RL");
        Assert.NotNull(AnswerSchemas.Complaint(answer.ToJsonString()));
    }

    [Fact]
    public void Reason_and_error_codes_of_the_schemas_are_those_of_the_program()
    {
        var common = JsonNode.Parse(Schemas.Text("common"))!["$defs"]!["reason"]!["properties"]!["code"]!["enum"]!.AsArray();
        Assert.Equal(Words.All<ReasonCode>(), common.Select(code => code!.GetValue<string>()));
        var errors = JsonNode.Parse(Schemas.Text("error"))!["properties"]!["code"]!["enum"]!.AsArray();
        Assert.Equal(Words.All<ErrorCode>(), errors.Select(code => code!.GetValue<string>()));
    }

    [Fact]
    public void The_schema_files_lie_beside_the_program()
    {
        foreach (var name in Schemas.Names)
            Assert.Equal(Schemas.Text(name), File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "schemas", $"{name}.json")));
    }

    [Fact]
    public void Any_refusal_becomes_an_error_answer()
    {
        var refused = VehicleFile.Parse("name = \"\u00e9\"\nwheelbase_m = 2\n", "wren.toml").Error!;
        var json = JsonAnswer.Error(refused).ToText();
        Assert.Null(AnswerSchemas.Complaint(json));
        var answer = JsonNode.Parse(json)!;
        Assert.Equal(("unknown-key", "wren.toml", 2, "wheelbase_m"), ((string)answer["code"]!, (string)answer["file"]!, (int)answer["line"]!, (string)answer["field"]!));
        Assert.Null(AnswerSchemas.Complaint(JsonAnswer.Error(new InputError(ErrorCode.RigUnreachable, "no answer", "", "plug it in")).ToLine()));
    }

    [Fact]
    public void Numbers_are_written_with_all_their_digits_in_any_culture()
    {
        using var comma = new CommaCulture();
        var json = new JsonAnswer("cal platform")
            .Put("third", 1.0 / 3)
            .Put("corners_kg", new Corners<double?>(1.5, null, 0.1 + 0.2, 1e-12))
            .Put("none", (double?)null)
            .Put("count", 3L)
            .ToLine();
        Assert.Equal(
            $$"""{"schema":"fourpatch.cal-platform/1","software_version":"{{JsonAnswer.SoftwareVersion}}","third":0.3333333333333333,"corners_kg":{"FL":1.5,"FR":null,"RL":0.30000000000000004,"RR":1E-12},"none":null,"count":3}""",
            json);
    }

    [Fact]
    public void What_is_not_a_number_is_never_written()
    {
        Assert.Throws<ArgumentException>(() => new JsonAnswer("weigh").Put("total_kg", double.NaN));
        Assert.Throws<ArgumentException>(() => new JsonAnswer("weigh").Put("corners_kg", new Corners<double>(1, 2, 3, double.PositiveInfinity)));
    }

    [Fact]
    public void Causes_quality_and_covariance_are_put_as_the_schema_wants_them()
    {
        var results = new JsonAnswer("x").Put("corners_kg", new Corners<double>(1, 2, 3, 4));
        foreach (var name in new[] { "total_kg", "front_share", "left_share", "cross_share", "diagonal_difference_kg", "rear_left_minus_right_kg", "cg_behind_front_axle_mm", "cg_left_of_centre_mm" })
            results.Put(name, 0.5);
        var answer = JsonNode.Parse(results.ToText())!.AsObject();
        answer["schema"] = "fourpatch.weigh/1";
        var rest = new JsonAnswer("weigh")
            .Put("causes", [JsonAnswer.Cause("noise", new Corners<double>(0.1, 0, 0, 0), 12), JsonAnswer.Cause("floor", new Corners<double>(1, -1, -1, 1), double.PositiveInfinity)])
            .PutCovarianceKg2(new double?[4, 4])
            .Put("uncertainty", results)
            .Put("k", results)
            .PutQuality(false, [new Reason(ReasonCode.NotSettled, "FL", "FL still moves; wait, then read again.")])
            .Put("conditions", new JsonObject())
            .Put("boards", Array.Empty<JsonObject>())
            .Put("calibration_age_h", (double?)null);
        foreach (var (name, value) in JsonNode.Parse(rest.ToText())!.AsObject().Skip(2))
            answer[name] = value?.DeepClone();
        Assert.Null(AnswerSchemas.Complaint(answer.ToJsonString()));
        Assert.Equal("not-settled", (string)answer["quality"]!["reasons"]![0]!["code"]!);
        Assert.Null(answer["causes"]![1]!["degrees_of_freedom"]);
    }

    private static IEnumerable<(string Path, JsonObject Object)> Objects(JsonNode? node)
    {
        var children = node switch
        {
            JsonObject four => four.Select(field => field.Value),
            JsonArray array => array.AsEnumerable(),
            _ => [],
        };
        var below = children.SelectMany(Objects);
        return node is JsonObject self ? below.Append((self.GetPath(), self)) : below;
    }
}
