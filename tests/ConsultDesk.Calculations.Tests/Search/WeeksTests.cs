using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Search;

/// <summary>A look in spells of days: what stands in the hours of each, and the same whoever is looked at beside it.</summary>
public sealed class WeeksTests
{
    private static readonly Design Van = Presets.Build("long-high", Layout.RearPlatformBed);
    private static readonly YearWeather Weather = YearWeather.Of(Van);

    private static Design[] Designs =>
    [
        Van,
        Van with { BareMetal = [] },
        Van with { Heater = Van.Heater with { Kind = HeaterKind.None } },
        Van with { Leakage = Van.Leakage with { EffectiveArea = Area.FromSquareCentimeters(30) } },
        Van with { Glazings = [.. Van.Glazings.Skip(1)] },
        Van with { Heater = Van.Heater with { RatedOutput = Power.FromKilowatts(60), DaySetPoint = Temperature.FromDegreesCelsius(300), NightSetPoint = Temperature.FromDegreesCelsius(300), RunsWhenAway = true } },
    ];

    [Fact]
    public void A_design_has_the_numbers_it_has_alone_and_one_that_fails_takes_no_other_with_it()
    {
        Weeks weeks = new(Weather, 5);
        double[]?[] together = [.. weeks.Of(Designs, 2, TestContext.Current.CancellationToken)];

        Assert.Equal([.. Designs.Select(design => weeks.Of([design], 1, TestContext.Current.CancellationToken)[0])], together);
        Assert.Null(together[5]);
        Assert.All(together[..5], numbers => Assert.Equal(15, numbers!.Length));
        Assert.Equal(5, together[..5].Select(numbers => string.Join(' ', numbers!)).Distinct().Count());
    }

    [Fact]
    public void The_numbers_are_those_of_the_hours()
    {
        Weeks weeks = new(Weather, 5);
        double[] numbers = weeks.Of([Van], 1, TestContext.Current.CancellationToken)[0]!;
        VanModel van = new(Van, Assumptions.Likely);
        int bed = van.Night.FirstOf(ZoneKind.Sleeping) * YearSeries.Hours;
        int living = van.Night.FirstOf(ZoneKind.Living) * YearSeries.Hours;
        double nightC = Van.Heater.NightSetPoint.DegreesCelsius - 1;
        double dayC = Van.Heater.DaySetPoint.DegreesCelsius - 1;
        for (int spell = 0; spell < 3; spell++)
        {
            int from = weeks.From[spell];
            YearSeries series = YearRun.Of(van, Weather, null, from, Weeks.Days, cancellation: TestContext.Current.CancellationToken);
            int[] hours = [.. Enumerable.Range(24 * from, 24 * Weeks.Days).Select(hour => hour % YearSeries.Hours)];
            double[] expected =
            [
                hours.Sum(hour => Enumerable.Range(0, van.FirstLining).Sum(k => series.SurfaceFilmKgPerM2[(k * YearSeries.Hours) + hour] >= 0.001 ? van.FaceM2[k] : 0)) / 5,
                hours.Sum(hour => series.HeaterW[hour]) / 1000,
                hours.Count(hour => series.Asleep[hour] ? series.ZoneC[bed + hour] < nightC : series.Occupied[hour] && series.ZoneC[living + hour] < dayC),
                hours.Sum(hour => series.Asleep[hour] ? Math.Max(0, series.ZoneC[bed + hour] - 24) : 0),
                hours.Sum(hour => Enumerable.Range(0, van.SkinCount).Average(j => series.SkinHumidityShare[(j * YearSeries.Hours) + hour])),
            ];
            for (int at = 0; at < expected.Length; at++)
            {
                Assert.Equal(expected[at], numbers[(5 * spell) + at], 1e-9 * (1 + Math.Abs(expected[at])));
            }
        }

        Assert.True(numbers[0] > 0 && numbers[1] > 0 && numbers[4] > 0);
    }
}
