using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Figures;

/// <summary>How old the air of each zone is by night: the time since it came in from outside, a bar for each zone.</summary>
public static class ZoneAirFigure
{
    private const double BarHeight = 10;

    /// <summary>Draws the mean of the year's nights, or the one night when no year was calculated.</summary>
    public static Figure Of(Design design, Assessment assessment, DisplayUnits units)
    {
        var zones = assessment.Year is { } year
            ? year.Zones.Select(zone => new ZoneAir(Name(zone.ZoneId), zone.ZoneId, zone.NightAge, zone.NightCarbonDioxide)).ToArray()
            : [.. assessment.Zones.Select(zone => new ZoneAir(Name(zone.ZoneId), zone.ZoneId, zone.AgeOfAir, zone.CarbonDioxide))];
        var rows = zones.Select(zone => NarrowRows.NumberOf(units.Format(zone.Age), zone.Name)).ToArray();
        var canvas = new FigureCanvas(NarrowRows.Width, Math.Max(20, rows.Sum(row => row.Height + BarHeight + 4 + NarrowRows.Gap) - NarrowRows.Gap + 2));
        var longest = Math.Max(1, zones.Select(zone => zone.Age.Seconds).DefaultIfEmpty(1).Max());
        double y = 0;
        foreach (var (zone, row) in zones.Zip(rows))
        {
            row.Write(canvas, y + 12);
            canvas.Add(new Box(0, y + row.Height + 3, NarrowRows.Width * zone.Age.Seconds / longest, BarHeight)
            {
                Fill = Ink.AirWithin,
                FillOpacity = 0.75,
                Stroke = Ink.AirWithin,
                StrokeWidth = 0.8,
                Subject = zone.Id,
                Hint = $"{zone.Name}: {units.Format(zone.Age)}",
            });
            y += row.Height + BarHeight + 4 + NarrowRows.Gap;
        }

        var nights = assessment.Year is null ? "the calculated night" : "the year’s nights";
        return new Figure
        {
            Id = "zone-air",
            Title = "How old the air is by night",
            AltText = $"Time since the air of each zone came in from outside, mean of {nights}: "
                + string.Join(", ", zones.Select(zone => $"{zone.Name} {units.Format(zone.Age)}")) + ".",
            Width = canvas.Width,
            Height = canvas.Height,
            Elements = canvas.Elements,
            Legend = [new(LegendMark.Area, Ink.AirWithin, $"Mean age of the air in {nights}", 0.75)],
            Table = new DataTable
            {
                Caption = $"Air of the zones, mean of {nights}",
                Heads = ["Zone", "Mean age of the air", "Carbon dioxide"],
                NumberColumns = [1, 2],
                Rows = [.. zones.Select(zone => ImmutableArray.Create(zone.Name, units.Format(zone.Age), units.Format(zone.CarbonDioxide)))],
            },
        };

        string Name(string id) => design.Zones.First(zone => zone.Id == id).Name;
    }

    private sealed record ZoneAir(string Name, string Id, Duration Age, VolumeConcentration CarbonDioxide);
}
