using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Gas bottles whose locker is open to the room.</summary>
internal static class GasLockerInside
{
    public static Finding? Judge(FindingContext context)
    {
        Design design = context.Design;
        if (!design.Equipment.GasBottles || !design.Equipment.GasLockerOpensInside)
        {
            return null;
        }

        double airM3 = design.Zones.Sum(zone => zone.AirVolume.CubicMeters);
        double limit = FindingLimits.Of("propane-lower-limit") / 100;
        return new Finding
        {
            Code = "gas-locker-inside",
            Severity = Severity.Danger,
            Title = "The gas locker is open to the living space",
            Explanation = "Gas is heavier than air: from a leaking valve or hose it runs along the floor, gathers where people sleep and is lit by the first spark. "
                + "A small part of one bottle is enough to fill the whole van with a mixture that explodes.",
            Evidence =
            [
                new("Propane that makes all the van's air explosive", Mass.FromKilograms(airM3 * limit * FindingLimits.Of("propane-density"))),
                new("Share of propane in air from which it can be lit (recalled)", Ratio.FromDecimalFractions(limit)),
                new("Air in the van", Volume.FromCubicMeters(airM3)),
            ],
            Remedy = "Carry the bottles in a locker sealed against the room, reached from outside only, with a drain at its lowest point that leads outside and away from "
                + "exhausts. A licensed gas fitter makes and tests it by the local code. Until then take the bottles out, and fit a gas alarm low down.",
            TriedAs = "The copy has a locker sealed against the room and drained outside.",
            Apply = changed => changed with { Equipment = changed.Equipment with { GasLockerOpensInside = false } },
        };
    }
}
