using System.Buffers;
using System.Collections.Frozen;
using System.Globalization;
using UnitsNet;
using UnitsNet.Units;

namespace ConsultDesk.Reports.Units;

/// <summary>
/// Reads what a person types for a quantity: a number with a point or a comma, a fraction (<c>3/4</c>, <c>1 3/4</c>), with or
/// without a unit, which need not be the one the field shows (<c>14 in</c>, <c>900 cfm</c>, <c>-22 F</c>), and feet with inches
/// (<c>5 ft 6 in</c>). Nothing is guessed: what could mean two things is asked back.
/// </summary>
internal static class TypedText
{
    private static readonly SearchValues<char> Digits = SearchValues.Create("0123456789.,");

    // As people type them, in small letters; everything else is looked up in the library's own abbreviations.
    private static readonly FrozenDictionary<string, Enum[]> Typed = new Dictionary<string, Enum[]>
    {
        ["c"] = [TemperatureUnit.DegreeCelsius, TemperatureDeltaUnit.DegreeCelsius],
        ["°c"] = [TemperatureUnit.DegreeCelsius, TemperatureDeltaUnit.DegreeCelsius],
        ["f"] = [TemperatureUnit.DegreeFahrenheit, TemperatureDeltaUnit.DegreeFahrenheit],
        ["°f"] = [TemperatureUnit.DegreeFahrenheit, TemperatureDeltaUnit.DegreeFahrenheit],
        ["k"] = [TemperatureDeltaUnit.Kelvin],
        ["mm"] = [LengthUnit.Millimeter],
        ["cm"] = [LengthUnit.Centimeter],
        ["m"] = [LengthUnit.Meter],
        ["in"] = [LengthUnit.Inch],
        ["inch"] = [LengthUnit.Inch],
        ["inches"] = [LengthUnit.Inch],
        ["\""] = [LengthUnit.Inch],
        ["″"] = [LengthUnit.Inch],
        ["ft"] = [LengthUnit.Foot],
        ["foot"] = [LengthUnit.Foot],
        ["feet"] = [LengthUnit.Foot],
        ["'"] = [LengthUnit.Foot],
        ["′"] = [LengthUnit.Foot],
        ["cm2"] = [AreaUnit.SquareCentimeter],
        ["m2"] = [AreaUnit.SquareMeter],
        ["in2"] = [AreaUnit.SquareInch],
        ["sq in"] = [AreaUnit.SquareInch],
        ["ft2"] = [AreaUnit.SquareFoot],
        ["sq ft"] = [AreaUnit.SquareFoot],
        ["sqft"] = [AreaUnit.SquareFoot],
        ["m3"] = [VolumeUnit.CubicMeter],
        ["ft3"] = [VolumeUnit.CubicFoot],
        ["l"] = [VolumeUnit.Liter],
        ["litres"] = [VolumeUnit.Liter],
        ["liters"] = [VolumeUnit.Liter],
        ["qt"] = [VolumeUnit.UsQuart],
        ["gal"] = [VolumeUnit.UsGallon],
        ["m3/h"] = [VolumeFlowUnit.CubicMeterPerHour],
        ["l/s"] = [VolumeFlowUnit.LiterPerSecond],
        ["cfm"] = [VolumeFlowUnit.CubicFootPerMinute],
        ["w"] = [PowerUnit.Watt],
        ["kw"] = [PowerUnit.Kilowatt],
        ["btu/h"] = [PowerUnit.BritishThermalUnitPerHour],
        ["btu"] = [PowerUnit.BritishThermalUnitPerHour],
        ["kwh"] = [EnergyUnit.KilowattHour],
        ["wh"] = [EnergyUnit.WattHour],
        ["pa"] = [PressureUnit.Pascal],
        ["hpa"] = [PressureUnit.Hectopascal],
        ["mbar"] = [PressureUnit.Millibar],
        ["inhg"] = [PressureUnit.InchOfMercury],
        ["inh2o"] = [PressureUnit.InchOfWaterColumn],
        ["g"] = [MassUnit.Gram],
        ["kg"] = [MassUnit.Kilogram],
        ["lb"] = [MassUnit.Pound],
        ["lbs"] = [MassUnit.Pound],
        ["oz"] = [MassUnit.Ounce],
        ["m/s"] = [SpeedUnit.MeterPerSecond],
        ["km/h"] = [SpeedUnit.KilometerPerHour],
        ["mph"] = [SpeedUnit.MilePerHour],
        ["kn"] = [SpeedUnit.Knot],
        ["knots"] = [SpeedUnit.Knot],
        ["%"] = [RatioUnit.Percent, RelativeHumidityUnit.Percent],
        ["h"] = [DurationUnit.Hour],
        ["min"] = [DurationUnit.Minute],
        ["s"] = [DurationUnit.Second],
        ["ppm"] = [VolumeConcentrationUnit.PartPerMillion],
    }.ToFrozenDictionary(StringComparer.Ordinal);

    /// <summary>Reads a quantity.</summary>
    /// <param name="text">What was typed, trimmed, with an ASCII minus.</param>
    /// <param name="own">The unit of the field, taken when none is typed.</param>
    /// <param name="symbol">How the field writes it; empty for a count.</param>
    /// <returns>The quantity, or why it cannot be read, without what was expected.</returns>
    public static (IQuantity? Value, string? Trouble) Read(string text, Enum own, string symbol)
    {
        var rest = text.AsSpan();
        var sign = 1;
        if (rest is ['-' or '+', ..])
        {
            sign = rest[0] == '-' ? -1 : 1;
            rest = rest[1..].TrimStart();
        }

        if (TwoWays(rest) is { } ways)
        {
            return (null, $"‘{text}’ could mean {ways}. Type it without the comma, or with a point.");
        }

        if (Number(ref rest) is not { } first)
        {
            return (null, NoNumber(text));
        }

        if (rest.IsEmpty)
        {
            return (Quantity.From(sign * first, own), null);
        }

        var (unit, trouble) = Unit(Word(ref rest), own, symbol);
        if (unit is null)
        {
            return (null, trouble);
        }

        if (rest.IsEmpty)
        {
            return (Quantity.From(sign * first, unit), null);
        }

        // Feet and inches are the one pair people write together.
        if (!unit.Equals(LengthUnit.Foot) || Number(ref rest) is not { } second)
        {
            return (null, NoNumber(text));
        }

        var (smaller, _) = rest.IsEmpty ? (LengthUnit.Inch, null) : Unit(Word(ref rest), own, symbol);
        return smaller is LengthUnit.Inch && rest.IsEmpty
            ? (Quantity.From(sign * ((first * 12) + second), LengthUnit.Inch), null)
            : (null, NoNumber(text));
    }

    private static string NoNumber(string text) => $"‘{text}’ is not a number this field can read.";

    // A comma before three digits parts thousands for one reader and decimals for another.
    private static string? TwoWays(ReadOnlySpan<char> rest)
    {
        var end = rest.IndexOfAnyExcept(Digits);
        var number = end < 0 ? rest : rest[..end];
        var comma = number.IndexOf(',');
        return comma is >= 1 and <= 3 && number[0] != '0' && number.Length == comma + 4 && number[(comma + 1)..].IndexOfAny('.', ',') < 0
            ? $"{number[..comma]}{number[(comma + 1)..]} or {number[..comma]}.{number[(comma + 1)..].TrimEnd('0')}".TrimEnd('.')
            : null;
    }

    // Digits with one mark, a fraction, or a whole number and a fraction.
    private static double? Number(ref ReadOnlySpan<char> rest)
    {
        var end = rest.IndexOfAnyExcept(Digits);
        var digits = end < 0 ? rest : rest[..end];
        if (digits.IsEmpty || digits.Count('.') + digits.Count(',') > 1
            || !double.TryParse(digits.ToString().Replace(',', '.'), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number)
            || !double.IsFinite(number))
        {
            return null;
        }

        rest = rest[digits.Length..];
        if (rest is ['/', ..])
        {
            var below = Whole(rest[1..], out var length);
            if (below is not > 0)
            {
                return null;
            }

            rest = rest[(1 + length)..].TrimStart();
            return number / below;
        }

        rest = rest.TrimStart();

        // "1 3/4": a fraction may follow a whole number.
        var above = Whole(rest, out var aboveLength);
        if (above is not null && rest[aboveLength..] is ['/', .. var after])
        {
            var below = Whole(after, out var belowLength);
            if (below is not > 0 || above >= below || number != Math.Floor(number))
            {
                return null;
            }

            rest = after[belowLength..].TrimStart();
            return number + (above.Value / below.Value);
        }

        return number;
    }

    private static double? Whole(ReadOnlySpan<char> rest, out int length)
    {
        length = rest.IndexOfAnyExceptInRange('0', '9');
        length = length < 0 ? rest.Length : length;
        return length is > 0 and < 7 ? double.Parse(rest[..length], CultureInfo.InvariantCulture) : null;
    }

    // A unit ends before the next number: after the sign of a foot at once, else after a space.
    private static string Word(ref ReadOnlySpan<char> rest)
    {
        var end = 1;
        if (rest[0] is not ('\'' or '′'))
        {
            while (end < rest.Length && !(rest[end - 1] == ' ' && char.IsAsciiDigit(rest[end])))
            {
                end++;
            }
        }

        var word = rest[..end].Trim().ToString();
        rest = rest[end..].TrimStart();
        return word;
    }

    private static (Enum? Unit, string? Trouble) Unit(string word, Enum own, string symbol)
    {
        if (string.Equals(word, symbol, StringComparison.OrdinalIgnoreCase))
        {
            return (own, null);
        }

        var kind = own.GetType();
        var plain = word.ToLowerInvariant().Replace('²', '2').Replace('³', '3');
        if (Typed.TryGetValue(plain, out var units) && units.FirstOrDefault(unit => unit.GetType() == kind) is { } known)
        {
            return (known, null);
        }

        return UnitParser.Default.TryParse(word, kind, CultureInfo.InvariantCulture, out var parsed)
            ? (parsed, null)
            : (null, $"‘{word}’ is no unit this field can read.");
    }
}
