using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Figures;

/// <summary>Six still pictures of a played night, for paper and for who wants nothing to move.</summary>
public static class NightStrip
{
    /// <summary>Less film than this on a surface is not marked, g/m2: it is hardly seen.</summary>
    public const double SeenGramsPerM2 = 0.5;

    private const int Columns = 3;

    private static readonly (double Hour, string What)[] Pictures =
        [(17.5, "before supper"), (18.5, "supper"), (22.5, "going to bed"), (26.5, "asleep"), (30.5, "getting up"), (32.5, "breakfast")];

    /// <summary>The moments that are pictured, as hours since the midnight before.</summary>
    public static ImmutableArray<double> Hours { get; } = [.. Pictures.Select(picture => picture.Hour)];

    /// <summary>Six pictures and their numbers.</summary>
    /// <param name="design">The van that was played.</param>
    /// <param name="night">Its night.</param>
    /// <param name="units">Units of the labels and the table.</param>
    /// <param name="id">Unique within a page.</param>
    /// <param name="name">Whose night it is, for the title.</param>
    public static Figure Of(Design design, PlayedNight night, DisplayUnits units, string id, string name)
    {
        var scene = NightScene.Of(design);
        var width = VanSheet.SheetWidth / Columns;
        var scale = (width - 8) / scene.Base.Width;
        var height = (scene.Base.Height * scale) + 34;
        var canvas = new FigureCanvas(VanSheet.SheetWidth, Math.Ceiling(Pictures.Length / (double)Columns) * height);
        var largest = LargestFlow(night);
        var moments = Pictures.Select(picture => night.Moments.MinBy(moment => Math.Abs(moment.Clock.Hours - picture.Hour))!).ToArray();
        for (var index = 0; index < moments.Length; index++)
        {
            Picture(canvas, scene, night, moments[index], units, new(index % Columns * width, index / Columns * height), scale, largest);
            var (x, y) = ((index % Columns * width) + 2, (index / Columns * height) + 11);
            canvas.Add(new Label(x, y, $"{ClockOf(moments[index])} {Pictures[index].What}", FigureCanvas.TextSize, Bold: true) { Fill = Ink.Text });
            canvas.Add(new Label(x, y + 13, $"{units.Format(moments[index].Outdoor)} outside, {units.Format(moments[index].Film)} on surfaces", FigureCanvas.TextSize) { Fill = Ink.Wet });
        }

        return new Figure
        {
            Id = id,
            Title = $"{name}: the night in six pictures",
            AltText = string.Join(" ", moments.Select((moment, index) =>
                $"{ClockOf(moment)}, {Pictures[index].What}: outside {units.Format(moment.Outdoor)}, {string.Join(", ", moment.Zones.Select(zone => $"{NameOf(zone)} {units.Format(zone.Temperature)} and {units.Format(zone.RelativeHumidity)}"))}, {units.Format(moment.Film)} on glass and metal.")),
            Width = canvas.Width,
            Height = canvas.Height,
            Elements = canvas.Elements,
            Legend =
            [
                new(LegendMark.Area, Ink.Shade, "Room with 80 % relative humidity or more; lighter below", ZoneShades.Darkest),
                new(LegendMark.Line, Ink.Wet, "Film or frost on glass"),
                new(LegendMark.Arrow, Ink.AirIn, "Outdoor air in"),
                new(LegendMark.Arrow, Ink.AirOut, "Inside air out"),
            ],
            Table = new DataTable
            {
                Caption = "The night in six moments",
                Heads = ["Time", "Outside", .. design.Zones.Select(zone => zone.Name), "On glass and metal", "Heater"],
                NumberColumns = [.. Enumerable.Range(1, design.Zones.Length + 3)],
                Rows =
                [
                    .. moments.Select(moment => (ImmutableArray<string>)
                    [
                        ClockOf(moment),
                        units.Format(moment.Outdoor),
                        .. design.Zones.Select(zone => moment.Zones.First(state => state.ZoneId == zone.Id)).Select(state => $"{units.Format(state.Temperature)}, {units.Format(state.RelativeHumidity)}"),
                        units.Format(moment.Film),
                        units.Format(moment.Heater),
                    ]),
                ],
            },
        };

        string NameOf(ZoneMoment zone) => design.Zones.First(known => known.Id == zone.ZoneId).Name;
    }

    /// <summary>Time of day of a moment, as a clock shows it.</summary>
    public static string ClockOf(NightMoment moment)
    {
        var minutes = (int)Math.Round(moment.Clock.Minutes) % (24 * 60);
        return string.Create(CultureInfo.InvariantCulture, $"{minutes / 60:00}:{minutes % 60:00}");
    }

    /// <summary>Largest flow through an opening at any moment, m3/s: what widths of arrows are told against.</summary>
    public static double LargestFlow(PlayedNight night) => Math.Max(1e-9, night.Moments
        .SelectMany(moment => moment.Air.Openings)
        .Select(flow => Math.Max(flow.In.CubicMetersPerSecond, flow.Out.CubicMetersPerSecond))
        .DefaultIfEmpty(0)
        .Max());

    /// <summary>How strongly a film of so many g/m2 is drawn, 0 to 1: full where drops run.</summary>
    public static double Strength(double gramsPerM2) => gramsPerM2 < SeenGramsPerM2 ? 0 : Math.Min(1, 0.25 + (0.75 * Math.Sqrt(gramsPerM2 / 60)));

    private static void Picture(
        FigureCanvas canvas, NightScene scene, PlayedNight night, NightMoment moment, DisplayUnits units, FigurePoint corner, double scale, double largest)
    {
        var top = corner.Y + 28;
        foreach (var zone in scene.Zones)
        {
            var state = moment.Zones.First(known => known.ZoneId == zone.Id);
            var area = new Area2(corner.X + (zone.X * scale), top + (zone.Y * scale), zone.Width * scale, zone.Height * scale);
            foreach (var element in ZoneShades.Shade(area, ZoneShades.StepOf(ZoneQuantity.Humidity, state.RelativeHumidity), null, null))
            {
                canvas.Add(element);
            }

            if (area.Height > 24)
            {
                canvas.Add(new Label(area.CentreX, area.CentreY + 3, units.Format(state.RelativeHumidity), FigureCanvas.TextSize, TextAnchor.Middle) { Fill = Ink.Text });
            }
        }

        canvas.Add(new Polyline([.. scene.BeforeScreen.Select(At)], Closed: true) { Fill = Ink.Paper });
        canvas.Add(new Polyline([.. scene.Body.Select(At)], Closed: true) { Stroke = Ink.Body, StrokeWidth = 1 });
        foreach (var glass in scene.Glass)
        {
            var index = night.Surfaces.ToList().FindIndex(surface => surface.Id == glass.Id);
            var strength = index < 0 ? 0 : Strength(moment.Films[index].Grams / night.Surfaces[index].Area.SquareMeters);
            canvas.Add(new Polyline([.. glass.Outline.Select(At)], Closed: true)
            {
                Stroke = strength > 0 ? Ink.Wet : Ink.Glass,
                StrokeWidth = strength > 0 ? 1.6 : 0.8,
                Fill = strength > 0 ? Ink.Wet : Ink.Glass,
                FillOpacity = strength > 0 ? Math.Round(0.7 * strength, 2) : 0.25,
            });
        }

        foreach (var opening in scene.Openings)
        {
            if (moment.Air.Openings.FirstOrDefault(flow => flow.OpeningId == opening.Id) is not { } flow)
            {
                continue;
            }

            var (at, length) = (At(opening.At), 17.0);
            var tip = new FigurePoint(at.X + (opening.Outward.X * length), at.Y + (opening.Outward.Y * length));
            Add(flow.Out, at, tip, Ink.AirOut);
            Add(flow.In, tip, at, Ink.AirIn);
        }

        void Add(VolumeFlow flow, FigurePoint from, FigurePoint to, Ink ink)
        {
            if (flow.CubicMetersPerHour >= 0.5)
            {
                var thick = 0.8 + (2 * Math.Sqrt(flow.CubicMetersPerSecond / largest));
                canvas.Add(new Arrow([from, to], 4 + (1.4 * thick)) { Stroke = ink, StrokeWidth = Math.Round(thick, 1) });
            }
        }

        FigurePoint At(FigurePoint point) => new(corner.X + (point.X * scale), top + (point.Y * scale));
    }
}
