using ConsultDesk.Calculations.Heating;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Thin air: a burner needs another setting or loses output.</summary>
internal static class HeaterAtAltitude
{
    public static Finding? Judge(FindingContext context) => context.Design.Heater.Kind switch
    {
        HeaterKind.RoomSealedLiquidFuel => LiquidFuel(context),
        HeaterKind.RoomSealedGas or HeaterKind.UnfluedGas => Gas(context),
        HeaterKind.None or HeaterKind.Electric => null,
        _ => throw new ArgumentOutOfRangeException(nameof(context), context.Design.Heater.Kind, "Expected a kind of heater."),
    };

    private static Finding? LiquidFuel(FindingContext context)
    {
        Length altitude = context.Design.Stop.Altitude;
        Length limit = Length.FromMeters(Defaults.Likely("liquid-fuel-altitude"));
        return altitude.Meters <= limit.Meters ? null : new Finding
        {
            Code = "heater-at-altitude",
            Severity = Severity.Advice,
            Title = "The heater needs a setting for this altitude",
            Explanation = "Thin air brings a burner less oxygen for the same fuel. Without a setting for altitude it burns dirty, soots up and fails in the cold.",
            Evidence = [new("Altitude of the stop", altitude), new("Usual limit without a setting (common practice)", limit)],
            Remedy = "Look up the maker's limit, and have the altitude setting or sensor fitted before the trip.",
        };
    }

    private static Finding? Gas(FindingContext context)
    {
        Length altitude = context.Design.Stop.Altitude;
        Ratio share = FuelUse.GasInputShare(altitude);
        return share.DecimalFractions >= 1 ? null : new Finding
        {
            Code = "heater-at-altitude",
            Severity = Severity.Advice,
            Title = "The gas heater gives less at this altitude",
            Explanation = "Gas burners are derated in thin air by the US fuel gas code; other countries have other rules. Some burners need another jet, and some may not be used at all.",
            Evidence = [new("Share of its rated input left", share), new("Altitude of the stop", altitude)],
            Remedy = "Look up the maker's limit, and leave any change of jets to a licensed gas fitter.",
        };
    }
}
