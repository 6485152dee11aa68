using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace ConsultDesk.Calculations.Climate;

/// <summary>The lines of a weather file, with a limit on the text and on a line, and what is wrong with them.</summary>
internal sealed class WeatherText(TextReader text)
{
    private readonly ImmutableArray<WeatherFileError>.Builder _errors = ImmutableArray.CreateBuilder<WeatherFileError>();
    private readonly StringBuilder _line = new();
    private int _characters;
    private bool _afterReturn;

    /// <summary>Number of the line read last, from 1.</summary>
    public int Line { get; private set; }

    /// <summary>What was found wrong.</summary>
    public ImmutableArray<WeatherFileError> Errors => _errors.ToImmutable();

    /// <summary>True when nothing more is read: too many errors, or a limit was passed.</summary>
    public bool GivenUp { get; private set; }

    /// <summary>The next line that is not blank, or null at the end. Lines end with LF, CR or both.</summary>
    public string? Next()
    {
        while (!GivenUp)
        {
            _line.Clear();
            int character;
            while ((character = text.Read()) >= 0)
            {
                if (++_characters > WeatherFileReader.LongestText)
                {
                    Give(0, null, string.Create(CultureInfo.InvariantCulture, $"The text is longer than {WeatherFileReader.LongestText / 1_000_000} million characters; expected one year of hours."));
                    GivenUp = true;
                    return null;
                }

                if (character == '\n' && _afterReturn)
                {
                    _afterReturn = false;
                    continue;
                }

                _afterReturn = character == '\r';
                if (character is '\r' or '\n')
                {
                    break;
                }

                if (_line.Length == WeatherFileReader.LongestLine)
                {
                    Line++;
                    Wrong(null, string.Create(CultureInfo.InvariantCulture, $"longer than {WeatherFileReader.LongestLine} characters; is this a weather file?"));
                    GivenUp = true;
                    return null;
                }

                _line.Append((char)character);
            }

            if (character < 0 && _line.Length == 0)
            {
                return null;
            }

            Line++;
            string line = _line.ToString();
            if (!string.IsNullOrWhiteSpace(line))
            {
                return line;
            }
        }

        return null;
    }

    /// <summary>Notes an error in the line read last.</summary>
    /// <param name="column">Column from 1, or null for the whole line.</param>
    /// <param name="message">What is there and what was expected.</param>
    /// <param name="field">What the column holds, in words.</param>
    public void Wrong(int? column, string message, string? field = null)
    {
        string place = column is int at
            ? string.Create(CultureInfo.InvariantCulture, $"Line {Line}, column {at}{(field is null ? "" : $" ({field})")}")
            : string.Create(CultureInfo.InvariantCulture, $"Line {Line}");
        Give(Line, column, $"{place}: {message}");
    }

    /// <summary>Notes an error of the whole text.</summary>
    public void WrongAsAWhole(string message) => Give(0, null, message);

    /// <summary>What a cell holds, short and without what cannot be shown.</summary>
    public static string Shown(string cell)
    {
        const int Most = 30;
        string shown = new([.. cell.Trim().Take(Most).Select(c => char.IsControl(c) || char.IsSurrogate(c) ? '?' : c)]);
        return shown.Length == 0 ? "nothing" : $"‘{shown}{(cell.Trim().Length > Most ? "…" : "")}’";
    }

    /// <summary>The calendar date and hour of an hour of the year, in words.</summary>
    public static string When(int hour)
    {
        Vehicle.MonthDay date = YearCalendar.Date(hour / 24);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{date.Day} {CultureInfo.InvariantCulture.DateTimeFormat.GetMonthName(date.Month)}, {hour % 24:00}:00");
    }

    private void Give(int line, int? column, string message)
    {
        if (_errors.Count < WeatherFileReader.MostErrors)
        {
            _errors.Add(new WeatherFileError(line, column, message));
        }

        GivenUp |= _errors.Count >= WeatherFileReader.MostErrors;
    }
}
