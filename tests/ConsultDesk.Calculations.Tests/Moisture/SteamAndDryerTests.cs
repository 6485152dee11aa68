using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Vehicle;
using CsCheck;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Moisture;

/// <summary>Steam taken out above the cooker and water taken out by dryers: limits and proportions that hold whatever is assumed.</summary>
public sealed class SteamAndDryerTests
{
    [Fact]
    public void An_opening_above_the_cooker_takes_steam_in_proportion_to_the_air_that_leaves_by_it() =>
        Gen.Select(Gen.Double[0.05, 1], Gen.Double[0.005, 0.1], Gen.Double.Unit).Sample((most, full, part) =>
        {
            Assert.Equal(most * part, SteamCapture.Share(part * full, most, full), 1e-12);
            Assert.Equal(0, SteamCapture.Share(-part * full, most, full));
            Assert.Equal(most, SteamCapture.Share((1 + part) * full, most, full), 1e-12);
        });

    // Rated at 20 °C and 60 %: one litre a day rated is one litre a day there, times what such machines really give.
    [Theory]
    [InlineData(DryerKind.Compressor)]
    [InlineData(DryerKind.Desiccant)]
    [InlineData(DryerKind.AbsorberTub)]
    public void At_its_rating_a_dryer_removes_what_it_is_rated_for(DryerKind kind)
    {
        double expectedKg = 0.8 * Assumptions.Likely["dryer-output"];

        Assert.Equal(expectedKg, PerDayKg(kind, 0.8, 20, 60), 1e-9);
        Assert.Equal(2 * expectedKg, PerDayKg(kind, 1.6, 20, 60), 1e-9);
    }

    [Theory]
    [InlineData(DryerKind.Compressor, "dryer-lowest-humidity-compressor")]
    [InlineData(DryerKind.Desiccant, "dryer-lowest-humidity-desiccant")]
    [InlineData(DryerKind.AbsorberTub, "dryer-lowest-humidity-absorber")]
    public void Below_its_lowest_humidity_a_dryer_removes_nothing_and_above_in_proportion(DryerKind kind, string lowestKey)
    {
        double lowest = Assumptions.Likely[lowestKey];

        Assert.Equal(0, PerDayKg(kind, 1, 20, lowest));
        Assert.Equal(0, PerDayKg(kind, 1, 20, lowest / 2));
        Assert.Equal(PerDayKg(kind, 1, 20, 60) / 2, PerDayKg(kind, 1, 20, (lowest + 60) / 2), 1e-9);
        Assert.Equal(PerDayKg(kind, 1, 20, 60) * (90 - lowest) / (60 - lowest), PerDayKg(kind, 1, 20, 90), 1e-9);
    }

    // A tub takes what diffuses to its brine: with the saturation pressure. Values of the ASHRAE table at these temperatures, Pa (recalled).
    [Theory]
    [InlineData(0, 611.2)]
    [InlineData(5, 872.6)]
    [InlineData(10, 1228.0)]
    [InlineData(15, 1705.5)]
    [InlineData(25, 3169.2)]
    [InlineData(30, 4246.0)]
    [InlineData(40, 7383.5)]
    public void A_tub_takes_water_with_the_saturation_pressure(double celsius, double saturationPa) =>
        Assert.Equal(saturationPa / 2338.9, DryerCurve.Share(DryerKind.AbsorberTub, celsius), 0.006);

    [Theory]
    [InlineData(DryerKind.Compressor, 7.5, 0.25)]
    [InlineData(DryerKind.Compressor, 17.5, 0.89)]
    [InlineData(DryerKind.Desiccant, -7.5, 0.375)]
    [InlineData(DryerKind.Desiccant, 15, 0.96)]
    public void Between_two_rows_of_its_table_a_dryer_lies_half_way(DryerKind kind, double celsius, double expected) =>
        Assert.Equal(expected, DryerCurve.Share(kind, celsius), 1e-12);

    [Theory]
    [InlineData(DryerKind.Compressor, 5, 35)]
    [InlineData(DryerKind.Desiccant, -15, 35)]
    [InlineData(DryerKind.AbsorberTub, -20, 40)]
    public void Beyond_its_table_a_dryer_stays_at_its_ends(DryerKind kind, double firstC, double lastC)
    {
        Assert.Equal(0, DryerCurve.Share(kind, firstC));
        Assert.Equal(0, DryerCurve.Share(kind, firstC - 20));
        Assert.Equal(DryerCurve.Share(kind, lastC), DryerCurve.Share(kind, lastC + 20));
        Assert.True(DryerCurve.Share(kind, lastC) > DryerCurve.Share(kind, lastC - 1));
    }

    [Fact]
    public void A_kind_that_does_not_exist_is_refused_with_those_that_do() =>
        Assert.Contains(
            "compressor, desiccant or absorber tub",
            Assert.Throws<ArgumentOutOfRangeException>(() => DryerCurve.LowestHumidity((DryerKind)99, Assumptions.Likely)).Message,
            StringComparison.Ordinal);

    [Theory]
    [InlineData(DryerKind.Compressor, "compressor", 0.7)]
    [InlineData(DryerKind.Desiccant, "desiccant", 1.1)]
    [InlineData(DryerKind.AbsorberTub, "absorber", 0.7)]
    public void A_dryer_gives_its_rating_times_what_such_machines_really_give_from_its_own_lowest_humidity(DryerKind kind, string row, double output)
    {
        // Rated at 20 C and 60 %, where its share and its humidity are 1 by definition: 2 kg a day and the real output of it.
        double lowest = Assumptions.Low["dryer-lowest-humidity-" + row];
        Assumptions assumed = Assumptions.Likely.With("dryer-output", output).With("dryer-lowest-humidity-" + row, lowest);
        double PerDay(double celsius, double percent) => 86400 * DryerCurve.Removed(
            kind, Mass.FromKilograms(2), Temperature.FromDegreesCelsius(celsius), RelativeHumidity.FromPercent(percent), assumed).KilogramsPerSecond;

        Assert.Equal(2 * output, PerDay(20, 60), 1e-9);
        Assert.Equal(2 * output * (80 - lowest) / (60 - lowest), PerDay(20, 80), 1e-9);
        Assert.Equal(2 * output * DryerCurve.Share(kind, 10), PerDay(10, 60), 1e-9);
        Assert.Equal(0, PerDay(20, lowest));
    }

    [Fact]
    public void Every_fuel_is_found_by_its_key_and_an_unknown_one_is_refused_with_those_there_are()
    {
        Assert.All(Fuel.All, fuel => Assert.Same(fuel, Fuel.Get(fuel.Key)));
        ArgumentException refused = Assert.Throws<ArgumentException>(() => Fuel.Get("peat"));
        Assert.Contains("There is no fuel 'peat'; expected one of methane, propane, butane, ethanol, kerosene, diesel, firewood.", refused.Message, StringComparison.Ordinal);
        Assert.Equal("key", refused.ParamName);
    }

    private static double PerDayKg(DryerKind kind, double ratedKg, double celsius, double percent) => 86400 * DryerCurve.Removed(
        kind,
        Mass.FromKilograms(ratedKg),
        Temperature.FromDegreesCelsius(celsius),
        RelativeHumidity.FromPercent(percent),
        Assumptions.Likely).KilogramsPerSecond;
}
