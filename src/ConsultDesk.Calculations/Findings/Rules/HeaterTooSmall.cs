using ConsultDesk.Calculations.Heating;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>The heater cannot hold the night temperature in the coldest nights.</summary>
internal static class HeaterTooSmall
{
    private const string NeedKey = "night-air-per-sleeper";

    public static Finding? Judge(FindingContext context)
    {
        double loadW = (double)context.Assessment.Heat.DesignLoad.Watts;
        double givesW = HeaterLimit.OfW(context.Design);
        if (!context.Occupied || loadW <= givesW)
        {
            return null;
        }

        bool none = context.Design.Heater.Kind == HeaterKind.None;
        (Zone coldest, ZoneState cold) = context.LivedIn.MinBy(pair => pair.State.Temperature.DegreesCelsius);
        Temperature felt = context.Assessment.Year?.Heat.ColdestBed ?? cold.Temperature;
        // Without a heater the coldest hours of the year are not what counts, but the nights somebody sleeps in.
        if (none && felt.DegreesCelsius >= context.Design.Heater.NightSetPoint.DegreesCelsius)
        {
            return null;
        }

        bool grave = !none || felt.DegreesCelsius < FindingLimits.Of("cold-room");
        VolumeFlow air = FindingContext.AirPerSleeper(context.Design, context.Assessment);
        bool plenty = air.CubicMetersPerHour > FindingLimits.Of("air-plenty") * Defaults.High(NeedKey);
        Design? larger = Larger(context.Design, loadW);
        return new Finding
        {
            Code = "heater-too-small",
            Severity = grave ? Severity.Warning : Severity.Advice,
            Title = none ? "There is no heater for the coldest nights" : "The heater is too small for the coldest nights",
            Explanation = "The load counts the same openings and fans as tonight, in the coldest hours of the year at this place. Warming up a cold van takes more still.",
            Evidence =
            [
                new("Output missing", Power.FromWatts(loadW - givesW)),
                new("Output needed", context.Assessment.Heat.DesignLoad),
                new("Output at this altitude", Power.FromWatts(givesW)),
                new("Coldest night", context.Assessment.Weather.DesignTemperature),
                new("Temperature to keep", context.Design.Heater.NightSetPoint),
                .. none ? [new Evidence(context.Assessment.Year is null ? $"Air temperature tonight, {coldest.Name}" : "Coldest hour in bed", felt)] : Array.Empty<Evidence>(),
                .. plenty ? [new Evidence("Outdoor air per sleeper", air), new Evidence("High end of the need", VolumeFlow.FromCubicMetersPerHour(Defaults.High(NeedKey)))] : Array.Empty<Evidence>(),
            ],
            Remedy = (plenty ? $"First {(context.Assessment.Air.Fans.IsEmpty ? "open less" : "run the fan slower")}: the van takes in far more outdoor air than its sleepers need. If that is not enough: " : "")
                + (RoomSealedHeater.IsMissing(context.Design) ? "Fit a room-sealed heater that gives what is needed" : "Take the next larger heater of its kind")
                + ", insulate more, cover the glass outside, or accept a colder night. "
                + (plenty ? "Never air less than the sleepers need to save heat." : "Do not shut the ventilation to save heat."),
            TriedAs = larger is null ? "" : "The copy takes the smallest heater that is enough.",
            Apply = larger is null ? null : design => Larger(design, loadW) ?? design,
        };
    }

    /// <summary>The smallest heater of the table that carries the load: of the same kind, or room-sealed where there is none or an unflued one; null when there is none.</summary>
    internal static Design? Larger(Design design, double loadW)
    {
        design = RoomSealedHeater.Fitted(design);
        return Heaters.All
            .Where(heater => heater.Kind == design.Heater.Kind)
            .OrderBy(heater => heater.RatedOutput.Watts)
            .Select(heater => design with { Heater = design.Heater with { RatedOutput = heater.RatedOutput } })
            .FirstOrDefault(changed => HeaterLimit.OfW(changed) >= loadW);
    }
}
