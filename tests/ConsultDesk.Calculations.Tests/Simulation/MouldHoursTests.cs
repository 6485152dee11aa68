using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Comfort;
using ConsultDesk.Calculations.Simulation;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>Years of mould from the hours in which it grows, against every hour put through the public model one by one.</summary>
public sealed class MouldHoursTests
{
    private const int Hours = YearSeries.Hours;

    [Fact]
    public void Growing_hours_and_what_lies_between_give_what_every_hour_gives()
    {
        Random random = new(20261201);
        int grown = 0;
        int worstByThird = 0;
        for (int round = 0; round < 40; round++)
        {
            MouldSensitivity material = (MouldSensitivity)random.Next(4);
            double decline = new[] { 1, 0.5, 0.25, 0.1 }[random.Next(4)];
            (double C, double Pa)[][] surfaces = [.. Enumerable.Range(0, 3).Select(_ => Weather(random))];
            List<MouldHours> noted = [];
            List<(double First, double Third)> each = [];
            foreach ((double C, double Pa)[] hours in surfaces)
            {
                MouldHours surface = new(MouldPlace.LiningFace, $"surface {noted.Count}", material, decline);
                for (int hour = 0; hour < Hours; hour++)
                {
                    surface.Face(hour, hours[hour].C, hours[hour].Pa);
                }

                noted.Add(surface);
                each.Add(HourByHour(hours, material, decline));
            }

            MouldSurface worst = Assert.Single(MouldHours.Worst(noted));
            (double First, double Third) expected = each.MaxBy(one => (one.First, one.Third));
            Assert.Equal(expected.First, worst.Index, 9);
            Assert.Equal(expected.Third, worst.ThirdYear, 9);
            // Of surfaces that are equal but for rounding any may be named.
            Assert.Contains(worst.Name, each.Select((one, at) => (one, at)).Where(pair => pair.one.First > expected.First - 1e-9).Select(pair => $"surface {pair.at}"));
            grown += worst.Index > 0.01 ? 1 : 0;
            worstByThird += worst.ThirdYear > worst.Index + 0.01 ? 1 : 0;
        }

        Assert.InRange(grown, 20, 40);
        Assert.InRange(worstByThird, 5, 40);
    }

    [Fact]
    public void Of_equal_surfaces_the_first_is_named_and_the_one_that_is_worse_later_before_it()
    {
        MouldHours[] clean = [.. new[] { "a", "b" }.Select(name => new MouldHours(MouldPlace.Mattress, name, MouldSensitivity.Sensitive, 0.25))];
        Assert.Equal(new MouldSurface(MouldPlace.Mattress, "a", 0, 0), Assert.Single(MouldHours.Worst(clean)));

        // One damp spell at the end of the year, the other with hours above the range before it: the same first year, a shorter time to dry.
        MouldHours[] late = [.. new[] { "a", "b" }.Select(name => new MouldHours(MouldPlace.Mattress, name, MouldSensitivity.Sensitive, 0.1))];
        for (int hour = 0; hour < Hours; hour++)
        {
            late[0].Any(hour, 20, hour >= Hours - 400 ? 97 : 50);
            late[1].Any(hour, hour < 4000 ? 55 : 20, hour >= Hours - 400 ? 97 : 50);
        }

        MouldSurface worst = Assert.Single(MouldHours.Worst(late));
        Assert.Equal("b", worst.Name);
        Assert.True(worst.ThirdYear > worst.Index);
    }

    // Spells of damp and dry, frost, and sun on steel above what the model knows.
    private static (double C, double Pa)[] Weather(Random random)
    {
        (double, double)[] hours = new (double, double)[Hours];
        double share = 0.7;
        double warmC = 5 + (10 * random.NextDouble());
        double damp = 0.6 + (0.35 * random.NextDouble());
        for (int hour = 0; hour < Hours; hour++)
        {
            share = random.Next(60) == 0 ? damp + (0.3 * (random.NextDouble() - 0.3)) : share;
            double celsius = warmC + (14 * Math.Sin(hour * 2 * Math.PI / Hours)) + (8 * Math.Sin(hour * Math.PI / 12)) + (random.Next(200) == 0 ? 40 : 0);
            hours[hour] = (celsius, share * MoistAir.SaturationPressureOverWaterPa(celsius));
        }

        return hours;
    }

    private static (double First, double Third) HourByHour((double C, double Pa)[] hours, MouldSensitivity material, double decline)
    {
        MouldState state = default;
        double[] highest = new double[3];
        for (int year = 0; year < 3; year++)
        {
            foreach ((double celsius, double pa) in hours)
            {
                if (celsius <= MouldIndex.TemperatureRange.Maximum)
                {
                    state = MouldIndex.After(state, celsius, 100 * Math.Min(1, pa / MoistAir.SaturationPressureOverWaterPa(celsius)), material, decline, 1);
                    highest[year] = Math.Max(highest[year], state.Index);
                }
            }
        }

        return (highest[0], highest[2]);
    }
}
