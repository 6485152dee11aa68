using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Unknowns;

/// <summary>A main number of an assessment, read as a plain number.</summary>
/// <param name="Key">Stable key, that of the number on the screen.</param>
/// <param name="Label">What it is.</param>
/// <param name="Of">Reads it; null where the van has none.</param>
/// <param name="Quantity">The number with its unit.</param>
/// <param name="Condenses">It carries what a real year differs from one made from monthly means.</param>
/// <param name="Most">The most it can be in an assessment; null without.</param>
internal sealed record MainNumber(
    string Key, string Label, Func<Design, Assessment, double?> Of, Func<double, IQuantity> Quantity, bool Condenses = false, Func<Assessment, double>? Most = null);

/// <summary>The main numbers of the steady night and of the year; a test holds them against those of the screen.</summary>
internal static class MainNumbers
{
    /// <summary>All of them, those of the night first.</summary>
    public static ImmutableArray<MainNumber> All { get; } =
    [
        new("outdoor-air", "Outdoor air", (_, night) => night.Air.OutdoorAir.CubicMetersPerSecond, value => VolumeFlow.FromCubicMetersPerSecond(value)),
        new("humidity", "RH at the bed", (design, night) => Bed(design, night).RelativeHumidity.Percent, value => RelativeHumidity.FromPercent(value)),
        new("condensed", "Condensed in the night", (_, night) => night.Water.CondensedPerNight.Kilograms, value => Mass.FromKilograms(value)),
        new("margin", "Coldest surface over dew point", Margin, value => TemperatureDelta.FromKelvins(value)),
        new("carbon-dioxide", "CO₂ at the bed", (design, night) => Bed(design, night).CarbonDioxide.PartsPerMillion, value => VolumeConcentration.FromPartsPerMillion(value)),
        new("design-load", "Heat on the coldest night", (_, night) => (double)night.Heat.DesignLoad.Watts, value => Power.FromWatts(value)),
        new("wet-mornings", "Wet mornings in a year", (_, all) => all.Year?.WetMornings.Count, value => Scalar.FromAmount(value), Condenses: true, all => all.Year!.WetMornings.Nights),
        new("condensed-per-night", "Condensed a night, cold season", (_, all) => all.Year?.WetMornings.CondensedPerNight.Kilograms, value => Mass.FromKilograms(value), Condenses: true),
        new("night-air", "Outdoor air by night", (_, all) => all.Year?.NightAir.CubicMetersPerSecond, value => VolumeFlow.FromCubicMetersPerSecond(value)),
        new("coldest-bed", "Coldest hour at the bed, asleep", (_, all) => all.Year?.Heat.ColdestBed.DegreesCelsius, value => Temperature.FromDegreesCelsius(value)),
        new("hours-short", "Hours short of heat", (_, all) => all.Year?.Heat.HoursShort, value => Scalar.FromAmount(value)),
        new("heat-per-day", "Heat on a day of heating", (_, all) => HeatPerDayJ(all.Year), value => Energy.FromJoules(value)),
        new("fuel-per-day", "Fuel on a day of heating", (_, all) => all.Year?.HeaterFit?.FuelPerHeatingDay?.Kilograms, value => Mass.FromKilograms(value)),
        new("electric-worst-day", "Electric energy, worst day", (_, all) => all.Year?.Heat.ElectricWorstDay.Joules, value => Energy.FromJoules(value)),
        new("wettest-skin", "Water on the skin, at most", (_, all) => OfSkins(all.Year, skin => skin.PeakPerSquareMetre.Kilograms), value => Mass.FromKilograms(value), Condenses: true),
        new("days-to-dry", "Longest time for a skin to dry", (_, all) => OfSkins(all.Year, skin => skin.DaysToDry.Seconds), value => Duration.FromSeconds(value)),
        new("hot-nights", "Hot nights in a year", (_, all) => all.Year?.HotNights.Nights, value => Scalar.FromAmount(value)),
    ];

    private static double? HeatPerDayJ(YearAssessment? year) => year?.HeaterFit is { HeatingDays: > 0 } fit ? year.Heat.Heat.Joules / fit.HeatingDays : null;

    private static double? OfSkins(YearAssessment? year, Func<SkinYear, double> number) => year is null || year.Skins.IsEmpty ? null : year.Skins.Max(number);

    private static double? Margin(Design design, Assessment night) =>
        night.Surfaces.IsEmpty ? null : night.Surfaces.Min(surface => surface.Temperature.Kelvins - surface.DewPoint.Kelvins);

    private static ZoneState Bed(Design design, Assessment night)
    {
        Zone zone = design.Zones.FirstOrDefault(zone => zone.Kind == ZoneKind.Sleeping)
            ?? design.Zones.FirstOrDefault(zone => zone.Kind == ZoneKind.Living)
            ?? design.Zones[0];
        return night.Zones.First(state => state.ZoneId == zone.Id);
    }
}
