using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

public sealed class AssessorTests
{
    private static readonly Design Van = Presets.Build("long-high", Layout.RearPlatformBed);

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public void Sources_of_water_equal_what_leaves_and_what_condenses()
    {
        foreach (Design design in Vans.Varied())
        {
            Assessment assessment = Assessor.Assess(design, Cancellation);
            double sources = assessment.Water.Sources.Sum(source => source.Rate.KilogramsPerSecond);
            double sinks = assessment.Water.CarriedOut.KilogramsPerSecond + assessment.Water.Condensing.KilogramsPerSecond + assessment.Water.Removed.KilogramsPerSecond;
            Assert.Equal(sources, sinks, 1e-9 * Math.Max(sources, 1e-6));
        }
    }

    [Fact]
    public void Heat_given_off_equals_the_losses()
    {
        foreach (Design design in Vans.Varied())
        {
            HeatBalance heat = Assessor.Assess(design, Cancellation).Heat;
            double gains = (double)(heat.Heater.Watts + heat.People.Watts + heat.Other.Watts);
            double losses = heat.Losses.Sum(path => (double)path.Loss.Watts);
            Assert.Equal(gains, losses, 1e-9 * Math.Max(gains, 1));
        }
    }

    [Fact]
    public void Air_leaving_weighs_what_air_entering_weighs()
    {
        foreach (Design design in Vans.Varied())
        {
            Assessment assessment = Assessor.Assess(design, Cancellation);
            AirExchange air = assessment.Air;
            Assert.Equal(
                air.OutdoorAir.CubicMetersPerHour,
                air.LeakageIn.CubicMetersPerHour + air.Openings.Sum(opening => opening.In.CubicMetersPerHour),
                1e-6);

            // Ideal gas: at one pressure a volume over its absolute temperature is its mass but for the vapour in it, below 1 % here.
            // Nothing says which zone the leaks draw from, so they count as the coldest and as the warmest.
            double entering = air.OutdoorAir.CubicMetersPerHour / assessment.Weather.Temperature.Kelvins;
            double throughOpenings = design.Openings.Zip(air.Openings).Sum(pair =>
                pair.Second.Out.CubicMetersPerHour / assessment.Zones.Single(zone => zone.ZoneId == pair.First.ZoneId).Temperature.Kelvins);
            double LeavingWithLeaksAt(double kelvin) => throughOpenings + (air.LeakageOut.CubicMetersPerHour / kelvin);
            Assert.InRange(
                entering,
                0.99 * LeavingWithLeaksAt(assessment.Zones.Max(zone => zone.Temperature.Kelvins)),
                1.01 * LeavingWithLeaksAt(assessment.Zones.Min(zone => zone.Temperature.Kelvins)));
        }
    }

    [Fact]
    public void What_condenses_on_a_pane_or_on_metal_is_what_the_checked_function_gives_for_that_surface()
    {
        // Under a sky as warm as the air, which the checked function has.
        Design van = Vans.With(Position.Shut, Position.Shut);
        Assessment assessment = Assessor.Assess(van, Nights.At(van) with { SkyLoss = Irradiance.Zero }, Cancellation);
        SurfaceState[] wet = [.. assessment.Surfaces.Where(surface => surface.CondensedPerNight.Grams > 1)];
        Assert.Contains(wet, surface => surface.Kind == SurfaceKind.Glass);
        Assert.Contains(wet, surface => surface.Kind == SurfaceKind.Metal);

        // Lewis for air at 10 degrees Celsius, as docs/method/night.md has it; the density is that of dry air.
        double coefficient = VapourTransfer.Coefficient(
            HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(Defaults.Likely("surface-convection")),
            Temperature.FromDegreesCelsius(10),
            Density.FromKilogramsPerCubicMeter(assessment.Weather.Pressure.Pascals / (287.055 * 283.15)));
        foreach (SurfaceState surface in wet)
        {
            ZoneState zone = assessment.Zones.Single(state => state.ZoneId == surface.ZoneId);
            // Bare metal and single glass: 0.13 m2 K/W of room film (ISO 6946) and the rest outside.
            SurfacePath path = new(
                ThermalResistance.FromSquareMeterKelvinsPerWatt(0.13),
                ThermalResistance.FromSquareMeterKelvinsPerWatt((1 / surface.UValue.WattsPerSquareMeterKelvin) - 0.13));
            SurfaceCondensation alone = Condensation.Steady(
                path, zone.Temperature, assessment.Weather.Temperature, MoistAir.SaturationPressure(zone.DewPoint), coefficient);

            double gramsPerNight = alone.Flux.KilogramsPerSecondPerSquareMeter * 1000 * surface.Area.SquareMeters * assessment.Night.Seconds;
            Assert.Equal(gramsPerNight, surface.CondensedPerNight.Grams, 1e-3 * gramsPerNight);
            Assert.Equal(alone.SurfaceTemperature.DegreesCelsius, surface.Temperature.DegreesCelsius, 1e-3);
        }
    }

    [Fact]
    public void The_heated_zone_keeps_its_set_point_while_the_heater_is_big_enough()
    {
        Assessment assessment = Assessor.Assess(Van, Cancellation);

        Assert.Equal(16, assessment.Zones.Single(zone => zone.ZoneId == "living").Temperature.DegreesCelsius, 6);
        Assert.InRange((double)assessment.Heat.Heater.Watts, 100, 2000);
    }

    [Fact]
    public void A_heater_that_is_too_small_gives_all_it_has_and_the_van_stays_colder()
    {
        Design small = Van with { Heater = Van.Heater with { RatedOutput = Power.FromWatts(300) } };

        Assessment assessment = Assessor.Assess(small, Cancellation);

        Assert.Equal(300, (double)assessment.Heat.Heater.Watts, 6);
        Assert.True(assessment.Zones.Single(zone => zone.ZoneId == "living").Temperature.DegreesCelsius < 15);
    }

    [Fact]
    public void On_a_night_warmer_than_the_set_point_the_heater_is_off()
    {
        Design summer = Van with { Stop = Presets.StopAt("phoenix", 7) };

        Assessment assessment = Assessor.Assess(summer, Cancellation);

        Assert.Equal(0, (double)assessment.Heat.Heater.Watts);
        Assert.True(assessment.Zones[1].Temperature.DegreesCelsius > assessment.Weather.Temperature.DegreesCelsius);
    }

    [Fact]
    public void Without_people_heater_or_wind_the_air_inside_is_the_air_outside()
    {
        Design empty = Van with
        {
            Household = Van.Household with { Sleepers = 0 },
            Heater = Van.Heater with { Kind = HeaterKind.None },
            Openings = [],
        };
        NightWeather calm = Nights.At(Van) with { StationWind = Speed.Zero, SkyLoss = Irradiance.Zero };

        Assessment assessment = Assessor.Assess(empty, calm, Cancellation);

        Assert.All(assessment.Zones, zone =>
        {
            Assert.Equal(calm.Temperature.DegreesCelsius, zone.Temperature.DegreesCelsius, 6);
            Assert.Equal(calm.DewPoint.DegreesCelsius, zone.DewPoint.DegreesCelsius, 6);
            Assert.Equal(Defaults.Likely("outdoor-carbon-dioxide"), zone.CarbonDioxide.PartsPerMillion, 6);
        });
        Assert.Equal(0, assessment.Water.Condensing.KilogramsPerSecond);
    }

    [Fact]
    public void In_one_room_carbon_dioxide_and_oxygen_are_what_is_given_off_and_used_over_the_air()
    {
        Design room = Vans.OneRoom();
        room = room with
        {
            Heater = room.Heater with { Kind = HeaterKind.UnfluedGas, RatedOutput = Power.FromKilowatts(1.5), NightSetPoint = Temperature.FromDegreesCelsius(25) },
        };

        Assessment assessment = Assessor.Assess(room, Cancellation);

        // By hand: 1.5 kW of propane give 0.1906 m3/h of carbon dioxide and use 0.3177 m3/h of oxygen at 20 degrees
        // (C3H8 + 5 O2, 46.36 MJ/kg); a sleeper gives 11 L/h and uses 11/0.83. Moles of air by the ideal gas law at outdoor temperature.
        Assert.Equal(1500, (double)assessment.Heat.Heater.Watts, 6);
        double outdoorK = assessment.Weather.Temperature.Kelvins;
        double airAt20M3PerH = assessment.Air.OutdoorAir.CubicMetersPerHour * 293.15 / outdoorK * (assessment.Weather.Pressure.Pascals / 101_325);
        double carbonDioxidePpm = 420 + (1e6 * (0.19063 + 0.022) / airAt20M3PerH);
        double oxygenPercent = 20.95 - (100 * (0.31772 + (0.022 / 0.83)) / airAt20M3PerH);
        Assert.Equal(carbonDioxidePpm, assessment.Combustion!.CarbonDioxide.PartsPerMillion, 0.01 * carbonDioxidePpm);
        Assert.Equal(oxygenPercent, assessment.Combustion.Oxygen.Percent, 0.02);
    }

    [Theory]
    [InlineData(-40, 0, FanDirection.Exhaust)]
    [InlineData(-40, 3500, FanDirection.Intake)]
    [InlineData(0, 3500, FanDirection.Exhaust)]
    [InlineData(20, 0, FanDirection.Intake)]
    [InlineData(40, 0, FanDirection.Exhaust)]
    public void Every_weather_on_a_road_gives_an_answer(double outdoorC, double altitudeM, FanDirection direction)
    {
        foreach (Design design in Vans.Varied())
        {
            Design blown = design with
            {
                Openings = [.. design.Openings.Select(o => o.Fan is null ? o : o with { Fan = o.Fan with { Direction = direction } })],
                Stop = design.Stop with { Altitude = Length.FromMeters(altitudeM) },
            };
            NightWeather weather = Nights.At(blown) with
            {
                Temperature = Temperature.FromDegreesCelsius(outdoorC),
                DewPoint = Temperature.FromDegreesCelsius(outdoorC - 3),
                DesignTemperature = Temperature.FromDegreesCelsius(outdoorC - 10),
            };

            Assessment assessment = Assessor.Assess(blown, weather, Cancellation);

            Assert.All(assessment.Zones, zone =>
            {
                Assert.InRange(zone.RelativeHumidity.Percent, 0, 100);
                Assert.True(double.IsFinite(zone.AgeOfAir.Seconds));
            });
        }
    }

    [Fact]
    public void A_wrong_design_is_refused_with_the_field_and_what_was_expected()
    {
        ArgumentException error = Assert.Throws<ArgumentException>(
            () => Assessor.Assess(Van with { Stop = Van.Stop with { Month = 0 } }, Cancellation));

        Assert.Contains("stop.month", error.Message, StringComparison.Ordinal);
        Assert.Contains("expected 1 to 12", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_cancelled_assessment_stops()
    {
        using CancellationTokenSource source = new();
        source.Cancel();

        Assert.Throws<OperationCanceledException>(() => Assessor.Assess(Van, source.Token));
    }
}
