using System.Text.Json;
using System.Text.Json.Serialization;
using UnitsNet;
using UnitsNet.Units;

namespace ConsultDesk.Records;

/// <summary>
/// The one unit each UnitsNet quantity is stored in. The unit stands in the member's name
/// (<c>thicknessM</c>), so the value is a plain number.
/// </summary>
internal static class StoredQuantity
{
    private static readonly Dictionary<Type, (string Suffix, JsonConverter Converter)> Units = new()
    {
        [typeof(Length)] = ("M", new DoubleQuantity<Length>(v => v.Meters, v => Length.FromMeters(v))),
        [typeof(Area)] = ("M2", new DoubleQuantity<Area>(v => v.SquareMeters, v => Area.FromSquareMeters(v))),
        [typeof(Volume)] = ("M3", new DoubleQuantity<Volume>(v => v.CubicMeters, v => Volume.FromCubicMeters(v))),
        [typeof(VolumeFlow)] = ("M3PerS", new DoubleQuantity<VolumeFlow>(v => v.CubicMetersPerSecond, v => VolumeFlow.FromCubicMetersPerSecond(v))),
        [typeof(Pressure)] = ("Pa", new DoubleQuantity<Pressure>(v => v.Pascals, v => Pressure.FromPascals(v))),
        [typeof(Temperature)] = ("C", new DoubleQuantity<Temperature>(v => v.DegreesCelsius, v => Temperature.FromDegreesCelsius(v))),
        [typeof(Energy)] = ("J", new DoubleQuantity<Energy>(v => v.Joules, v => Energy.FromJoules(v))),
        [typeof(Mass)] = ("Kg", new DoubleQuantity<Mass>(v => v.Kilograms, v => Mass.FromKilograms(v))),
        [typeof(Angle)] = ("Deg", new DoubleQuantity<Angle>(v => v.Degrees, v => Angle.FromDegrees(v))),
        [typeof(RelativeHumidity)] = ("Percent", new DoubleQuantity<RelativeHumidity>(v => v.Percent, v => RelativeHumidity.FromPercent(v))),
        [typeof(Power)] = ("W", new PowerQuantity()),
    };

    /// <summary>The converters of all quantities above.</summary>
    public static IEnumerable<JsonConverter> Converters => Units.Values.Select(unit => unit.Converter);

    /// <summary>The unit as the end of a member's name; nothing for what is no quantity.</summary>
    /// <exception cref="NotSupportedException">A quantity without a stored unit: add it above.</exception>
    public static string Suffix(Type type)
    {
        var bare = Nullable.GetUnderlyingType(type) ?? type;
        return !typeof(IQuantity).IsAssignableFrom(bare) ? ""
            : Units.TryGetValue(bare, out var unit) ? unit.Suffix
            : throw new NotSupportedException($"No stored unit is chosen for {bare}.");
    }

    private sealed class DoubleQuantity<T>(Func<T, double> number, Func<double, T> quantity) : JsonConverter<T>
    {
        public override T Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            quantity(FiniteNumber.ReadFrom(ref reader));

        // Adding zero turns -0 into 0: the two are the same value and must be the same bytes.
        public override void Write(Utf8JsonWriter writer, T value, JsonSerializerOptions options) =>
            writer.WriteNumberValue(number(value) + 0.0);
    }

    /// <summary>UnitsNet 5 holds power as decimal; going through double would change its last digits on every save.</summary>
    private sealed class PowerQuantity : JsonConverter<Power>
    {
        public override Power Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            Power.FromWatts(reader.TokenType == JsonTokenType.Number ? reader.GetDecimal() : throw new JsonException("expected a number."));

        // Dividing by one with many decimals drops trailing zeros: 2000 and 2000.0 must be the same bytes.
        public override void Write(Utf8JsonWriter writer, Power value, JsonSerializerOptions options) =>
            writer.WriteNumberValue(value.ToUnit(PowerUnit.Watt).Value / 1.0000000000000000000000000000m);
    }
}

/// <summary>A plain number. One too large for a double would be read as infinity, which no field means and no text can hold.</summary>
internal sealed class FiniteNumber : JsonConverter<double>
{
    public static double ReadFrom(ref Utf8JsonReader reader) =>
        reader.TokenType == JsonTokenType.Number && reader.GetDouble() is var number && double.IsFinite(number)
            ? number
            : throw new JsonException("expected a number.");

    public override double Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) => ReadFrom(ref reader);

    public override void Write(Utf8JsonWriter writer, double value, JsonSerializerOptions options) => writer.WriteNumberValue(value);
}
