using System.Collections.Immutable;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Air so damp that cool corners grow mould.</summary>
internal static class AirDamp
{
    // Room air above this share brings surfaces a few kelvin colder to the 80 % at which mould can grow (ISO 13788, recalled). Our judgement.
    private const double HighestPercent = 70;

    // A night temperature that most sleepers find warm. Our judgement.
    private const double WarmNightC = 18;

    public static Finding? Judge(FindingContext context)
    {
        if (!context.Occupied || context.LivedIn.OrderByDescending(pair => pair.State.RelativeHumidity.Percent).FirstOrDefault() is not { Zone: not null } dampest
            || dampest.State.RelativeHumidity.Percent <= HighestPercent)
        {
            return null;
        }

        // An unheated van is judged by what warming it would do.
        Temperature warm = Temperature.FromDegreesCelsius(Math.Max(dampest.State.Temperature.DegreesCelsius, WarmNightC));
        RelativeHumidity warmed = OutdoorAirWarmedTo(context.Assessment.Weather, warm);
        ImmutableArray<Evidence> evidence =
        [
            new($"Relative humidity, {dampest.Zone.Name}", dampest.State.RelativeHumidity),
            new($"Air temperature, {dampest.Zone.Name}", dampest.State.Temperature),
            new("Outdoor air warmed to a warm night's temperature", warmed),
            new("Highest that keeps cool corners dry", RelativeHumidity.FromPercent(HighestPercent)),
        ];
        return warmed.Percent > HighestPercent
            ? DampOutside(evidence)
            : DampInside(context, evidence);
    }

    private static Finding DampInside(FindingContext context, ImmutableArray<Evidence> evidence) => new()
    {
        Code = "air-damp",
        Severity = Severity.Warning,
        Title = "The air is damp enough for mould in cool corners",
        Explanation = "Corners, the mattress underside and cupboards at outside walls are cooler than the air, so the air there is damper still. Night after night that grows mould, which is bad for people's lungs.",
        Evidence = evidence,
        Remedy = "Let in more outdoor air, and heat: cold outdoor air warmed up is dry air. Applying it takes the first way for air that is enough, with more warmth where air alone is not.",
        Apply = design => MoreAir.First(
            context with { Design = design },
            Highest,
            HighestPercent,
            [.. MoreAir.All, Warmer, .. MoreAir.All.Select(way => (Func<Design, Design>)(changed => Warmer(way(changed))))]),
    };

    private static Finding DampOutside(ImmutableArray<Evidence> evidence) => new()
    {
        Code = "air-damp",
        Severity = Severity.Advice,
        Title = "The outdoor air itself is damp",
        Explanation = "Even warmed to the room's temperature the outdoor air is damper than cool corners can bear, so no ventilation dries the van in such a night.",
        Evidence = evidence,
        Remedy = "A little warmth above the outdoor temperature, air moving over the mattress and into corners, and drying everything out on the next dry day.",
    };

    // Room-sealed warmth: it adds no water, and warmer air is relatively drier.
    private static Design Warmer(Design design)
    {
        Heater heater = design.Heater;
        Temperature setPoint = Temperature.FromDegreesCelsius(Math.Max(heater.NightSetPoint.DegreesCelsius, WarmNightC));
        return heater.Kind is HeaterKind.None or HeaterKind.UnfluedGas
            ? design with
            {
                Heater = heater with
                {
                    Kind = HeaterKind.RoomSealedLiquidFuel,
                    RatedOutput = Power.FromKilowatts(Math.Max((double)heater.RatedOutput.Kilowatts, 2)),
                    NightSetPoint = setPoint,
                },
            }
            : design with { Heater = heater with { NightSetPoint = setPoint } };
    }

    private static RelativeHumidity OutdoorAirWarmedTo(NightWeather weather, Temperature temperature) => RelativeHumidity.FromPercent(
        100 * MoistAir.RelativeHumidityShare(
            temperature.DegreesCelsius, MoistAir.SaturationPressurePa(weather.DewPoint.DegreesCelsius)));

    private static double Highest(Design design, Assessment assessment) => design.Zones.Zip(assessment.Zones)
        .Where(pair => pair.First.Kind is ZoneKind.Living or ZoneKind.Sleeping)
        .Max(pair => pair.Second.RelativeHumidity.Percent);
}
