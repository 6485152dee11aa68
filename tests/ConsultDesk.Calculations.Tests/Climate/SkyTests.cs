using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Climate;

public sealed class SkyTests
{
    [Fact]
    public void A_drier_sky_a_clearer_one_and_a_higher_place_give_back_less()
    {
        double before = SkyTemperature.ClearSkyEmissivity(-60);
        for (double dewPointC = -59; dewPointC <= 30; dewPointC++)
        {
            double now = SkyTemperature.ClearSkyEmissivity(dewPointC);
            Assert.InRange(now, before, 1);
            before = now;
        }

        Assert.True(SkyTemperature.ClearSkyEmissivity(0, 0, 80_000) < SkyTemperature.ClearSkyEmissivity(0, 0, 101_325));
        Assert.True(SkyTemperature.ClearSkyEmissivity(0, 0, 101_325) > SkyTemperature.ClearSkyEmissivity(0, 12, 101_325));
        Assert.Equal(1, SkyTemperature.WithCloud(0.7, 1, 1), 12);
        Assert.Equal(0.7, SkyTemperature.WithCloud(0.7, 0, 1), 12);
    }

    [Fact]
    public void A_roof_sees_the_whole_sky_and_a_floor_none()
    {
        Assert.Equal(1, SkyTemperature.Share(0), 12);
        Assert.Equal(0, SkyTemperature.Share(180), 12);
        Assert.Equal(Math.Pow(0.5, 1.5), SkyTemperature.Share(90), 12);
    }

    [Fact]
    public void Radiation_and_temperature_of_a_sky_are_each_others_inverse() =>
        Assert.Equal(-23.7, SkyTemperature.OfRadiationC(SkyTemperature.BlackBodyWPerM2(-23.7)), 9);

    [Theory]
    [InlineData("seattle")]
    [InlineData("fairbanks")]
    [InlineData("miami")]
    [InlineData("phoenix")]
    public void Every_hour_of_a_year_has_a_sky_that_is_no_warmer_than_the_air_and_clearer_when_it_is_dry(string key)
    {
        YearWeather year = YearWeather.Of(Presets.Build("long-high", Layout.RearPlatformBed) with { Stop = Presets.StopAt(key, 1) });
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            double skyC = SkyTemperature.OfRadiationC(SkyTemperature.BlackBodyWPerM2(year.TemperatureC[hour]) - year.SkyLossWPerM2[hour]);
            // Clear desert skies lie up to about 35 K below the air.
            Assert.InRange(skyC, year.TemperatureC[hour] - 40, year.TemperatureC[hour]);
        }

        double wet = Enumerable.Range(0, YearWeather.Hours).Where(hour => year.Falling[hour] != Precipitation.None).Average(hour => year.SkyLossWPerM2[hour]);
        Assert.True(wet < 0.6 * year.SkyLossWPerM2.Average());
    }
}
