using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings;

/// <summary>The settings of every night of a grid, for one design.</summary>
public sealed class TonightTable
{
    private const int ColdestC = -30;
    private const int HottestC = 36;
    private const int StepK = 2;

    private readonly ImmutableDictionary<TonightNight, TonightSetting?> _settings;

    private TonightTable(ImmutableArray<TonightSetting?> settings, ImmutableArray<TonightNight> nights, int mostSleepers, bool canCook)
    {
        Nights = nights;
        _settings = nights.Zip(settings, KeyValuePair.Create).ToImmutableDictionary();
        MostSleepers = mostSleepers;
        CanCook = canCook;
    }

    /// <summary>Step of the temperatures.</summary>
    public static TemperatureDelta Step { get; } = TemperatureDelta.FromKelvins(StepK);

    /// <summary>Temperatures of the grid, the coldest first. A night between two belongs to the nearer, from the middle on to the warmer.</summary>
    public static ImmutableArray<Temperature> Temperatures { get; } =
        [.. Enumerable.Range(0, ((HottestC - ColdestC) / StepK) + 1).Select(step => Temperature.FromDegreesCelsius(ColdestC + (step * StepK)))];

    /// <summary>All nights of the grid.</summary>
    public ImmutableArray<TonightNight> Nights { get; }

    /// <summary>Most people it is made for.</summary>
    public int MostSleepers { get; }

    /// <summary>True when a meal can be cooked in the van.</summary>
    public bool CanCook { get; }

    /// <summary>True when that weather has a place in the table at a temperature of the grid: no rain in hard frost, no snow in warmth.</summary>
    public static bool Occurs(Temperature outdoor, TonightWeather weather) => weather switch
    {
        TonightWeather.Dry => true,
        TonightWeather.Rain => outdoor >= Temperature.FromDegreesCelsius(-4),
        TonightWeather.Snow => outdoor <= Temperature.FromDegreesCelsius(4),
        _ => throw new ArgumentOutOfRangeException(nameof(weather), weather, "Expected dry, rain or snow."),
    };

    /// <summary>Computes the table.</summary>
    /// <param name="design">A valid design.</param>
    /// <param name="year">The weather of its itinerary.</param>
    /// <param name="assumed">What is assumed.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static TonightTable Of(Design design, YearWeather year, Assumptions assumed, CancellationToken cancellation = default)
    {
        TonightSearch search = new(design, year, assumed, cancellation);
        ImmutableArray<TonightNight> nights = [.. Grid(search)];
        return new TonightTable([.. nights.Select(Setting)], nights, search.MostSleepers, search.CanCook);

        TonightSetting? Setting(TonightNight night)
        {
            try
            {
                return search.Of(night);
            }
            catch (NightNotConvergedException)
            {
                // One night that does not settle is left out and the page says so; the rest of the table holds.
                return null;
            }
        }
    }

    /// <summary>The settings of a night of the grid; null when that night did not balance.</summary>
    public TonightSetting? this[TonightNight night] => _settings[night];

    /// <summary>The night of the grid any night belongs to; colder or hotter than the grid belongs to its end.</summary>
    public static TonightNight Nearest(TonightNight night)
    {
        ArgumentNullException.ThrowIfNull(night);
        double steps = Math.Floor(((night.Outdoor.DegreesCelsius - ColdestC) / StepK) + 0.5);
        return night with { Outdoor = Temperatures[(int)Math.Clamp(steps, 0, Temperatures.Length - 1)] };
    }

    private static IEnumerable<TonightNight> Grid(TonightSearch search)
    {
        foreach (int sleepers in Enumerable.Range(0, search.MostSleepers + 1))
        {
            foreach (TonightMeal meal in sleepers > 0 && search.CanCook ? Enum.GetValues<TonightMeal>() : [TonightMeal.Nothing])
            {
                foreach (TonightWeather weather in Enum.GetValues<TonightWeather>())
                {
                    foreach (Temperature outdoor in Temperatures.Where(outdoor => Occurs(outdoor, weather)))
                    {
                        yield return new TonightNight(outdoor, weather, sleepers, meal);
                    }
                }
            }
        }
    }
}
