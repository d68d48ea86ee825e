using System.Globalization;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Rigs;

namespace Fourpatch.Commands.Interviews;

/// <summary>Which cells of which boards stand where. Nothing needs to be connected.</summary>
/// <param name="unit">For what is typed without one.</param>
/// <param name="files">Where the file goes.</param>
/// <param name="file">Its name; null: asked for.</param>
/// <param name="wheels">Names of the stations.</param>
/// <param name="lastPorts">Offered as the port.</param>
/// <param name="learnt">Cells by wheel or for the dolly, as <see cref="PressGuide"/> found them: offered as answers; empty when nothing was connected.</param>
internal sealed class RigInterview(
    MassUnit unit, WorkFolder files, string? file, IReadOnlyList<string> wheels, IReadOnlyList<string> lastPorts, IReadOnlyDictionary<string, IReadOnlyList<CellId>> learnt)
{
    public const string File = "file";
    public const string Port = "port";

    private const string Builds = """
          pads          one cell under each wheel
          lever         each wheel on a beam between a block and a cell
          one-dolly     four cells under one dolly that goes round the car
          four-dollies  four dollies, one under each wheel, a board on each
        """;

    private const string Beam = """
               wheel
                (_)
          ==================================  beam, level
          ^      :                          ^
        block    :                         cell
          |--a---|       a: block to wheel, b: block to cell
          |---------------b-----------------|
        """;

    private const string Frame = """
          1 ------------- 2     forwards is up
          |    (wheel)    |     cells in this order: front left, front right,
          3 ------------- 4                          rear left, rear right
        """;

    public IReadOnlyList<Question> Questions(Answers given)
    {
        var asked = new List<Question>
        {
            Ask.Choice("build", "How is the rig built?", "Choose what stands under the wheels.", ["pads", "lever", "one-dolly", "four-dollies"]) with { Drawing = Builds, Default = LearntBuild },
        };
        switch (given.Text("build"))
        {
            case "lever":
                asked.AddRange(Stations(given));
                asked.AddRange(Levers(given));
                break;
            case "one-dolly":
                asked.AddRange(Dolly(given, "dolly", "B1"));
                break;
            case "four-dollies":
                asked.AddRange(wheels.SelectMany((wheel, index) => Dolly(given, wheel, string.Create(CultureInfo.InvariantCulture, $"B{index + 1}"))));
                break;
            default:
                asked.AddRange(Stations(given));
                asked.Add(Ask.YesNo("platforms", "Lie platforms or boards on the pads whose weight is to be taken off?", "Only what was not there when the zero was taken.", "no"));
                asked.AddRange(given.IsYes("platforms") ? wheels.Select(wheel => Tare(given, wheel, "Platform")) : []);
                break;
        }

        asked.Add(Ask.For(Port, "At which port is the board?", "As 'fourpatch ports' lists it; with several boards all ports with commas between them. Open: you say so later with --port.", ReadPorts, ports => string.Join(", ", ports)) with
        {
            IsOptional = true,
            Default = lastPorts.Count > 0 ? string.Join(", ", lastPorts) : null,
        });
        asked.Add(Ask.NewFile(File, "Which file shall it be written to?", ".toml", files) with { Default = file ?? "rig.toml" });
        return asked;
    }

    /// <summary>The layout that was described.</summary>
    public RigLayout LayoutOf(Answers given) => given.Text("build") switch
    {
        "one-dolly" => new RigLayout { Dollies = [DollyOf(given, "dolly")] },
        "four-dollies" => new RigLayout
        {
            Dollies = [.. wheels.Select(wheel => DollyOf(given, wheel))],
            Stations = [.. wheels.Select(wheel => new StationLayout { Name = wheel, Dolly = given.Text($"name-{wheel}")! })],
        },
        var build => new RigLayout { Stations = [.. wheels.Select(wheel => StationOf(given, wheel, isLever: build == "lever"))] },
    };

    private static StationLayout StationOf(Answers given, string wheel, bool isLever)
    {
        var station = new StationLayout { Name = wheel, Cells = given.Value<IReadOnlyList<CellId>>($"cells-{wheel}")!, TareKg = isLever || given.IsYes("platforms") ? given.Number($"tare-{wheel}") ?? 0 : 0 };
        if (!isLever)
        {
            return station;
        }

        double blockM = given.Number($"block-{wheel}")!.Value;
        double factor = given.Number($"span-{wheel}")!.Value / blockM;

        // A wheel d off its mark changes the factor by d in a.
        return station with { LeverFactor = factor, ULeverFactor = factor * (given.Number("placement") ?? 0) / blockM };
    }

    private static DollyLayout DollyOf(Answers given, string key)
    {
        IReadOnlyList<CellId> cells = given.Value<IReadOnlyList<CellId>>($"cells-{key}")!;
        bool hasFrame = cells.Count == 4 && given.Number($"length-{key}") is not null;
        (double halfLengthM, double halfWidthM) = ((given.Number($"length-{key}") ?? 0) / 2, (given.Number($"width-{key}") ?? 0) / 2);
        return new DollyLayout
        {
            Name = given.Text($"name-{key}")!,
            Cells = cells,
            TareKg = given.Number($"tare-{key}") ?? 0,
            WheelCentreRiseM = given.Number($"rise-{key}"),
            CellsAt = hasFrame ? [new(-halfLengthM, halfWidthM), new(-halfLengthM, -halfWidthM), new(halfLengthM, halfWidthM), new(halfLengthM, -halfWidthM)] : [],
        };
    }

    private string LearntBuild => learnt.ContainsKey(PressGuide.Dolly) ? "one-dolly" : learnt.Count > 0 && learnt.Values.All(cells => cells.Count is 3 or 4) ? "four-dollies" : "pads";

    private IEnumerable<Question> Stations(Answers given)
    {
        var taken = new List<CellId>();
        for (int index = 0; index < wheels.Count; index++)
        {
            // The first cell that stands nowhere yet, beginning with the one of the same number.
            CellId otherwise = Enumerable.Range(0, wheels.Count).Select(offset => (index + offset) % wheels.Count)
                .Select(place => new CellId(string.Create(CultureInfo.InvariantCulture, $"B{(place / 4) + 1}"), (place % 4) + 1))
                .FirstOrDefault(cell => !taken.Contains(cell), new CellId("B1", 1));
            taken.AddRange(given.Value<IReadOnlyList<CellId>>($"cells-{wheels[index]}") ?? []);
            yield return Cells(given, wheels[index], $"Which cell stands under {wheels[index]}?", otherwise.ToString(), 1, 16);
        }
    }

    private Question Cells(Answers given, string key, string prompt, string otherwise, int fewest, int most) => Ask.For(
        $"cells-{key}",
        prompt,
        "Board and cell, B1:3. 'fourpatch ports' shows what the board is called; the cells are numbered on it. Several cells whose loads add up: commas between them. Press with your hand and look at 'fourpatch watch' when in doubt.",
        typed => ReadCells(given, key, typed, fewest, most),
        cells => string.Join(", ", cells)) with { Default = learnt.TryGetValue(key, out IReadOnlyList<CellId>? found) ? string.Join(", ", found) : otherwise };

    private IEnumerable<Question> Levers(Answers given)
    {
        string? before = null;
        foreach (string wheel in wheels)
        {
            yield return Ask.Length($"block-{wheel}", $"Beam under {wheel}: from the block to the wheel's mark (a)", "From where the beam rests on its block to where the wheel's centre line stands.") with
            {
                Drawing = before is null ? Beam : null,
                Default = before is null ? null : given.Find($"block-{before}")?.Typed,
            };
            yield return Ask.Length($"span-{wheel}", $"Beam under {wheel}: from the block to the cell (b)", "From where the beam rests on its block to the middle of the cell. b divided by a is how much more the wheel carries than the cell shows.", spanM => SpanCheck(given.Number($"block-{wheel}"), spanM)) with
            {
                Default = before is null ? null : given.Find($"span-{before}")?.Typed,
            };
            yield return Tare(given, wheel, "Beam") with { Default = before is null ? null : Kept(given, $"tare-{before}") };
            before = wheel;
        }

        yield return Ask.Length("placement", "How far off its mark may a wheel stand?", "About two thirds of the times it is nearer than this. It goes into how sure the loads are.", lengthM => lengthM <= 0.1 ? null : new InputError(ErrorCode.Implausible, $"found {Ask.Mm(lengthM)}", "at most 100 mm", "mark the place better")) with { Default = "5mm" };
    }

    private IEnumerable<Question> Dolly(Answers given, string key, string board)
    {
        bool one = key == "dolly";
        yield return Ask.For($"name-{key}", one ? "What is the dolly called?" : $"What is the dolly under {key} called?", "A short name; the layout file knows it by that.", typed => ReadDollyName(given, key, typed), name => name) with { Default = one ? "dolly" : $"dolly-{key}" };
        yield return Cells(given, key, "Which cells carry it?", $"{board}:1, {board}:2, {board}:3, {board}:4", 3, 4) with { Drawing = Frame };
        yield return Tare(given, key, "Empty dolly");
        yield return Ask.Length($"rise-{key}", "How far does it lift the wheel's centre?", "Height of the hub on the dolly less its height on the bare floor. Not the deck's height: the tyre sinks between the rollers. Open: not measured yet.", riseM => riseM <= 0.5 ? null : new InputError(ErrorCode.Implausible, $"found {Ask.Mm(riseM)}", "at most 500 mm", "check the unit")) with { IsOptional = true };
        yield return Ask.Length($"length-{key}", "From the front cells to the rear ones", "Between the middles of the cells, in the direction the car rolls. Open: not needed for weighing, but for calibrating with a weight moved about.", FrameCheck) with { IsOptional = true };
        if (given.Number($"length-{key}") is not null)
        {
            yield return Ask.Length($"width-{key}", "From the left cells to the right ones", "Between the middles of the cells, across.", FrameCheck);
        }
    }

    private Question Tare(Answers given, string key, string what) =>
        Ask.Mass($"tare-{key}", $"{what}{(key == "dolly" || given.Text("build") == "four-dollies" ? "" : $" under {key}")}: what do the cells feel of it?", "What the unloaded thing adds to the cells, weighed or read from them. Taken off every reading, and shown. Open: nothing, or it is in the zero already.", unit, mayBeZero: true) with { IsOptional = true };

    private static string? Kept(Answers given, string key) => given.Find(key) is { Typed.Length: > 0 } answer ? answer.Typed : null;

    private static InputError? SpanCheck(double? blockM, double spanM) => blockM is not double a || (spanM > a && spanM / a <= 20)
        ? null
        : new InputError(ErrorCode.Contradiction, $"found {Ask.Mm(spanM)} with {Ask.Mm(a)} from block to wheel", "more than that, and at most twenty times as much", "check whether the two were exchanged");

    private static InputError? FrameCheck(double lengthM) => lengthM is >= 0.05 and <= 5
        ? null
        : new InputError(ErrorCode.Implausible, $"found {Ask.Mm(lengthM)}", "50 mm to 5 m", "check the unit");

    private Result<IReadOnlyList<CellId>> ReadCells(Answers given, string key, string typed, int fewest, int most)
    {
        var cells = new List<CellId>();
        foreach (string item in typed.Split(',', StringSplitOptions.TrimEntries))
        {
            if (!LayoutFile.ParseCell(item).TryGet(out CellId cell, out InputError? error))
            {
                return error;
            }

            string? other = wheels.TakeWhile(wheel => wheel != key).FirstOrDefault(wheel => given.Value<IReadOnlyList<CellId>>($"cells-{wheel}")?.Contains(cell) == true);
            if (other is not null || cells.Contains(cell))
            {
                return new InputError(ErrorCode.Duplicate, other is null ? $"{cell} is named twice" : $"{cell} stands under {other} already", "every cell in one place", "name another cell");
            }

            cells.Add(cell);
        }

        return cells.Count >= fewest && cells.Count <= most
            ? cells
            : new InputError(ErrorCode.OutOfRange, string.Create(CultureInfo.InvariantCulture, $"found {cells.Count} cells"), string.Create(CultureInfo.InvariantCulture, $"{fewest} to {most} cells"), "name the cells that carry it, with commas between them");
    }

    private Result<string> ReadDollyName(Answers given, string key, string typed) => Ask.ReadName(typed).Then<string>(name =>
        wheels.TakeWhile(wheel => wheel != key).Any(wheel => given.Text($"name-{wheel}") == name)
            ? new InputError(ErrorCode.Duplicate, $"a dolly is called {name} already", "a name of its own", "choose another name")
            : name);

    private static Result<IReadOnlyList<string>> ReadPorts(string typed)
    {
        string[] ports = typed.Split(',', StringSplitOptions.TrimEntries);
        foreach (string port in ports)
        {
            if (!PortAddress.TryParse(port, out PortAddress? address, out string problem))
            {
                return new InputError(ErrorCode.Syntax, problem, "", "correct the port");
            }

            if (address!.Kind == PortKind.Replay)
            {
                return new InputError(ErrorCode.Contradiction, $"{port} is a log", "the port of a board", "name a serial port, tcp:HOST:PORT or virtual");
            }
        }

        return ports.Distinct().Count() == ports.Length
            ? ports
            : new InputError(ErrorCode.Duplicate, $"found {InputError.Quote(typed)}", "each board's own port", "leave one of the two out");
    }
}
