using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Figures;

/// <summary>What the strip of days shows.</summary>
public enum DayQuantity
{
    /// <summary>Most water on the wettest surface at any hour of the day.</summary>
    Film,

    /// <summary>Relative humidity of the living zone: the day's range.</summary>
    Humidity,

    /// <summary>Fuel of the heater.</summary>
    Fuel,

    /// <summary>Heat of the heater.</summary>
    Heat,
}

/// <summary>An option with its year, for the strip.</summary>
/// <param name="Letter">Its letter.</param>
/// <param name="Design">Its design.</param>
/// <param name="Year">Its year.</param>
public sealed record YearOf(string Letter, Design Design, YearAssessment Year);

/// <summary>
/// The days of a year as one silhouette over the stays of the itinerary, another option over it as a broken line; and the
/// hours around one day, with the temperatures that decide whether it gets wet.
/// </summary>
public static class YearStripFigure
{
    /// <summary>Hours of the zoom: the day before, the day, the day after.</summary>
    public const int ZoomHours = 72;

    /// <summary>Width of a drawing on a screen.</summary>
    public const double Wide = 640;

    /// <summary>Width of a drawing on a phone.</summary>
    public const double Narrow = NarrowRows.Width;

    private const double Left = 40;
    private const double Top = 22;
    private const double Height = 96;
    private const double StayHeight = 15;
    private const int HoursADay = 24;

    /// <summary>A day of the year as words: <c>12 January</c>.</summary>
    public static string DayName(int day)
    {
        var date = YearCalendar.Date(day);
        return string.Create(CultureInfo.InvariantCulture, $"{date.Day} {CultureInfo.InvariantCulture.DateTimeFormat.GetMonthName(date.Month)}");
    }

    /// <summary>What a quantity is, with its unit.</summary>
    public static string Name(DayQuantity quantity, HeaterKind heater, DisplayUnits units) => quantity switch
    {
        DayQuantity.Film => $"Water on the wettest surface, most of the day, {units.Symbol(Measure.WaterPerArea)}",
        DayQuantity.Humidity => "Relative humidity of the living room, lowest to highest, %",
        DayQuantity.Fuel => $"Fuel a day, {FuelWords.Symbol(heater, units)}",
        DayQuantity.Heat => $"Heat a day, {units.Symbol(Measure.Energy)}",
        _ => throw new ArgumentOutOfRangeException(nameof(quantity), quantity, "Expected a quantity of a day."),
    };

    /// <summary>True when a year has the quantity: fuel only where the heater burns some.</summary>
    public static bool Has(YearAssessment year, DayQuantity quantity) => quantity != DayQuantity.Fuel || year?.Heat.Fuel is not null;

    /// <summary>The strip of days.</summary>
    /// <param name="own">The option that is open.</param>
    /// <param name="other">Another over it; null for none.</param>
    /// <param name="quantity">What is shown.</param>
    /// <param name="day">The day that is looked at, 0 to 364.</param>
    /// <param name="units">Units of the reader.</param>
    /// <param name="width">Width of the drawing: <see cref="Wide"/> or <see cref="Narrow"/>.</param>
    public static Figure Days(YearOf own, YearOf? other, DayQuantity quantity, int day, DisplayUnits units, double width)
    {
        ArgumentNullException.ThrowIfNull(own);
        var heater = own.Design.Heater.Kind;
        var values = Values(own, quantity, units);
        var overlaid = other is not null && Has(other.Year, quantity) ? Values(other, quantity, units) : null;
        var largest = quantity == DayQuantity.Humidity ? 100 : values.High.Concat(overlaid?.High ?? []).Max();
        var bottom = Top + Height;
        var stayTop = bottom + 5;
        var canvas = new FigureCanvas(width, stayTop + StayHeight + 3);
        var axis = new ValueAxis(largest, Top, bottom);
        var dayWidth = (width - Left - 2) / YearWeather.Days;
        double X(int of) => Left + (of * dayWidth);
        foreach (var (text, y) in axis.Ticks())
        {
            canvas.Line(Ink.Rule, 0.4, false, new(Left, y), new(X(YearWeather.Days), y));
            canvas.Write(Left - 4, y + 3.4, text, TextAnchor.End, Ink.Muted);
        }

        for (var month = 1; month <= 12; month++)
        {
            var first = YearCalendar.FirstDay[month - 1];
            canvas.Line(Ink.Rule, 0.6, false, new(X(first), Top - 4), new(X(first), bottom));
            var name = CultureInfo.InvariantCulture.DateTimeFormat.GetAbbreviatedMonthName(month);
            canvas.Write(X(first) + (15 * dayWidth), 10, width < 500 ? name[..1] : name, TextAnchor.Middle, Ink.Muted);
        }

        var ink = InkOf(quantity);
        canvas.Add(new Polyline(Outline(values, axis, X, bottom), Closed: true) { Fill = ink, FillOpacity = 0.4, Stroke = ink, StrokeWidth = 0.8 });
        if (quantity == DayQuantity.Film)
        {
            var wetAt = units.Value(Measure.WaterPerArea, AreaDensity.FromGramsPerSquareMeter(5));
            if (wetAt < axis.Largest)
            {
                canvas.Line(Ink.Text, 0.7, false, new(Left, axis.Y(wetAt)), new(X(YearWeather.Days), axis.Y(wetAt)));
            }
        }

        if (overlaid is not null)
        {
            canvas.Add(new Polyline(Steps(overlaid.High, axis, X)) { Stroke = Ink.Text, StrokeWidth = 1.1, Dashed = true });
        }

        Stays(canvas, own.Design, X, stayTop);
        canvas.Add(new Polyline([new(X(day) + (dayWidth / 2), Top - 6), new(X(day) + (dayWidth / 2), stayTop + StayHeight)]) { Stroke = Ink.Text, StrokeWidth = 1.6 });
        canvas.Add(new Polyline([new(X(day) - 4, Top - 9), new(X(day) + 4 + dayWidth, Top - 9), new(X(day) + (dayWidth / 2), Top - 3)], Closed: true) { Fill = Ink.Text });
        List<LegendEntry> legend = [new(LegendMark.Area, ink, $"{own.Letter}: {Name(quantity, heater, units)}", 0.4)];
        if (overlaid is not null)
        {
            legend.Add(new(LegendMark.Dashed, Ink.Text, $"{other!.Letter}{(quantity == DayQuantity.Humidity ? ", highest" : "")}"));
        }

        if (quantity == DayQuantity.Film)
        {
            legend.Add(new(LegendMark.Thin, Ink.Text, $"Wet from {units.Format(AreaDensity.FromGramsPerSquareMeter(5))} on"));
        }

        var highest = Array.IndexOf(values.High, values.High.Max());
        return new Figure
        {
            Id = $"year-days-{(width < 500 ? "narrow" : "wide")}",
            Title = Name(quantity, heater, units),
            AltText = $"Every day of the year of option {own.Letter}. {Name(quantity, heater, units)}: most on {DayName(highest)}, {Text(values.High[highest])}; on {DayName(day)} {Text(values.High[day])}"
                + (overlaid is null ? "." : $", of option {other!.Letter} {Text(overlaid.High[day])}."),
            Width = canvas.Width,
            Height = canvas.Height,
            Elements = canvas.Elements,
            Legend = [.. legend],
            Table = new DataTable { Caption = "The year by days", Heads = ["Day"], Rows = [] },
        };
    }

    /// <summary>The hours around a day: temperatures, dew point and the wettest surface; where it lies below the dew point water gathers.</summary>
    public static Figure Hours(YearOf own, YearOf? other, int day, DisplayUnits units, double width)
    {
        ArgumentNullException.ThrowIfNull(own);
        const double ZoomHeight = 150;
        var hours = own.Year.Hours;
        var first = FirstHour(day);
        var bottom = Top + ZoomHeight;
        var canvas = new FigureCanvas(width, bottom + 18);
        ImmutableArray<float>[] shown = [hours.OutdoorC, hours.LivingC, hours.BedC, hours.LivingDewPointC, hours.WettestSurfaceC, .. other is null ? [] : new[] { other.Year.Hours.LivingDewPointC, other.Year.Hours.WettestSurfaceC }];
        var all = shown.SelectMany(series => Window(series, first)).ToArray();
        var (low, high) = (5 * Math.Floor(all.Min() / 5), 5 * Math.Ceiling((all.Max() + 0.01) / 5));
        double Y(double celsius) => bottom - ((celsius - low) / (high - low) * ZoomHeight);
        var hourWidth = (width - Left - 2) / ZoomHours;
        double X(double hour) => Left + (hour * hourWidth);
        var step = high - low > 30 ? 10 : 5;
        for (var at = step * Math.Ceiling(low / step); at <= high; at += step)
        {
            canvas.Line(Ink.Rule, 0.4, false, new(Left, Y(at)), new(X(ZoomHours), Y(at)));
            canvas.Write(Left - 4, Y(at) + 3.4, units.Number(Measure.Temperature, Temperature.FromDegreesCelsius(at)), TextAnchor.End, Ink.Muted);
        }

        canvas.Write(2, 10, units.Symbol(Measure.Temperature), TextAnchor.Start, Ink.Muted);
        for (var at = 0; at <= ZoomHours; at += 6)
        {
            canvas.Line(Ink.Rule, at % HoursADay == 0 ? 1 : 0.4, at % HoursADay != 0, new(X(at), Top), new(X(at), bottom + 3));
            if (at < ZoomHours && (at % 12 == 0 || width >= 500))
            {
                canvas.Write(X(at), bottom + 13, (at % HoursADay).ToString("00", CultureInfo.InvariantCulture), TextAnchor.Middle, Ink.Muted);
            }
        }

        for (var shift = -1; shift <= 1; shift++)
        {
            var which = (day + shift + YearWeather.Days) % YearWeather.Days;
            canvas.Write(X(((shift + 1) * HoursADay) + 12), 14, DayName(which), TextAnchor.Middle, shift == 0 ? Ink.Text : Ink.Muted, bold: shift == 0);
        }

        var dew = Window(hours.LivingDewPointC, first);
        var surface = Window(hours.WettestSurfaceC, first);
        for (var hour = 0; hour < ZoomHours; hour++)
        {
            if (surface[hour] < dew[hour])
            {
                canvas.Add(new Box(X(hour), Y(dew[hour]), hourWidth, Y(surface[hour]) - Y(dew[hour])) { Fill = Ink.Wet, FillOpacity = 0.35 });
            }
        }

        void Draw(ImmutableArray<float> series, Ink ink, double strokeWidth, bool dashed) =>
            canvas.Line(ink, strokeWidth, dashed, [.. Window(series, first).Select((celsius, hour) => new FigurePoint(X(hour + 0.5), Y(celsius)))]);

        Draw(hours.OutdoorC, Ink.AirIn, 1, false);
        Draw(hours.BedC, Ink.AirWithin, 1, true);
        Draw(hours.LivingC, Ink.Text, 1.8, false);
        Draw(hours.LivingDewPointC, Ink.Wet, 1.6, true);
        Draw(hours.WettestSurfaceC, Ink.Wet, 1.8, false);
        if (other is not null)
        {
            Draw(other.Year.Hours.LivingDewPointC, Ink.AirOut, 1, true);
            Draw(other.Year.Hours.WettestSurfaceC, Ink.AirOut, 1.2, false);
        }

        var wettest = own.Year.WetMornings.SurfaceName.Length == 0 ? "Coldest glass or metal" : own.Year.WetMornings.SurfaceName;
        var wetHours = Enumerable.Range(0, ZoomHours).Count(hour => surface[hour] < dew[hour]);
        return new Figure
        {
            Id = $"year-hours-{(width < 500 ? "narrow" : "wide")}",
            Title = $"The hours around {DayName(day)}",
            AltText = $"Hour by hour from {DayName((day + YearWeather.Days - 1) % YearWeather.Days)} to {DayName((day + 1) % YearWeather.Days)}: outside {Range(hours.OutdoorC)}, living room {Range(hours.LivingC)}, dew point {Range(hours.LivingDewPointC)}, {ScoreFigure.Lower(wettest)} {Range(hours.WettestSurfaceC)}. It lies below the dew point in {wetHours.ToString(CultureInfo.InvariantCulture)} of {ZoomHours.ToString(CultureInfo.InvariantCulture)} hours.",
            Width = canvas.Width,
            Height = canvas.Height,
            Elements = canvas.Elements,
            Legend =
            [
                new(LegendMark.Line, Ink.Text, "Living room"),
                new(LegendMark.Dashed, Ink.AirWithin, "Bed"),
                new(LegendMark.Thin, Ink.AirIn, "Outside"),
                new(LegendMark.Dashed, Ink.Wet, "Dew point of the living room"),
                new(LegendMark.Line, Ink.Wet, wettest),
                new(LegendMark.Area, Ink.Wet, "Below the dew point: water gathers", 0.35),
                .. other is null ? [] : new LegendEntry[] { new(LegendMark.Dashed, Ink.AirOut, $"{other.Letter}: dew point"), new(LegendMark.Line, Ink.AirOut, $"{other.Letter}: its wettest surface") },
            ],
            Table = new DataTable { Caption = "Hour by hour", Heads = ["Hour"], Rows = [] },
        };

        string Range(ImmutableArray<float> series)
        {
            var window = Window(series, first);
            return $"{units.Format(Temperature.FromDegreesCelsius(Math.Round(window.Min(), 1)))} to {units.Format(Temperature.FromDegreesCelsius(Math.Round(window.Max(), 1)))}";
        }
    }

    /// <summary>The days as rows: the strip's data, every quantity, both options.</summary>
    /// <param name="own">The option that is open.</param>
    /// <param name="other">Another; null for none.</param>
    /// <param name="units">Units of the reader, in the heads.</param>
    /// <param name="number">Writes a number: as people read it, or as a program does.</param>
    public static DataTable DayTable(YearOf own, YearOf? other, DisplayUnits units, Func<Measure, IQuantity, string> number)
    {
        ArgumentNullException.ThrowIfNull(own);
        var placeOf = PlaceOf(own.Design);
        List<(string Head, Func<int, string> Cell)> columns =
        [
            ("Place", day => placeOf[day]),
            ($"Outside, mean {units.Symbol(Measure.Temperature)}", day => number(Measure.Temperature, Temperature.FromDegreesCelsius(own.Year.Days[day].MeanOutdoorC))),
        ];
        foreach (var option in other is null ? [own] : new[] { own, other })
        {
            var hours = option.Year.Hours;
            columns.Add(($"{option.Letter}: wet morning", day => option.Year.Days[day] is { Slept: true, WetMorning: true } ? "yes" : option.Year.Days[day].Slept ? "no" : "not slept in"));
            columns.Add(($"{option.Letter}: water on the wettest surface, at most, {units.Symbol(Measure.WaterPerArea)}", day => number(Measure.WaterPerArea, AreaDensity.FromGramsPerSquareMeter(OfDay(hours.FilmGPerM2, day).Max()))));
            columns.Add(($"{option.Letter}: RH of the living room, mean %", day => number(Measure.RelativeHumidity, RelativeHumidity.FromPercent(OfDay(hours.LivingHumidityPercent, day).Average()))));
            columns.Add(($"{option.Letter}: heat, {units.Symbol(Measure.Energy)}", day => number(Measure.Energy, Energy.FromKilowattHours(option.Year.Days[day].HeatKwh))));
            if (option.Year.Heat.Fuel is not null)
            {
                columns.Add(($"{option.Letter}: fuel, {FuelWords.Symbol(option.Design.Heater.Kind, units)}", day =>
                {
                    var (measure, fuel) = FuelWords.AsBought(Mass.FromKilograms(FuelKg(option.Year, day)), option.Design.Heater.Kind);
                    return number(measure, fuel);
                }
                ));
            }
        }

        return Table("The year by days", "Day", YearWeather.Days, DayName, columns);
    }

    /// <summary>The hours of the zoom as rows.</summary>
    /// <inheritdoc cref="DayTable"/>
    public static DataTable HourTable(YearOf own, YearOf? other, int day, DisplayUnits units, Func<Measure, IQuantity, string> number)
    {
        ArgumentNullException.ThrowIfNull(own);
        var first = FirstHour(day);
        var symbol = units.Symbol(Measure.Temperature);
        int At(int row) => (first + row) % YearWeather.Hours;
        string Degrees(ImmutableArray<float> series, int row) => number(Measure.Temperature, Temperature.FromDegreesCelsius(series[At(row)]));
        List<(string Head, Func<int, string> Cell)> columns = [($"Outside, {symbol}", row => Degrees(own.Year.Hours.OutdoorC, row))];
        foreach (var option in other is null ? [own] : new[] { own, other })
        {
            var hours = option.Year.Hours;
            columns.Add(($"{option.Letter}: living room, {symbol}", row => Degrees(hours.LivingC, row)));
            columns.Add(($"{option.Letter}: bed, {symbol}", row => Degrees(hours.BedC, row)));
            columns.Add(($"{option.Letter}: RH of the living room, %", row => number(Measure.RelativeHumidity, RelativeHumidity.FromPercent(hours.LivingHumidityPercent[At(row)]))));
            columns.Add(($"{option.Letter}: dew point, {symbol}", row => Degrees(hours.LivingDewPointC, row)));
            columns.Add(($"{option.Letter}: wettest surface, {symbol}", row => Degrees(hours.WettestSurfaceC, row)));
            columns.Add(($"{option.Letter}: water on it, {units.Symbol(Measure.WaterPerArea)}", row => number(Measure.WaterPerArea, AreaDensity.FromGramsPerSquareMeter(hours.FilmGPerM2[At(row)]))));
            columns.Add(($"{option.Letter}: heater, {units.Symbol(Measure.Heat)}", row => number(Measure.Heat, Power.FromWatts(hours.HeaterW[At(row)]))));
        }

        return Table($"The hours around {DayName(day)}", "Hour", ZoomHours, row => string.Create(CultureInfo.InvariantCulture, $"{DayName(At(row) / HoursADay)}, {At(row) % HoursADay:00}:00"), columns);
    }

    private static DataTable Table(string caption, string head, int rows, Func<int, string> name, List<(string Head, Func<int, string> Cell)> columns) => new()
    {
        Caption = caption,
        Heads = [head, .. columns.Select(column => column.Head)],
        NumberColumns = [.. Enumerable.Range(1, columns.Count).Where(column => !columns[column - 1].Head.EndsWith("morning", StringComparison.Ordinal) && columns[column - 1].Head != "Place")],
        Rows = [.. Enumerable.Range(0, rows).Select(row => ImmutableArray.Create<string>([name(row), .. columns.Select(column => column.Cell(row))]))],
    };

    private static int FirstHour(int day) => (day - 1 + YearWeather.Days) % YearWeather.Days * HoursADay;

    private static float[] Window(ImmutableArray<float> series, int first) => [.. Enumerable.Range(0, ZoomHours).Select(hour => series[(first + hour) % YearWeather.Hours])];

    private static float[] OfDay(ImmutableArray<float> series, int day) => series.AsSpan().Slice(day * HoursADay, HoursADay).ToArray();

    private static Ink InkOf(DayQuantity quantity) => quantity switch
    {
        DayQuantity.Film => Ink.Wet,
        DayQuantity.Humidity => Ink.AirIn,
        _ => Ink.AirOut,
    };

    private static DayValues Values(YearOf option, DayQuantity quantity, DisplayUnits units)
    {
        var (year, hours) = (option.Year, option.Year.Hours);
        double[] High(Func<int, double> of) => [.. Enumerable.Range(0, YearWeather.Days).Select(of)];
        return quantity switch
        {
            DayQuantity.Film => new(High(day => units.Value(Measure.WaterPerArea, AreaDensity.FromGramsPerSquareMeter(OfDay(hours.FilmGPerM2, day).Max()))), null),
            DayQuantity.Humidity => new(High(day => OfDay(hours.LivingHumidityPercent, day).Max()), High(day => OfDay(hours.LivingHumidityPercent, day).Min())),
            DayQuantity.Fuel => new(High(day => FuelWords.AsBought(Mass.FromKilograms(FuelKg(year, day)), option.Design.Heater.Kind) is var fuel ? units.Value(fuel.Measure, fuel.Quantity) : 0), null),
            DayQuantity.Heat => new(High(day => units.Value(Measure.Energy, Energy.FromKilowattHours(year.Days[day].HeatKwh))), null),
            _ => throw new ArgumentOutOfRangeException(nameof(quantity), quantity, "Expected a quantity of a day."),
        };
    }

    // One efficiency for all days: fuel goes with heat.
    private static double FuelKg(YearAssessment year, int day)
    {
        var heat = year.Days.Sum(one => (double)one.HeatKwh);
        return heat > 0 ? year.Heat.Fuel!.Value.Kilograms * year.Days[day].HeatKwh / heat : 0;
    }

    private static string Text(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    private static ImmutableArray<FigurePoint> Outline(DayValues values, ValueAxis axis, Func<int, double> x, double bottom)
    {
        var points = ImmutableArray.CreateBuilder<FigurePoint>();
        points.AddRange(Steps(values.High, axis, x));
        if (values.Low is { } low)
        {
            points.AddRange(Steps(low, axis, x).Reverse());
        }
        else
        {
            points.Add(new(x(YearWeather.Days), bottom));
            points.Add(new(x(0), bottom));
        }

        return points.ToImmutable();
    }

    private static ImmutableArray<FigurePoint> Steps(double[] values, ValueAxis axis, Func<int, double> x) =>
        [.. values.SelectMany((value, day) => new FigurePoint[] { new(x(day), axis.Y(value)), new(x(day + 1), axis.Y(value)) })];

    private static string[] PlaceOf(Design design)
    {
        var placeOf = new string[YearWeather.Days];
        foreach (var stay in Itineraries.Stays(design))
        {
            var name = DesignPlaces.Get(design, stay.PlaceKey).Name;
            foreach (var day in Itineraries.Days(stay))
            {
                placeOf[day] = name;
            }
        }

        return placeOf;
    }

    // Stays side by side, every other one lighter, each with its name where there is room.
    private static void Stays(FigureCanvas canvas, Design design, Func<int, double> x, double top)
    {
        var placeOf = PlaceOf(design);
        var from = 0;
        for (var (day, turn) = (1, 0); day <= YearWeather.Days; day++)
        {
            if (day < YearWeather.Days && placeOf[day] == placeOf[from])
            {
                continue;
            }

            var room = x(day) - x(from);
            canvas.Add(new Box(x(from), top, room, StayHeight) { Fill = Ink.Furniture, FillOpacity = turn % 2 == 0 ? 0.5 : 0.2, Stroke = Ink.Rule, StrokeWidth = 0.5, Hint = placeOf[from] });
            if (room > 26)
            {
                canvas.Write(x(from) + 3, top + 11, FigureCanvas.Fit(placeOf[from], room - 6), TextAnchor.Start);
            }

            (from, turn) = (day, turn + 1);
        }
    }

    private sealed record DayValues(double[] High, double[]? Low);
}
