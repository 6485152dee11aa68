using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>Dehumidifiers and absorbers: what they take out, that it closes, and what it costs.</summary>
public sealed class DryerTests
{
    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    private static Dryer Of(DryerKind kind, double kgPerDay, double watts, string zone = "living") => new()
    {
        Id = "dryer",
        Name = "Dryer",
        Kind = kind,
        ZoneId = zone,
        RemovedPerDay = Mass.FromKilograms(kgPerDay),
        ElectricDraw = Power.FromWatts(watts),
        Running = true,
    };

    private static Design With(Design van, params Dryer[] dryers) => van with { Dryers = [.. dryers] };

    // Long names of zones differ between vans: the dryer stands in the first living zone.
    private static Design Dried(Design van, DryerKind kind, double kgPerDay, double watts) =>
        With(van, Of(kind, kgPerDay, watts, (van.Zones.FirstOrDefault(zone => zone.Kind == ZoneKind.Living) ?? van.Zones[0]).Id));

    private static double Removed(DryerKind kind, double temperatureC, double humidityPercent) => DryerCurve.Removed(
        kind, Mass.FromKilograms(1), Temperature.FromDegreesCelsius(temperatureC), RelativeHumidity.FromPercent(humidityPercent), Assumptions.Likely).KilogramsPerSecond * 86400;

    [Theory]
    [InlineData(DryerKind.Compressor)]
    [InlineData(DryerKind.Desiccant)]
    [InlineData(DryerKind.AbsorberTub)]
    public void At_its_rating_point_a_dryer_removes_what_it_is_rated_at(DryerKind kind) => Assert.Equal(1, Removed(kind, 20, 60), 9);

    // United States appliance test conditions for compressor dehumidifiers were 26.7 degrees and 60 % and became 18.3 degrees
    // and 60 %: machines sold as 70, 50 and 30 pints a day became 50, 35 and 20 (recalled).
    [Fact]
    public void A_compressor_loses_with_cold_what_relabelled_machines_lost() =>
        Assert.InRange(Removed(DryerKind.Compressor, 18.3, 60) / Removed(DryerKind.Compressor, 26.7, 60), 20.0 / 30, 50.0 / 70);

    [Fact]
    public void In_the_cold_a_compressor_removes_nothing_and_a_desiccant_nearly_all()
    {
        Assert.Equal(0, Removed(DryerKind.Compressor, 5, 90));
        Assert.Equal(0, Removed(DryerKind.Compressor, -3, 90));
        // Common practice, no source: desiccant machines are the ones for unheated places.
        Assert.InRange(Removed(DryerKind.Desiccant, 5, 60), 0.8, 1);
    }

    // Calcium chloride dissolves in the vapour above about a third of relative humidity (recalled).
    [Fact]
    public void A_tub_takes_up_nothing_in_dry_air() => Assert.Equal(0, Removed(DryerKind.AbsorberTub, 20, 32));

    [Fact]
    public void More_humidity_is_never_less_water()
    {
        foreach (DryerKind kind in Enum.GetValues<DryerKind>())
        {
            for (double temperatureC = -20; temperatureC <= 45; temperatureC += 2.5)
            {
                for (double humidity = 5; humidity <= 100; humidity += 5)
                {
                    Assert.True(Removed(kind, temperatureC, humidity) >= Removed(kind, temperatureC, humidity - 5));
                    Assert.True(Removed(kind, temperatureC + 2.5, humidity) >= Removed(kind, temperatureC, humidity));
                }
            }
        }
    }

    [Theory]
    [InlineData(DryerKind.Compressor, 8, 180)]
    [InlineData(DryerKind.Desiccant, 6, 350)]
    [InlineData(DryerKind.AbsorberTub, 0.03, 0)]
    [InlineData(DryerKind.Compressor, 30, 1000)]
    public void The_nights_water_and_heat_close_with_a_dryer(DryerKind kind, double kgPerDay, double watts)
    {
        foreach (Design van in Vans.Varied().Concat(RandomVan.Row(60)))
        {
            Assessment night = Assessor.AssessWithoutFindings(Dried(van, kind, kgPerDay, watts), Nights.At(van), Cancellation);
            double sources = night.Water.Sources.Sum(source => source.Rate.KilogramsPerSecond);
            double sinks = night.Water.CarriedOut.KilogramsPerSecond + night.Water.Condensing.KilogramsPerSecond + night.Water.Removed.KilogramsPerSecond;
            double through = sources + Math.Abs(night.Water.CarriedOut.KilogramsPerSecond) + night.Water.Removed.KilogramsPerSecond;
            Assert.True(Math.Abs(sources - sinks) <= 1e-9 * Math.Max(through, 1e-6), $"{sources} against {sinks}: {RandomVan.Describe(van)}");
            double gains = (double)(night.Heat.Heater.Watts + night.Heat.People.Watts + night.Heat.Other.Watts);
            double losses = night.Heat.Losses.Sum(path => (double)path.Loss.Watts);
            double turnover = night.Heat.Losses.Sum(path => Math.Abs((double)path.Loss.Watts));
            Assert.True(Math.Abs(gains - losses) <= 1e-9 * Math.Max(turnover, 1), $"{gains} against {losses}");
            Assert.True(night.Water.Removed.KilogramsPerSecond >= 0);
            Assert.All(night.Zones, zone => Assert.InRange(zone.RelativeHumidity.Percent, 0, 100));
        }
    }

    [Fact]
    public void The_years_water_and_heat_close_with_a_dryer()
    {
        int number = 0;
        foreach (Design any in RandomVan.Row(24))
        {
            DryerKind kind = (DryerKind)(number++ % 3);
            Design van = Dried(any, kind, kind == DryerKind.AbsorberTub ? 0.05 : 10, kind == DryerKind.AbsorberTub ? 0 : 250);
            YearSeries series = YearVans.Run(van, YearWeather.Of(van), Assumptions.Likely, (30 * number) % 350, 5).Series;
            Assert.True(Math.Abs(series.WaterUnaccountedKg) <= 1e-9 * series.WaterThroughputKg, RandomVan.Describe(van));
            Assert.True(Math.Abs(series.HeatUnaccountedJ) <= 1e-9 * series.HeatThroughputJ, RandomVan.Describe(van));
            Assert.True(series.DriedKg >= 0);
            Assert.True(series.ZoneVapourPressurePa.All(pressure => pressure >= 0));
        }
    }

    // Not claimed of a compressor near the cold in which it stops: the heat it gives off is part of what it does there.
    [Fact]
    public void More_rated_removal_never_condenses_more()
    {
        foreach (Design van in RandomVan.Row(60).Where(van => van.Household.Sleepers > 0))
        {
            foreach (DryerKind kind in Enum.GetValues<DryerKind>())
            {
                double before = double.PositiveInfinity;
                foreach (double kgPerDay in new[] { 0.01, 0.1, 1, 3, 10 })
                {
                    Assessment night = Assessor.AssessWithoutFindings(Dried(van, kind, kgPerDay, 0), Nights.At(van), Cancellation);
                    double condensing = night.Water.Condensing.KilogramsPerSecond;
                    Assert.True(condensing <= before + (1e-7 * night.Water.Sources.Sum(source => source.Rate.KilogramsPerSecond)), $"{kind} {kgPerDay}: {condensing} after {before}, {RandomVan.Describe(van)}");
                    before = condensing;
                }
            }
        }
    }

    [Fact]
    public void A_dryer_takes_water_out_of_a_damp_van_and_brings_no_air()
    {
        Design shut = Vans.With(Position.Shut, Position.Shut);
        Assessment without = Assessor.AssessWithoutFindings(shut, Nights.At(shut), Cancellation);
        Assessment with = Assessor.AssessWithoutFindings(Dried(shut, DryerKind.Desiccant, 6, 300), Nights.At(shut), Cancellation);

        Assert.True(with.Water.Condensing < 0.5 * without.Water.Condensing);
        // Warmth it gives the heater saves: the air is as warm as before.
        Assert.True(with.Heat.Heater < without.Heat.Heater - Power.FromWatts(250));
        // Carbon dioxide stays: no outdoor air comes with it.
        Assert.InRange(with.Air.OutdoorAir / without.Air.OutdoorAir, 0.9, 1.1);
        Assert.InRange(with.Zones.Max(zone => zone.CarbonDioxide.PartsPerMillion) / without.Zones.Max(zone => zone.CarbonDioxide.PartsPerMillion), 0.9, 1.1);
    }

    [Fact]
    public void A_situation_dries_as_it_lasts_and_nobody_dries_a_van_left_locked()
    {
        Design shut = Vans.With(Position.Shut, Position.Shut);
        Design dried = Dried(shut, DryerKind.Desiccant, 8, 300);
        SituationResult Run(Design van, Situation situation) => SituationRun.Of(van, situation, Assumptions.Likely, Cancellation);

        Assert.True(Run(dried, Moments.Night).Humidity.Percent < Run(shut, Moments.Night).Humidity.Percent - 3);
        Assert.True(Run(dried, Moments.Cooking).Condensed <= Run(shut, Moments.Cooking).Condensed);
        Situation left = Moments.LockedInSun;
        Design cold = Dried(shut, DryerKind.Compressor, 8, 300) with { Heater = shut.Heater with { Kind = HeaterKind.None } };
        Assert.Equal(Run(shut, left).OutdoorAir.CubicMetersPerHour, Run(dried, left).OutdoorAir.CubicMetersPerHour, 3.0);
        Assert.True(Run(cold, left with { Activity = Activity.Awake, People = 2 }).Room > Run(cold, left).Room);
    }

    [Fact]
    public void Its_electricity_is_counted_for_the_hours_people_are_in()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        van = van with { Heater = van.Heater with { Kind = HeaterKind.None } };
        Design dried = Dried(van, DryerKind.Compressor, 5, 150);
        int occupied = HouseholdDay.Of(van, Assumptions.Likely).Slot.Count(slot => slot.Occupied);
        double Mean(Design design) => YearVans.Run(design, YearWeather.Of(van), Assumptions.Likely, 0, 4).Series.FanW[..96].Average();
        // The openings may follow the warmth: a little more fan.
        Assert.Equal(150.0 * occupied / HouseholdDay.Slots, Mean(dried) - Mean(van), 3.0);
    }

    [Fact]
    public void A_dryer_that_does_not_run_does_nothing()
    {
        Design van = Vans.With(Position.Shut, Position.Shut);
        Design off = With(van, Of(DryerKind.Compressor, 10, 200) with { Running = false });
        Assert.Equal(
            Assessor.AssessWithoutFindings(van, Nights.At(van), Cancellation).Water.Condensing.KilogramsPerSecond,
            Assessor.AssessWithoutFindings(off, Nights.At(off), Cancellation).Water.Condensing.KilogramsPerSecond);
    }
}
