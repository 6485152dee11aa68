using System.Collections.Immutable;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Climate;

/// <summary>A place of the design whose hours came in a file.</summary>
public sealed class HourFileTests
{
    private const string Sha256 = "a-hash";

    private static HourlyWeather Hours { get; } = Read();

    private static HourlyWeather Read()
    {
        using StringReader reader = new(InventedWeather.Epw());
        return WeatherFileReader.Read(reader).Hours!;
    }

    private static WeatherHours Here { get; } = new(ImmutableDictionary<string, HourlyWeather>.Empty.Add(Sha256, Hours));

    private static Design Van(HourlyWeather? hours = null, double altitudeM = 88)
    {
        hours ??= Hours;
        OwnPlace place = new()
        {
            Id = "bridge",
            Name = InventedWeather.Place,
            Latitude = Angle.FromDegrees(51.5),
            Elevation = Length.FromMeters(88),
            Months = HourFiles.Months(hours),
            Hours = HourFiles.Of(hours, Sha256, "bridge.epw", new WeatherStation { Origin = "INVENTED" }),
        };
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        return van with
        {
            OwnPlaces = [place],
            Stop = van.Stop with { PlaceKey = place.Key(), Altitude = Length.FromMeters(altitudeM) },
        };
    }

    /// <summary>A van whose weather is measured, with its hours.</summary>
    internal static (Design Van, WeatherHours Hours) Measured => (Van(), Here);

    [Fact]
    public void The_year_has_the_hours_of_the_file()
    {
        YearWeather year = YearWeather.Of(Van(), hours: Here);
        Assert.Equal(Hours.TemperatureC.AsEnumerable(), year.TemperatureC);
        Assert.Equal(Hours.WindMPerS.AsEnumerable(), year.StationWindMPerS);
        Assert.Equal(Hours.SunWPerM2.AsEnumerable(), year.SunWPerM2);
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            double wanted = Math.Min(MoistAir.SaturationPressureOverWater(Temperature.FromDegreesCelsius(Hours.DewPointC[hour])).Pascals, MoistAir.SaturationPressure(Temperature.FromDegreesCelsius(Hours.TemperatureC[hour])).Pascals);
            Assert.Equal(wanted, year.VapourPressurePa[hour], 1e-9 * wanted);
            Assert.Equal(Hours.Wet[hour], year.Falling[hour] != Precipitation.None);
            Assert.Equal(SkyTemperature.LossWPerM2(Hours.TemperatureC[hour], Hours.SkyWPerM2[hour]), year.SkyLossWPerM2[hour], 1e-6);
        }

        Assert.False(year.Basis.FromMonths);
        Assert.Empty(year.Basis.MissingHours);
    }

    [Fact]
    public void The_months_are_the_means_of_the_hours()
    {
        Place place = DesignPlaces.Get(Van(), Van().Stop.PlaceKey);
        double[] january = [.. Hours.TemperatureC.Take(31 * 24)];
        Assert.Equal(january.Average(), place.Month(1).Mean.DegreesCelsius, 0.006);
        Assert.Equal(Enumerable.Range(0, 31).Average(day => january.Skip(24 * day).Take(24).Max()), place.Month(1).MeanMaximum.DegreesCelsius, 0.006);
        Assert.Equal(Hours.DewPointC.Take(31 * 24).Average(), place.Month(1).DewPoint.DegreesCelsius, 0.006);
        Assert.Equal(Hours.WindMPerS.Take(31 * 24).Average(), place.Month(1).Wind.MetersPerSecond, 0.006);
        // It rains on every sixth day from 1 January.
        Assert.Equal(6, place.Month(1).WetDays);
        Assert.Equal(PlaceSureness.WeatherFile, place.Sureness);
        Assert.Contains("bridge.epw (INVENTED)", place.Source, StringComparison.Ordinal);
    }

    [Fact]
    public void A_heater_is_sized_for_the_coldest_hours_of_the_file()
    {
        double cold = Hours.TemperatureC.Order().ElementAt(35);
        Assert.Equal(cold, YearWeather.Of(Van()).DesignTemperature.DegreesCelsius, 1e-9);
        Assert.Equal(cold, Nights.At(Van()).DesignTemperature.DegreesCelsius, 1e-9);
    }

    [Fact]
    public void Higher_up_the_hours_are_colder_and_thinner()
    {
        YearWeather low = YearWeather.Of(Van(), hours: Here);
        YearWeather high = YearWeather.Of(Van(altitudeM: 1088), hours: Here);
        Assert.Equal(low.TemperatureC[5000] - 6.5, high.TemperatureC[5000], 1e-9);
        Assert.True(high.PressurePa[0] < 0.9 * low.PressurePa[0]);
    }

    [Fact]
    public void Without_the_file_the_months_are_used_and_it_is_said()
    {
        YearWeather year = YearWeather.Of(Van());
        Assert.True(year.Basis.FromMonths);
        Assert.Equal([InventedWeather.Place], year.Basis.MissingHours);
        Assert.Equal([InventedWeather.Place], WeatherHours.None.Missing(Van()));
        Assert.Equal(Hours.TemperatureC.Average(), year.TemperatureC.Average(), 0.02);
        Assessment assessment = Assessor.Assess(Van(), AssessmentDepth.Year, cancellation: TestContext.Current.CancellationToken);
        Assert.Equal([InventedWeather.Place], assessment.Year!.Weather.MissingHours);
    }

    [Fact]
    public void What_the_file_lacks_is_made_and_the_dampest_days_are_wet()
    {
        HourlyWeather bare = Hours with { WindMPerS = [], SunWPerM2 = [], SkyWPerM2 = [], Wet = [] };
        Design van = Van(bare);
        YearWeather year = YearWeather.Of(van, hours: new WeatherHours(ImmutableDictionary<string, HourlyWeather>.Empty.Add(Sha256, bare)));
        Assert.Contains("wind and sun and wet days estimated from", DesignPlaces.Get(van, van.Stop.PlaceKey).Source, StringComparison.Ordinal);
        Assert.All(year.StationWindMPerS, wind => Assert.InRange(wind, 0.01, 60));
        Assert.InRange(year.SunWPerM2.Average(), 40, 250);
        int wetDays = Enumerable.Range(0, 31).Count(day => year.Falling.Skip(24 * day).Take(24).Any(falling => falling != Precipitation.None));
        Assert.Equal(Math.Round(DesignPlaces.Get(van, van.Stop.PlaceKey).Month(1).WetDays), wetDays);
        int[] wet = [.. Enumerable.Range(0, 31).Where(day => year.Falling.Skip(24 * day).Take(24).Any(falling => falling != Precipitation.None))];
        double Gap(int day) => Enumerable.Range(24 * day, 24).Average(hour => bare.TemperatureC[hour] - bare.DewPointC[hour]);
        Assert.True(wet.Max(Gap) <= Enumerable.Range(0, 31).Except(wet).Min(Gap));
    }

    [Fact]
    public void A_place_whose_coldest_hour_leaves_the_properties_of_air_is_refused_at_its_altitude()
    {
        HourlyWeather frozen = Hours with { TemperatureC = Hours.TemperatureC.SetItem(400, -69), DewPointC = Hours.DewPointC.SetItem(400, -75) };
        Assert.Contains(DesignCheck.Errors(Van(frozen)), error => error.Path == "stop.altitude");
        Assert.Empty(DesignCheck.Errors(Van()));
    }

    [Fact]
    public void The_van_is_assessed_in_the_hours_of_the_file()
    {
        Assessment assessment = Assessor.Assess(Van(), Here, AssessmentDepth.Year, cancellation: TestContext.Current.CancellationToken);
        Assert.False(assessment.Year!.Weather.FromMonths);
        Assessment made = Assessor.Assess(Van(), AssessmentDepth.Year, cancellation: TestContext.Current.CancellationToken);
        Assert.NotEqual(made.Year!.Condensed.Kilograms, assessment.Year.Condensed.Kilograms);
    }
}
