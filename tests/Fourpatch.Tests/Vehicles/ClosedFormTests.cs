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
            var closed = springs.TwistLoadsN(raisesM.Zip(perchesM, (h, p) => h + p), atCentre);
            var size = closed.ToArray().Max(Math.Abs);
            foreach (var corner in Corners.All) worst = Math.Max(worst, Math.Abs(full[corner] - closed[corner]) / size);
            Assert.True(worst <= 1e-9, $"Car {car} of start {Start}: relative difference {worst:G3}.");
        }
        output.WriteLine($"Start {Start}: largest relative difference {worst:G3}.");
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
