using System.Globalization;
using Fourpatch.Commands;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Tests.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Commands;

/// <summary>
/// <c>perch --repeat</c> with somebody at the car who does exactly what is said. The true car is the four-spring model with rates of its own; the vehicle file
/// says something else, or nothing.
/// </summary>
public class PerchDialogueTests
{
    private const double TrueFrontNPerMm = 24, TrueRearNPerMm = 29;
    private const string Perch = "\n[perch]\nspring_travel_per_wheel_travel_front = 0.8\nspring_travel_per_wheel_travel_rear = 0.75\nthread_pitch_mm = 2\n";

    private static readonly string Car = """
        name = "Wren"
        wheelbase_mm = 2180
        track_front_mm = 1290
        track_rear_mm = 1260
        chassis_torsion_nm_per_deg = 2600

        """;

    [Theory]
    [InlineData(1.3, "attitude-kept")]
    [InlineData(0.7, "attitude-kept")]
    [InlineData(1.3, "least-movement")]
    [InlineData(0.7, "least-movement")]
    [InlineData(1.0, "least-movement")]
    public void It_reaches_the_target_in_at_most_three_rounds_though_the_rates_are_wrong(double wrongBy, string solution)
    {
        const int Start = 88;
        var random = new Random(Start);
        for (var i = 0; i < 20; i++)
        {
            var garage = new Garage(Rates(wrongBy) + Perch, Unbalanced(random));
            var exit = garage.Run("--target-cross", "50%", "--solution", solution, "--resolution", "0.1");
            var where = $"start {Start}, car {i}\n{garage.Screen}";
            Assert.True(exit == 0, where);
            Assert.True(garage.Rounds <= 3, where);
            Assert.Contains("Enough", garage.Screen, StringComparison.Ordinal);
            Assert.True(Math.Abs(garage.TrueCross - 0.5) <= garage.Allowed(step: 0.25), where);
        }
    }

    [Fact]
    public void With_no_rates_at_all_a_trial_turn_leads_to_the_target()
    {
        var random = new Random(5);
        for (var i = 0; i < 10; i++)
        {
            var garage = new Garage("", Unbalanced(random));
            Assert.True(garage.Run("--target-cross", "50%", "--resolution", "0.1") == 0, garage.Screen);
            Assert.Contains("one trial turn", garage.Screen, StringComparison.Ordinal);
            Assert.True(garage.Rounds <= 4, garage.Screen);
            Assert.True(Math.Abs(garage.TrueCross - 0.5) <= garage.Allowed(step: 0.25), garage.Screen);
        }
    }

    [Fact]
    public void A_car_that_is_right_already_is_left_alone()
    {
        var garage = new Garage(Rates(1) + Perch, [105, 105, 115, 115]);
        Assert.Equal(0, garage.Run("--target-cross", "50%", "--resolution", "0.1"));
        Assert.Equal(0, garage.Rounds);
        Assert.Contains("Stop here", garage.Screen, StringComparison.Ordinal);
    }

    [Fact]
    public void Loads_that_cannot_be_read_are_asked_for_again_and_quit_leaves()
    {
        var garage = new Garage(Rates(1) + Perch, [110, 100, 125, 108], "FL=110,FR=100", "FL=110,FR=100,RL=125,RR=0", "quit");
        Assert.Equal(1, garage.Run("--target-cross", "50%"));
        Assert.Contains("RL is missing", garage.Screen, StringComparison.Ordinal);
        Assert.Contains("a wheel carries nothing", garage.Screen, StringComparison.Ordinal);
        Assert.Contains("left", garage.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void The_end_of_the_input_leaves_too()
    {
        var garage = new Garage(Rates(1) + Perch, [110, 100, 125, 108], [null!]);
        Assert.Equal(1, garage.Run("--target-cross", "50%"));
    }

    [Fact]
    public void Which_way_to_turn_depends_on_where_the_seat_is()
    {
        var below = new Garage(Rates(1) + Perch, [100, 110, 125, 108], "quit");
        below.Run("--target-cross", "50%", "--seat", "below");
        Assert.Matches("front left: raise by .*: screw the seat up", below.Screen);
        Assert.Contains("can fly", below.Screen, StringComparison.Ordinal);
        var above = new Garage(Rates(1) + Perch, [100, 110, 125, 108], "quit");
        above.Run("--target-cross", "50%", "--seat", "above");
        Assert.Matches("front left: raise by .*: screw the seat down", above.Screen);
    }

    private static string Rates(double wrongBy) => string.Create(CultureInfo.InvariantCulture,
        $"[wheel_rate_n_per_mm]\nfront = {TrueFrontNPerMm * wrongBy}\nrear = {TrueRearNPerMm * wrongBy}\n[tyre_rate_n_per_mm]\nfront = {170 * wrongBy}\nrear = {190 * wrongBy}\n");

    private static double[] Unbalanced(Random random)
    {
        var off = (random.NextDouble() - 0.5) * 24;
        return [105 + off + random.NextDouble(), 105 - off, 115 - off, 115 + off];
    }

    /// <summary>A person at a car: reads what the screen says to turn, turns it, and types what the scales then show, to a tenth.</summary>
    private sealed class Garage : TextReader, ITerminal
    {
        private readonly string _file;
        private readonly Vehicle _truth;
        private readonly Queue<string> _script;
        private readonly ScreenText _out = new();
        private readonly ScreenText _errors = new();
        private Corners<Measured> _loads;
        private int _read;

        public Garage(string known, double[] loadsKg, params string[] script)
        {
            _file = Car + known;
            _truth = VehicleFile.Parse(Car + Rates(1) + Perch, "truth.toml").Value;
            _script = new(script);
            _loads = Fourpatch.Vehicles.Corners.From(loadsKg).Select(Measured.Exact);
        }

        public int Rounds { get; private set; }

        public string Screen => _out.ToString();

        public string Errors => _errors.ToString();

        public double TrueCross => (_loads.FR.Value + _loads.RL.Value) / _loads.ToArray().Sum(load => load.Value);

        TextWriter ITerminal.Out => _out;

        TextWriter ITerminal.ErrorOut => _errors;

        TextReader ITerminal.Input => this;

        bool ITerminal.IsInteractive => true;

        int ITerminal.Width => 160;

        int ITerminal.Height => 40;

        /// <summary>The larger of U of the typed cross share and half the effect of the smallest turn, both for the true car; the reading itself is rounded.</summary>
        public double Allowed(double step)
        {
            var total = _loads.ToArray().Sum(load => load.Value);
            var readings = _loads.Select((corner, load) => Measured.From(load.Value, new Cause($"r {corner}", "rounding", shape: Shape.Rectangular), 0.05 / Math.Sqrt(3)));
            var u = ((readings.FR + readings.RL) / total).Expand().HalfWidth;
            var response = TwistResponse.FromVehicle(_truth)!;
            var smallest = Fourpatch.Vehicles.Corners.All.Min(corner =>
            {
                var after = response.After(_truth, _loads, PerchScrew.Of(_truth).RisesM(Fourpatch.Vehicles.Corners.Same(0.0).With(corner, step)));
                return Math.Abs((after.FR.Value + after.RL.Value) / total - TrueCross);
            });

            // What is read may be off by u from what is true, and is judged against that.
            return Math.Max(u, smallest / 2) + u;
        }

        public int Run(params string[] options)
        {
            using var folder = new ScratchFolder();
            folder.File("car.toml", _file);
            var context = new CommandContext(this, TimeProvider.System, new ListedPorts(), new WorkFolder(folder.Path));
            return Cli.RunAsync(["perch", "--repeat", "--vehicle", "car.toml", "--corners", Reading(), .. options], context, CancellationToken.None).GetAwaiter().GetResult();
        }

        public override string? ReadLine()
        {
            if (_script.Count > 0) return _script.Dequeue();
            Rounds++;
            var said = Screen[_read..];
            _read = Screen.Length;
            var turns = ToldTurns.In(said);
            _loads = TwistResponse.FromVehicle(_truth)!.After(_truth, _loads, PerchScrew.Of(_truth).RisesM(turns)).Select(load => Measured.Exact(load.Value));
            return Reading();
        }

        private string Reading() => string.Join(',', Fourpatch.Vehicles.Corners.All.Select(corner => string.Create(CultureInfo.InvariantCulture, $"{corner}={_loads[corner].Value:0.0}")));
    }
}
