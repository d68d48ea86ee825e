using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Vehicles;

namespace Fourpatch.Commands.Interviews;

/// <summary>Parts one after the other: new ones, and those of a list that is there already, which can be changed or dropped.</summary>
internal sealed class PartsInterview(MassUnit unit, WorkFolder files, string? file, Vehicle vehicle)
{
    public const string File = "file";

    private const string From = "from";
    private const string Drop = "drop";
    private const string FrontAxle = "front-axle";
    private const double FurthestM = 20;

    // Read once: the list must not change under the questions.
    private readonly Dictionary<string, Result<IReadOnlyList<Part>>> _read = [];

    public IReadOnlyList<Question> Questions(Answers given)
    {
        string usual = file ?? "parts.csv";
        var asked = new List<Question>
        {
            Ask.For(From, "Which parts list? A new name begins one", "A list that is there is read, and gone on with.", ReadList, path => path) with { Default = usual },
        };
        if (given.Text(From) is not { } from)
        {
            return asked;
        }

        var parts = Existing(from).Value.ToList();
        int number = 1;
        while (true)
        {
            asked.Add(Item(number, parts));
            if (given.Text(Key("item", number)) is not { } item)
            {
                break;
            }

            Part? old = Find(parts, item);
            asked.AddRange(Of(given, number, old));
            Change(given, number, item, old, parts);
            number++;
        }

        asked.Add(Ask.NewFile(File, "Which file shall the list be written to?", ".csv", files) with { Default = file ?? from });
        return asked;
    }

    /// <summary>The list as it is after the changes.</summary>
    public IReadOnlyList<Part> PartsOf(Answers given)
    {
        var parts = Existing(given.Text(From)!).Value.ToList();
        for (int number = 1; given.Text(Key("item", number)) is { } item; number++)
        {
            Change(given, number, item, Find(parts, item), parts);
        }

        return parts;
    }

    private static Question Item(int number, List<Part> parts) => Ask.Text(
        Key("item", number),
        number == 1 && parts.Count == 0 ? "What is the part called?" : "Next part, or nothing to finish",
        "Any short name, each once. The name of a part of the list changes that one" + (parts.Count == 0 ? "." : $": {string.Join(", ", parts.Select(part => part.Item))}.")) with { IsOptional = true };

    private IEnumerable<Question> Of(Answers given, int number, Part? old)
    {
        string[] actions = [.. Words.All<PartAction>(), .. old is null ? [] : (string[])[Drop]];
        yield return Ask.Choice(Key("action", number), "What is done with it?", "fit: not on the car yet. remove: on the car, comes off. move: goes to another place. movable: may go anywhere in a range. ballast-spot: a place for ballast. fixed: weighed already, stays; for the record. drop: strike it off the list.", actions) with { Default = Words.Of(old?.Action ?? PartAction.Fit) };
        if (ActionOf(given, number) is not PartAction action)
        {
            yield break;
        }

        if (action == PartAction.BallastSpot)
        {
            yield return Ask.Mass(Key("most", number), "Most that may be bolted on there", "What the place and its bolts stand.", unit) with { Default = Kg(old?.MaxMassKg) };
        }
        else
        {
            yield return Ask.Mass(Key("mass", number), "Mass", "Weighed, or estimated; a sum will do: 12.4+0.8.", unit, mayBeZero: true) with { Default = Kg(old?.MassKg) };
        }

        double markM = MarkM(given, number);
        if (vehicle.MarksM.Count > 0)
        {
            yield return Ask.Choice(Key("mark", number), "Measured from which mark?", "Where your tape begins, along the car.", [FrontAxle, .. vehicle.MarksM.Keys]) with { Default = old?.FromMark ?? FrontAxle };
        }

        string origin = markM == 0 ? "the front axle line" : $"the mark ({Ask.Mm(markM)} behind the front axle)";
        yield return Place(Key("behind", number), $"How far behind {origin} is its middle?", "Of its own centre of gravity: balance it on a bar. In front counts negative, or write 350 ahead.", "behind", "ahead", placeM => Sample with { BehindFrontAxleM = markM + placeM }) with { Default = TypedPlace(old?.BehindFrontAxleM - markM, "behind", "ahead") };
        yield return Place(Key("left", number), "How far left of the centre line?", "The driver's left. Right counts negative, or write 120 right.", "left", "right", placeM => Sample with { LeftOfCentreM = placeM }) with { Default = TypedPlace(old?.LeftOfCentreM, "left", "right") };
        yield return Ask.Length(Key("above", number), "How high above the ground?", "Only the height of the centre of gravity needs it.", heightM => heightM <= 3 ? null : new InputError(ErrorCode.Implausible, $"found {Ask.Mm(heightM)}", "at most 3 m", "check the unit")) with { IsOptional = true, Default = Mm(old?.AboveGroundM) };
        yield return Ask.Choice(Key("carried", number), "What carries it?", "body: everything on springs. A wheel or an axle: unsprung, a brake or a hub.", Words.All<PartCarrier>()) with { Default = Words.Of(old?.CarriedBy ?? PartCarrier.Body) };
        foreach (Question question in Goal(given, number, action, old, markM))
        {
            yield return question;
        }

        yield return Ask.Mass(Key("u-mass", number), "How sure is the mass?", "Its standard uncertainty: about two thirds of such guesses are nearer than this. Open: as if exact.", unit, mayBeZero: true) with { IsOptional = true, Default = Kg(old?.UMassKg) };
        yield return Ask.Text(Key("note", number), "A note", "Anything.") with { IsOptional = true, Default = old?.Note };
    }

    private IEnumerable<Question> Goal(Answers given, int number, PartAction action, Part? old, double markM)
    {
        switch (action)
        {
            case PartAction.Move:
                yield return Place(Key("to-behind", number), "Where to: how far behind?", "From the same mark. As it is: the same distance again.", "behind", "ahead", placeM => Sample with { BehindFrontAxleM = markM + placeM }) with { Default = TypedPlace((old?.ToBehindM ?? (given.Number(Key("behind", number)) + markM)) - markM, "behind", "ahead") };
                yield return Place(Key("to-left", number), "Where to: how far left?", "As it is: the same distance again.", "left", "right", placeM => Sample with { LeftOfCentreM = placeM }) with { Default = TypedPlace(old?.ToLeftM ?? given.Number(Key("left", number)), "left", "right") };
                break;
            case PartAction.Movable:
                yield return Range(Key("range-behind", number), "From where to where may it go along the car?", "Two distances behind with 'to' between them: 400 to 650. Open: it stays as it is along the car.", placeM => Sample with { BehindFrontAxleM = markM + placeM }) with { IsOptional = true, Default = TypedRange(old?.MinBehindM - markM, old?.MaxBehindM - markM) };
                yield return Range(Key("range-left", number), "From where to where across?", "Two distances left of the centre line, right negative: -200 to 200.", placeM => Sample with { LeftOfCentreM = placeM }) with
                {
                    IsOptional = given.Find(Key("range-behind", number))?.Value is not null, Default = TypedRange(old?.MinLeftM, old?.MaxLeftM),
                };
                break;
        }
    }

    private void Change(Answers given, int number, string item, Part? old, List<Part> parts)
    {
        if (given.Text(Key("action", number)) == Drop)
        {
            parts.Remove(old!);
            return;
        }

        if (ActionOf(given, number) is not PartAction action || given.Number(Key("behind", number)) is not double behindM || given.Number(Key("left", number)) is not double leftM)
        {
            return;
        }

        double markM = MarkM(given, number);
        var along = given.Value<(double Low, double High)?>(Key("range-behind", number));
        var across = given.Value<(double Low, double High)?>(Key("range-left", number));
        bool moves = action == PartAction.Move;
        bool isMovable = action == PartAction.Movable;
        var part = (old ?? new Part { Item = item, Action = action, BehindFrontAxleM = 0, LeftOfCentreM = 0 }) with
        {
            Action = action,
            MassKg = action == PartAction.BallastSpot ? null : given.Number(Key("mass", number)),
            BehindFrontAxleM = behindM + markM,
            LeftOfCentreM = leftM,
            AboveGroundM = given.Number(Key("above", number)),
            CarriedBy = Words.TryParse(given.Text(Key("carried", number)) ?? "body", out PartCarrier carrier) ? carrier : PartCarrier.Body,
            FromMark = given.Text(Key("mark", number)) is { } mark && mark != FrontAxle ? mark : null,
            ToBehindM = moves ? given.Number(Key("to-behind", number)) + markM : null,
            ToLeftM = moves ? given.Number(Key("to-left", number)) : null,
            ToAboveM = moves ? old?.ToAboveM : null,
            MinBehindM = isMovable ? along?.Low + markM : null,
            MaxBehindM = isMovable ? along?.High + markM : null,
            MinLeftM = isMovable ? across?.Low : null,
            MaxLeftM = isMovable ? across?.High : null,
            MaxMassKg = action == PartAction.BallastSpot ? given.Number(Key("most", number)) : null,
            UMassKg = given.Number(Key("u-mass", number)),
            Note = given.Text(Key("note", number)),
        };
        if (old is null)
        {
            parts.Add(part);
        }
        else
        {
            parts[parts.IndexOf(old)] = part;
        }
    }

    private static Part Sample => new() { Item = "part", Action = PartAction.Fixed, MassKg = 1, BehindFrontAxleM = 0, LeftOfCentreM = 0 };

    private static Part? Find(List<Part> parts, string item) => parts.Find(part => part.Item.Equals(item, StringComparison.OrdinalIgnoreCase));

    private static string Key(string what, int number) => string.Create(CultureInfo.InvariantCulture, $"{what}-{number}");

    private static PartAction? ActionOf(Answers given, int number) =>
        given.Text(Key("action", number)) is { } word && Words.TryParse(word, out PartAction action) ? action : null;

    private double MarkM(Answers given, int number) => vehicle.MarksM.GetValueOrDefault(given.Text(Key("mark", number)) ?? "");

    // What the file's own reader would refuse is refused here, while the tape is still in the hand.
    private Question Place(string key, string prompt, string help, string positive, string negative, Func<double, Part> at)
    {
        Question place = Ask.Place(key, prompt, help, positive, negative, FurthestM);
        return place with { Read = typed => place.Read(typed).Then<Answer>(answer => OnVehicle(at((double)answer.Value!)) is { } wrong ? wrong : answer) };
    }

    private Question Range(string key, string prompt, string help, Func<double, Part> at) => Ask.For<(double Low, double High)>(
        key, prompt, help, typed => ReadRange(typed, at), range => $"{Ask.Mm(range.Low)} to {Ask.Mm(range.High)}");

    private Result<(double Low, double High)> ReadRange(string typed, Func<double, Part> at)
    {
        string[] ends = typed.Split(" to ", StringSplitOptions.TrimEntries);
        if (ends.Length != 2)
        {
            return new InputError(ErrorCode.Syntax, $"found {InputError.Quote(typed)}", "two distances with 'to' between them", "write it like 400 to 650");
        }

        if (!Typed.Length(ends[0]).TryGet(out TypedLength low, out InputError? error) || !Typed.Length(ends[1]).TryGet(out TypedLength high, out error))
        {
            return error;
        }

        if (low.LengthM > high.LengthM)
        {
            return new InputError(ErrorCode.Contradiction, $"found {InputError.Quote(typed)}", "the smaller number first", "exchange the two");
        }

        return (OnVehicle(at(low.LengthM)) ?? OnVehicle(at(high.LengthM))) is { } wrong ? wrong : (low.LengthM, high.LengthM);
    }

    private InputError? OnVehicle(Part part) =>
        PartsFile.Parse(PartsFile.TextOf([part], vehicle), "parts", vehicle).Error is { } error ? error with { File = null, Line = null, Field = null } : null;

    private Result<string> ReadList(string typed)
    {
        string path = typed.Trim();
        if (path.Length == 0 || path.Any(char.IsControl))
        {
            return new InputError(ErrorCode.Syntax, $"found {InputError.Quote(typed)}", "a file name", "write one ending in .csv");
        }

        path = path.EndsWith(".csv", StringComparison.OrdinalIgnoreCase) ? path : path + ".csv";
        return Existing(path).Then<string>(_ => path);
    }

    private Result<IReadOnlyList<Part>> Existing(string path)
    {
        if (!_read.TryGetValue(path, out Result<IReadOnlyList<Part>>? parts))
        {
            string whole = files.Resolve(path);
            parts = System.IO.File.Exists(whole) ? PartsFile.Read(whole, vehicle) : Array.Empty<Part>();
            _read.Add(path, parts);
        }

        return parts;
    }

    private static string? Kg(double? massKg) => massKg is double mass ? FileNumbers.Plain(mass) + " kg" : null;

    private static string? Mm(double? lengthM) => lengthM is double length ? FileNumbers.Mm(length) + " mm" : null;

    private static string? TypedPlace(double? placeM, string positive, string negative) =>
        placeM is double place ? $"{FileNumbers.Mm(Math.Abs(place))} mm {(place < 0 ? negative : positive)}" : null;

    private static string? TypedRange(double? lowM, double? highM) =>
        lowM is double low && highM is double high ? $"{FileNumbers.Mm(low)} mm to {FileNumbers.Mm(high)} mm" : null;
}
