using System.Globalization;
using System.Text;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Plans;

/// <summary>The value of an input of a design in words.</summary>
public static class FactWords
{
    /// <summary>What is said of a value nobody knows.</summary>
    public const string NotKnown = "not known";

    /// <summary>A value in words.</summary>
    /// <param name="value">The value, of one of the kinds <see cref="InputCatalogue"/> has.</param>
    /// <param name="path">Path of the input.</param>
    /// <param name="design">The design, which names its places.</param>
    /// <param name="units">Units of numbers.</param>
    /// <exception cref="ArgumentException">No input has a value of this kind.</exception>
    public static string Of(object? value, string path, Design design, DisplayUnits units)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(units);
        return value switch
        {
            null => NotKnown,
            Angle angle => angle.Degrees.ToString("0.0", CultureInfo.InvariantCulture) + "°",
            IQuantity quantity => units.Format(MeasureOf(quantity, path), quantity),
            bool yes => yes ? "yes" : "no",
            int month when path.EndsWith(".month", StringComparison.Ordinal) => CultureInfo.InvariantCulture.DateTimeFormat.GetMonthName(month),
            string key when path.EndsWith(".placeKey", StringComparison.Ordinal) => DesignPlaces.Contains(design, key) ? DesignPlaces.Get(design, key).Name : key,
            string { Length: 0 } => NotKnown,
            string text => text,
            Enum choice => Spaced(choice.ToString()),
            IFormattable number => number.ToString("0.###", CultureInfo.InvariantCulture),
            _ => throw new ArgumentException($"No words for a {value.GetType().Name} of {path}.", nameof(value)),
        };
    }

    /// <summary>Kind of number of an input.</summary>
    public static Measure MeasureOf(IQuantity quantity, string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        return path[(path.LastIndexOf('.') + 1)..] switch
        {
            "altitudeM" or "elevationM" or "heaterRatedAltitudeM" => Measure.Altitude,
            "vapourEquivalentThicknessM" => Measure.VapourEquivalentThickness,
            "electricDrawW" => Measure.ElectricPower,
            _ => DisplayUnits.MeasureOf(quantity),
        };
    }

    // The name of a choice as words: RoomSealedGas is room sealed gas.
    private static string Spaced(string name)
    {
        var words = new StringBuilder();
        foreach (var letter in name)
        {
            words.Append(char.IsUpper(letter) && words.Length > 0 ? " " : "").Append(char.ToLowerInvariant(letter));
        }

        return words.ToString();
    }
}
