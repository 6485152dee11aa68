using System.Globalization;
using System.Text;
using ConsultDesk.Calculations.Climate;

namespace ConsultDesk.Calculations.Tests.Climate;

/// <summary>A weather file in the EPW format and a table of hours, of a place and a year that never were.</summary>
internal static class InventedWeather
{
    public const string Place = "Lower Marl Bridge";

    /// <summary>Temperature, degrees Celsius: coldest on 21 January and at five in the morning, warmest half a year later.</summary>
    public static double TemperatureC(int hour) =>
        9 - (10 * Math.Cos(2 * Math.PI * (hour - (20 * 24)) / YearWeather.Hours)) - (4 * Math.Cos(2 * Math.PI * (hour - 5) / 24.0));

    /// <summary>Dew point, degrees Celsius: two below the temperature at dawn, more by day.</summary>
    public static double DewPointC(int hour) => TemperatureC(hour) - 2 - (3 * (1 - Math.Cos(2 * Math.PI * (hour - 5) / 24.0)));

    public static double Sun(int hour) => Math.Max(0, Math.Round(600 * Math.Sin(Math.PI * ((hour % 24) - 5.5) / 13)));

    public static double Wind(int hour) => 2 + (hour % 7);

    public static bool Wet(int hour) => hour / 24 % 6 == 0 && hour % 24 is >= 3 and < 9;

    /// <summary>The eight header lines.</summary>
    public static string[] Header { get; } =
    [
        $"LOCATION,{Place} ,Somewhere,XXX,INVENTED,999,51.5,-3.25,-3.5,88",
        "DESIGN CONDITIONS,0",
        "TYPICAL/EXTREME PERIODS,0",
        "GROUND TEMPERATURES,0",
        "HOLIDAYS/DAYLIGHT SAVINGS,Yes,3/29,10/25,0",
        "\"COMMENTS 1,our own invention, with commas\"",
        "COMMENTS 2,",
        "DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31",
    ];

    /// <summary>The line of an hour of the year, from 0.</summary>
    public static string Line(int hour)
    {
        var date = YearCalendar.Date(hour / 24);
        return Line(date.Month, date.Day, (hour % 24) + 1, hour);
    }

    public static string Line(int month, int day, int hourEnding, int hour) => string.Create(
        CultureInfo.InvariantCulture,
        $"19{70 + (month * 2)},{month},{day},{hourEnding},60,A7A7*?_,{TemperatureC(hour):F1},{DewPointC(hour):F1},{Humidity(hour):F0},100300,0,0,{300 + (hour % 50)},{Sun(hour)},0,0,999900,999900,999900,9999,240,{Wind(hour):F1},5,5,10,77777,0,{(Wet(hour) ? "929999999" : "999999999")},150,.100,0,88,999,0,99");

    /// <summary>A whole file.</summary>
    public static string Epw() => string.Join('\n', [.. Header, .. Enumerable.Range(0, YearWeather.Hours).Select(Line)]);

    /// <summary>The same hours as a table.</summary>
    public static string Table(string separator = ",", bool time = false, bool decimalComma = false)
    {
        StringBuilder text = new();
        text.Append(time ? "time" + separator : "").AppendJoin(separator, "temperature (°C)", "RH_pct", "wind m/s", "sun (W/m2)", "rain_mm").Append("\r\n");
        DateTime start = new(2023, 1, 1, 0, 0, 0, DateTimeKind.Unspecified);
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            string[] cells = [.. new[] { Text(TemperatureC(hour), "F2"), Text(Humidity(hour), "F1"), Text(Wind(hour), "F1"), Text(Sun(hour), "F0"), Wet(hour) ? "1" : "0" }];
            text.Append(time ? start.AddHours(hour).ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture) + separator : "").AppendJoin(separator, cells).Append("\r\n");
        }

        return text.ToString();

        string Text(double value, string form)
        {
            string plain = value.ToString(form, CultureInfo.InvariantCulture);
            return decimalComma ? plain.Replace('.', ',') : plain;
        }
    }

    // Magnus' formula with Sonntag's constants: this file does not know the code under test.
    public static double Humidity(int hour) => 100 * Magnus(DewPointC(hour)) / Magnus(TemperatureC(hour));

    private static double Magnus(double celsius) => 611.2 * Math.Exp(17.62 * celsius / (243.12 + celsius));
}
