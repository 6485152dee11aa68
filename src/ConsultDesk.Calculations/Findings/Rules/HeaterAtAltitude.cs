using ConsultDesk.Calculations.Heating;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Thin air: a burner above its rated altitude, one nobody knows the limit of, or one that loses output.</summary>
internal static class HeaterAtAltitude
{
    private const string Code = "heater-at-altitude";
    private const string LookUp = "Look up the maker's limit, and have the altitude setting or sensor fitted before the trip by a fitter the maker approves.";

    public static Finding? Judge(FindingContext context)
    {
        Design design = context.Design;
        if (!design.Heater.Kind.BurnsFuel())
        {
            return null;
        }

        Length altitude = Highest(design);
        return design.Equipment.HeaterRatedAltitude is Length rated
            ? altitude.Meters > rated.Meters ? AboveRated(altitude, rated) : null
            : design.Heater.Kind switch
            {
                HeaterKind.RoomSealedLiquidFuel or HeaterKind.Hydronic => LiquidFuel(altitude),
                HeaterKind.RoomSealedGas or HeaterKind.UnfluedGas => Gas(altitude),
                // A stove has no jet: no rule for thin air was found.
                HeaterKind.WoodStove => null,
                _ => throw new ArgumentOutOfRangeException(nameof(context), design.Heater.Kind, "Expected a heater that burns fuel."),
            };
    }

    private static Length Highest(Design design) => design.Itinerary.IsDefaultOrEmpty
        ? design.Stop.Altitude
        : design.Itinerary.Select(stay => stay.Altitude).Append(design.Stop.Altitude).MaxBy(altitude => altitude.Meters);

    private static Finding AboveRated(Length altitude, Length rated) => new()
    {
        Code = Code,
        Severity = Severity.Warning,
        Title = "The heater stands above the altitude it is rated for",
        Explanation = "Thin air brings a burner less oxygen for the same fuel. Above its rated altitude it burns dirty, makes carbon monoxide, soots up and fails in the cold.",
        Evidence = [new("Highest altitude of the stays", altitude), new("Altitude the heater is rated for", rated)],
        Remedy = LookUp + " Until then do not light it up there.",
    };

    private static Finding? LiquidFuel(Length altitude)
    {
        Length limit = Length.FromMeters(Defaults.Likely("liquid-fuel-altitude"));
        return altitude.Meters <= limit.Meters ? null : new Finding
        {
            Code = Code,
            Severity = Severity.Advice,
            Title = "The heater needs a setting for this altitude",
            Explanation = "Thin air brings a burner less oxygen for the same fuel. Without a setting for altitude it burns dirty, soots up and fails in the cold. Nobody has entered what this one is rated for.",
            Evidence = [new("Highest altitude of the stays", altitude), new("Usual limit without a setting (common practice)", limit)],
            Remedy = LookUp,
        };
    }

    private static Finding? Gas(Length altitude)
    {
        Ratio share = FuelUse.GasInputShare(altitude);
        return share.DecimalFractions >= 1 ? null : new Finding
        {
            Code = Code,
            Severity = Severity.Advice,
            Title = "The gas heater gives less at this altitude",
            Explanation = "Gas burners are derated in thin air by the US fuel gas code; other countries have other rules. Some burners need another jet, and some may not be used at all.",
            Evidence = [new("Share of its rated input left", share), new("Highest altitude of the stays", altitude)],
            Remedy = "Look up the maker's limit, and leave any change of jets to a licensed gas fitter.",
        };
    }
}
