using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings;

/// <summary>
/// Searches the settings of any night of one design by the search of the running card. Humidity, wind and sky are the
/// mean of the night hours of that weather on the itinerary; docs/method/tonight.md describes it. Not safe for use by
/// two threads at once.
/// </summary>
public sealed class TonightSearch
{
    /// <summary>Temperature from which nothing heats and a night is about staying cool; of the running card's going to bed in the heat.</summary>
    public static readonly Temperature Warm = Temperature.FromDegreesCelsius(20);

    // Largest change of a zone at which the evening stands still, K.
    private const double ToleranceK = 1e-3;

    // Of the wind on a hot night, as the running card has it for going to bed in the heat.
    private const double StillQuantile = 0.1;

    // Humidity, wind and sky of weather the itinerary does not meet.
    private static readonly ImmutableDictionary<TonightWeather, string[]> Unmet = EmbeddedTable
        .Rows("Findings.tonight-nights.csv", columns: 5)
        .ToImmutableDictionary(cells => Enum.Parse<TonightWeather>(cells[0]));

    private readonly Design _design;
    private readonly YearWeather _year;
    private readonly Assumptions _assumed;
    private readonly CancellationToken _cancellation;
    private readonly Dictionary<(int Sleepers, CookingHabit Habit, bool Cooks), SituationModel> _models = [];
    private readonly Dictionary<TonightWeather, Night> _nights = [];

    /// <summary>Prepares the search.</summary>
    /// <param name="design">A valid design; parts that come later are left out.</param>
    /// <param name="year">The weather of its itinerary.</param>
    /// <param name="assumed">What is assumed.</param>
    /// <param name="cancellation">Stops the work.</param>
    public TonightSearch(Design design, YearWeather year, Assumptions assumed, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(design);
        _design = LaterParts.Without(design);
        _year = year;
        _assumed = assumed;
        _cancellation = cancellation;
    }

    /// <summary>True when a meal can be cooked in the van.</summary>
    public bool CanCook => _design.Household.CookingFuel != CookingFuel.None;

    /// <summary>Most people who sleep in the van.</summary>
    public int MostSleepers => _design.Household.Sleepers;

    /// <summary>Settings tried so far, over all nights.</summary>
    public int Tried { get; private set; }

    /// <summary>The settings of a night.</summary>
    /// <exception cref="NightNotConvergedException">It did not balance.</exception>
    public TonightSetting Of(TonightNight night)
    {
        CardCellSearch search = SearchFor(night);
        CardCell cell = search.Find();
        Tried += search.Tried;
        double limitW = HeaterLimit.OfW(_design);
        return new TonightSetting(
            night,
            cell,
            [.. _design.Openings.Select((opening, index) => new TonightOpening(
                opening.Id, search.Chosen[index].Position, search.Chosen[index].FanSpeed > 0 ? search.Chosen[index].FanSpeed : null))],
            limitW > 0 && (double)cell.Outcome!.Heater.Watts >= limitW - 1);
    }

    /// <summary>The search of a night before it runs.</summary>
    internal CardCellSearch SearchFor(TonightNight night)
    {
        ArgumentNullException.ThrowIfNull(night);
        if (night.Sleepers < 0 || night.Sleepers > MostSleepers)
        {
            throw new ArgumentOutOfRangeException(nameof(night), night.Sleepers, string.Create(CultureInfo.InvariantCulture, $"Expected 0 to {MostSleepers} sleepers."));
        }

        if (night.Meal != TonightMeal.Nothing && (night.Sleepers == 0 || !CanCook))
        {
            throw new ArgumentException("Nobody cooks in this night.", nameof(night));
        }

        Situation situation = Situation(night);
        SituationModel model = Model(night);
        CardSituation cell = new(
            night.Sleepers > 0 ? Moment.GoingToBed : Moment.LeavingItLocked, Column(night), OccursWhen: "tonight", situation);
        return new CardCellSearch(model, cell, situation, _cancellation, night.Meal == TonightMeal.Nothing ? null : AfterMeal(model, situation));
    }

    /// <summary>What the night is for the search.</summary>
    internal Situation Situation(TonightNight night)
    {
        Night typical = Typical(night.Weather);
        return new Situation
        {
            Key = "tonight",
            Name = "Tonight",
            Outdoor = night.Outdoor,
            OutdoorHumidity = RelativeHumidity.FromPercent(typical.HumidityPercent),
            StationWind = Speed.FromMetersPerSecond(Column(night) == CardWeather.Heat ? typical.StillMPerS : typical.WindMPerS),
            Falling = typical.Falling,
            Sun = Irradiance.Zero,
            SkyLoss = Irradiance.FromWattsPerSquareMeter(typical.SkyLossWPerM2),
            Pressure = Pressure.FromPascals(typical.PressurePa),
            Lasts = Nights.Length,
            Activity = night.Sleepers > 0 ? Activity.Asleep : Activity.LockedAndLeft,
            SnowOnRoof = night.Weather == TonightWeather.Snow,
            People = night.Sleepers,
            Shelter = typical.Shelter,
        };
    }

    /// <summary>The column of the running card whose aim the night has.</summary>
    internal CardWeather Column(TonightNight night)
    {
        // As long as the heater may want to run the night is not one of heat, whatever the thermometer says: burnt gas must
        // not be let in. A night of the table stands for those half a step colder too.
        bool heats = HeaterLimit.OfW(_design) > 0 && night.Outdoor - (TonightTable.Step / 2) < _design.Heater.NightSetPoint;
        return night.Weather switch
        {
            TonightWeather.Snow => CardWeather.Snow,
            _ when night.Outdoor >= Warm && !heats => CardWeather.Heat,
            TonightWeather.Rain => CardWeather.Rain,
            _ => night.Outdoor < Temperature.FromDegreesCelsius(0) ? CardWeather.Frost : CardWeather.Damp,
        };
    }

    // Nobody but those who sleep here tonight lived here this evening, and they cooked what they tell.
    private SituationModel Model(TonightNight night)
    {
        Household household = _design.Household;
        CookingHabit habit = night.Meal switch
        {
            TonightMeal.Nothing => household.CookingHabit,
            TonightMeal.Light => CookingHabit.Light,
            TonightMeal.Heavy => CookingHabit.Heavy,
            _ => throw new ArgumentOutOfRangeException(nameof(night), night.Meal, "Expected nothing, a short or a long meal."),
        };
        // Those who come to sleep only cook as well when they say so.
        bool cooks = night.Meal != TonightMeal.Nothing;
        // A van left tonight holds the water of the household that left it.
        int sleepers = night.Sleepers > 0 ? night.Sleepers : household.Sleepers;
        if (!_models.TryGetValue((sleepers, habit, cooks), out SituationModel? model))
        {
            model = new SituationModel(
                _design with
                {
                    Household = household with
                    {
                        Sleepers = sleepers,
                        CookingHabit = habit,
                        Presence = cooks && household.Presence == Presence.Nights ? Presence.EveningsAndNights : household.Presence,
                    },
                },
                _assumed);
            _models.Add((sleepers, habit, cooks), model);
        }

        return model;
    }

    // The food is done when they go to bed: nothing has aired out since. The openings stood as the design has them.
    private SituationStart AfterMeal(SituationModel model, Situation night)
    {
        ImmutableArray<OpeningSetting> standing = OpeningSetting.Of(model.Design);
        SituationStart awake = SituationRun.Before(model, night, standing, flameAsleep: false, ToleranceK, _cancellation);
        SituationSolver cooking = new(
            model,
            night with { Activity = Activity.Cooking, Lasts = Duration.FromMinutes(_assumed["cooking-duration"]) },
            flameAsleep: false,
            ToleranceK);
        cooking.Solve(SituationRun.Allowed(model.Design, standing, cooking.Situation).AsSpan(), awake, _cancellation);
        return cooking.End();
    }

    private Night Typical(TonightWeather weather)
    {
        if (_nights.TryGetValue(weather, out Night? known))
        {
            return known;
        }

        List<int> hours = [];
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            bool night = hour % 24 is >= 22 or < 7;
            bool falls = _year.Falling[hour] switch
            {
                Precipitation.None => weather == TonightWeather.Dry,
                Precipitation.Snow => weather == TonightWeather.Snow,
                _ => weather == TonightWeather.Rain,
            };
            if (night && falls)
            {
                hours.Add(hour);
            }
        }

        string[] unmet = Unmet[weather];
        double Stated(int column) => double.Parse(unmet[column], CultureInfo.InvariantCulture);
        double pressurePa = _year.PressurePa.Average();
        Shelter shelter = Situations.MostOf(Enumerable.Range(0, YearWeather.Hours).Where(hour => hour % 24 is >= 22 or < 7), hour => _year.Shelter[hour]);
        Night typical = hours.Count < Situations.FewestHours
            ? new Night(
                Stated(1),
                Stated(2),
                Stated(2),
                Stated(3),
                weather switch { TonightWeather.Dry => Precipitation.None, TonightWeather.Rain => Precipitation.Rain, _ => Precipitation.Snow },
                pressurePa,
                shelter)
            : new Night(
                100 * Math.Min(Nights.HighestSaturation, hours.Average(hour => _year.VapourPressurePa[hour] / MoistAir.SaturationPressurePa(_year.TemperatureC[hour]))),
                hours.Average(hour => _year.StationWindMPerS[hour]),
                hours.Select(hour => _year.StationWindMPerS[hour]).Order().ElementAt((int)Math.Round(StillQuantile * (hours.Count - 1))),
                hours.Average(hour => _year.SkyLossWPerM2[hour]),
                Situations.MostOf(hours, hour => _year.Falling[hour]),
                pressurePa,
                shelter);
        _nights.Add(weather, typical);
        return typical;
    }

    private sealed record Night(
        double HumidityPercent, double WindMPerS, double StillMPerS, double SkyLossWPerM2, Precipitation Falling, double PressurePa, Shelter Shelter);
}
