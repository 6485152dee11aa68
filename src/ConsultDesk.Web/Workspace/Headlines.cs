using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Web.Workspace;

/// <summary>Which way a number is better for the people in the van.</summary>
public enum Better
{
    /// <summary>Neither way by itself.</summary>
    Neither,

    /// <summary>The lower the better.</summary>
    Lower,

    /// <summary>The higher the better.</summary>
    Higher,
}

/// <summary>One of the main numbers of an assessment.</summary>
/// <param name="Key">Stable name.</param>
/// <param name="Label">What it is.</param>
/// <param name="Measure">Kind of number.</param>
/// <param name="Value">The number, or null when this option has none (no fan runs, nothing burns fuel).</param>
/// <param name="Better">Which way is better.</param>
public sealed record Headline(string Key, string Label, Measure Measure, IQuantity? Value, Better Better);

/// <summary>The main numbers of an assessment, in the order of the screen.</summary>
public static class Headlines
{
    /// <summary>Keys of the numbers that stay in view beside the drawing.</summary>
    public static IReadOnlyList<string> Shown { get; } = ["outdoor-air", "humidity", "condensed", "margin", "carbon-dioxide", "design-load"];

    /// <summary>The main numbers; options of one van have the same ones, so that they can stand side by side.</summary>
    public static IReadOnlyList<Headline> Of(Design design, Assessment assessment)
    {
        var bed = Bed(design, assessment);
        var air = assessment.Air;
        var heat = assessment.Heat;
        Headline UValue(string part) => new("u-" + part, $"U-value, {part}", Measure.UValue,
            assessment.Assemblies.FirstOrDefault(state => state.Part.Equals(part, StringComparison.OrdinalIgnoreCase))?.UValue, Better.Lower);
        return
        [
            new("dangers", "Dangers", Measure.Count, Count(assessment, Severity.Danger), Better.Lower),
            new("warnings", "Warnings", Measure.Count, Count(assessment, Severity.Warning), Better.Lower),
            new("outdoor-air", "Outdoor air", Measure.AirFlow, air.OutdoorAir, Better.Neither),
            new("air-changes", "Air changes per hour", Measure.Count, Scalar.FromAmount(air.AirChangesPerHour), Better.Neither),
            new("suction", "Suction at the floor", Measure.Pressure, air.Suction, Better.Neither),
            new("fan-share", "Fan, share of free-air flow", Measure.Share, air.Fans.IsEmpty ? null : air.Fans[0].ShareOfFreeAir, Better.Higher),
            new("age", "Age of air at the bed", Measure.Duration, bed.AgeOfAir, Better.Lower),
            new("carbon-dioxide", "CO₂ at the bed", Measure.Concentration, bed.CarbonDioxide, Better.Lower),
            new("temperature", "Temperature at the bed", Measure.Temperature, bed.Temperature, Better.Neither),
            new("humidity", "RH at the bed", Measure.RelativeHumidity, bed.RelativeHumidity, Better.Lower),
            new("condensed", "Condensed in the night", Measure.Water, assessment.Water.CondensedPerNight, Better.Lower),
            new("margin", "Coldest surface over dew point", Measure.TemperatureDifference, Margin(assessment), Better.Higher),
            new("heater", "Heater, mean of the night", Measure.Heat, heat.Heater, Better.Lower),
            new("design-load", "Heat on the coldest night", Measure.Heat, heat.DesignLoad, Better.Lower),
            new("fuel", "Fuel for the night", Measure.Fuel, heat.FuelPerNight, Better.Lower),
            new("electric", "Electric energy for the night", Measure.Energy, heat.ElectricPerNight, Better.Lower),
            UValue("walls"),
            UValue("roof"),
            UValue("floor"),
        ];
    }

    /// <summary>The main numbers of the year, all without a value before there is one.</summary>
    public static IReadOnlyList<Headline> OfYear(Assessment assessment)
    {
        var year = assessment.Year;
        return
        [
            .. assessment.Scores?.All.Select(score => new Headline(
                "score-" + score.Name.ToLowerInvariant().Replace(' ', '-'), $"Score, {score.Name.ToLowerInvariant()}", Measure.Count, Scalar.FromAmount(Math.Round(score.Points)), Better.Higher)) ?? [],
            new("wet-mornings", "Wet mornings", Measure.Count, Whole(year?.WetMornings.Count), Better.Lower),
            new("year-condensed", "Condensed in the year", Measure.WaterVolume, year is null ? null : Volume.FromLiters(year.Condensed.Kilograms), Better.Lower),
            new("night-air", "Outdoor air asleep, mean of the year", Measure.AirFlow, year?.NightAir, Better.Neither),
            new("coldest-bed", "Coldest hour at the bed", Measure.Temperature, year?.Heat.ColdestBed, Better.Higher),
            new("hours-short", "Hours short of heat", Measure.Count, Whole(year?.Heat.HoursShort), Better.Lower),
            new("year-fuel", "Fuel of the year", Measure.Fuel, year?.Heat.Fuel, Better.Lower),
            new("electric-worst-day", "Current on the worst day", Measure.Energy, year?.Heat.ElectricWorstDay, Better.Lower),
            new("days-to-dry", "Longest time for a skin to dry", Measure.Duration, year is null || year.Skins.IsEmpty ? null : year.Skins.MaxBy(skin => skin.DaysToDry.Days)!.DaysToDry, Better.Lower),
            new("hot-hours", "Hot hours asleep", Measure.Count, Whole(year?.HotNights.Hours), Better.Lower),
        ];
    }

    /// <summary>A number with its unit, a dash when there is none.</summary>
    public static string Text(Headline number, DisplayUnits units) => number.Value is { } value ? units.Format(number.Measure, value) : "–";

    private static Scalar? Whole(int? count) => count is { } number ? Scalar.FromAmount(number) : null;

    private static ZoneState Bed(Design design, Assessment assessment)
    {
        var zone = design.Zones.FirstOrDefault(z => z.Kind == ZoneKind.Sleeping)
            ?? design.Zones.FirstOrDefault(z => z.Kind == ZoneKind.Living)
            ?? design.Zones[0];
        return assessment.Zones.First(state => state.ZoneId == zone.Id);
    }

    private static Scalar Count(Assessment assessment, Severity severity) =>
        Scalar.FromAmount(assessment.Findings.Count(finding => finding.Severity == severity));

    private static TemperatureDelta? Margin(Assessment assessment) => assessment.Surfaces.IsEmpty
        ? null
        : TemperatureDelta.FromKelvins(assessment.Surfaces.Min(surface => surface.Temperature.Kelvins - surface.DewPoint.Kelvins));
}
