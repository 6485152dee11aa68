using System.Collections.Immutable;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>Turns the hours of a calculated year into what people read. docs/method/year-report.md gives each definition.</summary>
internal sealed class YearReport
{
    /// <summary>Film at 07:00 from which a morning counts as wet, kg/m2 (own definition).</summary>
    public const double WetMorningKgPerM2 = 0.005;

    /// <summary>Film from which a surface counts as wet, kg/m2: about where glass is seen to fog. Our judgement.</summary>
    public const double FilmKgPerM2 = 0.001;

    /// <summary>Relative humidity above which an hour counts as damp (the mould limit of ISO 13788, which means monthly means).</summary>
    public const double DampShare = Moisture.SurfaceHumidity.MouldShare;

    /// <summary>Relative humidity below which an hour with people counts as dry. Our judgement.</summary>
    public const double DryShare = 0.3;

    /// <summary>Hot hours from which a night counts as hot. Our judgement.</summary>
    public const int HotHoursOfHotNight = 2;

    /// <summary>Months of the cold season: those with the lowest mean outdoor temperature.</summary>
    public const int ColdSeasonMonths = 4;

    // The hour that ends at 07:00.
    private const int MorningHour = 6;

    // A heater counts as short when its zone stays this far below the temperature asked for.
    private const double ShortByK = 1;

    // Twenty times what the table of saturation pressures is off by at most.
    private const double TableShare = 1e-6;

    private const int Hours = YearWeather.Hours;
    private const int Days = YearWeather.Days;

    private readonly YearSeries _series;
    private readonly NightModel _model;
    private readonly YearWeather _weather;
    private readonly ImmutableArray<NightSurface> _surfaces;
    private readonly ImmutableArray<NightSurface> _skins;
    private readonly int _living;
    private readonly int _bed;
    private readonly bool[] _slept = new bool[Days];
    private readonly bool[] _wetMorning = new bool[Days];
    private readonly double[] _condensedKg = new double[Days];
    private readonly double[] _meanOutdoorC = new double[Days];
    private readonly bool[] _coldSeason = new bool[12];

    private YearReport(YearSeries series, NightModel model, YearWeather weather)
    {
        _series = series;
        _model = model;
        _weather = weather;
        _surfaces = [.. model.Surfaces.Where(surface => !IsLining(surface.Part))];
        _skins = [.. model.Surfaces.Where(surface => IsLining(surface.Part))];
        _living = model.FirstOf(ZoneKind.Living);
        _bed = model.FirstOf(ZoneKind.Sleeping);
        FindNights();
        FindColdSeason();
    }

    /// <summary>Writes the year.</summary>
    /// <param name="series">
    /// The hours; zones in the design's order, glass and metal in the order of the model's surfaces, skins in that of its
    /// lined surfaces, the mattress last.
    /// </param>
    /// <param name="model">The design as it stands, compiled with what the hours were calculated with.</param>
    /// <param name="weather">The outdoor air it was calculated with.</param>
    /// <param name="hottestLockedFansFailedC">
    /// Hottest living zone while locked when its fans have failed; null when that was not calculated and is then the
    /// hottest as it is.
    /// </param>
    /// <param name="cancellation">Stops the work.</param>
    public static YearAssessment Write(
        YearSeries series, NightModel model, YearWeather weather, double? hottestLockedFansFailedC = null, CancellationToken cancellation = default) =>
        new YearReport(series, model, weather).Write(hottestLockedFansFailedC, cancellation);

    private static bool IsLining(SurfacePart part) => part is SurfacePart.Walls or SurfacePart.Roof or SurfacePart.Floor;

    /// <summary>The day whose night an hour belongs to: nights run from noon to noon, the last from 31 December into 1 January.</summary>
    private static int NightOf(int hour) => (hour + 12) % Hours / 24;

    private void FindNights()
    {
        for (int hour = 0; hour < Hours; hour++)
        {
            int night = NightOf(hour);
            _slept[night] |= _series.Asleep[hour];
            _meanOutdoorC[hour / 24] += _weather.TemperatureC[hour] / 24;
            for (int k = 0; k < _surfaces.Length; k++)
            {
                _condensedKg[night] += _series.SurfaceCondensedKgPerM2[(k * Hours) + hour] * _surfaces[k].AreaM2;
            }
        }
    }

    private void FindColdSeason()
    {
        double[] meansC = [.. Enumerable.Range(0, 12).Select(month =>
            Enumerable.Range(YearCalendar.FirstDay[month], YearCalendar.DaysInMonth[month]).Average(day => _meanOutdoorC[day]))];
        foreach (int month in Enumerable.Range(0, 12).OrderBy(month => meansC[month]).Take(ColdSeasonMonths))
        {
            _coldSeason[month] = true;
        }
    }

    private int ColdestDay => Array.IndexOf(_meanOutdoorC, _meanOutdoorC.Min());

    private bool InColdSeason(int day) => _coldSeason[YearCalendar.Month(day) - 1];

    private YearAssessment Write(double? hottestLockedFansFailedC, CancellationToken cancellation)
    {
        ImmutableArray<SurfaceYear> surfaces = [.. _surfaces.Select(Surface)];
        int worst = surfaces.IsEmpty
            ? -1
            : Enumerable.Range(0, surfaces.Length)
                .MaxBy(k => (surfaces[k].WetMornings, surfaces[k].Condensed.Kilograms / surfaces[k].Area.SquareMeters));
        byte[] hotHours = new byte[Days];
        InnerFaces faces = new(_series, _model);
        HotNights hotNights = NightHeat.Of(_series, _model, faces, _bed, hotHours, NightOf);
        HeaterDays heater = HeaterDays.Of(_series, _model);
        ImmutableArray<SkinYear> skins = [.. _skins.Select(Skin)];
        return new YearAssessment
        {
            Surfaces = surfaces,
            Skins = skins,
            Mattress = Mattress(),
            Zones = [.. _model.Design.Zones.Select(Zone)],
            WetMornings = WetMornings(surfaces, worst),
            Condensed = Mass.FromKilograms(_condensedKg.Sum()),
            NightAir = VolumeFlow.FromCubicMetersPerSecond(MeanAsleep(_series.OutdoorAirM3PerS)),
            Heat = Heat(heater),
            HeaterFit = HeaterFitting.Of(_model.Design, _model.Assumed, _weather, heater, ColdestDay, cancellation),
            Walls = WallChecks.Of(_series, _model, _weather, skins),
            HotNights = hotNights,
            Mould = MouldReport.Of(_series, _model, faces),
            Extremes = Extremes(hottestLockedFansFailedC),
            Combustion = Combustion(),
            Days =
            [
                .. Enumerable.Range(0, Days).Select(day => new DayState(
                    _slept[day], _wetMorning[day], (float)(1000 * _condensedKg[day]), (float)(heater.HeatJ[day] / 3.6e6), (float)_meanOutdoorC[day], hotHours[day])),
            ],
            Hours = HourByHour(worst),
            Closure = new YearClosure(
                Share(_series.WaterUnaccountedKg, _series.WaterThroughputKg),
                Share(_series.HeatUnaccountedJ, _series.HeatThroughputJ),
                _series.Steps,
                _series.NetworkSolves,
                _series.NewtonSteps),
        };
    }

    private static double Share(double part, double whole) => whole == 0 ? Math.Abs(part) : Math.Abs(part) / whole;

    private SurfaceYear Surface(NightSurface surface, int k)
    {
        ReadOnlySpan<double> film = Row(_series.SurfaceFilmKgPerM2, k);
        ReadOnlySpan<double> surfaceC = Row(_series.SurfaceC, k);
        int wetMornings = 0;
        for (int day = 0; day < Days; day++)
        {
            bool wet = film[(24 * day) + MorningHour] >= WetMorningKgPerM2;
            _wetMorning[day] |= wet;
            wetMornings += wet && _slept[day] ? 1 : 0;
        }

        int wetHours = 0;
        int frostHours = 0;
        for (int hour = 0; hour < Hours; hour++)
        {
            if (film[hour] >= FilmKgPerM2)
            {
                wetHours++;
                frostHours += surfaceC[hour] < 0 ? 1 : 0;
            }
        }

        return new SurfaceYear
        {
            Id = surface.Id,
            Name = surface.Name,
            Kind = surface.Part == SurfacePart.Metal ? SurfaceKind.Metal : SurfaceKind.Glass,
            Area = Area.FromSquareMeters(surface.AreaM2),
            WetMornings = wetMornings,
            WetHours = wetHours,
            FrostHours = frostHours,
            PeakPerSquareMetre = Mass.FromKilograms(Largest(film)),
            Condensed = Mass.FromKilograms(Sum(Row(_series.SurfaceCondensedKgPerM2, k)) * surface.AreaM2),
            RanOff = Mass.FromKilograms(Sum(Row(_series.SurfaceRanOffKgPerM2, k)) * surface.AreaM2),
        };
    }

    private WetMornings WetMornings(ImmutableArray<SurfaceYear> surfaces, int worst)
    {
        int[] coldNights = [.. Enumerable.Range(0, Days).Where(day => _slept[day] && InColdSeason(day))];
        double perNightKg = coldNights.Length == 0 ? 0 : coldNights.Average(day => _condensedKg[day]);
        return new WetMornings(
            worst < 0 ? 0 : surfaces[worst].WetMornings,
            _slept.Count(slept => slept),
            worst < 0 ? "" : surfaces[worst].Id,
            worst < 0 ? "" : surfaces[worst].Name,
            Mass.FromKilograms(perNightKg))
        {
            ColdSeasonCount = worst < 0 ? 0 : coldNights.Count(day => _series.SurfaceFilmKgPerM2[(worst * Hours) + (24 * day) + MorningHour] >= WetMorningKgPerM2),
            ColdSeasonNights = coldNights.Length,
        };
    }

    private SkinYear Skin(NightSurface skin, int k)
    {
        ReadOnlySpan<double> film = Row(_series.SkinFilmKgPerM2, k);
        double endKgPerM2 = film[(_series.FirstHour + Hours - 1) % Hours];
        bool accumulates = endKgPerM2 > _series.SkinFilmAtStartKgPerM2[k] + FilmKgPerM2;
        double days = accumulates ? Days : LongestDryingHours(film) / 24.0;
        double[] peaks = new double[12];
        for (int month = 0; month < peaks.Length; month++)
        {
            peaks[month] = Largest(film.Slice(24 * YearCalendar.FirstDay[month], 24 * YearCalendar.DaysInMonth[month]));
        }

        return new SkinYear
        {
            Part = skin.Name,
            ZoneId = skin.Id,
            Area = Area.FromSquareMeters(skin.AreaM2),
            PeakPerSquareMetre = Mass.FromKilograms(Largest(film)),
            RanOffPerSquareMetre = Mass.FromKilograms(_series.SkinRanOffKgPerM2[k]),
            HoursAbove80 = CountAbove(Row(_series.SkinHumidityShare, k), DampShare),
            WetHours = CountAbove(film, FilmKgPerM2),
            DaysToDry = Duration.FromDays(days),
            Accumulates = accumulates,
            PeakByMonth = [.. peaks.Select(peak => Mass.FromKilograms(peak))],
        };
    }

    /// <summary>
    /// Longest time from the peak of a wet spell to its end, hours, in a year that repeats; all hours of the year when the
    /// skin never dries.
    /// </summary>
    internal static int LongestDryingHours(ReadOnlySpan<double> filmKgPerM2)
    {
        int hours = filmKgPerM2.Length;
        int dry = 0;
        while (dry < hours && filmKgPerM2[dry] > FilmKgPerM2)
        {
            dry++;
        }

        if (dry == hours)
        {
            return hours;
        }

        int longest = 0;
        int peak = -1;
        for (int step = 1; step <= hours; step++)
        {
            int hour = (dry + step) % hours;
            if (filmKgPerM2[hour] > FilmKgPerM2)
            {
                if (peak < 0 || filmKgPerM2[hour] > filmKgPerM2[(dry + peak) % hours])
                {
                    peak = step;
                }
            }
            else if (peak >= 0)
            {
                longest = Math.Max(longest, step - peak);
                peak = -1;
            }
        }

        return longest;
    }

    private MattressYear? Mattress()
    {
        if (_series.SkinC.Length / Hours == _skins.Length)
        {
            return null;
        }

        ReadOnlySpan<double> film = Row(_series.SkinFilmKgPerM2, _skins.Length);
        return new MattressYear(
            CountAbove(Row(_series.SkinHumidityShare, _skins.Length), DampShare), CountAbove(film, FilmKgPerM2), Mass.FromKilograms(Largest(film)));
    }

    private ZoneYear Zone(Zone zone, int index)
    {
        ReadOnlySpan<double> zoneC = Row(_series.ZoneC, index);
        ReadOnlySpan<double> vapourPa = Row(_series.ZoneVapourPressurePa, index);
        int above = 0;
        int below = 0;
        double coldestC = double.PositiveInfinity;
        double warmestC = double.NegativeInfinity;
        for (int hour = 0; hour < Hours; hour++)
        {
            above += Above(zoneC[hour], vapourPa[hour], DampShare) ? 1 : 0;
            below += _series.Occupied[hour] && Below(zoneC[hour], vapourPa[hour], DryShare) ? 1 : 0;
            coldestC = Math.Min(coldestC, zoneC[hour]);
            warmestC = Math.Max(warmestC, zoneC[hour]);
        }

        return new ZoneYear
        {
            ZoneId = zone.Id,
            HoursAbove80 = above,
            HoursBelow30 = below,
            NightAge = Duration.FromSeconds(MeanAsleep(Row(_series.ZoneAgeS, index))),
            Coldest = Temperature.FromDegreesCelsius(coldestC),
            Warmest = Temperature.FromDegreesCelsius(warmestC),
            NightCarbonDioxide = VolumeConcentration.FromPartsPerMillion(1e6 * MeanAsleep(Row(_series.ZoneCarbonDioxideShare, index))),
        };
    }

    // The table lies within 5e-8 of the equations; only an hour nearer to the limit than TableShare is asked of the equations themselves.
    private static bool Above(double celsius, double vapourPa, double share)
    {
        double limitPa = share * SaturationTable.Pa(celsius, out _);
        return Math.Abs(vapourPa - limitPa) > TableShare * limitPa ? vapourPa > limitPa : vapourPa > share * MoistAir.SaturationPressurePa(celsius);
    }

    private static bool Below(double celsius, double vapourPa, double share)
    {
        double limitPa = share * SaturationTable.Pa(celsius, out _);
        return Math.Abs(vapourPa - limitPa) > TableShare * limitPa ? vapourPa < limitPa : vapourPa < share * MoistAir.SaturationPressurePa(celsius);
    }

    private HeatYear Heat(HeaterDays heater)
    {
        ReadOnlySpan<double> bedC = Row(_series.ZoneC, _bed);
        ReadOnlySpan<double> heatedC = Row(_series.ZoneC, _model.HeaterZone);
        Heater heaterOf = _model.Design.Heater;
        double coldestBedC = double.PositiveInfinity;
        int shortHours = 0;
        double[] byMonthJ = new double[12];
        bool anyAsleep = _series.Asleep.Contains(true);
        for (int hour = 0; hour < Hours; hour++)
        {
            if (_series.Asleep[hour] || !anyAsleep)
            {
                coldestBedC = Math.Min(coldestBedC, bedC[hour]);
            }

            double setPointC = _series.Occupied[hour] && !_series.Asleep[hour]
                ? heaterOf.DaySetPoint.DegreesCelsius
                : heaterOf.NightSetPoint.DegreesCelsius;
            shortHours += _series.HeaterLimitedShare[hour] >= 0.5 && heatedC[hour] < setPointC - ShortByK ? 1 : 0;
        }

        for (int day = 0; day < Days; day++)
        {
            byMonthJ[YearCalendar.Month(day) - 1] += heater.HeatJ[day];
        }

        return new HeatYear
        {
            Heat = Energy.FromJoules(heater.HeatJ.Sum()),
            Fuel = heater.Fuel(heater.HeatJ.Sum()),
            FuelColdestDay = heater.Fuel(heater.HeatJ[ColdestDay]),
            Electric = Energy.FromJoules(heater.ElectricJ.Sum()),
            ElectricWorstDay = Energy.FromJoules(heater.ElectricJ.Max()),
            HoursShort = shortHours,
            ColdestBed = Temperature.FromDegreesCelsius(coldestBedC),
            CyclingShare = Ratio.FromDecimalFractions(heater.CyclingShare),
            ByMonth = [.. byMonthJ.Select(joules => Energy.FromJoules(joules))],
        };
    }

    private Extremes Extremes(double? hottestLockedFansFailedC)
    {
        ReadOnlySpan<double> livingC = Row(_series.ZoneC, _living);
        double lockedC = double.NegativeInfinity;
        bool everLocked = _series.Occupied.Contains(false);
        for (int hour = 0; hour < Hours; hour++)
        {
            if (!_series.Occupied[hour] || !everLocked)
            {
                lockedC = Math.Max(lockedC, livingC[hour]);
            }
        }

        Equipment equipment = _model.Design.Equipment;
        return new Extremes
        {
            HottestLocked = Temperature.FromDegreesCelsius(lockedC),
            HottestLockedFanFailed = Temperature.FromDegreesCelsius(Math.Max(lockedC, hottestLockedFansFailedC ?? lockedC)),
            BatteryFrostHours = equipment.Battery == BatteryKind.Lithium ? FrostHours(equipment.BatteryZoneId) : null,
            WaterFrostHours = equipment.WaterCarried ? FrostHours(equipment.WaterZoneId) : null,
        };
    }

    private int FrostHours(string? zoneId)
    {
        ReadOnlySpan<double> airC = zoneId is null ? _weather.TemperatureC : Row(_series.ZoneC, _model.IndexOf(zoneId));
        int hours = 0;
        foreach (double celsius in airC)
        {
            hours += celsius < 0 ? 1 : 0;
        }

        return hours;
    }

    // The cooker's flame burns on the days somebody who cooks is in the van.
    private CombustionYear? Combustion()
    {
        Household household = _model.Design.Household;
        bool unfluedHeater = _model.Design.Heater.Kind == HeaterKind.UnfluedGas;
        if (!unfluedHeater && household.CookingFuel != CookingFuel.Gas)
        {
            return null;
        }

        double heaterJ = unfluedHeater ? 3600 * _series.HeaterW.Sum() : 0;
        int cookingDays = !HouseholdDay.Cooks(household) ? 0 : Enumerable.Range(0, Days).Count(day => _series.Occupied.AsSpan(24 * day, 24).Contains(true));
        double cookingJ = cookingDays * MealRates.FlameJPerDay(_model.Design, _model.Assumed);
        return new CombustionYear(
            VolumeConcentration.FromPartsPerMillion(1e6 * _series.MostCarbonDioxideShare.Max()),
            // The model puts no flame out: one too big for its room asks for more oxygen than there is, which leaves none.
            Ratio.FromPercent(Math.Max(0, _model.Assumed["outdoor-oxygen"] - (100 * _series.MostOxygenUsedShare.Max()))),
            Mass.FromKilograms(CombustionGases.WaterKg(Fuel.Propane, heaterJ + cookingJ)))
        {
            SealedToCutOff = SealedToCutOff(unfluedHeater),
        };
    }

    private Duration? SealedToCutOff(bool unfluedHeater)
    {
        Power input = unfluedHeater ? _model.Design.Heater.RatedOutput : Power.FromKilowatts(_model.Assumed["hob-input"]);
        if (input.Watts <= 0)
        {
            return null;
        }

        VolumeFlow used = CombustionGases.OxygenUsed(
            Fuel.Propane, input, _model.Design.Heater.DaySetPoint, Pressure.FromPascals(_weather.PressurePa[0]));
        Volume air = Volume.FromCubicMeters(_model.Design.Zones.Sum(zone => zone.AirVolume.CubicMeters));
        return CombustionGases.TimeToOxygen(air, used, Ratio.FromPercent(Findings.FindingLimits.Of("oxygen-cut-off")));
    }

    private YearHours HourByHour(int worst)
    {
        ReadOnlySpan<double> livingC = Row(_series.ZoneC, _living);
        ReadOnlySpan<double> livingPa = Row(_series.ZoneVapourPressurePa, _living);
        float[] humidity = new float[Hours];
        float[] dewPointC = new float[Hours];
        for (int hour = 0; hour < Hours; hour++)
        {
            humidity[hour] = (float)(100 * Math.Min(1, MoistAir.RelativeHumidityShare(livingC[hour], livingPa[hour])));
            dewPointC[hour] = (float)MoistAir.DewPointC(livingPa[hour]);
        }

        return new YearHours
        {
            OutdoorC = Single(_weather.TemperatureC),
            LivingC = Single(livingC),
            BedC = Single(Row(_series.ZoneC, _bed)),
            LivingHumidityPercent = ImmutableArrayOf(humidity),
            LivingDewPointC = ImmutableArrayOf(dewPointC),
            WettestSurfaceC = worst < 0 ? Single(livingC) : Single(Row(_series.SurfaceC, worst)),
            FilmGPerM2 = worst < 0 ? ImmutableArrayOf(new float[Hours]) : Single(Row(_series.SurfaceFilmKgPerM2, worst), 1000),
            HeaterW = Single(_series.HeaterW),
            OutdoorAirM3PerH = Single(_series.OutdoorAirM3PerS, 3600),
        };
    }

    private static ReadOnlySpan<double> Row(double[] rows, int k) => rows.AsSpan(k * Hours, Hours);

    private static ImmutableArray<float> Single(ReadOnlySpan<double> values, double times = 1)
    {
        float[] singles = new float[values.Length];
        for (int i = 0; i < singles.Length; i++)
        {
            singles[i] = (float)(times * values[i]);
        }

        return ImmutableArrayOf(singles);
    }

    private static ImmutableArray<float> ImmutableArrayOf(float[] values) =>
        System.Runtime.InteropServices.ImmutableCollectionsMarshal.AsImmutableArray(values);

    private double MeanAsleep(ReadOnlySpan<double> values)
    {
        double sum = 0;
        int hours = 0;
        for (int hour = 0; hour < Hours; hour++)
        {
            if (_series.Asleep[hour])
            {
                sum += values[hour];
                hours++;
            }
        }

        return hours == 0 ? 0 : sum / hours;
    }

    private static double Sum(ReadOnlySpan<double> values)
    {
        double sum = 0;
        foreach (double value in values)
        {
            sum += value;
        }

        return sum;
    }

    private static double Largest(ReadOnlySpan<double> values)
    {
        double largest = 0;
        foreach (double value in values)
        {
            largest = Math.Max(largest, value);
        }

        return largest;
    }

    private static int CountAbove(ReadOnlySpan<double> values, double limit)
    {
        int count = 0;
        foreach (double value in values)
        {
            count += value > limit ? 1 : 0;
        }

        return count;
    }
}
