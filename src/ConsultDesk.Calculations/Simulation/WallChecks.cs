using System.Collections.Immutable;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Moisture;
using UnitsNet;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>Walls, roof and floor by the monthly dew-point method, between the year's own room air and outdoor air.</summary>
internal static class WallChecks
{
    // The factor is the same between any two temperatures.
    private static readonly Temperature AnyRoom = Temperature.FromDegreesCelsius(20);
    private static readonly Temperature AnyOutdoor = Temperature.FromDegreesCelsius(0);

    private const int Hours = YearWeather.Hours;

    /// <summary>The checks of a year.</summary>
    public static ImmutableArray<WallCheck> Of(YearSeries series, NightModel model, YearWeather weather, ImmutableArray<SkinYear> skins) =>
    [
        Part(series, model, weather, skins, SurfacePart.Walls, "Walls", model.Design.Walls, HeatFlow.Horizontal),
        Part(series, model, weather, skins, SurfacePart.Roof, "Roof", model.Design.Roof, HeatFlow.Upwards),
        Part(series, model, weather, skins, SurfacePart.Floor, "Floor", model.Design.Floor, HeatFlow.Downwards),
    ];

    private static WallCheck Part(
        YearSeries series, NightModel model, YearWeather weather, ImmutableArray<SkinYear> skins,
        SurfacePart part, string name, LayeredAssembly assembly, HeatFlow flow)
    {
        ImmutableArray<MonthClimate> months = Months(series, model, weather, part);
        MonthlyCondensation year = MonthlyDewPoint.Year(assembly, flow, months);
        SurfacePath sheltered = new(
            MouldReport.ShelteredInsideM2KPerW, ThermalTransmittance.Of(assembly, flow).TotalM2KPerW - SurfaceFilms.InsideM2KPerW(flow));
        Mass peak = year.ByMonth.MaxBy(mass => mass.Kilograms);
        return new WallCheck
        {
            Part = name,
            Name = assembly.Name,
            Flow = flow,
            Months = months,
            ByMonth = year.ByMonth,
            PeakPerSquareMetre = peak,
            PeakMonth = peak.Kilograms > 0 ? 1 + year.ByMonth.IndexOf(peak) : null,
            DriesWithinYear = year.Dries,
            WorstPlane = year.Planes.MaxBy(plane => plane.ByMonth.Max(mass => mass.Kilograms))?.Place ?? "",
            // Means of a room that swings at saturation may lie a little above it.
            RoomHumidity =
            [
                .. months.Select(month => RelativeHumidity.FromPercent(
                    100 * Math.Min(1, MoistAir.RelativeHumidityShare(month.Room.DegreesCelsius, month.RoomVapour.Pascals)))),
            ],
            SurfaceTemperatureFactor = SurfaceHumidity.TemperatureFactor(sheltered.SurfaceTemperature(AnyRoom, AnyOutdoor), AnyRoom, AnyOutdoor),
            MouldMonths = months.Count(month =>
                sheltered.SurfaceTemperature(month.Room, month.Outdoor).DegreesCelsius
                < SurfaceHumidity.ColdestSurface(month.RoomVapour, RelativeHumidity.FromPercent(100 * SurfaceHumidity.MouldShare)).DegreesCelsius),
            Skin = skins.Where(skin => skin.Part == name).MaxBy(skin => skin.PeakPerSquareMetre.Kilograms),
        };
    }

    // Room air is that of the zones the part lines, weighted by lined area; that of the heated zone when it lines none.
    private static ImmutableArray<MonthClimate> Months(YearSeries series, NightModel model, YearWeather weather, SurfacePart part)
    {
        double[] weights = new double[model.ZoneCount];
        foreach (NightSurface surface in model.Surfaces.Where(surface => surface.Part == part))
        {
            weights[surface.Zone] += surface.AreaM2;
        }

        double whole = weights.Sum();
        if (whole == 0)
        {
            weights[model.HeaterZone] = whole = 1;
        }

        ImmutableArray<MonthClimate>.Builder months = ImmutableArray.CreateBuilder<MonthClimate>(12);
        for (int month = 0; month < 12; month++)
        {
            int firstHour = 24 * YearCalendar.FirstDay[month];
            int hours = 24 * YearCalendar.DaysInMonth[month];
            double roomC = 0;
            double roomPa = 0;
            for (int zone = 0; zone < weights.Length; zone++)
            {
                if (weights[zone] > 0)
                {
                    roomC += weights[zone] / whole * Mean(series.ZoneC.AsSpan((zone * Hours) + firstHour, hours));
                    roomPa += weights[zone] / whole * Mean(series.ZoneVapourPressurePa.AsSpan((zone * Hours) + firstHour, hours));
                }
            }

            months.Add(new MonthClimate(
                Temperature.FromDegreesCelsius(roomC),
                Pressure.FromPascals(roomPa),
                Temperature.FromDegreesCelsius(Mean(weather.TemperatureC.AsSpan(firstHour, hours))),
                Pressure.FromPascals(Mean(weather.VapourPressurePa.AsSpan(firstHour, hours))),
                Duration.FromHours(hours)));
        }

        return months.MoveToImmutable();
    }

    private static double Mean(ReadOnlySpan<double> values)
    {
        double sum = 0;
        foreach (double value in values)
        {
            sum += value;
        }

        return sum / values.Length;
    }
}
