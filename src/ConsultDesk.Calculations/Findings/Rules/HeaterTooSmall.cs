using ConsultDesk.Calculations.Heating;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>The heater cannot hold the night temperature in the coldest nights.</summary>
internal static class HeaterTooSmall
{
    public static Finding? Judge(FindingContext context)
    {
        double loadW = (double)context.Assessment.Heat.DesignLoad.Watts;
        double givesW = HeaterLimit.OfW(context.Design);
        if (!context.Occupied || loadW <= givesW)
        {
            return null;
        }

        bool none = context.Design.Heater.Kind == HeaterKind.None;
        return new Finding
        {
            Code = "heater-too-small",
            Severity = none ? Severity.Advice : Severity.Warning,
            Title = none ? "There is no heater for the coldest nights" : "The heater is too small for the coldest nights",
            Explanation = "The load counts the same openings and fans as tonight, in the coldest hours of the year at this place. Warming up a cold van takes more still.",
            Evidence =
            [
                new("Output missing", Power.FromWatts(loadW - givesW)),
                new("Output needed", context.Assessment.Heat.DesignLoad),
                new("Output at this altitude", Power.FromWatts(givesW)),
                new("Coldest night", context.Assessment.Weather.DesignTemperature),
                new("Temperature to keep", context.Design.Heater.NightSetPoint),
            ],
            Remedy = "Take the next larger room-sealed heater, insulate more, cover the glass outside, or accept a colder night. Do not shut the ventilation to save heat.",
            Apply = Larger(context.Design, loadW) is null ? null : design => Larger(design, loadW) ?? design,
        };
    }

    // The smallest heater of the table that carries the load: of the same kind, or room-sealed where there is none or an unflued one.
    private static Design? Larger(Design design, double loadW)
    {
        HeaterKind kind = design.Heater.Kind is HeaterKind.None or HeaterKind.UnfluedGas ? HeaterKind.RoomSealedLiquidFuel : design.Heater.Kind;
        return Heaters.All
            .Where(heater => heater.Kind == kind)
            .OrderBy(heater => heater.RatedOutput.Watts)
            .Select(heater => design with { Heater = design.Heater with { Kind = kind, RatedOutput = heater.RatedOutput } })
            .FirstOrDefault(changed => HeaterLimit.OfW(changed) >= loadW);
    }
}
