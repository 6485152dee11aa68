using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>A dryer that runs while somebody is in the van.</summary>
/// <param name="Zone">Index of the zone it stands in.</param>
/// <param name="Kind">Which kind it is.</param>
/// <param name="RatedKgPerS">Water it removes at 20 degrees and 60 %.</param>
/// <param name="LowestHumidity">Relative humidity at and below which it removes nothing, share.</param>
/// <param name="DrawW">Electric draw, all of which warms the zone.</param>
internal readonly record struct RunningDryer(int Zone, DryerKind Kind, double RatedKgPerS, double LowestHumidity, double DrawW)
{
    /// <summary>The running dryers of a design; one that comes later has to be taken out before.</summary>
    public static RunningDryer[] Of(NightModel model) =>
    [
        .. model.Design.Dryers.Where(dryer => dryer.Running).Select(dryer => new RunningDryer(
            model.IndexOf(dryer.ZoneId),
            dryer.Kind,
            DryerCurve.RatedKgPerS(dryer.RemovedPerDay, model.Assumed),
            DryerCurve.LowestHumidity(dryer.Kind, model.Assumed),
            (double)dryer.ElectricDraw.Watts)),
    ];

    /// <summary>Water removed per pascal of vapour pressure above <see cref="LowestPa"/>, in air of this temperature.</summary>
    public double KgPerSPa(double temperatureC, double saturationPa) =>
        RatedKgPerS * DryerCurve.Share(Kind, temperatureC) / ((DryerCurve.RatedHumidity - LowestHumidity) * saturationPa);

    /// <summary>Vapour pressure at and below which it removes nothing.</summary>
    public double LowestPa(double saturationPa) => LowestHumidity * saturationPa;
}
