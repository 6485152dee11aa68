using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>One situation judged by itself: what the consultant's strip shows.</summary>
public sealed class SituationStateTests
{
    // Work an answer may take. Counted on this van when it was written: 8 to 11 rounds, and up to 136 settings.
    private const int MostRounds = 40;
    private const int MostTried = 400;

    private static readonly Design Van = Vans.With(Position.Half, Position.Ajar);

    public static TheoryData<string> Keys => [.. Moments.All.Select(situation => situation.Key)];

    private static Situation Named(string key) => Moments.All.Single(situation => situation.Key == key);

    private static SituationState State(Design design, Situation situation) =>
        SituationRun.State(design, situation, Assumptions.Likely, TestContext.Current.CancellationToken);

    // Continuity: what comes in through openings and cracks goes out through them, to within the change of volume with warmth.
    [Theory]
    [MemberData(nameof(Keys))]
    public void As_much_air_leaves_as_comes_in(string key)
    {
        AirExchange air = State(Van, Named(key)).Air;

        double inM3PerH = air.Openings.Sum(flow => flow.In.CubicMetersPerHour) + air.LeakageIn.CubicMetersPerHour;
        double outM3PerH = air.Openings.Sum(flow => flow.Out.CubicMetersPerHour) + air.LeakageOut.CubicMetersPerHour;

        Assert.InRange(outM3PerH / inM3PerH, 0.75, 1.25);
        Assert.Equal(air.OutdoorAir.CubicMetersPerHour, inM3PerH, 0.02 * inM3PerH + 0.1);
    }

    [Theory]
    [MemberData(nameof(Keys))]
    public void Rooms_and_surfaces_say_the_same_as_the_situation_does(string key)
    {
        SituationState state = State(Van, Named(key));
        HashSet<string> livedIn = [.. Van.Zones.Where(zone => zone.Kind is ZoneKind.Living or ZoneKind.Sleeping).Select(zone => zone.Id)];
        IEnumerable<ZoneState> rooms = state.Zones.Where(zone => livedIn.Contains(zone.ZoneId));

        Assert.Equal(SituationRun.Of(Van, Named(key), Assumptions.Likely, TestContext.Current.CancellationToken).Humidity, state.Result.Humidity);
        Assert.Equal(state.Result.Humidity.Percent, rooms.Max(zone => zone.RelativeHumidity.Percent), 9);
        Assert.Equal(state.Result.Room.DegreesCelsius, rooms.Max(zone => zone.Temperature.DegreesCelsius), 9);
        Assert.Equal(state.Result.Condensed.Grams, state.Surfaces.Sum(surface => surface.CondensedPerNight.Grams), 6);
        Assert.Equal(state.Result.GlassAndMetal.SquareMeters, state.Surfaces.Sum(surface => surface.Area.SquareMeters), 9);
        Assert.Equal(Van.Openings.Select(opening => opening.Id), state.Air.Openings.Select(flow => flow.OpeningId));
    }

    [Fact]
    public void What_had_to_be_shut_passes_no_air_and_a_fan_behind_it_stands_still()
    {
        SituationState rain = State(Vans.With(Position.Full, Position.Full), Moments.CookingInRain);

        Assert.NotEmpty(rain.Result.ShutHere);
        Assert.All(
            rain.Air.Openings.Where(flow => rain.Result.ShutHere.Contains(flow.OpeningId)),
            flow => Assert.Equal(0, flow.In.CubicMetersPerHour + flow.Out.CubicMetersPerHour));
        Assert.Empty(rain.Air.Fans);
    }

    [Fact]
    public void In_place_of_a_night_it_brings_its_own_air_rooms_and_weather_and_leaves_the_findings()
    {
        Assessment night = Assessor.Assess(Van, TestContext.Current.CancellationToken);

        SituationState frost = State(Van, Moments.FrostNight);
        Assessment shown = frost.InPlaceOfNight(night);

        Assert.Equal(-12, shown.Weather.Temperature.DegreesCelsius);
        Assert.Equal(frost.Zones, shown.Zones);
        Assert.Equal(frost.Surfaces, shown.Surfaces);
        Assert.Equal(night.Findings, shown.Findings);
        Assert.Equal((frost.Result.Condensed + frost.CondensedElsewhere).Grams, shown.Water.CondensedPerNight.Grams, 9);
    }

    [Fact]
    public void With_the_heater_left_off_nothing_heats_and_the_room_is_colder()
    {
        Design heated = Van with { Heater = Van.Heater with { Kind = HeaterKind.RoomSealedLiquidFuel } };

        SituationResult on = State(heated, Moments.FrostNight).Result;
        SituationResult off = State(heated, Moments.FrostNight with { HeaterOff = true }).Result;

        Assert.True(on.Heater.Watts > 100);
        Assert.Equal(0, off.Heater.Watts);
        Assert.True(off.Room < on.Room);
    }

    [Fact]
    public void More_people_in_the_van_than_sleep_in_it_breathe_there_in_their_stead()
    {
        SituationResult two = State(Van, Moments.Night with { People = 2 }).Result;
        SituationResult four = State(Van, Moments.Night with { People = 4 }).Result;

        Assert.True(four.CarbonDioxide > two.CarbonDioxide);
        Assert.True(four.Humidity >= two.Humidity);
    }

    [Fact]
    public void Every_headline_situation_is_there_and_says_whether_the_itinerary_has_it()
    {
        Situation met = Moments.CookingInRain;

        ImmutableArray<NamedSituation> named = Situations.Named(Van, [met]);

        Assert.Equal(
            ["cooking-in-rain", "damp-mild-night", "deep-frost-night", "hot-still-night", "locked-and-left"],
            named.Select(one => one.Situation.Key));
        Assert.Equal([true, false, false, false, false], named.Select(one => one.Occurs));
        Assert.Same(met, named[0].Situation);
        Assert.All(named.Skip(1), one => Assert.True(one.Situation.SkyLoss.WattsPerSquareMeter > 0));
        Assert.Equal(0, named[4].Situation.People);
        Assert.Equal(Van.Household.Sleepers, named[1].Situation.People);
    }

    [Fact]
    public void A_situation_stays_under_its_sky_and_cloud_of_rain_keeps_it_warmer()
    {
        Situation clear = Situations.Named(Van, []).Single(one => one.Situation.Key == "deep-frost-night").Situation;

        Situation same = Situations.UnderItsSky(clear, clear);
        Situation damper = Situations.UnderItsSky(clear with { OutdoorHumidity = RelativeHumidity.FromPercent(97) }, clear);
        Situation rain = Situations.UnderItsSky(clear with { Falling = Precipitation.Snow }, clear);

        Assert.Equal(clear.SkyLoss.WattsPerSquareMeter, same.SkyLoss.WattsPerSquareMeter, 9);
        Assert.True(damper.SkyLoss < clear.SkyLoss);
        Assert.True(rain.SkyLoss < 0.5 * clear.SkyLoss);
    }

    [Theory]
    [InlineData(60, 50, "Outdoor temperature is 60 °C; expected -40 to 50 °C.")]
    [InlineData(10, 101, "Outdoor humidity is 101 %; expected 5 to 100 %.")]
    public void Weather_out_of_range_is_refused_with_field_value_and_range(double outdoorC, double humidityPercent, string expected)
    {
        ArgumentOutOfRangeException refused = Assert.Throws<ArgumentOutOfRangeException>(() => Situations.UnderItsSky(
            Moments.Night with { Outdoor = Temperature.FromDegreesCelsius(outdoorC), OutdoorHumidity = RelativeHumidity.FromPercent(humidityPercent) },
            Moments.Night));

        Assert.Contains(expected, refused.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(10, Precipitation.None, false, CardWeather.Damp)]
    [InlineData(-1, Precipitation.None, false, CardWeather.Frost)]
    [InlineData(-1, Precipitation.Rain, false, CardWeather.Rain)]
    [InlineData(10, Precipitation.DrivingRain, false, CardWeather.Rain)]
    [InlineData(-1, Precipitation.Snow, false, CardWeather.Snow)]
    [InlineData(-1, Precipitation.None, true, CardWeather.Snow)]
    [InlineData(26, Precipitation.None, false, CardWeather.Heat)]
    public void Weather_finds_its_column_of_the_card(double outdoorC, Precipitation falling, bool snowOnRoof, CardWeather expected) => Assert.Equal(
        (Moment.Cooking, expected),
        Situations.CellOf(Van, Moments.Cooking with { Outdoor = Temperature.FromDegreesCelsius(outdoorC), Falling = falling, SnowOnRoof = snowOnRoof }));

    [Theory]
    [MemberData(nameof(Keys))]
    public void Advice_taken_sets_the_openings_as_its_instructions_say_and_is_a_design_like_any_other(string key)
    {
        Situation situation = Named(key);

        SituationAdvice advice = RunningCards.For(Van, situation, Assumptions.Likely, TestContext.Current.CancellationToken);
        Design set = advice.Apply(Van);

        Assert.Empty(DesignCheck.Errors(set).Except(DesignCheck.Errors(Van)));
        foreach (CardInstruction instruction in advice.Cell.Instructions.Where(one => one.OpeningId.Length > 0))
        {
            Opening opening = set.Openings.Single(one => one.Id == instruction.OpeningId);
            Assert.Equal(instruction.Position, opening.Position);
            Assert.Equal(instruction.FanSpeed ?? 0, opening.Position == Position.Shut ? 0 : opening.Fan?.Speed ?? 0);
        }

        Assert.Equal(advice.IsFollowed, advice.Cell.Instructions.IsEmpty);
        Assert.Equal(advice.IsFollowed, ReferenceEquals(set, Van));
        Assert.InRange(advice.Cell.Instructions.Length, 0, CardInstructions.Most);
        Assert.InRange(advice.Tried, 1, MostTried);
    }

    // What follows the finger must stay small: rounds are counted, not time.
    [Theory]
    [MemberData(nameof(Keys))]
    public void An_answer_takes_few_rounds(string key) => Assert.InRange(State(Van, Named(key)).Rounds, 1, MostRounds);
}
