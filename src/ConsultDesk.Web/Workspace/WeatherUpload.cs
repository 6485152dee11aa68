using System.Text;
using ConsultDesk.Calculations.Climate;

namespace ConsultDesk.Web.Workspace;

/// <summary>Turns the bytes of a weather file into hours.</summary>
public static class WeatherUpload
{
    /// <summary>Largest file taken, bytes: a year of hours in the EPW format has about 1.7 million.</summary>
    public const long LargestFile = 8_000_000;

    /// <summary>What is taken, in words.</summary>
    public const string Accepted =
        "A year of hours: a file in the open EPW format, or a table (CSV) with headings for temperature (°C) and humidity (%), and if there wind (m/s), sun (W/m²), rain (mm) and time; at most 8 MB";

    /// <summary>Why a file of this size is not taken; null when it is.</summary>
    public static string? Refuse(long bytes) => bytes > LargestFile
        ? FormattableString.Invariant($"The file has {Math.Ceiling(bytes / 1e6):0} MB. Expected at most {LargestFile / 1e6:0} MB: a year of hours has about 2.")
        : null;

    /// <summary>Reads a file.</summary>
    public static WeatherReading Read(byte[] bytes)
    {
        ArgumentNullException.ThrowIfNull(bytes);
        using var text = new StringReader(Text(bytes));
        return WeatherFileReader.Read(text);
    }

    // Old weather files name their towns in Latin-1; tables come in UTF-8.
    private static string Text(byte[] bytes)
    {
        try
        {
            return new UTF8Encoding(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true).GetString(bytes);
        }
        catch (DecoderFallbackException)
        {
            return Encoding.Latin1.GetString(bytes);
        }
    }
}
