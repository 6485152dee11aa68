using System.Globalization;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>
/// What must hold for any van, on the fixed row of <see cref="RandomVan"/>. RANDOM_VANS in the environment sets how many
/// (200 unless set).
/// </summary>
public sealed class RandomVanTests
{
    private static readonly int Count = int.Parse(Environment.GetEnvironmentVariable("RANDOM_VANS") ?? "200", CultureInfo.InvariantCulture);

    [Fact]
    public void Random_vans_are_valid_and_assessed_with_both_balances_closed()
    {
        int number = 0;
        foreach (Design design in RandomVan.Row(Count))
        {
            string van = $"van {number++}";
            Assert.True(DesignCheck.Errors(design).IsEmpty, $"{van}: {string.Join(" ", DesignCheck.Errors(design))}");
            Assessment assessment = Assessor.Assess(design, TestContext.Current.CancellationToken);

            Assert.All(assessment.Zones, zone =>
            {
                Assert.InRange(zone.RelativeHumidity.Percent, 0, 100);
                Assert.True(zone.AgeOfAir.Seconds is > 0 and < double.PositiveInfinity, van);
                Assert.True(zone.CarbonDioxide.PartsPerMillion > 400, van);
            });
            double sources = assessment.Water.Sources.Sum(source => source.Rate.KilogramsPerSecond);
            double sinks = assessment.Water.CarriedOut.KilogramsPerSecond + assessment.Water.Condensing.KilogramsPerSecond + assessment.Water.Removed.KilogramsPerSecond;
            Assert.True(Math.Abs(sources - sinks) <= 1e-9 * Throughput(assessment, sources), $"{van}: water {sources} against {sinks}");
            double gains = (double)(assessment.Heat.Heater.Watts + assessment.Heat.People.Watts + assessment.Heat.Other.Watts);
            double losses = assessment.Heat.Losses.Sum(path => (double)path.Loss.Watts);
            double turnover = assessment.Heat.Losses.Sum(path => Math.Abs((double)path.Loss.Watts));
            Assert.True(Math.Abs(gains - losses) <= 1e-9 * Math.Max(turnover, 1), $"{van}: heat {gains} against {losses}");
            Assert.True(assessment.Surfaces.All(surface => surface.CondensedPerNight.Kilograms >= 0), van);
        }
    }

    [Fact]
    public void Random_vans_settle_in_every_situation_and_keep_to_what_air_can_be()
    {
        int number = 0;
        foreach (Design design in RandomVan.Row(Count / 2, seed: 20_261_125))
        {
            string van = $"van {number++}";
            YearWeather weather = YearWeather.Of(design);
            Situation[] situations = [.. Situations.Of(design, weather), .. Situations.ForCard(design, weather).Select(cell => cell.Situation).OfType<Situation>()];
            foreach (SituationResult result in SituationRun.Of(design, situations, Assumptions.Likely, TestContext.Current.CancellationToken))
            {
                string where = $"{van} {result.Situation.Key}: {RandomVan.Describe(design)}";
                Assert.True(result.Humidity.Percent is > 0 and <= 100, where);
                // Rooms sealed off from each other with pans on and everything shut pass 80 degrees in a few random vans.
                Assert.True(result.Room.DegreesCelsius is > -60 and < 150, where);
                Assert.True(result.Condensed.Kilograms is >= 0 and < 20, where);
                Assert.True(result.CarbonDioxide.PartsPerMillion > 400, where);
            }
        }
    }

    // Water passing through: what is given off inside, and what the outdoor air brings in.
    private static double Throughput(Assessment assessment, double sources) => sources
        + (assessment.Air.OutdoorAir.CubicMetersPerSecond * 1.2 * NightModel.OutdoorHumidityRatio(assessment.Weather));

    [Fact]
    public void A_lid_opened_further_never_condenses_more_in_a_lived_in_heated_van()
    {
        int number = 0;
        foreach (Design any in RandomVan.Row(Count))
        {
            number++;
            // Between rooms all but sealed off from each other a lid in one does not air the other.
            bool sealedOff = any.Passages.All(passage => passage.FreeArea.SquareCentimeters < 30);
            if (any.Openings.IsEmpty || any.Household.Sleepers == 0 || sealedOff)
            {
                continue;
            }

            // Heated without limit, no fan, in a night colder than the room.
            Design van = Openings.Change(any, Presets.RoofFanId, o => o with { Fan = null });
            van = van with { Heater = van.Heater with { Kind = HeaterKind.Electric, RatedOutput = Power.FromKilowatts(15), NightSetPoint = Temperature.FromDegreesCelsius(18) } };
            NightWeather night = Nights.At(van);
            if (night.Temperature.DegreesCelsius > 10)
            {
                continue;
            }

            double last = double.PositiveInfinity;
            foreach (Position position in Enum.GetValues<Position>())
            {
                Assessment assessment = Assessor.AssessWithoutFindings(
                    Openings.SetPosition(van, Presets.RoofFanId, position), night, TestContext.Current.CancellationToken);
                double condensed = assessment.Water.CondensedPerNight.Grams;
                Assert.True(condensed <= last + 0.01, $"van {number}, lid {position}: {condensed} g after {last} g");
                last = condensed;
            }
        }
    }

    [Fact]
    public void An_outside_cover_makes_dry_glass_warmer_and_an_inside_one_colder()
    {
        foreach (Design any in RandomVan.Row(40))
        {
            // Nobody inside, so that nothing condenses and only heat is compared.
            Design van = any with
            {
                Openings = [],
                Household = any.Household with { Sleepers = 0 },
                Heater = any.Heater with { Kind = HeaterKind.Electric, RatedOutput = Power.FromKilowatts(15), NightSetPoint = Temperature.FromDegreesCelsius(25) },
            };
            NightWeather night = Nights.At(van) with
            {
                Temperature = Temperature.FromDegreesCelsius(-5),
                DewPoint = Temperature.FromDegreesCelsius(-20),
                SkyLoss = Irradiance.Zero,
            };
            double Warmth(Cover cover)
            {
                Assessment assessment = Assessor.AssessWithoutFindings(Vans.Covered(van, cover), night, TestContext.Current.CancellationToken);
                SurfaceState pane = assessment.Surfaces.First(surface => surface.Kind == SurfaceKind.Glass);
                double roomC = assessment.Zones.Single(zone => zone.ZoneId == pane.ZoneId).Temperature.DegreesCelsius;
                // Share of the way from outdoors to the room, because covers change how cold the cab gets as well.
                return (pane.Temperature.DegreesCelsius - night.Temperature.DegreesCelsius) / (roomC - night.Temperature.DegreesCelsius);
            }

            double bare = Warmth(Cover.None);
            Assert.True(Warmth(Cover.Outside) > bare + 0.05);
            Assert.True(Warmth(Cover.InsideTight) < bare - 0.05);
            Assert.True(Warmth(Cover.InsideLoose) < bare - 0.01);
        }
    }
}
