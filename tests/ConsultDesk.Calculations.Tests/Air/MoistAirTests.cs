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

    // Icing on a van begins far below: the same pressure bears frost at one temperature and undercooled dew at a lower one.
    [Fact]
    public void The_dew_point_over_water_gives_back_the_temperature_of_undercooled_air() =>
        Gen.Double[-40, 60].Sample(celsius =>
            Assert.Equal(celsius, MoistAir.DewPointOverWaterC(MoistAir.SaturationPressureOverWaterPa(celsius)), 1e-6));

    // WMO No. 8 (CIMO guide), table of saturation pressures over water and ice: 2.8627 and 2.5990 hPa at -10 °C (recalled).
    [Fact]
    public void At_ten_below_frost_forms_a_degree_before_undercooled_dew()
    {
        Assert.Equal(-10, MoistAir.DewPointOverWaterC(286.27), 0.05);
        Assert.Equal(-10, MoistAir.DewPointC(259.9), 0.02);
        Assert.Equal(286.27 / 259.9, MoistAir.SaturationPressureOverWaterPa(-10) / MoistAir.SaturationPressureOverIcePa(-10), 0.003);
        Assert.Equal(259.9 / 286.27, MoistAir.RelativeHumidityShare(-10, 259.9), 0.003);
    }

    [Fact]
    public void Dry_air_has_no_dew_point_over_water_either()
    {
        Assert.Contains("above 0 Pa", Assert.Throws<ArgumentOutOfRangeException>(() => MoistAir.DewPointC(0)).Message, StringComparison.Ordinal);
        Assert.Contains("above 0 Pa", Assert.Throws<ArgumentOutOfRangeException>(() => MoistAir.DewPointOverWaterC(-1)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void More_vapour_than_the_air_presses_is_refused() =>
        Assert.Contains(
            "Vapour pressure is 60000 Pa; expected 0 to",
            Assert.Throws<ArgumentOutOfRangeException>(() => MoistAir.HumidityRatio(Pressure.FromPascals(60_000), Pressure.FromPascals(60_000))).Message,
            StringComparison.Ordinal);

    // Only where the ends are: dry air is accepted, and so is steam just below what leaves a twentieth of dry air.
    [Fact]
    public void The_ends_of_the_vapour_pressure_of_a_humidity_ratio_are_accepted()
    {
        Assert.Equal(0, MoistAir.HumidityRatio(Pressure.Zero, Pressure.FromPascals(101_325)).DecimalFractions);
        Assert.True(MoistAir.HumidityRatio(Pressure.FromPascals(0.94 * 50_000), Pressure.FromPascals(50_000)).DecimalFractions > 5);
        Assert.Throws<ArgumentOutOfRangeException>(() => MoistAir.HumidityRatio(Pressure.FromPascals(0.96 * 50_000), Pressure.FromPascals(50_000)));
        // At sea level the accepted temperatures end it first.
        Assert.Throws<ArgumentOutOfRangeException>(() => MoistAir.HumidityRatio(Pressure.FromPascals(60_000), Pressure.FromPascals(101_325)));
    }

    [Fact]
    public void A_wet_bulb_is_asked_only_of_air_that_can_hold_its_vapour()
    {
        Temperature warm = Temperature.FromDegreesCelsius(20);
        Pressure sea = Pressure.FromPascals(101_325);

        Assert.Contains(
            "Vapour pressure is 3000 Pa",
            Assert.Throws<ArgumentOutOfRangeException>(() => MoistAir.WetBulb(warm, Pressure.FromPascals(3000), sea)).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_wet_bulb_warmer_than_its_air_is_refused_with_both_limits() =>
        Assert.Contains(
            "Wet-bulb temperature is 21 °C; expected -60 to 20 °C.",
            Assert.Throws<ArgumentOutOfRangeException>(() => MoistAir.HumidityRatioFromWetBulb(
                Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(21), Pressure.FromPascals(101_325))).Message,
            StringComparison.Ordinal);

    [Fact]
    public void A_refused_wet_bulb_says_that_dry_air_cannot_make_it() =>
        Assert.Contains(
            "perfectly dry air",
            Assert.Throws<ArgumentOutOfRangeException>(() => MoistAir.HumidityRatioFromWetBulb(
                Temperature.FromDegreesCelsius(30), Temperature.FromDegreesCelsius(-5), Pressure.FromPascals(101_325))).Message,
            StringComparison.Ordinal);

    [Fact]
    public void Vapour_in_a_volume_is_asked_only_within_its_range() =>
        Assert.Contains(
            "Vapour pressure is",
            Assert.Throws<ArgumentOutOfRangeException>(
                () => MoistAir.VapourConcentration(Temperature.FromDegreesCelsius(20), Pressure.FromPascals(90_000))).Message,
            StringComparison.Ordinal);

    // US Standard Atmosphere 1976 (recalled): 89,875 Pa at 1000 m, 70,109 Pa at 3000 m, 54,020 Pa at 5000 m, 104,981 Pa at -300 m.
    [Theory]
    [InlineData(1000, 89_875)]
    [InlineData(3000, 70_109)]
    [InlineData(5000, 54_020)]
    [InlineData(-300, 104_981)]
    public void Pressure_and_altitude_lead_to_each_other(double metres, double pascals)
    {
        Assert.Equal(1, StandardAtmosphere.Pressure(Length.FromMeters(metres)).Pascals / pascals, 1e-3);
        Assert.Equal(metres, StandardAtmosphere.AltitudeM(pascals), 5.0);
        Assert.Equal(metres, StandardAtmosphere.AltitudeM(StandardAtmosphere.PressurePa(metres)), 1e-3);
    }

    [Fact]
    public void A_refused_altitude_names_itself() =>
        Assert.Contains("Altitude is 6000 m", Assert.Throws<ArgumentOutOfRangeException>(() => StandardAtmosphere.Pressure(Length.FromMeters(6000))).Message, StringComparison.Ordinal);
}
