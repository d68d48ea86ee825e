using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using MathNet.Numerics.LinearAlgebra;

namespace Fourpatch.Weighing.Raised;

/// <summary>
/// Corner loads on the floor from readings taken with wheels raised: everything that is known, put together by least squares. Each reading is load plus
/// <see cref="RaisedCar.ChangeKg"/>; what is known beforehand of the car and its total counts as further readings; all of them weigh by their whole
/// covariance, errors of rises included (Gauss-Newton; the estimate is the best linear one at its end point, Gauss-Markov theorem).
/// </summary>
public sealed class RaisedFit
{
    private const int MostSteps = 25;
    private const double SettledKg = 1e-6;

    // Far below what any scale shows: keeps exact readings from making the covariance singular.
    private const double LeastU = 1e-5;
    private const double StepM = 1e-4;

    private readonly RaisedCar _car;
    private readonly IReadOnlyList<RaisedReading> _readings;
    private readonly Measured? _totalKg;
    private readonly Corner[] _corners;
    private readonly Measured[] _known;
    private readonly int[] _free;
    private double _doubtOfStiffness;

    private RaisedFit(RaisedCar car, IReadOnlyList<RaisedReading> readings, Measured? totalKg)
    {
        _car = car;
        _readings = readings;
        _corners = [.. Corners.All.Where(corner => readings.Any(reading => reading.Corner == corner))];
        _totalKg = _corners.Length == 4 ? totalKg : null;
        _known = car.Known.ToArray();
        _free = [.. Enumerable.Range(0, _known.Length).Where(i => _known[i].StandardUncertainty > 0)];
        LoadsKg = Corners.Same<Measured?>(null);
        Solve();
    }

    /// <summary>Loads on the floor as it is; null where nothing was read.</summary>
    public Corners<Measured?> LoadsKg { get; private set; }

    /// <summary>How the car answers, as far as the readings and what was known beforehand tell.</summary>
    public CarAnswer<Measured> Answer { get; private set; } = null!;

    /// <summary>The twist stiffness 1/(n'Cn), N m/rad.</summary>
    public Measured StiffnessNmPerRad => Measured.Evaluate([Answer.LogStiffness], at => Math.Exp(at[0]));

    /// <summary>Load that moves on to a front corner per millimetre it is raised on its pad, its tyre counted, kg.</summary>
    public Measured StiffnessKgPerMm => StiffnessNmPerRad / (1000 * StandardGravity.MPerS2 * _car.Vehicle.TrackFrontM * _car.Vehicle.TrackFrontM);

    /// <summary>Sum of the squares of what is left, each against its own uncertainty.</summary>
    public double ChiSquared { get; private set; }

    /// <summary>How many readings there are more than unknowns.</summary>
    public int DegreesOfFreedom { get; private set; }

    /// <summary>Solves for what was given.</summary>
    /// <param name="car">The car.</param>
    /// <param name="readings">At least one.</param>
    /// <param name="totalKg">A total known otherwise; used when every corner was read.</param>
    public static RaisedFit Of(RaisedCar car, IReadOnlyList<RaisedReading> readings, Measured? totalKg = null) => readings.Count > 0
        ? new(car, readings, totalKg)
        : throw new ArgumentException("Nothing was read.", nameof(readings));

    /// <summary>How much each corner reads too much per millimetre of its own rise when it alone is raised, kg.</summary>
    /// <param name="atWheelCentre">Whether the rise is that of the wheel's centre.</param>
    public Corners<Measured> OverReadKgPerMm(bool atWheelCentre) => Corners.Each(corner => Measured.Evaluate(Answer.ToArray(), at =>
        _car.ChangeKg(corner, Corners.Same(0.0).With(corner, 0.001), Corners.Same(false).With(corner, atWheelCentre), CarAnswer.From<double>(at), WholeKg())));

    /// <summary>What each corner carried during a reading, by this answer; null where its load is not known.</summary>
    public Corners<double?> DuringKg(RaisedReading reading)
    {
        var answer = CarAnswer.From<double>(Values(Answer));
        return Corners.Each(corner => LoadsKg[corner] is { } load
            ? load.Value + _car.ChangeKg(corner, reading.RisesM.Select(rise => rise.Value), reading.AtWheelCentre, answer, WholeKg())
            : (double?)null);
    }

    private double WholeKg() => 4 * LoadsKg.ToArray().OfType<Measured>().Average(load => load.Value);

    private static double[] Values(CarAnswer<Measured> answer) => [.. answer.ToArray().Select(part => part.Value)];

    private void Solve()
    {
        // Unknowns: one load for each corner that was read, then what of the car is not exact.
        double[] x =
        [
            .. _corners.Select(corner => _readings.Where(reading => reading.Corner == corner).Average(reading => reading.Kg.Value)),
            .. _free.Select(i => _known[i].Value),
        ];
        Matrix<double> gain = Matrix<double>.Build.Dense(1, 1);
        Measured[] left = [];
        for (var step = 0; step < MostSteps; step++)
        {
            left = [.. Left(x)];
            var covariance = Covariance(left);
            gain = Gain(x, covariance);
            _doubtOfStiffness = _free is [0, ..] ? Math.Sqrt(Math.Max(0, gain.Row(_corners.Length) * covariance * gain.Row(_corners.Length))) : 0;
            var move = gain * Vector<double>.Build.Dense([.. left.Select(one => one.Value)]);

            // A guess a factor off must not throw the stiffness to where nothing answers.
            var scale = _free is [0, ..] ? Math.Min(1, 1 / Math.Max(1e-12, Math.Abs(move[_corners.Length]))) : 1;
            for (var i = 0; i < x.Length; i++) x[i] += scale * move[i];
            if (scale == 1 && move.Take(_corners.Length).All(kg => Math.Abs(kg) < SettledKg)) break;
        }

        left = [.. Left(x)];
        Measured[] result = [.. x.Select((value, i) => Measured.Propagate(value, left, gain.Row(i).ToArray()))];
        Corners<Measured?> loads = Corners.Same<Measured?>(null);
        for (var i = 0; i < _corners.Length; i++) loads = loads.With(_corners[i], result[i]);
        LoadsKg = loads;
        Measured[] answer = [.. _known];
        for (var i = 0; i < _free.Length; i++) answer[_free[i]] = result[_corners.Length + i];
        Answer = CarAnswer.From<Measured>(answer);
        var rest = Vector<double>.Build.Dense([.. left.Select(one => one.Value)]);
        ChiSquared = rest * Covariance(left).Solve(rest);
        DegreesOfFreedom = left.Length - x.Length;
    }

    /// <summary>What is left of every reading, of the total and of what was known beforehand, each with the causes of the reading and of its rises.</summary>
    /// <remarks>
    /// What an error of a rise does grows with a stiffness that may itself be far off: the variance of a product is (s^2 + u(s)^2) u(h)^2
    /// (the second-order term of GUM 5.1.2, note).
    /// </remarks>
    private IEnumerable<Measured> Left(double[] x)
    {
        var further = Math.Sqrt(1 + _doubtOfStiffness * _doubtOfStiffness);
        foreach (var reading in _readings)
        {
            double[] rises = [.. reading.RisesM.ToArray().Select(rise => rise.Value)];
            Measured[] inputs = [reading.Kg, .. reading.RisesM.ToArray()];
            double[] gradient =
            [
                1,
                .. Enumerable.Range(0, 4).Select(i => reading.RisesM.ToArray()[i].StandardUncertainty == 0 ? 0 : -further * Slope(at =>
                {
                    double[] moved = [.. rises];
                    moved[i] = at;
                    return ModelKg(reading, x, moved);
                }, rises[i], StepM)),
            ];
            yield return Measured.Propagate(reading.Kg.Value - ModelKg(reading, x, rises), inputs, gradient);
        }

        if (_totalKg is { } total) yield return total - x[..4].Sum();
        for (var i = 0; i < _free.Length; i++) yield return _known[_free[i]] - x[_corners.Length + i];
    }

    private double ModelKg(RaisedReading reading, double[] x, double[] risesM)
    {
        double[] answer = [.. _known.Select(known => known.Value)];
        for (var i = 0; i < _free.Length; i++) answer[_free[i]] = x[_corners.Length + i];
        var wholeKg = 4 * x[.._corners.Length].Average();
        return x[Array.IndexOf(_corners, reading.Corner)] + _car.ChangeKg(reading.Corner, Corners.From(risesM), reading.AtWheelCentre, CarAnswer.From<double>(answer), wholeKg);
    }

    /// <summary>From what is left to how far the unknowns must move: (A'V^-1 A)^-1 A'V^-1.</summary>
    private Matrix<double> Gain(double[] x, Matrix<double> covariance)
    {
        var design = Matrix<double>.Build.Dense(covariance.RowCount, x.Length);
        for (var row = 0; row < _readings.Count; row++)
        {
            var reading = _readings[row];
            double[] rises = [.. reading.RisesM.ToArray().Select(rise => rise.Value)];
            for (var j = 0; j < x.Length; j++)
            {
                var at = j;
                design[row, j] = j < _corners.Length && _corners[j] != reading.Corner && rises.All(rise => rise == 0) ? 0 : Slope(value =>
                {
                    double[] moved = [.. x];
                    moved[at] = value;
                    return ModelKg(reading, moved, rises);
                }, x[j], j < _corners.Length ? 1 : 1e-4);
            }
        }

        var next = _readings.Count;
        if (_totalKg is not null)
        {
            for (var j = 0; j < 4; j++) design[next, j] = 1;
            next++;
        }

        for (var i = 0; i < _free.Length; i++) design[next + i, _corners.Length + i] = 1;
        var weighted = covariance.Solve(design).Transpose();
        return (weighted * design).Solve(weighted);
    }

    private static Matrix<double> Covariance(Measured[] left)
    {
        var covariance = Matrix<double>.Build.DenseOfArray(Measured.CovarianceMatrix(left));
        for (var i = 0; i < left.Length; i++) covariance[i, i] += LeastU * LeastU;
        return covariance;
    }

    private static double Slope(Func<double, double> function, double at, double step) => (function(at + step) - function(at - step)) / (2 * step);
}
