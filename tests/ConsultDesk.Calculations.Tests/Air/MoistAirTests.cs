using ConsultDesk.Calculations.Air;
using CsCheck;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Air;

public sealed class MoistAirTests
{
    private static readonly Gen<double> AnyTemperatureC = Gen.Double[-60, 80];
    private static readonly Gen<double> AnyPressurePa = Gen.Double[53_000, 105_000];

    [Fact]
    public void The_dew_point_gives_back_the_temperature_of_saturated_air() =>
        AnyTemperatureC.Sample(celsius =>
        {
            double dewPoint = MoistAir.DewPointC(MoistAir.SaturationPressurePa(celsius));
            Assert.Equal(celsius, dewPoint, 1e-6);
        });

    [Fact]
    public void Saturation_pressure_rises_with_temperature() =>
        Gen.Select(AnyTemperatureC, Gen.Double[1e-3, 20]).Sample((celsius, warmer) =>
            Assert.True(MoistAir.SaturationPressurePa(celsius + warmer) > MoistAir.SaturationPressurePa(celsius)));

    [Fact]
    public void Ice_and_water_meet_at_the_triple_point()
    {
        double ice = MoistAir.SaturationPressureOverIcePa(MoistAir.TriplePointC);
        double water = MoistAir.SaturationPressureOverWaterPa(MoistAir.TriplePointC);

        Assert.InRange(water / ice, 1, 1 + 1e-7);
        Assert.Equal(0.01, MoistAir.DewPointC((ice + water) / 2));
        Assert.Equal(MoistAir.DewPointC(ice * (1 - 1e-12)), MoistAir.DewPointC(water * (1 + 1e-12)), 1e-3);
    }

    [Fact]
    public void The_triple_point_has_its_internationally_agreed_pressure() =>
        // IAPWS: 611.657 Pa (recalled).
        Assert.Equal(611.657, MoistAir.SaturationPressurePa(MoistAir.TriplePointC), 0.05);

    [Fact]
    public void The_slope_of_saturation_is_its_difference_quotient() =>
        AnyTemperatureC.Where(celsius => Math.Abs(celsius - MoistAir.TriplePointC) > 1e-3).Sample(celsius =>
        {
            const double Step = 1e-4;
            double quotient = (MoistAir.SaturationPressurePa(celsius + Step) - MoistAir.SaturationPressurePa(celsius - Step)) / (2 * Step);
            Assert.Equal(1, MoistAir.SaturationPressureSlopePaPerK(celsius) / quotient, 1e-6);
        });

    [Fact]
    public void Relative_humidity_of_air_that_bears_no_frost_never_exceeds_100_percent() =>
        Gen.Select(AnyTemperatureC, Gen.Double[0.001, 1]).Sample((celsius, share) =>
        {
            Temperature temperature = Temperature.FromDegreesCelsius(celsius);
            Pressure vapour = Pressure.FromPascals(share * MoistAir.SaturationPressurePa(celsius));
            double percent = MoistAir.RelativeHumidity(temperature, vapour).Percent;
            Assert.InRange(percent, 0, 100);
            // Over ice less vapour saturates than over water.
            Assert.True(celsius >= MoistAir.TriplePointC || percent < 100 * share);
        });

    [Fact]
    public void Humidity_ratio_and_vapour_pressure_are_inverse() =>
        Gen.Select(Gen.Double[1, 20_000], AnyPressurePa).Sample((vapourPa, pressurePa) =>
            Assert.Equal(1, MoistAir.VapourPressurePa(MoistAir.HumidityRatio(vapourPa, pressurePa), pressurePa) / vapourPa, 1e-12));

    [Fact]
    public void The_wet_bulb_gives_back_the_humidity_ratio_on_water_and_on_ice() =>
        Gen.Select(Gen.Double[-30, 45], Gen.Double[0.02, 0.999], AnyPressurePa).Sample((celsius, share, pressurePa) =>
        {
            double humidityRatio = MoistAir.HumidityRatio(share * MoistAir.SaturationPressurePa(celsius), pressurePa);
            double wetBulb = MoistAir.WetBulbC(celsius, humidityRatio, pressurePa);
            Assert.InRange(wetBulb, -100, celsius);
            Assert.Equal(humidityRatio, MoistAir.HumidityRatioFromWetBulb(celsius, wetBulb, pressurePa), 1e-10);
        });

    [Fact]
    public void The_wet_bulb_lies_between_dew_point_and_air_temperature() =>
        Gen.Select(Gen.Double[1, 45], Gen.Double[0.1, 0.99]).Sample((celsius, share) =>
        {
            double vapourPa = share * MoistAir.SaturationPressurePa(celsius);
            double wetBulb = MoistAir.WetBulbC(celsius, MoistAir.HumidityRatio(vapourPa, 101_325), 101_325);
            Assert.InRange(wetBulb, MoistAir.DewPointC(vapourPa), celsius);
        });

    [Fact]
    public void Moist_air_is_lighter_than_dry_air_of_the_same_temperature_and_pressure() =>
        Gen.Select(AnyTemperatureC, Gen.Double[1e-4, 0.1], AnyPressurePa).Sample((celsius, humidityRatio, pressurePa) =>
            Assert.True(MoistAir.DensityKgPerM3(celsius, humidityRatio, pressurePa) < MoistAir.DensityKgPerM3(celsius, 0, pressurePa)));

    [Theory]
    [InlineData(-60.01)]
    [InlineData(80.01)]
    [InlineData(double.NaN)]
    public void A_temperature_out_of_range_is_refused_with_field_value_and_range(double celsius)
    {
        // UnitsNet refuses not-a-number by itself, with its own message.
        Exception refusal = Assert.ThrowsAny<ArgumentException>(
            () => MoistAir.SaturationPressure(Temperature.FromDegreesCelsius(celsius)));
        if (!double.IsNaN(celsius))
        {
            Assert.IsType<ArgumentOutOfRangeException>(refusal);
            Assert.Contains(FormattableString.Invariant($"Temperature is {celsius} °C; expected -60 to 80 °C."), refusal.Message, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData(-60)]
    [InlineData(80)]
    public void The_ends_of_the_temperature_range_are_accepted(double celsius) =>
        Assert.True(MoistAir.SaturationPressure(Temperature.FromDegreesCelsius(celsius)).Pascals > 1);

    [Fact]
    public void Perfectly_dry_air_has_no_dew_point() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => MoistAir.DewPoint(Pressure.Zero));

    [Fact]
    public void A_wet_bulb_colder_than_dry_air_allows_is_refused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => MoistAir.HumidityRatioFromWetBulb(
            Temperature.FromDegreesCelsius(30), Temperature.FromDegreesCelsius(-5), Pressure.FromPascals(101_325)));

    [Theory]
    [InlineData(-301)]
    [InlineData(5001)]
    public void An_altitude_without_roads_is_refused(double metres)
    {
        ArgumentOutOfRangeException refusal = Assert.Throws<ArgumentOutOfRangeException>(
            () => StandardAtmosphere.Pressure(Length.FromMeters(metres)));
        Assert.Contains("expected -300 to 5000 m", refusal.Message, StringComparison.Ordinal);
    }
}
