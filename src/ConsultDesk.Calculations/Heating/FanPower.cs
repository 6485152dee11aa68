using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Heating;

/// <summary>Electric draw of fans.</summary>
internal static class FanPower
{
    /// <summary>
    /// Electric draw of a roof fan: electronics, and the draw at full speed times the cube of the speed (fan laws). Nothing
    /// when it is off.
    /// </summary>
    /// <param name="fan">The fan.</param>
    /// <param name="speed">Speed as a share of full speed, 0 to 1.</param>
    /// <param name="assumed">Draw over free-air flow, and that of the electronics.</param>
    public static double DrawW(Fan fan, double speed, Assumptions assumed) => speed > 0
        ? assumed["fan-electronics"] + (assumed["roof-fan-power"] * fan.FreeAirFlow.CubicMetersPerSecond * speed * speed * speed)
        : 0;
}
