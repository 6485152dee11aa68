using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Plans;

/// <summary>Puts the table of tonight's settings into words.</summary>
public static class TonightWords
{
    /// <summary>Water on glass and metal from which it is told (our judgement).</summary>
    public static readonly Mass SomeWater = Mass.FromGrams(50);

    /// <summary>Water on glass and metal that counts as much (our judgement).</summary>
    public static readonly Mass MuchWater = Mass.FromGrams(200);

    private const double TooHotC = 30;

    /// <summary>The sheet of a plan.</summary>
    /// <param name="design">The design the table was computed for.</param>
    /// <param name="table">The table.</param>
    /// <param name="dangers">Titles of the dangers that stand.</param>
    /// <param name="units">Units of the plan.</param>
    public static TonightSheet Of(Design design, TonightTable table, IEnumerable<string> dangers, DisplayUnits units)
    {
        design = LaterParts.Without(design);
        var people = table.Nights.Select(night => (night.Sleepers, night.Meal)).Distinct().ToArray();
        var answers = new List<TonightAnswer>();
        var known = new Dictionary<string, int>(StringComparer.Ordinal);
        var cells = ImmutableArray.CreateBuilder<int>();
        foreach (var weather in Enum.GetValues<TonightWeather>())
        {
            foreach (var (sleepers, meal) in people)
            {
                foreach (var outdoor in TonightTable.Temperatures)
                {
                    cells.Add(!TonightTable.Occurs(outdoor, weather) ? TonightSheet.NoSuchNight
                        : table[new TonightNight(outdoor, weather, sleepers, meal)] is { } setting ? IndexOf(Answer(design, setting, units))
                        : TonightSheet.NotCalculated);
                }
            }
        }

        return new TonightSheet
        {
            Format = TonightSheet.CurrentFormat,
            Temperatures = [.. TonightTable.Temperatures.Select(outdoor => Degrees(outdoor, units))],
            Weathers = [.. Enum.GetValues<TonightWeather>().Select(Of)],
            People = [.. people.Select(who => Of(who.Sleepers, who.Meal, table.CanCook))],
            Answers = [.. answers],
            Cells = cells.ToImmutable(),
            Dangers = [.. dangers],
        };

        int IndexOf(TonightAnswer answer)
        {
            var key = string.Join('\u001f', [answer.Aim, answer.Heater, .. answer.Do, "\u001e", .. answer.Stands, "\u001e", .. answer.Watch]);
            if (!known.TryGetValue(key, out var index))
            {
                index = answers.Count;
                known.Add(key, index);
                answers.Add(answer);
            }

            return index;
        }
    }

    /// <summary>What falls, as one taps it.</summary>
    public static string Of(TonightWeather weather) => weather switch
    {
        TonightWeather.Dry => "Dry",
        TonightWeather.Rain => "Rain",
        TonightWeather.Snow => "Snow falls or lies on the roof",
        _ => throw new ArgumentOutOfRangeException(nameof(weather), weather, "Expected dry, rain or snow."),
    };

    /// <summary>Who sleeps here and what was cooked, as one taps it.</summary>
    public static string Of(int sleepers, TonightMeal meal, bool canCook)
    {
        if (sleepers == 0)
        {
            return "Nobody sleeps here: it stands locked";
        }

        var who = string.Create(CultureInfo.InvariantCulture, $"{sleepers} {(sleepers == 1 ? "sleeps" : "sleep")} here");
        return who + (meal, canCook) switch
        {
            (_, false) => "",
            (TonightMeal.Nothing, _) => ", nothing cooked",
            (TonightMeal.Light, _) => ", a short meal cooked",
            (TonightMeal.Heavy, _) => ", a long meal cooked",
            _ => throw new ArgumentOutOfRangeException(nameof(meal), meal, "Expected nothing, a short or a long meal."),
        };
    }

    /// <summary>A whole degree with its unit.</summary>
    private static string Degrees(Temperature temperature, DisplayUnits units)
    {
        var degrees = Math.Round(units.Value(Measure.Temperature, temperature), MidpointRounding.AwayFromZero);
        return (degrees < 0 ? "\u2212" : "") + Math.Abs(degrees).ToString("0", CultureInfo.InvariantCulture) + DisplayUnits.NoBreakSpace + units.Symbol(Measure.Temperature);
    }

    private static TonightAnswer Answer(Design design, TonightSetting setting, DisplayUnits units)
    {
        ImmutableArray<string> what = design.Openings.IsEmpty ? ["Nothing in this van can be opened"]
            : setting.Cell.Instructions.IsEmpty ? ["Leave all as the plan has it"]
            : [.. setting.Cell.Instructions.Select(instruction => CardWords.Of(instruction, design) + Direction(design, instruction))];
        ImmutableArray<string> stands =
        [
            .. design.Openings.Select((opening, index) =>
            {
                var told = setting.Openings[index];
                var full = new CardInstruction(opening.Id, opening.Name, told.Position, told.FanSpeed);
                return opening.Covered ? $"{CardWords.ShortName(opening.Name, design)}: covered" : CardWords.Of(full, design) + Direction(design, full);
            }),
        ];
        return new(setting.Cell.Aim, what, stands, Heater(design, setting, units), [.. Watch(design, setting)]);
    }

    private static string Direction(Design design, CardInstruction instruction) =>
        instruction.FanSpeed is > 0 && design.Openings.FirstOrDefault(opening => opening.Id == instruction.OpeningId)?.Fan is { } fan
            ? fan.Direction == FanDirection.Exhaust ? ", blowing out" : ", blowing in"
            : "";

    private static string Heater(Design design, TonightSetting setting, DisplayUnits units)
    {
        var heater = design.Heater;
        var asleep = setting.Night.Sleepers > 0;
        if (heater.Kind == HeaterKind.None)
        {
            return "This plan has no heater.";
        }

        if (heater.Kind == HeaterKind.UnfluedGas)
        {
            return asleep
                ? "Heater off before anyone sleeps: its flame takes the air you breathe and leaves its gases in the van."
                : "Heater off and its gas shut: nobody is there.";
        }

        if (!setting.Heated)
        {
            return asleep ? "Heater off: it is not needed." : "Heater off.";
        }

        return heater.Kind == HeaterKind.WoodStove
            ? $"Stove as its maker says for the night, its door shut and the carbon monoxide alarm on; counted with {Degrees(heater.NightSetPoint, units)} in the van."
            : $"Heater on, set to {Degrees(heater.NightSetPoint, units)}.";
    }

    private static IEnumerable<string> Watch(Design design, TonightSetting setting)
    {
        var outcome = setting.Cell.Outcome!;
        if (setting.Cell.Caution.Length > 0)
        {
            yield return setting.Cell.Caution;
        }

        var snow = setting.Night.Weather == TonightWeather.Snow;
        if (snow && !setting.Cell.Caution.Contains("snow", StringComparison.OrdinalIgnoreCase))
        {
            yield return "Clear the snow from vents and exhausts first.";
        }

        if (snow && design.Heater.Kind.HasExhaust())
        {
            yield return "Look at the heater’s exhaust and its air intake before you sleep and when you wake: drifting snow shuts them.";
        }

        if (setting.Night.Weather == TonightWeather.Rain && setting.Openings.Any(opening => opening.Position != Position.Shut))
        {
            yield return "If wind drives the rain in, shut that opening and take a drier one; never the fixed vents.";
        }

        if (setting.HeaterAtLimit)
        {
            yield return "The heater gives all it can and the van may stay colder than it is set: warmer bedding, and no flame besides.";
        }

        if (setting.Night.Sleepers > 0 && outcome.CarbonDioxide.PartsPerMillion >= FindingLimits.Of("carbon-dioxide-stale") && !setting.Cell.Caution.Contains("stale", StringComparison.Ordinal))
        {
            yield return "The air goes stale by morning: open more as soon as the weather lets you.";
        }

        if (outcome.Condensed >= SomeWater)
        {
            yield return outcome.Condensed >= MuchWater
                ? "Much water on glass and metal by morning: wipe it off and put the cloth outside."
                : "Some wet glass by morning: wipe it and put the cloth outside.";
        }

        if (setting.Night.Sleepers > 0 && outcome.Room.DegreesCelsius >= TooHotC)
        {
            yield return "It stays hot inside: drink, wet a cloth, sleep elsewhere if you can. Children, old and ill people are at risk first.";
        }

        if (setting.Night.Sleepers > 0 && outcome.Room.DegreesCelsius < FindingLimits.Of("cold-room"))
        {
            yield return "It gets too cold to sleep here without bedding made for it.";
        }
    }
}
