using ConsultDesk.Calculations.Climate;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Climate;

public sealed class WeatherReaderTests
{
    private static readonly string Whole = InventedWeather.Epw();

    private static WeatherReading Read(string text)
    {
        using StringReader reader = new(text);
        return WeatherFileReader.Read(reader);
    }

    private static string WithLine(int hour, string line) => Whole.Replace("\n" + InventedWeather.Line(hour) + "\n", "\n" + line + "\n", StringComparison.Ordinal);

    // The line of an hour with one field changed.
    private static string WithField(int hour, int index, string value)
    {
        string[] cells = InventedWeather.Line(hour).Split(',');
        cells[index] = value;
        return WithLine(hour, string.Join(',', cells));
    }

    private static string OnlyError(string text)
    {
        WeatherReading reading = Read(text);
        Assert.Null(reading.Hours);
        return Assert.Single(reading.Errors).Message;
    }

    [Fact]
    public void A_weather_file_gives_its_station_and_every_hour_of_the_year()
    {
        WeatherReading reading = Read(Whole);
        Assert.Empty(reading.Errors);
        Assert.Empty(reading.Notes);
        Assert.Equal(InventedWeather.Place, reading.Station.Name);
        Assert.Equal(51.5, reading.Station.Latitude!.Value.Degrees, 1e-9);
        Assert.Equal(-3.25, reading.Station.Longitude!.Value.Degrees, 1e-9);
        Assert.Equal(88, reading.Station.Elevation!.Value.Meters, 1e-9);
        HourlyWeather hours = reading.Hours!;
        Assert.True(hours.IsWhole);
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            Assert.Equal(InventedWeather.TemperatureC(hour), hours.TemperatureC[hour], 0.0501);
            Assert.Equal(InventedWeather.DewPointC(hour), hours.DewPointC[hour], 0.0501);
            Assert.Equal(InventedWeather.Wind(hour), hours.WindMPerS[hour], 1e-9);
            Assert.Equal(InventedWeather.Sun(hour), hours.SunWPerM2[hour], 1e-9);
            Assert.Equal(300 + (hour % 50), hours.SkyWPerM2[hour], 1e-9);
            Assert.Equal(InventedWeather.Wet(hour), hours.Wet[hour]);
        }
    }

    [Theory]
    [InlineData("\r\n")]
    [InlineData("\r")]
    [InlineData("\r\r\n")]
    public void Any_line_end_will_do(string end) => Assert.NotNull(Read(Whole.Replace("\n", end, StringComparison.Ordinal)).Hours);

    [Fact]
    public void Lines_may_stand_in_any_order_and_years_may_differ_by_month()
    {
        string reversed = string.Join('\n', [.. InventedWeather.Header, .. Enumerable.Range(0, YearWeather.Hours).Reverse().Select(InventedWeather.Line)]);
        Assert.Equal(Read(Whole).Hours!.TemperatureC.AsEnumerable(), Read(reversed).Hours!.TemperatureC);
    }

    [Fact]
    public void A_leap_day_is_left_out_and_said()
    {
        string leap = string.Join('\n', Enumerable.Range(1, 24).Select(hour => InventedWeather.Line(2, 29, hour, hour)));
        WeatherReading reading = Read(Whole + "\n" + leap);
        Assert.NotNull(reading.Hours);
        Assert.Contains("29 February", Assert.Single(reading.Notes), StringComparison.Ordinal);
        Assert.Equal(Read(Whole).Hours!.TemperatureC.AsEnumerable(), reading.Hours.TemperatureC);
        Assert.Contains("24", OnlyError(Whole + "\n" + InventedWeather.Line(2, 29, 3, 3)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(6, "abc", "Line 109, column 7 (dry bulb): ‘abc’; expected a number in °C.")]
    [InlineData(6, "", "Line 109, column 7 (dry bulb): nothing; expected a number in °C.")]
    [InlineData(6, "75", "Line 109, column 7 (dry bulb): Temperature is 75 °C; expected -70 to 60 °C.")]
    [InlineData(6, "NaN", "Line 109, column 7 (dry bulb): ‘NaN’; expected a number in °C.")]
    [InlineData(21, "-1", "Line 109, column 22 (wind speed): Wind speed is -1 m/s; expected 0 to 80 m/s.")]
    [InlineData(1, "13", "Line 109, column 2 (month): ‘13’; expected 1 to 12.")]
    [InlineData(3, "0", "Line 109, column 4 (hour): ‘0’; expected 1 to 24.")]
    public void A_wrong_number_is_named_by_line_and_column(int index, string value, string expected) =>
        Assert.Contains(Read(WithField(100, index, value)).Errors, error => error.Message == expected);

    [Fact]
    public void An_hour_that_is_missing_or_stands_twice_is_named()
    {
        Assert.Contains("1 of 8760 hours are missing, the first at 5 January, 04:00", OnlyError(WithLine(100, "")), StringComparison.Ordinal);
        Assert.Contains("5 January, 04:00 stands in the file twice", OnlyError(Whole + "\n" + InventedWeather.Line(100)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("99.9")]
    [InlineData("999")]
    public void A_short_gap_is_bridged_with_a_straight_line_and_said(string missing)
    {
        string text = Whole;
        for (int hour = 100; hour < 103; hour++)
        {
            string[] cells = InventedWeather.Line(hour).Split(',');
            cells[6] = missing;
            text = text.Replace("\n" + InventedWeather.Line(hour) + "\n", "\n" + string.Join(',', cells) + "\n", StringComparison.Ordinal);
        }

        WeatherReading reading = Read(text);
        Assert.Contains(reading.Notes, note => note.StartsWith("The temperature was missing in 3 hours", StringComparison.Ordinal));
        double before = reading.Hours!.TemperatureC[99];
        double after = reading.Hours.TemperatureC[103];
        Assert.Equal(before + ((after - before) * 0.5), reading.Hours.TemperatureC[101], 1e-9);
    }

    [Fact]
    public void A_day_without_temperatures_is_refused()
    {
        string text = Whole;
        foreach (int hour in Enumerable.Range(8750, 20).Select(hour => hour % YearWeather.Hours))
        {
            string[] cells = InventedWeather.Line(hour).Split(',');
            cells[6] = "99.9";
            text = text.Replace(InventedWeather.Line(hour), string.Join(',', cells), StringComparison.Ordinal);
        }

        Assert.Contains("missing in 20 hours, 20 in a row from 31 December, 14:00", OnlyError(text), StringComparison.Ordinal);
    }

    [Fact]
    public void A_missing_dew_point_comes_from_the_relative_humidity()
    {
        WeatherReading reading = Read(WithField(100, 7, "99.9"));
        Assert.Empty(reading.Notes);
        // The humidity of the line is rounded to a percent.
        Assert.Equal(InventedWeather.DewPointC(100), reading.Hours!.DewPointC[100], 0.25);
    }

    [Fact]
    public void What_was_not_measured_is_left_out_and_said()
    {
        string[] lines = [.. Enumerable.Range(0, YearWeather.Hours).Select(hour =>
        {
            string[] cells = InventedWeather.Line(hour).Split(',');
            cells[12] = "9999";
            cells[21] = "6.7";
            cells[26] = "9";
            cells[33] = hour % 3 == 0 ? "99" : "25";
            return string.Join(',', cells);
        })];
        WeatherReading reading = Read(string.Join('\n', [.. InventedWeather.Header, .. lines]));
        Assert.True(reading.Hours!.WindMPerS.IsEmpty && reading.Hours.SkyWPerM2.IsEmpty && reading.Hours.Wet.IsEmpty);
        Assert.False(reading.Hours.SunWPerM2.IsEmpty);
        Assert.Equal(3, reading.Notes.Length);
        Assert.Contains(reading.Notes, note => note.StartsWith("The wind is the same in every hour", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("DATA PERIODS,1,4,Data,Sunday, 1/ 1,12/31", "one record an hour")]
    [InlineData("COMMENTS 3,", "no DATA PERIODS line")]
    public void A_header_that_promises_no_hours_is_refused(string line, string expected) =>
        Assert.Contains(expected, OnlyError(Whole.Replace(InventedWeather.Header[7], line, StringComparison.Ordinal)), StringComparison.Ordinal);

    [Fact]
    public void A_text_or_a_line_without_end_is_refused_before_it_fills_the_memory()
    {
        Assert.Contains("longer than 20000", OnlyError("LOCATION," + new string('x', 30_000)), StringComparison.Ordinal);
        using EndlessReader endless = new();
        WeatherReading reading = WeatherFileReader.Read(endless);
        Assert.Contains("million characters", reading.Errors[^1].Message, StringComparison.Ordinal);
        Assert.InRange(endless.Given, WeatherFileReader.LongestText, WeatherFileReader.LongestText + 2);
    }

    [Fact]
    public void Not_more_errors_are_given_than_a_person_reads()
    {
        string[] lines = [.. Enumerable.Range(0, YearWeather.Hours).Select(hour => InventedWeather.Line(hour).Replace(',', ';'))];
        Assert.Equal(WeatherFileReader.MostErrors, Read(string.Join('\n', [.. InventedWeather.Header, .. lines])).Errors.Length);
    }

    [Theory]
    [InlineData("")]
    [InlineData("\n\n")]
    [InlineData("place,height\nhere,12")]
    [InlineData("temperature_f,rh\n50,60")]
    [InlineData("temperature,temp,rh\n50,60,70")]
    public void What_is_no_weather_is_refused_with_what_was_expected(string text)
    {
        WeatherReading reading = Read(text);
        Assert.Null(reading.Hours);
        Assert.Contains("expected", Assert.Single(reading.Errors).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(",", false, false)]
    [InlineData(";", true, true)]
    [InlineData("\t", true, false)]
    public void A_table_of_hours_gives_the_same_year(string separator, bool time, bool decimalComma)
    {
        WeatherReading reading = Read(InventedWeather.Table(separator, time, decimalComma));
        Assert.Empty(reading.Errors);
        for (int hour = 0; hour < YearWeather.Hours; hour++)
        {
            Assert.Equal(InventedWeather.TemperatureC(hour), reading.Hours!.TemperatureC[hour], 0.0051);
            // Magnus' formula there, the one of the tables here, and humidity in tenths of a percent.
            Assert.Equal(InventedWeather.DewPointC(hour), reading.Hours.DewPointC[hour], 0.06);
            Assert.Equal(InventedWeather.Wind(hour), reading.Hours.WindMPerS[hour], 1e-9);
            Assert.Equal(InventedWeather.Wet(hour), reading.Hours.Wet[hour]);
        }
    }

    [Fact]
    public void A_table_of_a_leap_year_leaves_its_leap_day_out()
    {
        string[] lines = InventedWeather.Table().TrimEnd().Split("\r\n");
        string leap = string.Join("\r\n", [.. lines.Take(1 + (59 * 24)), .. Enumerable.Repeat("40,50,1,0,0", 24), .. lines.Skip(1 + (59 * 24))]);
        WeatherReading reading = Read(leap);
        Assert.Contains(reading.Notes, note => note.Contains("29 February", StringComparison.Ordinal));
        Assert.Equal(Read(InventedWeather.Table()).Hours!.TemperatureC.AsEnumerable(), reading.Hours!.TemperatureC);
    }

    [Theory]
    [InlineData("time,t,rh\n2023-01-01 00:30,5,80", "Line 2: 00:30 is not the beginning of an hour.")]
    [InlineData("time,t,rh\n1 January,5,80", "Line 2, column 1 (time): ‘1 January’; expected the beginning of an hour of standard time, as in 2023-01-31 14:00.")]
    [InlineData("t,rh\n5,80\n5,eighty", "Line 3, column 2 (relative humidity): ‘eighty’; expected a number in %.")]
    [InlineData("t,rh\n5,80\n5", "Line 3: 1 cells; expected at least 2.")]
    [InlineData("t,rh\n5,80\n5,70", "There are 2 hours in the file; expected 8760, or 8784 in a leap year.")]
    public void What_is_wrong_in_a_table_is_named_by_its_line(string text, string expected) => Assert.Equal(expected, OnlyError(text));

    /// <summary>The first line of a weather file, then blank lines for ever.</summary>
    private sealed class EndlessReader : TextReader
    {
        private const string Start = "LOCATION,a,b,c,d,e,1,1,1,1\n";

        public int Given { get; private set; }

        public override int Read()
        {
            int at = Given++;
            return at < Start.Length ? Start[at] : at % 80 == 0 ? '\n' : ' ';
        }
    }
}
