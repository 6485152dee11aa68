using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// A van through a whole year. The year is begun at the end of its warmest month, when skins are driest, and runs round
/// to it again; the ten days before are run first and not written down, so that nothing of the start is left in air,
/// faces and furniture. Skins that are wetter at the end than at the beginning gather water from year to year.
/// </summary>
internal static class YearRun
{
    /// <summary>Days run before the year that is written down.</summary>
    public const int SettlingDays = 10;

    /// <summary>Hour at which a household that wipes its glass has done so, when it slept in the van.</summary>
    public const int WipingHour = 9;

    // The warmest month is that of the warmest running mean of so many days.
    private const int WarmDays = 30;

    /// <summary>Runs the year.</summary>
    /// <param name="design">A valid design.</param>
    /// <param name="weather">Its outdoor air.</param>
    /// <param name="assumed">What is assumed.</param>
    /// <param name="options">How it steps; null for the shipped way.</param>
    /// <param name="progress">Told the share done once a month.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static YearSeries Of(
        Design design,
        YearWeather weather,
        Assumptions assumed,
        RunOptions? options = null,
        IProgress<double>? progress = null,
        CancellationToken cancellation = default) =>
        Of(new VanModel(design, assumed), weather, options, 0, YearWeather.Days, progress, cancellation);

    /// <summary>Runs some days of the year, counted from its first; hours outside stay 0.</summary>
    internal static YearSeries Of(
        VanModel van,
        YearWeather weather,
        RunOptions? options,
        int fromDay,
        int days,
        IProgress<double>? progress = null,
        CancellationToken cancellation = default)
    {
        YearSeries series = YearSeries.Of(van);
        VanBatch<ScalarLane> batch = new([van]);
        _ = Of(batch, [series], weather, options, fromDay, days, progress, cancellation);
        return series;
    }

    /// <summary>Runs vans side by side through some days of the year; the series of a van that failed mean nothing.</summary>
    /// <param name="batch">The vans.</param>
    /// <param name="series">Room for each van's hours; hours outside of the days stay as they are.</param>
    /// <param name="weather">The outdoor air of all of them.</param>
    /// <param name="options">How they step; null for the shipped way.</param>
    /// <param name="fromDay">First day; the whole year begins after its warmest month instead.</param>
    /// <param name="days">How many.</param>
    /// <param name="progress">Told the share done once a month.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>Why a van could not be run through, for each of them; null for those that could.</returns>
    internal static CalculationFailedException?[] Of<TLane>(
        VanBatch<TLane> batch,
        YearSeries[] series,
        YearWeather weather,
        RunOptions? options,
        int fromDay,
        int days,
        IProgress<double>? progress = null,
        CancellationToken cancellation = default)
        where TLane : struct, ILane<TLane> =>
        Of(batch, new YearWriter<TLane>(batch, series), weather, options, fromDay, days, progress, cancellation);

    /// <summary>The same, read hour by hour.</summary>
    internal static CalculationFailedException?[] Of<TLane>(
        VanBatch<TLane> batch,
        IHourReader<TLane> reader,
        YearWeather weather,
        RunOptions? options,
        int fromDay,
        int days,
        IProgress<double>? progress = null,
        CancellationToken cancellation = default)
        where TLane : struct, ILane<TLane>
    {
        int firstDay = days == YearWeather.Days ? FirstDay(weather) : fromDay;
        VanRun<TLane> run = new(batch, options);
        Run(batch, run, weather, firstDay, days, () => reader.Begin(run, 24 * firstDay), (hour, slot) => reader.Hour(run, hour, slot), progress, cancellation);
        reader.End(run);
        return run.Failures[..batch.Used];
    }

    /// <summary>Hottest hour of a zone among those nobody is in the van, over some days of the year; none, minus infinity, where somebody always is.</summary>
    internal static double HottestLeftC(VanModel van, YearWeather weather, RunOptions options, int zone, int fromDay, int days, CancellationToken cancellation)
    {
        double hottestC = double.NegativeInfinity;
        VanBatch<ScalarLane> batch = new([van]);
        VanRun<ScalarLane> run = new(batch, options);
        Run(
            batch,
            run,
            weather,
            fromDay,
            days,
            begun: null,
            (_, slot) => hottestC = slot.Occupied ? hottestC : Math.Max(hottestC, run.Zones.ZoneC(zone).Value),
            progress: null,
            cancellation);
        return hottestC;
    }

    /// <summary>
    /// Runs an evening and the morning after it as the year does; every ten minutes are handed on with the hours since the midnight before the
    /// evening.
    /// </summary>
    internal static void Night(VanModel van, YearWeather weather, int day, Action<VanRun, double, DaySlot> slotRan, CancellationToken cancellation)
    {
        VanBatch<ScalarLane> batch = new([van]);
        VanRun run = new(batch);
        int hours = 0;
        Run(
            batch,
            run.Lanes,
            weather,
            day,
            days: 2,
            () => run.Lanes.SlotRan = (slot, did) =>
            {
                run.Air.Tell();
                slotRan(run, (24 * (hours / 24)) + ((slot + 1) / 6.0), did);
            },
            (_, _) => hours++,
            progress: null,
            cancellation);
    }

    /// <summary>Settles the vans and runs them through some days; each hour of theirs is handed on with what the first van's household does at its end.</summary>
    private static void Run<TLane>(
        VanBatch<TLane> batch,
        VanRun<TLane> run,
        YearWeather weather,
        int firstDay,
        int days,
        Action? begun,
        Action<int, DaySlot> ran,
        IProgress<double>? progress,
        CancellationToken cancellation)
        where TLane : struct, ILane<TLane>
    {
        HouseholdDay[] day = [.. batch.Vans.Take(batch.Used).Select(van => HouseholdDay.Of(van.Night.Design, van.Night.Assumed))];
        RequireSameActivities(day);
        bool slept = Array.Exists(day[0].Slot, slot => slot.Asleep);
        TLane wipes = batch.Mask(van => van.Night.Design.Household.WipesGlass && slept);
        int hour = 24 * (firstDay - SettlingDays);
        Outdoor first = Outdoor.Of(weather, hour);
        run.Start(first, batch.Lanes(van => StartC(van.Night.Design, first)));
        for (int d = -SettlingDays; d < days && !run.AllFailed; d++)
        {
            cancellation.ThrowIfCancellationRequested();
            if (d == 0)
            {
                begun?.Invoke();
            }

            for (int hourOfDay = 0; hourOfDay < 24; hourOfDay++, hour++)
            {
                if (hourOfDay == WipingHour && TLane.Any(wipes))
                {
                    run.Zones.WipeGlass(wipes);
                }

                run.Hour(Outdoor.Of(weather, hour - 1), Outdoor.Of(weather, hour), Outdoor.Of(weather, hour + 1), day, hourOfDay);
                if (d >= 0)
                {
                    ran(Wrapped(hour), day[0].Slot[(6 * hourOfDay) + 5]);
                }
            }

            if (progress is not null && d > 0 && d % 30 == 0)
            {
                progress.Report((double)d / days);
            }
        }
    }

    /// <summary>True when the people of two vans do the same at the same times, so that the vans can be run side by side.</summary>
    internal static bool SameActivities(HouseholdDay a, HouseholdDay b) =>
        a.Slot.Select(slot => slot.Activity).SequenceEqual(b.Slot.Select(slot => slot.Activity));

    private static void RequireSameActivities(HouseholdDay[] days)
    {
        if (!Array.TrueForAll(days, day => SameActivities(day, days[0])))
        {
            throw new ArgumentException("Vans whose people do different things at one time cannot be run side by side.", nameof(days));
        }
    }

    /// <summary>A temperature near what the van will have.</summary>
    internal static double StartC(Design design, in Outdoor outdoor)
    {
        bool heated = HeaterLimit.OfW(design) > 0 && (design.Household.Sleepers > 0 || design.Heater.RunsWhenAway);
        return heated ? Math.Max(design.Heater.NightSetPoint.DegreesCelsius, outdoor.TemperatureC) : outdoor.TemperatureC + 1;
    }

    // The day after the warmest thirty.
    private static int FirstDay(YearWeather weather)
    {
        double warmest = double.NegativeInfinity;
        int first = 0;
        for (int day = 0; day < YearWeather.Days; day++)
        {
            double sum = 0;
            for (int before = 1; before <= WarmDays; before++)
            {
                int start = 24 * (((day - before) + YearWeather.Days) % YearWeather.Days);
                for (int hour = 0; hour < 24; hour += 3)
                {
                    sum += weather.TemperatureC[start + hour];
                }
            }

            if (sum > warmest)
            {
                warmest = sum;
                first = day;
            }
        }

        return first;
    }

    private static int Wrapped(int hour) => ((hour % YearSeries.Hours) + YearSeries.Hours) % YearSeries.Hours;
}
