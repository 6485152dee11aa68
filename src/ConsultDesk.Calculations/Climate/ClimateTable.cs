using System.Collections.Immutable;
using System.Globalization;
using UnitsNet;

namespace ConsultDesk.Calculations.Climate;

/// <summary>
/// Monthly means of places, read from the embedded <c>climate-normals.csv</c>: facts taken from the typical-year
/// weather file of a station, for some Canadian places with the temperatures of the official normals. A typical
/// year is not a 30-year mean; single months may be off by 1 to 3 K. Wet days are counted in four ways, see
/// <see cref="WetDayCount"/>.
/// </summary>
public static class ClimateTable
{
    private static readonly ImmutableDictionary<string, Place> ByKey = Read().ToImmutableDictionary(place => place.Key);

    /// <summary>All places, by name.</summary>
    public static ImmutableArray<Place> Places { get; } = [.. ByKey.Values.OrderBy(place => place.Name, StringComparer.Ordinal)];

    /// <summary>True when there is a place with this key.</summary>
    public static bool Contains(string key) => ByKey.ContainsKey(key);

    /// <summary>The place with this key.</summary>
    /// <exception cref="ArgumentException">There is no such place.</exception>
    public static Place Get(string key) => ByKey.TryGetValue(key, out Place? place)
        ? place
        : throw new ArgumentException($"There is no place '{key}' in the climate table.", nameof(key));

    private static IEnumerable<Place> Read() =>
        from row in EmbeddedTable.Rows("Climate.climate-normals.csv", columns: 16)
        group row by row[0] into months
        let first = months.First()
        select new Place
        {
            Key = first[0],
            Name = first[1],
            Country = first[2],
            Latitude = Angle.FromDegrees(Number(first[3])),
            Longitude = Angle.FromDegrees(Number(first[4])),
            Elevation = Length.FromMeters(Number(first[5])),
            Source = first[15],
            Sureness = first[15].Contains("climate normals", StringComparison.Ordinal) ? PlaceSureness.OfficialTemperatures : PlaceSureness.TypicalYear,
            Months =
            [
                .. months.Select(row => new MonthNormals(
                    int.Parse(row[6], CultureInfo.InvariantCulture),
                    Temperature.FromDegreesCelsius(Number(row[7])),
                    Temperature.FromDegreesCelsius(Number(row[8])),
                    Temperature.FromDegreesCelsius(Number(row[9])),
                    Temperature.FromDegreesCelsius(Number(row[10])),
                    Speed.FromMetersPerSecond(Number(row[11])),
                    // kWh/(m2 d) over 24 h.
                    Irradiance.FromWattsPerSquareMeter(Number(row[12]) * 1000 / 24),
                    Number(row[13]),
                    CountOf(row[14]))),
            ],
        };

    private static WetDayCount CountOf(string text) => text switch
    {
        "trace" => WetDayCount.Trace,
        "1 mm" => WetDayCount.OneMillimetre,
        "recalled" => WetDayCount.Recalled,
        "estimate" => WetDayCount.Estimated,
        _ => throw new InvalidOperationException($"The climate table has a way '{text}' of counting wet days that is not known."),
    };

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
