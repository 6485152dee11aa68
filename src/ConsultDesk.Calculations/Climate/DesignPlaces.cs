using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Climate;

/// <summary>The places a design's stops can name: those of the climate table and the ones entered by hand.</summary>
public static class DesignPlaces
{
    /// <summary>True when a key names a place of the climate table, or one of the design whose months can be calculated with.</summary>
    public static bool Contains(Design design, string key) => Own(design, key) is OwnPlace own
        ? OwnClimate.IsComplete(own)
        : ClimateTable.Contains(key);

    /// <summary>The place a key names.</summary>
    /// <param name="design">The design whose own places count.</param>
    /// <param name="key">A key of the climate table, or <see cref="OwnPlace.Key"/> of an own place.</param>
    /// <param name="assumptions">How what nobody entered is estimated; the likely values when left out.</param>
    /// <exception cref="ArgumentException">There is no such place, or its months are incomplete or out of range.</exception>
    public static Place Get(Design design, string key, Assumptions? assumptions = null) => Own(design, key) is OwnPlace own
        ? OwnClimate.Of(own, assumptions ?? Assumptions.Likely)
        : ClimateTable.Get(key);

    /// <summary>The weather file of the place a key names; null when it has none.</summary>
    public static HourFile? HourFileOf(Design design, string key) => Own(design, key)?.Hours;

    private static OwnPlace? Own(Design design, string key) => key.StartsWith(OwnPlace.KeyStart, StringComparison.Ordinal)
        ? design.OwnPlaces.FirstOrDefault(place => place.Key() == key)
        : null;
}
