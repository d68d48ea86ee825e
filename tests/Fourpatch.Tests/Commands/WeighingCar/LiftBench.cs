using Fourpatch.Records;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands.WeighingCar;

/// <summary>Somebody quits, or the machine dies, at a prompt.</summary>
internal sealed class KilledException : Exception;

/// <summary>A garage with a car, one dolly or two pads, and somebody who does what each prompt says and answers it.</summary>
internal sealed class LiftBench : IDisposable
{
    /// <summary>The car as its file says: no rates, so that nothing of its springs is known.</summary>
    public const string Car = """
        name = "Wren"
        wheelbase_mm = 2180
        track_front_mm = 1290
        track_rear_mm = 1260
        cg_height_mm = 420
        wheel_radius_front_mm = 270
        wheel_radius_rear_mm = 280
        """;

    private readonly List<string> _asked = [];

    public LiftBench(VirtualGarage garage, int width = 80)
    {
        Garage = garage;
        Bench = new Bench(new GarageLinks(garage)) { Person = Answer, Data = "data", Width = width };
        Bench.Write("car.toml", Car);
    }

    public VirtualGarage Garage { get; }

    public Bench Bench { get; }

    /// <summary>Answers that differ from a bare Enter: the first whose words are in the question, each used once.</summary>
    public List<(string Asked, string? Answer)> Answers { get; } = [];

    /// <summary>Before which prompt of this run it ends; 0: never.</summary>
    public int KilledAt { get; set; }

    /// <summary>What happens then: the person types quit, or the machine dies.</summary>
    public bool Dies { get; set; }

    /// <summary>What the person answers without doing it: words of the prompt; empty: nothing.</summary>
    public string Forgets { get; set; } = "";

    /// <summary>Everything that was asked in this run.</summary>
    public IReadOnlyList<string> Asked => _asked;

    /// <summary>A car of 470 kg on its springs and one dolly beside it.</summary>
    public static VirtualGarage OneDolly(double swayKg = 0) => new(
        new()
        {
            VehiclePath = "car.toml", Build = RigBuild.OneDolly, RateHz = 10,
            Car = new() { MassKg = 470, CgBehindFrontAxleM = 1.12, CgLeftOfCentreM = 0.01, CgHeightM = 0.42 },
            FloorM = new(0.002, -0.003, 0.001, 0.004),
            Boards = [new() { Id = "B1", Cells = [.. Enumerable.Repeat(new ScenarioCell { CapacityKg = 300, SpanErrorPercent = 0.02, ZeroErrorCounts = 30 }, 4)] }],
            Noise = new() { SwayKg = swayKg },
        },
        Files.VehicleOf(Car + "\n[wheel_rate_n_per_mm]\nfront = 22\nrear = 26\n"), 5);

    public async Task<Outcome> RunAsync(params string[] args)
    {
        _asked.Clear();
        return await Bench.RunAsync([.. args, "--port", "virtual", "--vehicle", "car.toml"]);
    }

    /// <summary>The weighings that can be gone on with.</summary>
    public IReadOnlyList<UnfinishedWeighing> Unfinished()
    {
        string folder = Path.Combine(Bench.Folder, "data");
        if (!RecordStore.IsIn(folder))
        {
            return [];
        }

        using RecordStore store = RecordStore.Open(folder).Value;
        return [.. store.Unfinished().Value.Select(UnfinishedWeighing.Of).OfType<UnfinishedWeighing>()];
    }

    public void Dispose() => Bench.Dispose();

    /// <summary>Does what a prompt says, and answers it.</summary>
    public string? Answer(string said)
    {
        _asked.Add(said);
        if (_asked.Count == KilledAt)
        {
            return Dies ? throw new KilledException() : "quit";
        }

        if (Forgets.Length == 0 || !said.Contains(Forgets, StringComparison.Ordinal))
        {
            Do(said);
        }

        int own = Answers.FindIndex(answer => said.Contains(answer.Asked, StringComparison.Ordinal));
        if (own < 0)
        {
            return "";
        }

        string? typed = Answers[own].Answer;
        Answers.RemoveAt(own);
        return typed;
    }

    // What the prompt asks for is done before Enter is pressed.
    private void Do(string said)
    {
        string last = said[(said.LastIndexOf("  taken", StringComparison.Ordinal) is var at and >= 0 ? at : 0)..];
        foreach (Corner corner in Corners.All)
        {
            if (last.Contains($"{corner}: the dolly beside it, empty", StringComparison.Ordinal) || last.Contains("Lower ", StringComparison.Ordinal) || last.Contains("The dolly empty once more", StringComparison.Ordinal))
            {
                Garage.RemoveDolly();
                foreach (Corner wheel in Corners.All) Garage.SetBlock(wheel, 0);
            }

            if (last.Contains($"Raise {corner} and set", StringComparison.Ordinal))
            {
                Garage.PlaceDolly(corner, 0.05);
                foreach (Corner wheel in Corners.All.Where(wheel => BlockedIn(last, wheel))) Garage.SetBlock(wheel, 0.05);
            }

            if (last.Contains($"Now {corner} higher", StringComparison.Ordinal)) Garage.PlaceDolly(corner, 0.08);
        }

        if (last.Contains("Both pads empty", StringComparison.Ordinal) || last.Contains("off the pads", StringComparison.Ordinal)) Garage.TakeCarOff();
        if (last.Contains("the front axle on to the pads", StringComparison.Ordinal)) PushOn(new(1, 2, 3, 4));
        if (last.Contains("the rear axle on to the pads", StringComparison.Ordinal)) PushOn(new(3, 4, 1, 2));
        if (last.Contains("the left side on to the pads", StringComparison.Ordinal)) PushOn(new(1, 3, 2, 4));
        if (last.Contains("the right side on to the pads", StringComparison.Ordinal)) PushOn(new(3, 1, 4, 2));
    }

    private void PushOn(Corners<int> pads)
    {
        Garage.ArrangePads(pads);
        Garage.PutCarOn();
    }

    private static bool BlockedIn(string said, Corner wheel) =>
        said.IndexOf(" mm under ", StringComparison.Ordinal) is var at and > 0 && said[at..].Split('.')[0].Contains(wheel.ToString(), StringComparison.Ordinal);

    private static class Files
    {
        public static Vehicle VehicleOf(string toml) => Fourpatch.Files.VehicleFile.Parse(toml, "car.toml").Value;
    }
}
