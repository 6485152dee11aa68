using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Climate;

/// <summary>
/// The hours of a year at a place, at the station's elevation: in every month its mean day, a
/// cold snap, a warm spell and a wet spell, always on the same days. Months keep their means of temperature, dew point,
/// wind and sun. docs/method/climate.md gives the equations and how far off they are.
/// </summary>
internal sealed class PlaceYear
{
    private const int Hours = YearWeather.Hours;

    // Lengths of the spells: with these depths they have the spread and the extreme days of a real month.
    private const int SnapDays = 4;
    private const int WarmDays = 5;

    // The spell on the dry side of the month begins on its fourth day; the other ends a day before the month does.
    private const int FirstSpellDay = 3;

    // Largest share of the extraterrestrial sun that reaches the ground on a day: clear mountain air. Our judgement.
    private const double ClearestDay = 0.8;

    // Most that dry days stretch the month's mean daily range, so that a wet month's few dry days do not run away.
    private const double WidestDryRange = 1.3;

    // The sevenths of the hourly wind over its mean, calm and windy days in turn: our measurement on five typical-year
    // files. A real wind changes within the day; here a day stands for the hours of a week.
    private static readonly double[] WindOfDays = [0.3, 1.2, 0.75, 1.85, 0.5, 1.5, 0.9];

    private readonly Place _place;
    private readonly Assumptions _assumptions;
    private readonly double _coldestC;
    private readonly double _warmestC;

    public PlaceYear(Place place, Assumptions assumptions)
    {
        _place = place;
        _assumptions = assumptions;
        _coldestC = place.Months.Min(month => month.Mean.DegreesCelsius);
        _warmestC = place.Months.Max(month => month.Mean.DegreesCelsius);
        FillTemperature();
        FillDewPoint();
        FillSun();
        FillWind();
        FillFall();
        FillCloud();
    }

    /// <summary>The measured hours of a place; what the file lacks is made from its months.</summary>
    public PlaceYear(Place place, HourlyWeather hours, Assumptions assumptions)
        : this(place, assumptions)
    {
        HighestSaturation = 1;
        hours.TemperatureC.CopyTo(TemperatureC);
        hours.DewPointC.CopyTo(DewPointC);
        hours.WindMPerS.CopyTo(WindMPerS);
        hours.SunWPerM2.CopyTo(SunWPerM2);
        SkyWPerM2 = hours.SkyWPerM2.IsEmpty ? null : [.. hours.SkyWPerM2];
        if (hours.Wet.IsEmpty)
        {
            LetTheDampestDaysBeWet();
        }
        else
        {
            hours.Wet.CopyTo(Wet);
        }

        // By day: cloud is not read from the file, its infrared says more.
        for (int day = 0; day < YearWeather.Days; day++)
        {
            double share = assumptions[Wet.AsSpan(24 * day, 24).Contains(true) ? "sky-cloud-wet" : "sky-cloud-dry"];
            Array.Fill(CloudShare, share, 24 * day, 24);
        }
    }

    /// <summary>The place.</summary>
    public Place Place => _place;

    /// <summary>Most vapour the air holds, as a share of saturation.</summary>
    public double HighestSaturation { get; } = Nights.HighestSaturation;

    /// <summary>Long-wave radiation of the sky on a level surface, W/m2, where it was measured.</summary>
    public double[]? SkyWPerM2 { get; }

    /// <summary>Air temperature, degrees Celsius.</summary>
    public double[] TemperatureC { get; } = new double[Hours];

    /// <summary>Dew point over water, degrees Celsius.</summary>
    public double[] DewPointC { get; } = new double[Hours];

    /// <summary>Wind at 10 m, m/s.</summary>
    public double[] WindMPerS { get; } = new double[Hours];

    /// <summary>Global sun on a level surface, W/m2.</summary>
    public double[] SunWPerM2 { get; } = new double[Hours];

    /// <summary>Rain or snow falls.</summary>
    public bool[] Wet { get; } = new bool[Hours];

    /// <summary>Share of the sky that is clouded.</summary>
    public double[] CloudShare { get; } = new double[Hours];

    /// <summary>
    /// Standard deviation of a month's daily means, K: 0.19 + 0.163 D in the coldest and 1.26 + 0.044 D in the warmest
    /// month with D the difference of their means, between them in proportion to the month's own mean.
    /// </summary>
    public static double SpreadK(Place place, int month, Assumptions assumptions)
    {
        double coldestC = place.Months.Min(m => m.Mean.DegreesCelsius);
        double warmestC = place.Months.Max(m => m.Mean.DegreesCelsius);
        double winterK = 0.19 + (assumptions["winter-day-spread"] * (warmestC - coldestC));
        double summerK = 1.26 + (assumptions["summer-day-spread"] * (warmestC - coldestC));
        double season = warmestC > coldestC ? (place.Month(month).Mean.DegreesCelsius - coldestC) / (warmestC - coldestC) : 0;
        return winterK + (season * (summerK - winterK));
    }

    /// <summary>Days of the wet spell of a month, 1 to 12: the wet days, leaving the first and the last day of the month out.</summary>
    public static int WetSpellDays(Place place, int month) =>
        Math.Min((int)Math.Round(place.Month(month).WetDays), YearCalendar.DaysInMonth[month - 1] - 2);

    private void FillTemperature()
    {
        double[] range = new double[Hours];
        AddMonthly(month => month.MeanMaximum.DegreesCelsius - month.MeanMinimum.DegreesCelsius, range);
        double[] wetness = new double[Hours];
        double[] anomalyK = new double[Hours];
        Span<double> days = stackalloc double[31];
        for (int month = 1; month <= 12; month++)
        {
            Spells(month, days);
            AddDays(month, days, anomalyK);
            WetSpell(month, days);
            AddDays(month, days, wetness);
        }

        double wetDayRange = _assumptions["wet-day-range"];
        for (int month = 1; month <= 12; month++)
        {
            double wetShare = (double)WetSpellDays(_place, month) / YearCalendar.DaysInMonth[month - 1];
            double dry = Math.Min(1 / (1 - (wetShare * (1 - wetDayRange))), WidestDryRange);
            double wet = wetShare > 0 ? (1 - ((1 - wetShare) * dry)) / wetShare : 1;
            int first = 24 * YearCalendar.FirstDay[month - 1];
            for (int hour = first; hour < first + (24 * YearCalendar.DaysInMonth[month - 1]); hour++)
            {
                double factor = dry + (wetness[hour] * (wet - dry));
                TemperatureC[hour] = anomalyK[hour] + (range[hour] * factor * DayShape.Hourly[hour % 24]);
            }
        }

        CorrectMeans(TemperatureC, month => month.Mean.DegreesCelsius);
    }

    private void FillDewPoint()
    {
        double follow = _assumptions["dew-point-spread"] * _assumptions["dew-point-correlation"];
        double own = _assumptions["dew-point-spread"] * Math.Sqrt(1 - Math.Pow(_assumptions["dew-point-correlation"], 2));
        double[] wanted = new double[Hours];
        Span<double> days = stackalloc double[31];
        Span<double> wet = stackalloc double[31];
        for (int month = 1; month <= 12; month++)
        {
            int count = YearCalendar.DaysInMonth[month - 1];
            int wetDays = WetSpellDays(_place, month);
            int dryDays = count - 2 - wetDays;
            // Two values with the wanted spread and no mean.
            double wetK = wetDays > 0 && dryDays > 0 ? own * SpreadK(_place, month, _assumptions) * Math.Sqrt((double)dryDays / wetDays) : 0;
            double dryK = dryDays > 0 ? -wetK * wetDays / dryDays : 0;
            Spells(month, days);
            WetSpell(month, wet);
            for (int day = 0; day < count; day++)
            {
                bool inner = day > 0 && day < count - 1;
                days[day] = (follow * days[day]) + (inner ? (wet[day] * wetK) + ((1 - wet[day]) * dryK) : 0);
            }

            AddDays(month, days, wanted);
        }

        AddMonthly(month => month.DewPoint.DegreesCelsius, wanted);
        KeepBelowSaturation(wanted);
    }

    // Cutting at the ceiling dries the air; what is lost is added to the wanted course until the month's mean is met.
    // Where the table asks for more than saturation allows, the month stays drier than the table.
    private void KeepBelowSaturation(double[] wanted)
    {
        const int Rounds = 100;
        double[] ceiling = new double[Hours];
        for (int hour = 0; hour < Hours; hour++)
        {
            ceiling[hour] = MoistAir.DewPointOverWaterC(Nights.HighestSaturation * MoistAir.SaturationPressurePa(TemperatureC[hour]));
        }

        Span<double> missing = stackalloc double[12];
        for (int round = 0; round < Rounds; round++)
        {
            double largest = 0;
            for (int month = 0; month < 12; month++)
            {
                int first = 24 * YearCalendar.FirstDay[month];
                int count = 24 * YearCalendar.DaysInMonth[month];
                double sumC = 0;
                int free = 0;
                for (int hour = first; hour < first + count; hour++)
                {
                    DewPointC[hour] = Math.Min(wanted[hour], ceiling[hour]);
                    sumC += DewPointC[hour];
                    free += wanted[hour] < ceiling[hour] ? 1 : 0;
                }

                double missingK = _place.Months[month].DewPoint.DegreesCelsius - (sumC / count);
                largest = Math.Max(largest, Math.Abs(missingK));
                // Only the hours below the ceiling follow; a month nearly all at the ceiling is not pushed without end.
                missing[month] = missingK * count / Math.Max(free, count / 2);
            }

            if (largest < 1e-3)
            {
                return;
            }

            MonthlyCurve.Add(missing, wanted);
        }
    }

    private void FillSun()
    {
        double latitudeRad = _place.Latitude.Radians;
        // Standard time is that of the nearest whole-hour meridian; clocks that differ from it are not known here.
        double meridianHours = (_place.Longitude.Degrees / 15) - Math.Round(_place.Longitude.Degrees / 15);
        Span<double> wet = stackalloc double[31];
        Span<double> outside = stackalloc double[31];
        Span<double> shape = stackalloc double[24];
        for (int month = 1; month <= 12; month++)
        {
            int count = YearCalendar.DaysInMonth[month - 1];
            int first = YearCalendar.FirstDay[month - 1];
            WetSpell(month, wet);
            double dryOutside = 0;
            double clearOutside = 0;
            double wetOutside = 0;
            for (int day = 0; day < count; day++)
            {
                outside[day] = SolarPosition.ExtraterrestrialWPerM2(first + day + 0.5, latitudeRad);
                if (wet[day] > 0)
                {
                    wetOutside += outside[day];
                }
                else if (InFirstSpell(month, day))
                {
                    clearOutside += outside[day];
                }
                else
                {
                    dryOutside += outside[day];
                }
            }

            double whole = dryOutside + clearOutside + wetOutside;
            if (whole <= 0)
            {
                // Polar night: there is nothing to share out.
                continue;
            }

            // Shares of the extraterrestrial sun: as if all dry days were alike, then with the first spell clearer than the rest.
            double wanted = _place.Month(month).Sun.WattsPerSquareMeter * count;
            double cloudyPart = wetOutside * _assumptions["wet-day-sun"];
            double alike = wanted / (dryOutside + clearOutside + cloudyPart);
            double clearer = Math.Clamp(ClearestDay / alike, 1, _assumptions["clear-spell-sun"]);
            double dry = Math.Min(wanted / (dryOutside + (clearer * clearOutside) + cloudyPart), ClearestDay);
            double cloudy = wetOutside > 0 ? (wanted - (dry * (dryOutside + (clearer * clearOutside)))) / wetOutside : 0;
            for (int day = 0; day < count; day++)
            {
                double meanWPerM2 = outside[day] * (wet[day] > 0 ? cloudy : InFirstSpell(month, day) ? dry * clearer : dry);
                double sum = ClearDay(first + day, latitudeRad, meridianHours, shape);
                for (int hour = 0; hour < 24; hour++)
                {
                    SunWPerM2[(24 * (first + day)) + hour] = sum > 0 ? meanWPerM2 * 24 * shape[hour] / sum : 0;
                }
            }
        }
    }

    private static double ClearDay(int dayOfYear, double latitudeRad, double meridianHours, Span<double> shape)
    {
        const int Parts = 6;
        double declination = SolarPosition.DeclinationRad(dayOfYear + 0.5);
        double clockToSunHours = meridianHours + (SolarPosition.EquationOfTimeMin(dayOfYear + 0.5) / 60);
        double sum = 0;
        double level = Math.Sin(latitudeRad) * Math.Sin(declination);
        double swing = Math.Cos(latitudeRad) * Math.Cos(declination);
        for (int hour = 0; hour < 24; hour++)
        {
            shape[hour] = 0;
            for (int part = 0; part < Parts; part++)
            {
                double solarHour = hour + ((part + 0.5) / Parts) + clockToSunHours;
                shape[hour] += SolarPosition.ClearSkyWPerM2(level + (swing * Math.Cos(SolarPosition.HourAngleRad(solarHour))));
            }

            sum += shape[hour];
        }

        return sum;
    }

    private void FillWind()
    {
        AddMonthly(month => month.Wind.MetersPerSecond, WindMPerS);
        double byDay = _assumptions["wind-by-day"];
        for (int hour = 0; hour < Hours; hour++)
        {
            // A wind lasts from noon to noon, so that a night has one.
            double factor = WindOfDays[(hour + 12) / 24 % WindOfDays.Length];
            WindMPerS[hour] *= factor * (1 + (byDay * DayShape.Hourly[hour % 24]));
        }

        CorrectMeans(WindMPerS, month => month.Wind.MetersPerSecond);
    }

    private void FillFall()
    {
        Span<double> wet = stackalloc double[31];
        for (int month = 1; month <= 12; month++)
        {
            WetSpell(month, wet);
            RainOn(month, wet);
        }
    }

    // Where a file does not tell its wet days: as many as are estimated for the month, those with the dampest air.
    private void LetTheDampestDaysBeWet()
    {
        Array.Clear(Wet);
        Span<double> wet = stackalloc double[31];
        for (int month = 1; month <= 12; month++)
        {
            wet.Clear();
            int first = YearCalendar.FirstDay[month - 1];
            IEnumerable<int> dampest = Enumerable.Range(0, YearCalendar.DaysInMonth[month - 1])
                .OrderBy(day => Enumerable.Range(24 * (first + day), 24).Average(hour => TemperatureC[hour] - DewPointC[hour]))
                .Take((int)Math.Round(_place.Month(month).WetDays));
            foreach (int day in dampest)
            {
                wet[day] = 1;
            }

            RainOn(month, wet);
        }
    }

    private void RainOn(int month, ReadOnlySpan<double> wet)
    {
        int wetHours = (int)Math.Round(_assumptions["wet-day-hours"]);
        int wetDay = 0;
        for (int day = 0; day < YearCalendar.DaysInMonth[month - 1]; day++)
        {
            if (wet[day] == 0)
            {
                continue;
            }

            // Seven hours later every wet day: 7 and 24 have no common divisor, so rain meets all hours alike.
            int midnight = 24 * (YearCalendar.FirstDay[month - 1] + day);
            for (int hour = 0; hour < wetHours; hour++)
            {
                Wet[midnight + (((7 * wetDay) + 17 + hour) % 24)] = true;
            }

            wetDay++;
        }
    }

    // A day is clouded evenly: wet ones most, those of the dry spell least.
    private void FillCloud()
    {
        double wetDay = _assumptions["sky-cloud-wet"];
        double dryDay = _assumptions["sky-cloud-dry"];
        double clearDay = _assumptions["sky-cloud-clear"];
        Span<double> wet = stackalloc double[31];
        for (int month = 1; month <= 12; month++)
        {
            WetSpell(month, wet);
            for (int day = 0; day < YearCalendar.DaysInMonth[month - 1]; day++)
            {
                double share = wet[day] > 0 ? wetDay : InFirstSpell(month, day) ? clearDay : dryDay;
                Array.Fill(CloudShare, share, 24 * (YearCalendar.FirstDay[month - 1] + day), 24);
            }
        }
    }

    // Daily means above or below the month's, K: four cold days balanced by five warm ones. In months of the colder
    // half of the year the warm spell lies at the end, where the wet spell is; in the warmer half the cold one does.
    private void Spells(int month, Span<double> days)
    {
        days.Clear();
        int count = YearCalendar.DaysInMonth[month - 1];
        double meanC = _place.Month(month).Mean.DegreesCelsius;
        bool extreme = meanC <= _coldestC || meanC >= _warmestC;
        double depthK = _assumptions[extreme ? "year-snap" : "month-snap"] * SpreadK(_place, month, _assumptions);
        bool cold = IsColdHalf(month);
        int snap = cold ? FirstSpellDay : count - 2 - SnapDays;
        int warm = cold ? count - 2 - WarmDays : FirstSpellDay;
        days.Slice(snap, SnapDays).Fill(-depthK);
        days.Slice(warm, WarmDays).Fill(depthK * SnapDays / WarmDays);
    }

    // The spell that lies on the dry side: the cold snap in the colder half of the year, the warm spell in the warmer.
    private bool InFirstSpell(int month, int day) =>
        day >= FirstSpellDay && day < FirstSpellDay + (IsColdHalf(month) ? SnapDays : WarmDays);

    private bool IsColdHalf(int month) => _place.Month(month).Mean.DegreesCelsius < (_coldestC + _warmestC) / 2;

    // 1 on the days of the wet spell, which ends a day before the month does.
    private void WetSpell(int month, Span<double> days)
    {
        days.Clear();
        int wetDays = WetSpellDays(_place, month);
        days.Slice(YearCalendar.DaysInMonth[month - 1] - 1 - wetDays, wetDays).Fill(1);
    }

    // Straight lines from noon to noon; the first and the last day of a month are 0, so months do not touch.
    private static void AddDays(int month, ReadOnlySpan<double> days, double[] hours)
    {
        int firstHour = 24 * YearCalendar.FirstDay[month - 1];
        for (int day = 0; day < YearCalendar.DaysInMonth[month - 1]; day++)
        {
            if (days[day] == 0)
            {
                continue;
            }

            int noon = firstHour + (24 * day) + 12;
            for (int hour = -24; hour < 24; hour++)
            {
                hours[noon + hour] += days[day] * (1 - (Math.Abs(hour + 0.5) / 24));
            }
        }
    }

    private void AddMonthly(Func<MonthNormals, double> value, double[] hours)
    {
        Span<double> means = stackalloc double[12];
        for (int month = 0; month < 12; month++)
        {
            means[month] = value(_place.Months[month]);
        }

        MonthlyCurve.Add(means, hours);
    }

    private void CorrectMeans(double[] hours, Func<MonthNormals, double> value)
    {
        Span<double> missing = stackalloc double[12];
        MonthlyCurve.Means(hours, missing);
        for (int month = 0; month < 12; month++)
        {
            missing[month] = value(_place.Months[month]) - missing[month];
        }

        MonthlyCurve.Add(missing, hours);
    }
}
