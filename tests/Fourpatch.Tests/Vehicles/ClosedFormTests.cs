using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Vehicles;

/// <summary>The full solution and the closed form dF = n (n.h)/(n'Cn) reach the same loads by different roads: nine equations, and one.</summary>
public class ClosedFormTests(Xunit.Abstractions.ITestOutputHelper output)
{
    private const int Start = 20_261;

    [Fact]
    public void The_closed_form_equals_the_full_solve_on_ten_thousand_cars()
    {
        Random random = new(Start);
        var worst = 0.0;
        for (var car = 0; car < 10_000; car++)
        {
            var springs = AnyCar(random);
            var raisesM = Corners.Each(_ => random.NextDouble() * 0.1 - 0.05);
            var perchesM = Corners.Each(_ => random.NextDouble() * 0.04 - 0.02);
            var atCentre = Corners.Each(_ => random.Next(3) == 0);
            Setting setting = new() { Supports = raisesM.Zip(atCentre, (h, at) => new Support(h, at)), PerchRisesM = perchesM };

            var full = FourSprings.LoadChangesN(springs, [], setting);
            var closed = springs.TwistLoadsN(raisesM.Zip(springs.RisesOfPerchesM(perchesM), (h, p) => h + p), atCentre);
            var size = closed.ToArray().Max(Math.Abs);
            foreach (var corner in Corners.All) worst = Math.Max(worst, Math.Abs(full[corner] - closed[corner]) / size);
            Assert.True(worst <= 1e-9, $"Car {car} of start {Start}: relative difference {worst:G3}.");
        }
        output.WriteLine($"Start {Start}: largest relative difference {worst:G3}.");
    }

    /// <summary>
    /// A second way to the same answer, by least potential energy (elementary mechanics): a bar is wound by its wheels, not by the seats of the springs beside
    /// it. For two wheels on 21 N/mm with a bar of 5 N/mm a seat's difference counts by 21/31, not whole.
    /// </summary>
    [Fact]
    public void Perches_beside_anti_roll_bars_do_what_least_energy_says()
    {
        Random random = new(Start + 5);
        for (var car = 0; car < 1000; car++)
        {
            var any = AnyCar(random);
            var springs = any with
            {
                Front = any.Front with { SpringBaseM = null, TyreRateNPerM = 100e3 + 200e3 * random.NextDouble() },
                Rear = any.Rear with { SpringBaseM = null, TyreRateNPerM = 100e3 + 200e3 * random.NextDouble() },
                ChassisFlexibilityRadPerNm = 1 / (50e3 + 500e3 * random.NextDouble()),
            };
            var perchesM = Corners.Each(_ => random.NextDouble() * 0.04 - 0.02);
            var expected = LeastEnergyLoadsN(springs, perchesM);
            var full = FourSprings.LoadChangesN(springs, [], new() { PerchRisesM = perchesM });
            var size = expected.ToArray().Max(Math.Abs);
            foreach (var corner in Corners.All) Assert.True(Math.Abs(full[corner] - expected[corner]) <= 1e-7 * size, $"Car {car} of start {Start + 5}: {full[corner]} for {expected[corner]}.");
        }

        AxleSprings axle = new() { TrackM = 1.5, WheelRateNPerM = 21e3, AntiRollNPerM = 5e3 };
        Springs wren = new() { WheelbaseM = 2.5, Front = axle, Rear = axle };
        Assert.Equal(21.0 / 31, wren.SeatParts.FL, 1e-12);
        var lifted = wren.RisesOfPerchesM(new(0.003, 0.001, 0.004, 0.004));
        Assert.Equal(0.002 + (0.001 * 21 / 31), lifted.FL, 1e-12);
        Assert.Equal(0.002 - (0.001 * 21 / 31), lifted.FR, 1e-12);
        Assert.Equal((0.004, 0.004), (lifted.RL, lifted.RR));
    }

    // Unknown: body heights and rolls over both axles (0 to 3), wheels (4 to 7). The energy's gradient is zero.
    private static Corners<double> LeastEnergyLoadsN(Springs springs, Corners<double> perchesM)
    {
        var stiffness = MathNet.Numerics.LinearAlgebra.Matrix<double>.Build.Dense(8, 8);
        var force = MathNet.Numerics.LinearAlgebra.Vector<double>.Build.Dense(8);
        foreach (var corner in Corners.All)
        {
            var axle = corner.IsFront() ? springs.Front : springs.Rear;
            double[] travel = Travel(corner);
            Wind(axle.WheelRateNPerM, travel, -perchesM[corner]);
            double[] tyre = new double[8];
            tyre[4 + (int)corner] = 1;
            Wind(axle.TyreRateNPerM, tyre, 0);
        }

        Wind(springs.Front.AntiRollNPerM, [.. Travel(Corner.FL).Zip(Travel(Corner.FR), (l, r) => l - r)], 0);
        Wind(springs.Rear.AntiRollNPerM, [.. Travel(Corner.RL).Zip(Travel(Corner.RR), (l, r) => l - r)], 0);
        Wind(1 / springs.ChassisFlexibilityRadPerNm, [0, 0, 1, -1, 0, 0, 0, 0], 0);
        var at = stiffness.LU().Solve(force);
        return Corners.Each(corner => -(corner.IsFront() ? springs.Front : springs.Rear).TyreRateNPerM * at[4 + (int)corner]);

        // How far the wheel goes up against the body.
        double[] Travel(Corner corner)
        {
            var travel = new double[8];
            travel[corner.IsFront() ? 0 : 1] = -1;
            travel[corner.IsFront() ? 2 : 3] = (corner.IsFront() ? springs.Front : springs.Rear).TrackM / 2 * (corner.IsLeft() ? -1 : 1);
            travel[4 + (int)corner] = 1;
            return travel;
        }

        // Adds k/2 (a.u - rest)^2.
        void Wind(double rate, double[] along, double rest)
        {
            for (var i = 0; i < 8; i++)
            {
                force[i] += rate * along[i] * rest;
                for (var j = 0; j < 8; j++) stiffness[i, j] += rate * along[i] * along[j];
            }
        }
    }

    [Fact]
    public void The_twist_compliance_is_that_of_front_roll_rear_roll_and_chassis_in_series()
    {
        Random random = new(Start + 1);
        for (var car = 0; car < 10_000; car++)
        {
            var springs = AnyCar(random);
            Assert.Equal(1, springs.TwistComplianceRadPerNm() / (Roll(springs.Front) + Roll(springs.Rear) + springs.ChassisFlexibilityRadPerNm), 12);
        }

        // Roll flexibility of an axle: suspension (rate/2 at the spring base, bar at the track) and tyres (rate/2 at the track) one after the other.
        static double Roll(AxleSprings a)
        {
            var baseM = a.SpringBaseM ?? a.TrackM;
            return 1 / (a.WheelRateNPerM / 2 * baseM * baseM + a.AntiRollNPerM * a.TrackM * a.TrackM) + 1 / (a.TyreRateNPerM / 2 * a.TrackM * a.TrackM);
        }
    }

    [Fact]
    public void Axle_totals_never_change_and_side_totals_only_on_unequal_tracks()
    {
        Random random = new(Start + 2);
        for (var car = 0; car < 1000; car++)
        {
            var springs = AnyCar(random);
            if (car % 2 == 0) springs = springs with { Rear = springs.Rear with { TrackM = springs.Front.TrackM } };
            var change = FourSprings.LoadChangesN(springs, [], new() { Supports = Corners.Each(_ => new Support(random.NextDouble() * 0.1)) });
            var size = change.ToArray().Max(Math.Abs);
            Assert.Equal(0, change.FL + change.FR, 1e-9 * size);
            Assert.Equal(0, change.RL + change.RR, 1e-9 * size);
            if (car % 2 == 0) Assert.Equal(0, change.FL + change.RL, 1e-9 * size);
        }
    }

    [Fact]
    public void Where_it_stands_the_loads_balance_the_body_and_no_wheel_pulls_or_sinks_in()
    {
        Random random = new(Start + 3);
        var lifted = 0;
        for (var car = 0; car < 3000; car++)
        {
            var springs = AnyCar(random);
            BodyLoad weight = new(5000 + 10_000 * random.NextDouble(), springs.WheelbaseM * (0.3 + 0.4 * random.NextDouble()), 0.1 * random.NextDouble() - 0.05);
            Setting setting = new() { Supports = Corners.Each(_ => new Support(random.NextDouble() * 0.15)) };
            var stance = FourSprings.Solve(springs, [weight], setting);
            var (fl, fr, rl, rr) = stance.LoadsN;
            Assert.Equal(weight.ForceN, fl + fr + rl + rr, 1e-7);
            Assert.Equal(weight.ForceN * weight.BehindFrontAxleM, springs.WheelbaseM * (rl + rr), 1e-7);
            Assert.Equal(weight.ForceN * weight.LeftOfCentreM, ((fl - fr) * springs.Front.TrackM + (rl - rr) * springs.Rear.TrackM) / 2, 1e-7);
            Assert.All(stance.LoadsN.ToArray(), load => Assert.True(load >= 0));
            Assert.All(stance.GapM.ToArray(), gap => Assert.True(gap >= 0));
            foreach (var corner in Corners.All) Assert.Equal(stance.LoadsN[corner] == 0, stance.Lifted.Contains(corner));
            lifted += stance.Lifted.Count;
        }
        output.WriteLine($"Start {Start + 3}: {lifted} of 3000 lifted a wheel.");
        Assert.InRange(lifted, 100, 2900);
    }

    private static Springs AnyCar(Random random)
    {
        return new()
        {
            WheelbaseM = 1 + 3 * random.NextDouble(),
            Front = Axle(),
            Rear = Axle(),
            ChassisFlexibilityRadPerNm = random.Next(2) == 0 ? 0 : 1 / (50e3 + 1e6 * random.NextDouble()),
        };

        AxleSprings Axle()
        {
            var trackM = 0.9 + random.NextDouble();
            return new()
            {
                TrackM = trackM,
                WheelRateNPerM = 10e3 * Math.Pow(20, random.NextDouble()),
                AntiRollNPerM = random.Next(2) == 0 ? 0 : 50e3 * random.NextDouble(),
                SpringBaseM = random.Next(3) == 0 ? trackM * (0.5 + 0.4 * random.NextDouble()) : null,
                TyreRateNPerM = random.Next(3) == 0 ? double.PositiveInfinity : 100e3 + 200e3 * random.NextDouble(),
            };
        }
    }
}
