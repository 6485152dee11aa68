using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Snow nobody clears, over the hoods on the roof or the end of the exhaust.</summary>
internal static class SnowOverExhaust
{
    public static Finding? Judge(FindingContext context)
    {
        Design design = context.Design;
        if (!SnowLies(design) || !(context.Occupied || context.BurningAppliances > 0))
        {
            return null;
        }

        ImmutableArray<Opening> buried = [.. design.Openings.Where(opening => opening.Face == Face.Roof)];
        BodyPoint? exhaust = Exhaust.Of(design) is BodyPoint point && WouldBury(design, point) ? point : null;
        if (buried.IsEmpty && exhaust is null)
        {
            return null;
        }

        return new Finding
        {
            Code = "snow-over-exhaust",
            Severity = Severity.Danger,
            Title = "Snow that nobody clears buries the way out of the gases",
            Explanation = "Snow on the roof shuts vents that look open, also those of a gas installation that must never be shut. Snow round the van dams up the "
                + "heater's exhaust, and its gases find their way in with carbon monoxide, which has no smell.",
            Evidence =
            [
                new("Openings in the roof and exhausts it would bury", Scalar.FromAmount(buried.Length + (exhaust is null ? 0 : 1))),
                new("Lowest mean daily minimum of the stays", Temperature.FromDegreesCelsius(LowestMeanMinimumC(design))),
                .. exhaust is null
                    ? Array.Empty<Evidence>()
                    : [new("End of the exhaust above the ground", Exhaust.AboveGround(design.Body, exhaust)), new("Height the snow may reach (our judgement)", Length.FromMeters(FindingLimits.Of("snow-height")))],
            ],
            Remedy = "Clear roof vents, hoods and exhaust before every night and while it snows; where that cannot be done, do not light anything and do not sleep there. "
                + "Have the exhaust ended where snow does not reach it by a fitter the heater's maker approves, and fit a carbon monoxide alarm.",
            TriedAs = "The copy takes it that somebody clears the roof and the exhaust.",
            Apply = changed => changed with { Equipment = changed.Equipment with { RoofNotCleared = false } },
        };
    }

    /// <summary>True when snow nobody clears could bury an exhaust that ends at this point.</summary>
    public static bool WouldBury(Design design, BodyPoint exhaust) =>
        SnowLies(design) && Exhaust.AboveGround(design.Body, exhaust).Meters <= FindingLimits.Of("snow-height");

    private static bool SnowLies(Design design) =>
        design.Equipment.RoofNotCleared && LowestMeanMinimumC(design) <= FindingLimits.Of("snow-mean-minimum");

    // Over every month of every stay; without an itinerary the van stays the whole year at its stop.
    private static double LowestMeanMinimumC(Design design) => Itineraries.Stays(design)
        .SelectMany(stay => MeanMinimaC(DesignPlaces.Get(design, stay.PlaceKey), stay.Altitude, Itineraries.Months(stay))).Min();

    private static IEnumerable<double> MeanMinimaC(Place place, Length altitude, IEnumerable<int> months)
    {
        double lapseK = Nights.LapseRateKPerM * (altitude.Meters - place.Elevation.Meters);
        return months.Select(month => place.Month(month).MeanMinimum.DegreesCelsius - lapseK);
    }
}
