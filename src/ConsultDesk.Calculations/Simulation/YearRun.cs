using ConsultDesk.Calculations.Climate;
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
        int firstDay = days == YearWeather.Days ? FirstDay(weather) : fromDay;
        YearSeries series = new(van.ZoneCount, van.FirstLining, van.SkinCount + (van.Mattress is null ? 0 : 1)) { FirstHour = 24 * firstDay };
        BedAir bed = new(van.Night);
        VanRun run = Run(
            van,
            weather,
            options,
            firstDay,
            days,
            begun => Begin(begun, van, series),
            (ran, hour, slot) =>
            {
                Write(ran, van, series, hour, slot);
                series.BedAirSpeedMPerS[hour] = slot.Asleep ? bed.SpeedMPerS(ran.Air) : 0;
            },
            progress,
            cancellation);
        End(run, series);
        return series;
    }

    /// <summary>Hottest hour of a zone among those nobody is in the van, over some days of the year; none, minus infinity, where somebody always is.</summary>
    internal static double HottestLeftC(VanModel van, YearWeather weather, RunOptions options, int zone, int fromDay, int days, CancellationToken cancellation)
    {
        double hottestC = double.NegativeInfinity;
        _ = Run(
            van,
            weather,
            options,
            fromDay,
            days,
            begun: null,
            (ran, _, slot) => hottestC = slot.Occupied ? hottestC : Math.Max(hottestC, ran.Zones.ZoneC[zone]),
            progress: null,
            cancellation);
        return hottestC;
    }

    /// <summary>
    /// Runs an evening and the morning after it as the year does; every ten minutes are handed on with the hours since the midnight before the
    /// evening.
    /// </summary>
    internal static void Night(VanModel van, YearWeather weather, int day, Action<VanRun, double, DaySlot> slotRan, CancellationToken cancellation) => _ = Run(
        van,
        weather,
        options: null,
        day,
        days: 2,
        begun: null,
        (_, _, _) => { },
        progress: null,
        cancellation,
        slotRan);

    /// <summary>Settles the van and runs it through some days; each hour of theirs is handed on with what the household does at its end.</summary>
    private static VanRun Run(
        VanModel van,
        YearWeather weather,
        RunOptions? options,
        int firstDay,
        int days,
        Action<VanRun>? begun,
        Action<VanRun, int, DaySlot> ran,
        IProgress<double>? progress,
        CancellationToken cancellation,
        Action<VanRun, double, DaySlot>? slotRan = null)
    {
        VanRun run = new(van, options);
        HouseholdDay day = HouseholdDay.Of(van.Night.Design, van.Night.Assumed);
        bool wipes = van.Night.Design.Household.WipesGlass && Array.Exists(day.Slot, slot => slot.Asleep);
        int hour = 24 * (firstDay - SettlingDays);
        Outdoor first = Outdoor.Of(weather, hour);
        run.Start(first, StartC(van.Night.Design, first));
        for (int d = -SettlingDays; d < days; d++)
        {
            cancellation.ThrowIfCancellationRequested();
            if (d == 0)
            {
                begun?.Invoke(run);
            }

            if (d >= 0 && slotRan is not null)
            {
                int midnight = 24 * d;
                run.SlotRan = (slot, did) => slotRan(run, midnight + ((slot + 1) / 6.0), did);
            }

            for (int hourOfDay = 0; hourOfDay < 24; hourOfDay++, hour++)
            {
                if (wipes && hourOfDay == WipingHour)
                {
                    run.Zones.WipeGlass();
                }

                run.Hour(Outdoor.Of(weather, hour - 1), Outdoor.Of(weather, hour), Outdoor.Of(weather, hour + 1), day, hourOfDay);
                if (d >= 0)
                {
                    ran(run, Wrapped(hour), day.Slot[(6 * hourOfDay) + 5]);
                }
            }

            if (progress is not null && d > 0 && d % 30 == 0)
            {
                progress.Report((double)d / days);
            }
        }

        return run;
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

    private static void Begin(VanRun run, VanModel van, YearSeries series)
    {
        run.ClearSums();
        Array.Clear(run.Zones.CondensedKgPerM2);
        Array.Clear(run.Zones.RanOffKgPerM2);
        Array.Clear(run.Zones.SkinRanOffKgPerM2);
        for (int skin = 0; skin < van.SkinCount; skin++)
        {
            series.SkinFilmAtStartKgPerM2[skin] = run.Zones.SkinFilmKgPerM2(skin);
        }

        series.Steps = -run.Steps;
        series.NetworkSolves = -run.Air.Solves;
        series.NewtonSteps = -run.Air.NewtonSteps;
    }

    private static void Write(VanRun run, VanModel van, YearSeries series, int hour, in DaySlot slot)
    {
        WriteZones(run, van, series, hour);
        WriteSurfaces(run, van, series, hour);
        WriteSkins(run, van, series, hour);
        series.HeaterW[hour] = run.HourHeaterJ / 3600;
        series.HeaterLimitedShare[hour] = run.HourLimitedS / 3600;
        series.MostOxygenUsedShare[hour] = run.HourOxygenUsed;
        series.MostCarbonDioxideShare[hour] = run.HourCarbonDioxide;
        series.FanW[hour] = run.HourFanJ / 3600;
        series.OutdoorAirM3PerS[hour] = run.HourAirM3 / 3600;
        series.Occupied[hour] = slot.Occupied;
        series.Asleep[hour] = slot.Asleep;
    }

    private static void WriteZones(VanRun run, VanModel van, YearSeries series, int hour)
    {
        for (int i = 0, at = hour; i < van.ZoneCount; i++, at += YearSeries.Hours)
        {
            series.ZoneC[at] = run.Zones.ZoneC[i];
            series.ZoneVapourPressurePa[at] = run.Zones.VapourPressurePa(i);
            series.ZoneCarbonDioxideShare[at] = run.Zones.CarbonDioxide[i];
            series.ZoneAgeS[at] = run.Air.Solution.ZoneAgeS[i];
        }
    }

    private static void WriteSurfaces(VanRun run, VanModel van, YearSeries series, int hour)
    {
        VanStep zones = run.Zones;
        for (int k = 0, at = hour; k < van.FirstLining; k++, at += YearSeries.Hours)
        {
            series.SurfaceC[at] = zones.FaceC[k];
            series.SurfaceFilmKgPerM2[at] = zones.FilmKgPerM2[k];
            series.SurfaceCondensedKgPerM2[at] = zones.CondensedKgPerM2[k];
            series.SurfaceRanOffKgPerM2[at] = zones.RanOffKgPerM2[k];
        }

        for (int i = 0; i < van.ZoneCount; i++)
        {
            series.FurnishingRanOffKg += zones.RanOffKgPerM2[van.FaceCount + i] * van.FurnishingM2[i];
        }

        Array.Clear(zones.CondensedKgPerM2);
        Array.Clear(zones.RanOffKgPerM2);
    }

    private static void WriteSkins(VanRun run, VanModel van, YearSeries series, int hour)
    {
        VanStep zones = run.Zones;
        int at = hour;
        for (int j = 0; j < van.SkinCount; j++, at += YearSeries.Hours)
        {
            series.SkinC[at] = zones.SkinC[j];
            series.SkinFilmKgPerM2[at] = zones.SkinFilmKgPerM2(j);
            series.SkinHumidityShare[at] = zones.SkinHumidity(j);
        }

        if (van.Mattress is Mattress mattress)
        {
            series.SkinC[at] = zones.MattressC;
            series.SkinFilmKgPerM2[at] = Math.Max(0, zones.MattressKgPerM2 - mattress.StorageKgPerM2);
            series.SkinHumidityShare[at] = Math.Min(1, zones.MattressKgPerM2 / mattress.StorageKgPerM2);
        }
    }

    private static void End(VanRun run, YearSeries series)
    {
        BalanceSums sums = run.Zones.Sums;
        series.WaterInKg = sums.WaterKg;
        series.DriedKg = sums.DriedKg;
        run.Zones.SkinRanOffKgPerM2.CopyTo(series.SkinRanOffKgPerM2, 0);
        series.WaterThroughputKg = sums.WaterKg + sums.BroughtKg;
        series.WaterUnaccountedKg = sums.WaterUnaccountedKg(run.Zones.StoredKg());
        series.HeatInJ = sums.GivenJ + sums.SunJ;
        series.HeatThroughputJ = Math.Abs(sums.GivenJ) + sums.SunJ + Math.Abs(sums.LatentJ);
        series.HeatUnaccountedJ = sums.HeatUnaccountedJ(run.Zones.StoredJ());
        series.Steps += run.Steps;
        series.NetworkSolves += run.Air.Solves;
        series.NewtonSteps += run.Air.NewtonSteps;
        series.MostFilmRounds = run.Zones.MostFilmRounds;
    }
}
