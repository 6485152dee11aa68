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
/// <param name="FuelOf">The heater whose fuel it is, said as it is bought; null for every other number.</param>
public sealed record Headline(string Key, string Label, Measure Measure, IQuantity? Value, Better Better, HeaterKind? FuelOf = null);

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
            new("fuel", "Fuel for the night", Measure.Fuel, heat.FuelPerNight, Better.Lower, design.Heater.Kind),
            new("electric", "Electric energy for the night", Measure.Energy, heat.ElectricPerNight, Better.Lower),
            UValue("walls"),
            UValue("roof"),
            UValue("floor"),
        ];
    }

    /// <summary>The main numbers of the year, all without a value before there is one.</summary>
    public static IReadOnlyList<Headline> OfYear(Design design, Assessment assessment)
    {
        var year = assessment.Year;
        Headline Score(string name, Func<Scores, Score> of) => new(
            "score-" + name.ToLowerInvariant().Replace(' ', '-'),
            $"Score, {name.ToLowerInvariant()}",
            Measure.Count,
            assessment.Scores is { } scores ? Scalar.FromAmount(Math.Round(of(scores).Points)) : null,
            Better.Higher);
        return
        [
            Score("Ventilation", scores => scores.Ventilation),
            Score("Heating", scores => scores.Heating),
            Score("Breathability", scores => scores.Breathability),
            Score("Hot nights", scores => scores.HotNights),
            new("wet-mornings", "Wet mornings in a year", Measure.Count, Whole(year?.WetMornings.Count), Better.Lower),
            new("condensed-per-night", "Condensed a night, cold season", Measure.Water, year?.WetMornings.CondensedPerNight, Better.Lower),
            new("night-air", "Outdoor air by night", Measure.AirFlow, year?.NightAir, Better.Neither),
            new("coldest-bed", "Coldest hour at the bed, asleep", Measure.Temperature, year?.Heat.ColdestBed, Better.Higher),
            new("hours-short", "Hours short of heat", Measure.Count, Whole(year?.Heat.HoursShort), Better.Lower),
            new("heat-per-day", "Heat on a day of heating", Measure.Energy, HeatPerDay(year), Better.Lower),
            new("fuel-per-day", "Fuel on a day of heating", Measure.Fuel, year?.HeaterFit?.FuelPerHeatingDay, Better.Lower, design.Heater.Kind),
            new("electric-worst-day", "Electric energy, worst day", Measure.Energy, year?.Heat.ElectricWorstDay, Better.Lower),
            new("wettest-skin", "Water on the skin, at most", Measure.WaterPerArea, year is null || year.Skins.IsEmpty ? null : year.Skins.MaxBy(skin => skin.PeakPerSquareMetre.Kilograms)!.PeakPerSquareMetre, Better.Lower),
            new("days-to-dry", "Longest time for a skin to dry", Measure.Duration, year is null || year.Skins.IsEmpty ? null : year.Skins.MaxBy(skin => skin.DaysToDry.Days)!.DaysToDry, Better.Lower),
            new("hot-nights", "Hot nights in a year", Measure.Count, Whole(year?.HotNights.Nights), Better.Lower),
        ];
    }

    /// <summary>A number with its unit, a dash when there is none.</summary>
    public static string Text(Headline number, DisplayUnits units) => number.Value is { } value ? Text(number, value, units) : "–";

    /// <summary>Another value of the same number, with its unit.</summary>
    public static string Text(Headline number, IQuantity value, DisplayUnits units) => (value, number) switch
    {
        (Mass fuel, { FuelOf: { } heater }) => FuelWords.Of(fuel, heater, units),
        // The calculation gives water on an area as the mass on each square metre.
        (Mass perSquareMetre, { Measure: Measure.WaterPerArea }) => units.FormatPerArea(perSquareMetre),
        _ => units.Format(number.Measure, value),
    };

    private static Energy? HeatPerDay(YearAssessment? year) =>
        year?.HeaterFit is { HeatingDays: > 0 } fit ? year.Heat.Heat / fit.HeatingDays : null;

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
