using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>
/// What must hold for any van, on the fixed row of <see cref="RandomVan"/>. RANDOM_VANS in the environment sets how many
/// (2,000 unless set).
/// </summary>
public sealed class RandomVanTests(ITestOutputHelper output)
{
    // Outdoor air of two nights that differ by less is the same: the rounds end at a microkelvin.
    private const double SameAirM3PerH = 1e-3;
    private const double SameWaterG = 0.01;

    private static readonly int Count = int.Parse(Environment.GetEnvironmentVariable("RANDOM_VANS") ?? "2000", CultureInfo.InvariantCulture);

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
        List<int> nights = [];
        List<int> rounds = [];
        foreach (Design design in RandomVan.Row(Count, seed: 20_261_125))
        {
            string van = $"van {number++}";
            CancellationToken cancellation = TestContext.Current.CancellationToken;
            nights.Add(new SteadyNight(new NightModel(design, Assumptions.Likely), Nights.At(design), HeaterLimit.OfW(design), cancellation).Rounds);
            YearWeather weather = YearWeather.Of(design);
            SituationModel model = new(design, Assumptions.Likely);
            ImmutableArray<OpeningSetting> standing = OpeningSetting.Of(design);
            foreach (Situation situation in Situations.Of(design, weather).Concat(Situations.ForCard(design, weather).Select(cell => cell.Situation).OfType<Situation>()))
            {
                SituationSolver solver = new(model, situation, flameAsleep: true);
                SituationStart start = SituationRun.Before(model, situation, standing, flameAsleep: true, toleranceK: 1e-6, cancellation);
                solver.Solve(SituationRun.Allowed(design, standing, situation).AsSpan(), start, cancellation);
                rounds.Add(solver.Rounds);
                SituationResult result = SituationRun.Result(model, solver, standing);
                string where = $"{van} {result.Situation.Key}: {RandomVan.Describe(design)}";
                Assert.True(result.Humidity.Percent is > 0 and <= 100, where);
                // Rooms sealed off from each other with pans on and everything shut pass 80 degrees in a few random vans.
                Assert.True(result.Room.DegreesCelsius is > -60 and < 150, where);
                Assert.True(result.Condensed.Kilograms is >= 0 and < 20, where);
                Assert.True(result.CarbonDioxide.PartsPerMillion > 400, where);
            }
        }

        NeverTenTimesTheMedian("nights", nights);
        NeverTenTimesTheMedian("situations", rounds);
    }

    // Rounds of air flows and balance are the work of a solve, whatever the machine has to do beside it.
    private void NeverTenTimesTheMedian(string what, List<int> rounds)
    {
        rounds.Sort();
        int median = rounds[rounds.Count / 2];
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{rounds.Count} {what} of {Count} vans: rounds {median} at the median, {rounds[rounds.Count * 99 / 100]} at 99 %, {rounds[^1]} most"));
        Assert.InRange(rounds[^1], 1, 10 * median);
    }

    // Water passing through: what is given off inside, and what the outdoor air brings in.
    private static double Throughput(Assessment assessment, double sources) => sources
        + (assessment.Air.OutdoorAir.CubicMetersPerSecond * 1.2 * NightModel.OutdoorHumidityRatio(assessment.Weather));

    [Fact]
    public void A_lid_opened_further_never_condenses_more_where_the_rooms_share_their_air()
    {
        int tried = 0;
        foreach ((int number, Design van, NightWeather night) in ColdNights())
        {
            tried++;
            double last = double.PositiveInfinity;
            foreach (Assessment assessment in LidPositions(Stirred(van), night))
            {
                double condensed = assessment.Water.CondensedPerNight.Grams;
                Assert.True(condensed <= last + SameWaterG, $"van {number}: {condensed} g after {last} g; {RandomVan.Describe(van)}");
                last = condensed;
            }
        }

        Assert.True(tried >= Count / 4);
    }

    // An open lid airs its own room by drawing less through another: where that one holds the cold metal, the van as a whole may be wetter.
    [Fact]
    public void A_lid_opened_further_lets_in_more_air_and_condenses_more_only_where_another_room_gets_damper()
    {
        int tried = 0;
        int exceptions = 0;
        string worst = "";
        double worstG = 0;
        foreach ((int number, Design van, NightWeather night) in ColdNights())
        {
            tried++;
            Assessment? before = null;
            foreach (Assessment assessment in LidPositions(van, night))
            {
                if (before is not null)
                {
                    Assert.True(
                        assessment.Air.OutdoorAir.CubicMetersPerHour >= before.Air.OutdoorAir.CubicMetersPerHour - SameAirM3PerH,
                        $"van {number}: {assessment.Air.OutdoorAir} after {before.Air.OutdoorAir}; {RandomVan.Describe(van)}");
                    double more = assessment.Water.CondensedPerNight.Grams - before.Water.CondensedPerNight.Grams;
                    if (more > SameWaterG)
                    {
                        exceptions++;
                        string lidZone = Openings.Find(van, Presets.RoofFanId)!.ZoneId;
                        Assert.Contains(
                            assessment.Zones.Zip(before.Zones), zone => zone.First.ZoneId != lidZone && VapourPa(zone.First) > VapourPa(zone.Second));
                        if (more > worstG)
                        {
                            (worstG, worst) = (more, string.Create(
                                CultureInfo.InvariantCulture,
                                $"van {number}, {before.Water.CondensedPerNight.Grams:F2} to {assessment.Water.CondensedPerNight.Grams:F2} g a night: {RandomVan.Describe(van)}"));
                        }
                    }
                }

                before = assessment;
            }
        }

        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{tried} vans of {Count} with a lid, people and a night colder than 10 °C: {exceptions} steps of a lid with more water than before. {worst}"));
        Assert.True(tried >= Count / 4);
    }

    private static double VapourPa(ZoneState zone) => zone.RelativeHumidity.Percent / 100 * MoistAir.SaturationPressureOverWaterPa(zone.Temperature.DegreesCelsius);

    // Heated without limit, no fan, in a night colder than the room.
    private static IEnumerable<(int Number, Design Van, NightWeather Night)> ColdNights()
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

            Design van = Openings.Change(any, Presets.RoofFanId, o => o with { Fan = null });
            van = van with { Heater = van.Heater with { Kind = HeaterKind.Electric, RatedOutput = Power.FromKilowatts(15), NightSetPoint = Temperature.FromDegreesCelsius(18) } };
            NightWeather night = Nights.At(van);
            if (night.Temperature.DegreesCelsius <= 10)
            {
                yield return (number, van, night);
            }
        }
    }

    private static IEnumerable<Assessment> LidPositions(Design van, NightWeather night) => Enum.GetValues<Position>().Select(position =>
        Assessor.AssessWithoutFindings(Openings.SetPosition(van, Presets.RoofFanId, position), night, TestContext.Current.CancellationToken));

    // As much air to and fro between the rooms as a design may have.
    private static Design Stirred(Design van) => van with
    {
        Passages = [.. van.Passages.Select(passage => passage with { Mixing = VolumeFlow.FromCubicMetersPerHour(DesignLimits.PassageMixing.Maximum) })],
    };

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
