using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Tests.Simulation;

/// <summary>
/// A year written by hand: everything at 15 degrees and half saturated, outdoors 10 degrees in the months of summer and 0 in the four
/// of winter, people asleep from 22 to 6 o'clock and in the van from 17 to 8, dry everywhere, nothing running.
/// </summary>
internal sealed class HandMadeYear
{
    public const int Hours = YearWeather.Hours;

    public HandMadeYear(Design design, params int[] winterMonths)
    {
        Model = new NightModel(design);
        int lined = Model.Surfaces.Count(surface => surface.Part is SurfacePart.Walls or SurfacePart.Roof or SurfacePart.Floor);
        Series = new YearSeries(Model.ZoneCount, Model.Surfaces.Length - lined, lined + 1) { FirstHour = At(day: 230, hour: 0) };
        Weather = new YearWeather { Stays = [new StayWeather(Itineraries.Stays(design)[0], Temperature.FromDegreesCelsius(-5))] };
        Array.Fill(Series.ZoneC, 15);
        Array.Fill(Series.ZoneVapourPressurePa, 0.5 * MoistAir.SaturationPressurePa(15));
        Array.Fill(Series.SurfaceC, 5);
        Array.Fill(Series.SkinC, 5);
        Array.Fill(Weather.PressurePa, 101_325);
        Array.Fill(Weather.VapourPressurePa, 500);
        for (int hour = 0; hour < Hours; hour++)
        {
            int month = YearCalendar.Month(hour / 24);
            Weather.TemperatureC[hour] = winterMonths.Contains(month) ? 0 : 10;
            Series.Asleep[hour] = hour % 24 is >= 22 or < 6;
            Series.Occupied[hour] = hour % 24 is >= 17 or < 8;
        }
    }

    public NightModel Model { get; }

    public YearSeries Series { get; }

    public YearWeather Weather { get; }

    public YearAssessment Write() => YearReport.Write(Series, Model, Weather);

    /// <summary>Index of an hour of a day of the year, both from 0.</summary>
    public static int At(int day, int hour) => (24 * day) + hour;

    /// <summary>Index of an hour of a row.</summary>
    public static int At(int row, int day, int hour) => (row * Hours) + At(day, hour);
}
