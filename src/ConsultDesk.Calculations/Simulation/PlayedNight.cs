using System.Collections.Immutable;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>Which night of a year is played.</summary>
public enum NightChoice
{
    /// <summary>The night with the lowest mean temperature outside.</summary>
    Coldest,

    /// <summary>The night with the highest mean relative humidity outside among those above freezing: nothing dries then.</summary>
    Dampest,
}

/// <summary>The air of a zone at a moment.</summary>
/// <param name="ZoneId">Id of the zone.</param>
/// <param name="Temperature">Air temperature.</param>
/// <param name="RelativeHumidity">Over water, 0 to 100 %.</param>
/// <param name="CarbonDioxide">By volume, outdoor air included.</param>
public sealed record ZoneMoment(string ZoneId, Temperature Temperature, RelativeHumidity RelativeHumidity, VolumeConcentration CarbonDioxide);

/// <summary>The van at a moment of a night: what has come to be by then, and the air flows of the ten minutes before it.</summary>
public sealed record NightMoment
{
    /// <summary>Time since the midnight before the evening: 18 h is supper, 32 h eight in the morning.</summary>
    public required Duration Clock { get; init; }

    /// <summary>What the people did in the ten minutes before.</summary>
    public required Activity Activity { get; init; }

    /// <summary>Water from pans and flame in the ten minutes before.</summary>
    public required MassFlow Steam { get; init; }

    /// <summary>Outdoor temperature.</summary>
    public required Temperature Outdoor { get; init; }

    /// <summary>The zones, in the design's order.</summary>
    public required ImmutableArray<ZoneMoment> Zones { get; init; }

    /// <summary>Flows through openings and passages.</summary>
    public required AirExchange Air { get; init; }

    /// <summary>Film or frost on each of <see cref="PlayedNight.Surfaces"/>, in their order.</summary>
    public required ImmutableArray<Mass> Films { get; init; }

    /// <summary>Heater output at the end of the ten minutes.</summary>
    public required Power Heater { get; init; }

    /// <summary>Film and frost on all glass and bare metal.</summary>
    public Mass Film => Mass.FromKilograms(Films.Sum(film => film.Kilograms));
}

/// <summary>A surface whose film is played.</summary>
/// <param name="Id">Id of the glazing, opening or metal patch.</param>
/// <param name="Name">Name the client would use.</param>
/// <param name="Area">Its area.</param>
/// <param name="IsGlass">Glass or acrylic; bare metal otherwise.</param>
public sealed record PlayedSurface(string Id, string Name, Area Area, bool IsGlass);

/// <summary>
/// One night of the year's run, written down every ten minutes from half an hour before supper to breakfast. The van is the same, the steps
/// are the same, and the ten days before are run first, so that its hours are those the year has.
/// </summary>
public sealed record PlayedNight
{
    /// <summary>First moment, hours since the midnight before.</summary>
    public const double FromHour = HouseholdDay.SupperTime - 0.5;

    /// <summary>Last moment, hours since the midnight before: half past eight.</summary>
    public const double ToHour = 32.5;

    /// <summary>Moments from first to last.</summary>
    public const int Count = (int)((ToHour - FromHour) * 6) + 1;

    /// <summary>Day of the year of its evening, 0 for 1 January.</summary>
    public required int Day { get; init; }

    /// <summary>Glass and bare metal.</summary>
    public required ImmutableArray<PlayedSurface> Surfaces { get; init; }

    /// <summary>The moments, ten minutes apart.</summary>
    public required ImmutableArray<NightMoment> Moments { get; init; }

    /// <summary>Water given off inside from the first moment to the last.</summary>
    public required Mass Given { get; init; }

    /// <summary>Water outdoor air brought.</summary>
    public required Mass Brought { get; init; }

    /// <summary>Water leaving air carried.</summary>
    public required Mass Carried { get; init; }

    /// <summary>Water that ran off to the sills, and what dryers took out.</summary>
    public required Mass Removed { get; init; }

    /// <summary>Water in air, fabrics, films, skins and mattress at the first moment.</summary>
    public required Mass StoredBefore { get; init; }

    /// <summary>The same at the last moment.</summary>
    public required Mass StoredAfter { get; init; }

    /// <summary>Evening of a year's night.</summary>
    /// <param name="weather">The year.</param>
    /// <param name="choice">Which.</param>
    /// <returns>Day of the year, 0 for 1 January.</returns>
    public static int DayOf(YearWeather weather, NightChoice choice)
    {
        ArgumentNullException.ThrowIfNull(weather);
        IEnumerable<int> days = Enumerable.Range(0, YearWeather.Days);
        return choice switch
        {
            NightChoice.Coldest => days.MinBy(day => Mean(weather.TemperatureC, day)),
            // A place that never thaws has a dampest night too.
            NightChoice.Dampest => days.MaxBy(day => (Mean(weather.TemperatureC, day) > 0, Mean(weather.HumidityShare, day))),
            _ => throw new ArgumentOutOfRangeException(nameof(choice), choice, "Expected the coldest or the dampest night."),
        };
    }

    /// <summary>Plays a night.</summary>
    /// <param name="design">A valid design; parts that come later are left out.</param>
    /// <param name="weather">Its outdoor air.</param>
    /// <param name="day">Day of the year of the evening, 0 to 364.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">The design is wrong; the message names the fields.</exception>
    /// <exception cref="CalculationFailedException">An hour did not balance.</exception>
    public static PlayedNight Of(Design design, YearWeather weather, int day, CancellationToken cancellation = default)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(day);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(day, YearWeather.Days);
        Assessor.RequireValid(design);
        return Of(new VanModel(LaterParts.Without(design), Assumptions.Likely), weather, day, cancellation);
    }

    /// <summary>Plays a night of a compiled van.</summary>
    internal static PlayedNight Of(VanModel van, YearWeather weather, int day, CancellationToken cancellation)
    {
        const double Hair = 1e-6;
        ImmutableArray<NightMoment>.Builder moments = ImmutableArray.CreateBuilder<NightMoment>(Count);
        double beforeKg = 0;
        BalanceSums? first = null;
        PlayedNight? night = null;
        YearRun.Night(van, weather, day, Look, cancellation);
        return night ?? throw new InvalidOperationException("The night was not run to its last moment.");

        void Look(VanRun run, double hour, DaySlot slot)
        {
            if (hour < FromHour - Hair || hour > ToHour + Hair)
            {
                return;
            }

            if (moments.Count == 0)
            {
                first = run.Zones.Sums;
                beforeKg = run.Zones.StoredKg();
            }

            moments.Add(Moment(run, van, hour, slot));
            if (moments.Count == Count)
            {
                BalanceSums sums = run.Zones.Sums;
                night = new PlayedNight
                {
                    Day = day,
                    Surfaces = [.. van.Night.Surfaces.Take(van.FirstLining).Select(surface => new PlayedSurface(
                        surface.Id, surface.Name, Area.FromSquareMeters(surface.AreaM2), surface.Part is SurfacePart.Glazing or SurfacePart.Pane))],
                    Moments = moments.ToImmutable(),
                    Given = Mass.FromKilograms(sums.WaterKg - first!.WaterKg),
                    Brought = Mass.FromKilograms(sums.BroughtKg - first.BroughtKg),
                    Carried = Mass.FromKilograms(sums.CarriedKg - first.CarriedKg),
                    Removed = Mass.FromKilograms(sums.RanOffKg + sums.DriedKg - first.RanOffKg - first.DriedKg),
                    StoredBefore = Mass.FromKilograms(beforeKg),
                    StoredAfter = Mass.FromKilograms(run.Zones.StoredKg()),
                };
            }
        }
    }

    private static NightMoment Moment(VanRun run, VanModel van, double hour, in DaySlot slot)
    {
        VanStep zones = run.Zones;
        return new NightMoment
        {
            Clock = Duration.FromHours(hour),
            Activity = slot.CookerWaterKgPerS > 0 ? Activity.Cooking : slot.Activity,
            Steam = MassFlow.FromKilogramsPerSecond(slot.CookerWaterKgPerS),
            Outdoor = Temperature.FromDegreesCelsius(zones.OutdoorC),
            Zones =
            [
                .. Enumerable.Range(0, van.ZoneCount).Select(zone => new ZoneMoment(
                    van.Night.Design.Zones[zone].Id,
                    Temperature.FromDegreesCelsius(zones.ZoneC[zone]),
                    // Air is held at saturation, so what is over 100 % is rounding.
                    RelativeHumidity.FromPercent(100 * Math.Min(1, MoistAir.RelativeHumidityShare(zones.ZoneC[zone], zones.VapourPressurePa(zone)))),
                    VolumeConcentration.FromPartsPerMillion(1e6 * zones.CarbonDioxide[zone]))),
            ],
            Air = NightReport.Air(van.Night, run.Air.Solution),
            Films = [.. Enumerable.Range(0, van.FirstLining).Select(k => Mass.FromKilograms(zones.FilmKgPerM2[k] * van.FaceM2[k]))],
            Heater = Power.FromWatts(zones.HeaterW),
        };
    }

    // From the evening to breakfast, over the turn of the year too.
    private static double Mean(double[] hours, int day) =>
        Enumerable.Range((24 * day) + 18, 14).Average(hour => hours[hour % YearWeather.Hours]);
}
