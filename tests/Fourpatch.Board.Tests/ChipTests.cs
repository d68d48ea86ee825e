using Fourpatch.Board.Simulation;

namespace Fourpatch.Board.Tests;

/// <summary>The simulated HX711 against its datasheet (Avia Semiconductor, HX711 V2.0), pulse by pulse.</summary>
public class ChipTests
{
    private const long Microsecond = 1000;
    private const long Period = 100_000_000;
    private long _now;

    // Datasheet, "serial interface": PD_SCK pulses 25, 26, 27 choose the next conversion; gain 64 halves the counts, channel B is open here.
    [Theory]
    [InlineData(25, 1000)]
    [InlineData(26, 0)]
    [InlineData(27, 500)]
    public void Pulses_beyond_24_choose_gain_and_channel_of_the_conversions_after(int pulses, int counts)
    {
        var chip = Ready(1000);
        Assert.Equal(1000, Clock(chip, pulses));
        // The new setting settles over four conversions.
        for (var i = 0; i < 5; i++)
        {
            _now += Period;
            Assert.False(chip.DataOut(_now));
            Clock(chip, pulses);
        }

        Assert.Equal(counts, chip.LastCounts);
        Assert.Equal(0, chip.BadTrains);
    }

    [Fact]
    public void Data_comes_most_significant_bit_first_and_the_25th_pulse_lifts_the_line_until_the_next_update()
    {
        var chip = Ready(0x123456);
        Assert.Equal(0x123456, Clock(chip, 25));
        Assert.True(chip.DataOut(_now));
        Assert.True(chip.DataOut(_now + (90 * Microsecond * 1000)));
        Assert.False(chip.DataOut(_now + Period));
    }

    [Theory]
    [InlineData(24)]
    [InlineData(28)]
    public void Other_numbers_of_pulses_are_bad_trains(int pulses)
    {
        var chip = Ready(1);
        Clock(chip, pulses);
        _now += Period;
        chip.DataOut(_now);
        Assert.Equal(1, chip.BadTrains);
    }

    // "When PD_SCK pin changes from low to high and stays at high for longer than 60 us, HX711 enters power down mode."
    [Theory]
    [InlineData(59, 0)]
    [InlineData(61, 1)]
    public void A_pulse_longer_than_60_us_powers_down_and_its_end_restarts(int microseconds, int restarts)
    {
        var chip = Ready(1);
        chip.SetClock(true, _now);
        chip.SetClock(false, _now + (microseconds * Microsecond));
        Assert.Equal(restarts, chip.Restarts);
    }

    [Theory]
    [InlineData(SettlingReading.Silent, 4)]
    [InlineData(SettlingReading.Unsettled, 1)]
    public void After_a_restart_four_conversions_settle_heard_or_unheard(SettlingReading reading, int firstHeard)
    {
        var chip = Ready(1000);
        chip.Reading = reading;
        chip.SetClock(true, _now);
        _now += 100 * Microsecond;
        chip.SetClock(false, _now);
        var start = _now;
        for (var conversion = 1; conversion <= 5; conversion++)
        {
            _now = start + (conversion * Period) + (100 * Microsecond);
            Assert.Equal(conversion < firstHeard, chip.DataOut(_now));
            if (conversion >= firstHeard)
            {
                Assert.Equal(conversion >= 4 ? 1000 : 250 * conversion, Clock(chip, 25));
            }
        }
    }

    // Measured on chips and reported by users: some 75 us in which the line is high while the result changes.
    [Fact]
    public void An_unread_result_is_replaced_and_the_line_is_high_meanwhile()
    {
        var chip = Ready(7);
        chip.InputCounts = 8;
        var next = Enumerable.Range(0, 110_000).Select(i => _now + (i * Microsecond)).First(time => chip.DataOut(time));
        Assert.True(chip.DataOut(next + (70 * Microsecond)));
        Assert.False(chip.DataOut(next + (80 * Microsecond)));
        _now = next + (80 * Microsecond);
        Assert.Equal(8, Clock(chip, 25));
    }

    [Theory]
    [InlineData(1e9, 8388607)]
    [InlineData(-1e9, -8388608)]
    public void The_output_saturates(double input, int counts) => Assert.Equal(counts, Clock(Ready(input), 25));

    private Hx711Chip Ready(double counts)
    {
        var chip = new Hx711Chip(10, 0, new Random(1)) { InputCounts = counts, NoiseCounts = 0 };
        _now = 5 * Period;
        chip.DataOut(_now);
        _now += 100 * Microsecond;
        Assert.False(chip.DataOut(_now));
        return chip;
    }

    private int Clock(Hx711Chip chip, int pulses)
    {
        var bits = 0;
        for (var pulse = 1; pulse <= pulses; pulse++)
        {
            chip.SetClock(true, _now);
            _now += Microsecond;
            bits = pulse <= 24 ? (bits << 1) | (chip.DataOut(_now) ? 1 : 0) : bits;
            chip.SetClock(false, _now);
            _now += Microsecond;
        }

        return (bits & 0x800000) == 0 ? bits : bits - 0x1000000;
    }
}
