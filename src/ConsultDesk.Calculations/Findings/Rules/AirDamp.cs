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
    private static double HighestPercent { get; } = FindingLimits.Of("damp-air");

    // Mould needs liquid water: the growth model of Hukka and Viitanen (1999, recalled) starts above this.
    private static double MouldFromC { get; } = FindingLimits.Of("frost-point");

    // A night temperature that most sleepers find warm. Our judgement.
    private static double WarmNightC { get; } = FindingLimits.Of("warm-night");
    private static double HottestNightC { get; } = FindingLimits.Of("hottest-set-point");

    // What a remedy changes: set point, output, width of a doorway. Our judgement.
    private const double WarmerK = 3;
    private const double EnoughKilowatts = 4;
    private const double OpenDoorwayM2 = 0.4;

    public static Finding? Judge(FindingContext context)
    {
        if (!context.Occupied || Growing(context.LivedIn).OrderByDescending(pair => pair.State.RelativeHumidity.Percent).FirstOrDefault() is not { Zone: not null } dampest
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
        Remedy = "Let in more outdoor air, and heat: cold outdoor air warmed up is dry air. Open the way between the heater and the bed.",
        TriedAs = "The copy takes the first of these that is enough, air before warmth.",
        Apply = design => MoreAir.First(
            context with { Design = design },
            Highest,
            HighestPercent,
            AirThenWarmth),
    };

    /// <summary>Ways to drier air in the order they are tried: more of it, a way for it, warmth, and both.</summary>
    internal static IEnumerable<Func<Design, Design>> AirThenWarmth =>
    [
        .. MoreAir.All,
        OpenPassages,
        Warmer,
        .. MoreAir.All.Select(way => (Func<Design, Design>)(design => Warmer(way(design)))),
        design => Warmer(OpenPassages(design)),
        design => Warmer(Warmer(OpenPassages(design))),
    ];

    private static Finding DampOutside(ImmutableArray<Evidence> evidence) => new()
    {
        Code = "air-damp",
        Severity = Severity.Advice,
        Title = "The outdoor air itself is damp",
        Explanation = "Even warmed to the room's temperature the outdoor air is damper than cool corners can bear, so no ventilation dries the van in such a night.",
        Evidence = evidence,
        Remedy = "A little warmth above the outdoor temperature, air moving over the mattress and into corners, and drying everything out on the next dry day.",
    };

    /// <summary>Room-sealed warmth: it adds no water, and warmer air is relatively drier.</summary>
    internal static Design Warmer(Design design)
    {
        design = RoomSealedHeater.Fitted(design);
        Heater heater = design.Heater;
        double kilowatts = (double)heater.RatedOutput.Kilowatts;
        return design with
        {
            Heater = heater with
            {
                RatedOutput = Power.FromKilowatts(Math.Max(kilowatts, EnoughKilowatts)),
                NightSetPoint = Temperature.FromDegreesCelsius(Math.Clamp(heater.NightSetPoint.DegreesCelsius + WarmerK, WarmNightC, HottestNightC)),
            },
        };
    }

    // A door or curtain between the heater and the bed, opened.
    private static Design OpenPassages(Design design) => design with
    {
        Passages =
        [
            .. design.Passages.Select(passage => passage.FreeArea.SquareMeters < OpenDoorwayM2 && passage.Top.Meters - passage.Bottom.Meters > OpenDoorwayM2
                ? passage with { FreeArea = Area.FromSquareMeters(OpenDoorwayM2) }
                : passage),
        ],
    };

    private static RelativeHumidity OutdoorAirWarmedTo(NightWeather weather, Temperature temperature) => RelativeHumidity.FromPercent(
        100 * MoistAir.RelativeHumidityShare(
            temperature.DegreesCelsius, MoistAir.SaturationPressurePa(weather.DewPoint.DegreesCelsius)));

    private static IEnumerable<(Zone Zone, ZoneState State)> Growing(IEnumerable<(Zone Zone, ZoneState State)> zones) =>
        zones.Where(pair => pair.State.Temperature.DegreesCelsius > MouldFromC);

    private static double Highest(Design design, Assessment assessment) => design.Zones.Zip(assessment.Zones)
        .Where(pair => pair.First.Kind is ZoneKind.Living or ZoneKind.Sleeping)
        .Max(pair => pair.Second.RelativeHumidity.Percent);
}
