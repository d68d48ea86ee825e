using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Vehicles;

namespace Fourpatch.Commands.Interviews;

/// <summary>What has to be known of a vehicle, asked in the order in which one walks round it with a tape.</summary>
internal sealed class VehicleInterview(MassUnit unit, WorkFolder files, string? file)
{
    public const string File = "file";

    private const string Plan = """
                 front
          [#]-----------[#]     track: from the middle of one tyre
           |      :      |             to the middle of the other
           |      :      |
           |      :      |      wheelbase: hub to hub, along each side
           |      :      |
          [#]-----------[#]     left is the driver's left
        """;

    private const double FurthestM = 20;

    public IReadOnlyList<Question> Questions(Answers given)
    {
        var asked = new List<Question>
        {
            Ask.Text("name", "What is the vehicle called?", "Any name; it stands above every answer."),
            Ask.Choice("kind", "What is it?", "Car and kart stand on four corners. For everything else each wheel or support is asked for by its place.", Words.All<VehicleKind>()) with { Default = "car" },
            Ask.Choice("tape", "Where do you hold the tape's beginning?", "The hook at a tape's end has play. Many hold the 100 mm mark at the first point instead; then 100 mm are taken off wheelbase and tracks by itself; heights from the ground need the hook. Hook: at 0. Mark: at 100 mm.", ["hook", "mark"]) with { Default = "hook" },
        };
        if (Words.TryParse(given.Text("kind") ?? "car", out VehicleKind kind) && kind is VehicleKind.Car or VehicleKind.Kart)
        {
            asked.AddRange(FourCorners(given, kind));
        }
        else
        {
            asked.AddRange(FreeWheels(given, kind));
        }

        asked.Add(Ask.YesNo("more", "That is enough to weigh. Go on to springs, limits and targets?", "Heights, spring rates, marks, limits and wanted shares let other commands answer more. All of it may stay open, and be added to the file later.", "no"));
        if (given.IsYes("more"))
        {
            asked.AddRange(kind is VehicleKind.Car or VehicleKind.Kart ? Springs(given) : []);
            asked.AddRange(Limits());
        }

        asked.Add(Ask.NewFile(File, "Which file shall it be written to?", ".toml", files) with { Default = file ?? FileNameOf(given.Text("name")) });
        return asked;
    }

    /// <summary>The vehicle that was described.</summary>
    public static Vehicle VehicleOf(Answers given)
    {
        VehicleKind kind = Words.TryParse(given.Text("kind")!, out VehicleKind known) ? known : VehicleKind.Car;
        bool corners = kind is VehicleKind.Car or VehicleKind.Kart;
        bool more = given.IsYes("more");
        double? More(string key) => more ? given.Number(key) : null;
        double leftM = given.Number("wheelbase-left") ?? 0;
        double? uTapeM = More("u-tape");
        return new Vehicle
        {
            Name = given.Text("name")!,
            Kind = kind,
            WheelbaseM = corners ? (leftM + (given.Number("wheelbase-right") ?? leftM)) / 2 : 0,
            TrackFrontM = corners ? given.Number("track-front")!.Value : 0,
            TrackRearM = corners ? given.Number("track-rear")!.Value : 0,
            FreeWheels = corners ? [] : [.. WheelNames(given).Select(name => new WheelPoint(name, given.Number($"{name}-behind")!.Value, given.Number($"{name}-left")!.Value))],
            WheelRadiusFrontM = More("radius-front"),
            WheelRadiusRearM = More("radius-rear"),
            CgHeightM = More("cg-height"),
            SpringBaseFrontM = More("base-front"),
            SpringBaseRearM = More("base-rear"),
            SpringTravelPerWheelTravelFront = More("ratio-front"),
            SpringTravelPerWheelTravelRear = More("ratio-rear"),
            WheelRateFrontNPerM = AtTheWheel(More("spring-front"), More("ratio-front")),
            WheelRateRearNPerM = AtTheWheel(More("spring-rear"), More("ratio-rear")),
            AntiRollFrontNPerM = More("bar-front"),
            AntiRollRearNPerM = More("bar-rear"),
            TyreRateFrontNPerM = More("tyre-front"),
            TyreRateRearNPerM = More("tyre-rear"),
            PerchThreadPitchM = More("pitch"),
            MarksM = more && given.Value<IReadOnlyDictionary<string, double>>("marks") is { } marks ? marks : new Dictionary<string, double>(),
            Limits = new VehicleLimits { ClassMinimumKg = More("class-minimum"), BudgetKg = More("budget"), FrontAxleKg = More("axle-front"), RearAxleKg = More("axle-rear") },
            Target = new TargetShares { Front = More("target-front"), Left = More("target-left"), Cross = More("target-cross") },
            Uncertainty = new VehicleUncertainty
            {
                WheelbaseM = corners ? uTapeM : null, TrackFrontM = corners ? uTapeM : null, TrackRearM = corners ? uTapeM : null, FreeWheelPositionM = corners ? null : uTapeM,
            },
        };
    }

    private static IEnumerable<Question> FourCorners(Answers given, VehicleKind kind)
    {
        double startM = given.Text("tape") == "mark" ? 0.1 : 0;
        InputError? Track(double trackM)
        {
            InputError? wrong = Plausibility.TrackM(trackM);
            return wrong is null && kind == VehicleKind.Car && given.Number("wheelbase-left") is double leftM ? Plausibility.TrackAgainstWheelbase(trackM, (leftM + (given.Number("wheelbase-right") ?? leftM)) / 2) : wrong;
        }

        const string wheelbase = "Steering straight. Plumb bob from each front hub centre, two chalk marks, a string between them: that is the front axle line. The same behind. Then from line to line at hub height.";
        const string track = "From the outer edge of one tyre to the inner edge of the other, at hub height, in front of the tyre and behind it; the mean of the two (camber and toe then cancel).";
        yield return Ask.Length("wheelbase-left", "Wheelbase on the left side, hub to hub", wheelbase, Plausibility.WheelbaseM, startM) with { Drawing = Plan };
        yield return Ask.Length("wheelbase-right", "Wheelbase on the right side", wheelbase + " Empty: not measured, the left side counts.", Plausibility.WheelbaseM, startM) with
        {
            IsOptional = true,
            Doubt = answer => given.Number("wheelbase-left") is double leftM ? Plausibility.WheelbaseSides(leftM, (double)answer.Value!) : null,
        };
        yield return Ask.Length("track-front", "Track in front", track, Track, startM);
        yield return Ask.Length("track-rear", "Track behind", track, Track, startM);
    }

    private static IEnumerable<Question> FreeWheels(Answers given, VehicleKind kind)
    {
        yield return Ask.For("wheels", "What are its wheels or supports called?", "Short names with commas between them, at least two. A coupling or a trestle is a support like a wheel.", ReadNames, names => string.Join(", ", names)) with { Default = UsualWheels(kind) };
        foreach (string name in WheelNames(given))
        {
            yield return Ask.Place($"{name}-behind", $"{name}: how far behind the front axle line", "Along the vehicle. Ahead of the line counts negative; or write 350 ahead. Without a front axle choose any line across and keep to it.", "behind", "ahead", FurthestM);
            yield return Ask.Place($"{name}-left", $"{name}: how far left of the centre line", "Across the vehicle, the driver's left. Right counts negative; or write 620 right. On the line: 0.", "left", "right", FurthestM) with { Default = name.Contains("left", StringComparison.Ordinal) || name.Contains("right", StringComparison.Ordinal) ? null : "0" };
        }
    }

    private static IEnumerable<Question> Springs(Answers given)
    {
        yield return Ask.Length("u-tape", "How well can you measure such lengths?", "The standard uncertainty of wheelbase and tracks: about two thirds of your measurements are nearer than this. 2 or 3 mm with care. Open: they count as exact.", lengthM => lengthM <= 0.1 ? null : new InputError(ErrorCode.Implausible, $"found {Ask.Mm(lengthM)}", "a few mm", "type how far off you may be")) with { IsOptional = true };
        foreach (string end in (string[])["front", "rear"])
        {
            yield return Ask.Length($"radius-{end}", $"Wheel radius, {end}", "From the ground to the wheel's centre with the car standing on it.", Plausibility.WheelRadiusM) with { IsOptional = true };
        }

        yield return Ask.Length("cg-height", "Height of the centre of gravity", "If you know it. An estimate is enough for nearly everyone: shares hardly depend on it.", Plausibility.CgHeightM) with { IsOptional = true };
        foreach (string end in (string[])["front", "rear"])
        {
            yield return Ask.Length($"base-{end}", $"Beam axle, {end}: distance between its springs", "Only where both wheels sit on one beam. Open: independent wheels.") with { IsOptional = true };
            yield return Ask.Number($"ratio-{end}", $"Spring travel per wheel travel, {end}", "Lift the wheel by 50 mm and measure how much shorter the spring gets: 35 mm are 0.7. Usually 0.5 to 1.", 0.1, 2) with { IsOptional = true };
            string where = given.Number($"ratio-{end}") is null ? "at the wheel" : "of the spring itself";
            yield return Ask.Rate($"spring-{end}", $"Rate of one spring, {end}, {where}", "With its unit: 35N/mm, 200lb/in. With spring travel per wheel travel known, type what is stamped on the spring: at the wheel it is that times the ratio squared. Otherwise the rate at the wheel. A kart without springs: rigid.", mayBeRigid: given.Number($"ratio-{end}") is null) with { IsOptional = true };
            yield return Ask.Rate($"bar-{end}", $"Anti-roll bar, {end}", "Force at each wheel per mm of difference in travel between left and right, with its unit; 0: none. Open: none, or not known.", mayBeNone: true) with { IsOptional = true };
            yield return Ask.Rate($"tyre-{end}", $"Rate of one tyre, {end}", "Usually 150 to 250 N/mm on a car. Open: 200 N/mm is assumed where it matters, and said so.") with { IsOptional = true };
        }

        yield return Ask.For("pitch", "Thread of the spring perches", "How far a perch goes in one turn: 1.5mm, or 16tpi.", ReadPitch, pitchM => string.Create(CultureInfo.InvariantCulture, $"{pitchM * 1000:0.###} mm a turn")) with { IsOptional = true };
    }

    private static Result<double> ReadPitch(string typed) => Typed.ThreadPitchM(typed).Then<double>(pitchM => pitchM >= 1e-4
        ? pitchM
        : new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", "at least 0.1 mm a turn", "check the unit"));

    private IEnumerable<Question> Limits()
    {
        yield return Ask.For("marks", "Marks to measure parts from", "With the engine in nobody reaches the axle line. Name points you can reach, and how far each is behind the front axle line: firewall=410, dash=900.", ReadMarks, marks => string.Join(", ", marks.Select(mark => $"{mark.Key} {Ask.SaidPlace(mark.Value, "behind", "ahead")}"))) with { IsOptional = true };
        yield return Ask.Mass("class-minimum", "Least mass the rules allow", "As your class counts it, usually with the driver.", unit) with { IsOptional = true };
        yield return Ask.Mass("budget", "Most it is meant to weigh when finished", "Your own target.", unit) with { IsOptional = true };
        yield return Ask.Mass("axle-front", "Rating of the front axle", "What it may carry.", unit) with { IsOptional = true };
        yield return Ask.Mass("axle-rear", "Rating of the rear axle", "What it may carry.", unit) with { IsOptional = true };
        yield return Ask.Share("target-front", "Wanted front share", "48% or 0.48.") with { IsOptional = true };
        yield return Ask.Share("target-left", "Wanted left share", "50% or 0.5.") with { IsOptional = true };
        yield return Ask.Share("target-cross", "Wanted cross share (front right and rear left)", "50% or 0.5.") with { IsOptional = true };
    }

    // Virtual work: force and travel both scale with the ratio.
    private static double? AtTheWheel(double? rateNPerM, double? ratio) => rateNPerM * (ratio ?? 1) * (ratio ?? 1);

    private static IReadOnlyList<string> WheelNames(Answers given) => given.Value<IReadOnlyList<string>>("wheels") ?? [];

    private static string UsualWheels(VehicleKind kind) => kind switch
    {
        VehicleKind.Motorcycle => "front, rear",
        VehicleKind.ThreeWheeler => "front-left, front-right, rear",
        VehicleKind.Sidecar => "front, rear, side",
        VehicleKind.Trailer => "coupling, left, right",
        VehicleKind.SingleAxle => "left, right",
        _ => "front-left, front-right, rear-left, rear-right",
    };

    private static Result<IReadOnlyList<string>> ReadNames(string typed)
    {
        string[] names = [.. typed.Split(',', StringSplitOptions.TrimEntries)];
        if (names.FirstOrDefault(name => !Names.IsName(name)) is { } wrong)
        {
            return new InputError(ErrorCode.Syntax, $"found {InputError.Quote(wrong)}", Names.Expected, "put commas between the names");
        }

        return names.Length is >= 2 and <= 16 && names.Distinct(StringComparer.OrdinalIgnoreCase).Count() == names.Length
            ? names
            : new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(typed)}", "2 to 16 different names", "name each wheel once");
    }

    private static Result<IReadOnlyDictionary<string, double>> ReadMarks(string typed)
    {
        var marks = new Dictionary<string, double>();
        foreach (string item in typed.Split(','))
        {
            string[] sides = item.Split('=', StringSplitOptions.TrimEntries);
            if (sides.Length != 2 || !Names.IsName(sides[0]))
            {
                return new InputError(ErrorCode.Syntax, $"found {InputError.Quote(item.Trim())}", "NAME=DISTANCE, commas between them", "write it like firewall=410, dash=900");
            }

            if (!Typed.Length(sides[1]).At(field: sides[0]).TryGet(out TypedLength place, out InputError? error))
            {
                return error;
            }

            if (Math.Abs(place.LengthM) > FurthestM || !marks.TryAdd(sides[0], place.LengthM))
            {
                return new InputError(ErrorCode.OutOfRange, $"found {InputError.Quote(item.Trim())}", "each mark once, within 20 m", "correct it") { Field = sides[0] };
            }
        }

        return marks;
    }

    private static string FileNameOf(string? name)
    {
        string plain = string.Concat((name ?? "").ToLowerInvariant().Select(letter => char.IsAsciiLetterOrDigit(letter) ? letter : '-')).Trim('-');
        return (plain.Length == 0 ? "vehicle" : plain) + ".toml";
    }
}
