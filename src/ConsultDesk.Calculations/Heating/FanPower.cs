using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Heating;

/// <summary>Electric draw of fans.</summary>
internal static class FanPower
{
    /// <summary>
    /// Electric draw of a roof fan: electronics, and the draw at full speed times the cube of the speed (fan laws). Nothing
    /// when it is off.
    /// </summary>
    /// <param name="fullSpeedW">Draw at full speed, electronics left out; see <see cref="FullSpeedW"/>.</param>
    /// <param name="electronicsW">Draw of its electronics.</param>
    /// <param name="speed">Speed as a share of full speed, 0 to 1.</param>
    public static double DrawW(double fullSpeedW, double electronicsW, double speed) =>
        DrawW<ScalarLane>(new(fullSpeedW), new(electronicsW), new(speed)).Value;

    /// <summary>The same in lanes.</summary>
    internal static TLane DrawW<TLane>(TLane fullSpeedW, TLane electronicsW, TLane speed)
        where TLane : struct, ILane<TLane> =>
        TLane.And(TLane.Less(TLane.Zero, speed), electronicsW + (fullSpeedW * speed * speed * speed));

    /// <summary>Draw of a roof fan at full speed, electronics left out.</summary>
    public static double FullSpeedW(Fan fan, Assumptions assumed) => assumed["roof-fan-power"] * fan.FreeAirFlow.CubicMetersPerSecond;
}
