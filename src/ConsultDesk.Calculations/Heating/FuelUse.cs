using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Moisture;
using UnitsNet;

namespace ConsultDesk.Calculations.Heating;

/// <summary>Fuel for heat, and what altitude takes from a gas burner.</summary>
public static class FuelUse
{
    /// <summary>Efficiencies accepted, 0.2 to 1 of the lower heating value.</summary>
    public static readonly ValidRange EfficiencyRange = new("Efficiency", 0.2, 1, "");

    /// <summary>Altitude from which gas burners are derated: 2000 feet.</summary>
    public const double DeratingFromM = 609.6;

    /// <summary>Loss of input per metre above sea level: 4 % per 1000 feet.</summary>
    public const double DeratingPerM = 0.04 / 304.8;

    /// <summary>Fuel burnt while giving a heat output: output / (efficiency x lower heating value).</summary>
    public static MassFlow Rate(Fuel fuel, Power output, double efficiency)
    {
        ArgumentNullException.ThrowIfNull(fuel);
        double watts = CombustionGases.InputRange.Check((double)output.Watts, nameof(output));
        return MassFlow.FromKilogramsPerSecond(FuelKg(fuel, watts, EfficiencyRange.Check(efficiency, nameof(efficiency))));
    }

    /// <summary>Fuel in kg for a heat in J, or in kg/s for W: heat / (efficiency x lower heating value).</summary>
    internal static double FuelKg(Fuel fuel, double heatJ, double efficiency) => heatJ / (efficiency * fuel.LowerHeatingValueJPerKg);

    /// <summary>Fuel for a day at a mean heat output.</summary>
    public static Mass PerDay(Fuel fuel, Power meanOutput, double efficiency) =>
        Mass.FromKilograms(86_400 * Rate(fuel, meanOutput, efficiency).KilogramsPerSecond);

    /// <summary>
    /// Share of its sea-level input a gas burner keeps at an altitude: 1 up to 2000 feet, above that 1 - 4 % per
    /// 1000 feet above sea level (NFPA 54 Table E.1.1(d), as cited in trade literature).
    /// </summary>
    /// <remarks>The maker's instructions and local codes decide; some burners need another jet, some stop altogether.</remarks>
    public static Ratio GasInputShare(Length altitude)
    {
        double altitudeM = StandardAtmosphere.AltitudeRange.Check(altitude.Meters, nameof(altitude));
        return Ratio.FromDecimalFractions(altitudeM > DeratingFromM ? 1 - (DeratingPerM * altitudeM) : 1);
    }
}
