using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>The played night against conservation of water, against the hours of the year's run, and against what every camper knows.</summary>
public sealed class PlayedNightTests
{
    private static readonly Design Preset = Presets.Build("long-high", Layout.RearPlatformBed) with { Stop = Presets.StopAt("seattle", 1) };
    private static readonly YearWeather Weather = YearWeather.Of(Preset);

    public static TheoryData<NightChoice> Choices => [.. Enum.GetValues<NightChoice>()];

    // Conservation of mass: what comes in less what goes out is what is stored (derived, no tolerance but rounding).
    [Theory]
    [MemberData(nameof(Choices))]
    public void Water_of_the_night_closes_to_a_billionth(NightChoice choice)
    {
        foreach (Design van in new[] { Preset, Vans.With(Position.Shut, Position.Shut, HeaterKind.UnfluedGas), Vans.OneRoom() })
        {
            PlayedNight night = PlayedNight.Of(van, Weather, PlayedNight.DayOf(Weather, choice), TestContext.Current.CancellationToken);

            double leftKg = (night.Given + night.Brought - night.Carried - night.Removed - (night.StoredAfter - night.StoredBefore)).Kilograms;
            Assert.True(Math.Abs(leftKg) <= 1e-9 * (night.Given + night.Brought).Kilograms, $"{leftKg} kg");
            Assert.True(night.Given.Kilograms > 0);
        }
    }

    [Theory]
    [MemberData(nameof(Choices))]
    public void Its_hours_are_those_of_the_years_own_stepping(NightChoice choice)
    {
        int day = PlayedNight.DayOf(Weather, choice);
        VanModel van = new(Preset, Assumptions.Likely);
        YearSeries year = YearRun.Of(van, Weather, options: null, day, days: 2, cancellation: TestContext.Current.CancellationToken);
        PlayedNight night = PlayedNight.Of(Preset, Weather, day, TestContext.Current.CancellationToken);

        int compared = 0;
        foreach (NightMoment moment in night.Moments.Where(moment => Math.Abs(moment.Clock.Hours - Math.Round(moment.Clock.Hours)) < 1e-6))
        {
            // The state at the end of an hour stands at that hour.
            int hour = ((24 * day) + (int)Math.Round(moment.Clock.Hours) - 1) % YearSeries.Hours;
            for (int zone = 0; zone < van.ZoneCount; zone++)
            {
                int at = (zone * YearSeries.Hours) + hour;
                Assert.Equal(year.ZoneC[at], moment.Zones[zone].Temperature.DegreesCelsius, 1e-9);
                double share = MoistAir.RelativeHumidityShare(year.ZoneC[at], year.ZoneVapourPressurePa[at]);
                Assert.Equal(100 * Math.Min(1, share), moment.Zones[zone].RelativeHumidity.Percent, 1e-6);
                Assert.Equal(1e6 * year.ZoneCarbonDioxideShare[at], moment.Zones[zone].CarbonDioxide.PartsPerMillion, 1e-6);
            }

            for (int surface = 0; surface < van.FirstLining; surface++)
            {
                Assert.Equal(year.SurfaceFilmKgPerM2[(surface * YearSeries.Hours) + hour] * van.FaceM2[surface], moment.Films[surface].Kilograms, 1e-12);
            }

            compared++;
        }

        Assert.Equal(15, compared);
    }

    // Ten days settle air, faces and furniture (year.md); skins behind linings remember longer, and air hardly feels them.
    [Fact]
    public void It_ends_as_the_same_night_of_the_whole_year_does()
    {
        int day = PlayedNight.DayOf(Weather, NightChoice.Coldest);
        VanModel van = new(Preset, Assumptions.Likely);
        YearSeries year = YearRun.Of(van, Weather, options: null, 0, YearWeather.Days, cancellation: TestContext.Current.CancellationToken);
        PlayedNight night = PlayedNight.Of(Preset, Weather, day, TestContext.Current.CancellationToken);
        NightMoment eight = night.Moments.Single(moment => Math.Abs(moment.Clock.Hours - 32) < 1e-6);
        int hour = ((24 * day) + 31) % YearSeries.Hours;

        for (int zone = 0; zone < van.ZoneCount; zone++)
        {
            int at = (zone * YearSeries.Hours) + hour;
            Assert.Equal(year.ZoneC[at], eight.Zones[zone].Temperature.DegreesCelsius, 0.1);
            Assert.Equal(100 * MoistAir.RelativeHumidityShare(year.ZoneC[at], year.ZoneVapourPressurePa[at]), eight.Zones[zone].RelativeHumidity.Percent, 1.0);
        }
    }

    [Fact]
    public void Moments_run_from_before_supper_to_breakfast_every_ten_minutes()
    {
        PlayedNight night = PlayedNight.Of(Preset, Weather, 0, TestContext.Current.CancellationToken);

        Assert.Equal(PlayedNight.Count, night.Moments.Length);
        Assert.Equal(17.5, night.Moments[0].Clock.Hours, 1e-9);
        Assert.Equal(32.5, night.Moments[^1].Clock.Hours, 1e-9);
        Assert.All(night.Moments.Zip(night.Moments.Skip(1)), pair => Assert.Equal(10, (pair.Second.Clock - pair.First.Clock).Minutes, 1e-6));
        Assert.All(night.Moments, moment => Assert.Equal(moment.Activity == Activity.Cooking, moment.Steam.KilogramsPerSecond > 0));
        Assert.Contains(night.Moments, moment => moment.Activity == Activity.Cooking);
        Assert.Contains(night.Moments, moment => moment.Activity == Activity.Asleep);
        Assert.All(night.Moments, moment => Assert.All(moment.Films, film => Assert.True(film.Kilograms >= 0)));
    }

    // Common practice, no source: with everything shut the glass is wetter in the morning than with air all night.
    [Fact]
    public void A_shut_van_wakes_up_with_more_water_on_its_glass()
    {
        int day = PlayedNight.DayOf(Weather, NightChoice.Coldest);
        PlayedNight shut = PlayedNight.Of(Vans.With(Position.Shut, Position.Shut, Preset.Heater.Kind), Weather, day, TestContext.Current.CancellationToken);
        PlayedNight open = PlayedNight.Of(Vans.With(Position.Full, Position.Full, Preset.Heater.Kind), Weather, day, TestContext.Current.CancellationToken);

        Assert.True(shut.Moments[^1].Film > open.Moments[^1].Film, $"{shut.Moments[^1].Film} and {open.Moments[^1].Film}");
        Assert.True(shut.Moments[^1].Film > shut.Moments[0].Film);
    }

    [Fact]
    public void The_coldest_night_is_colder_than_all_others_and_the_dampest_does_not_freeze()
    {
        double Mean(double[] hours, int day) => Enumerable.Range((24 * day) + 18, 14).Average(hour => hours[hour % YearWeather.Hours]);
        int coldest = PlayedNight.DayOf(Weather, NightChoice.Coldest);
        int dampest = PlayedNight.DayOf(Weather, NightChoice.Dampest);

        Assert.All(Enumerable.Range(0, YearWeather.Days), day => Assert.True(Mean(Weather.TemperatureC, day) >= Mean(Weather.TemperatureC, coldest)));
        Assert.True(Mean(Weather.TemperatureC, dampest) > 0);
    }

    [Theory]
    [InlineData(-1)]
    [InlineData(365)]
    public void A_day_outside_of_the_year_is_refused(int day) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => PlayedNight.Of(Preset, Weather, day, TestContext.Current.CancellationToken));
}
