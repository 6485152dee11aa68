using UnitsNet;

namespace ConsultDesk.Calculations.Findings;

/// <summary>How cold a thing gets where it stands.</summary>
internal static class Frost
{
    /// <summary>
    /// The frost that proves it: the hours of the year, or without the year the temperature of the night; none where
    /// there is no frost.
    /// </summary>
    /// <param name="context">What is judged.</param>
    /// <param name="zoneId">Where it stands; null for outside.</param>
    /// <param name="hours">Frost hours of the year, null without the year.</param>
    /// <param name="what">What stands there.</param>
    public static IReadOnlyList<Evidence> Of(FindingContext context, string? zoneId, int? hours, string what)
    {
        Temperature night = zoneId is null || !context.Design.Zones.Any(zone => zone.Id == zoneId)
            ? context.Assessment.Weather.Temperature
            : context.State(zoneId).Temperature;
        Evidence limit = new("Freezing point", Temperature.FromDegreesCelsius(FindingLimits.Of("frost-point")));
        return context.Assessment.Year is not null
            ? hours > 0 ? [new Evidence($"Time of frost at the {what} in the year", Duration.FromHours(hours.Value)), limit] : []
            : night.DegreesCelsius < FindingLimits.Of("frost-point") ? [new Evidence($"Temperature at the {what} in this night", night), limit] : [];
    }
}
