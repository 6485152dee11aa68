using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Simulation;

public sealed class SituationsTests
{
    private static Design VanAt(string placeKey) =>
        Presets.Build("long-high", Layout.RearPlatformBed) with { Stop = Presets.StopAt(placeKey, month: 1) };

    private static ImmutableArray<CardSituation> Card(string placeKey)
    {
        Design van = VanAt(placeKey);
        return Situations.ForCard(van, YearWeather.Of(van));
    }

    private static ImmutableArray<string> Headlines(string placeKey)
    {
        Design van = VanAt(placeKey);
        return [.. Situations.Of(van, YearWeather.Of(van)).Select(situation => situation.Key)];
    }

    [Fact]
    public void The_card_has_every_moment_in_every_weather_once()
    {
        ImmutableArray<CardSituation> card = Card("seattle");
        Assert.Equal(
            from moment in Enum.GetValues<Moment>() from weather in Enum.GetValues<CardWeather>() select (moment, weather),
            card.Select(cell => (cell.Moment, cell.Weather)).Order());
    }

    [Fact]
    public void A_damp_coast_has_rain_and_damp_nights_but_no_deep_frost() =>
        Assert.DoesNotContain("deep-frost-night", Headlines("seattle"));

    [Fact]
    public void A_subarctic_year_has_deep_frost_and_snow_on_the_roof()
    {
        Assert.Contains("deep-frost-night", Headlines("fairbanks"));
        Assert.All(
            Card("fairbanks").Where(cell => cell.Weather is CardWeather.Frost or CardWeather.Snow),
            cell => Assert.NotNull(cell.Situation));
    }

    [Fact]
    public void Where_it_never_freezes_the_card_has_no_frost_and_no_snow() => Assert.All(
        Card("miami").Where(cell => cell.Weather is CardWeather.Frost or CardWeather.Snow),
        cell => Assert.Null(cell.Situation));

    [Theory]
    [InlineData("seattle")]
    [InlineData("fairbanks")]
    [InlineData("phoenix")]
    [InlineData("miami")]
    public void A_situation_lies_inside_what_its_own_words_ask_for(string placeKey)
    {
        foreach (CardSituation cell in Card(placeKey))
        {
            if (cell.Situation is not Situation situation)
            {
                continue;
            }

            double outdoorC = situation.Outdoor.DegreesCelsius;
            switch (cell.Weather)
            {
                case CardWeather.Rain:
                    Assert.True(situation.Falling is Precipitation.Rain or Precipitation.DrivingRain, situation.Key);
                    break;
                case CardWeather.Damp:
                    Assert.InRange(outdoorC, 0, 15);
                    Assert.InRange(situation.OutdoorHumidity.Percent, 75, 97.1);
                    break;
                case CardWeather.Frost:
                    Assert.InRange(outdoorC, -60, 0);
                    break;
                case CardWeather.Heat:
                    Assert.InRange(outdoorC, 20, 60);
                    break;
                default:
                    Assert.True(situation.SnowOnRoof);
                    Assert.InRange(outdoorC, -60, 1.5);
                    break;
            }

            Assert.Equal(situation.Activity == Activity.LockedAndLeft ? 0 : 2, situation.People);
        }
    }
}
