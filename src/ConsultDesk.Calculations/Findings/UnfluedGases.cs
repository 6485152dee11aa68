using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings;

/// <summary>What a propane flame leaves in the air it burns. Carbon monoxide cannot be calculated and never is.</summary>
internal static class UnfluedGases
{
    /// <summary>Said wherever an unflued flame is judged.</summary>
    public const string CutOffIsNoControl = "A device that shuts the flame off when oxygen falls is no control of the ventilation: "
        + "carbon dioxide is far too high long before.";

    /// <summary>
    /// Carbon dioxide in a closed room by the time the oxygen cut-off acts: three volumes for every five of oxygen
    /// (C3H8 + 5 O2 = 3 CO2 + 4 H2O), outdoor carbon dioxide left out.
    /// </summary>
    public static VolumeConcentration CarbonDioxideAtCutOff { get; } = VolumeConcentration.FromDecimalFractions(
        (CombustionGases.OutdoorOxygen - (FindingLimits.Of("oxygen-cut-off") / 100)) * 3 / 5);

    /// <summary>The number that proves <see cref="CutOffIsNoControl"/>.</summary>
    public static Evidence AtCutOff => new("Carbon dioxide by the time an oxygen cut-off acts (propane)", CarbonDioxideAtCutOff);

    /// <summary>Carbon dioxide and oxygen a burner of an input would bring about in the night's outdoor air.</summary>
    public static (VolumeConcentration CarbonDioxide, Ratio Oxygen) Steady(Assessment assessment, Power input)
    {
        Fuel fuel = Fuel.Propane;
        VolumeFlow air = assessment.Air.OutdoorAir;
        Temperature room = assessment.Zones[0].Temperature;
        Pressure pressure = assessment.Weather.Pressure;
        VolumeFlow made = CombustionGases.CarbonDioxide(fuel, input, room, pressure);
        VolumeFlow used = CombustionGases.OxygenUsed(fuel, input, room, pressure);
        // With next to no air the flame would go out before; the share is then told as all of it.
        VolumeConcentration rise = CombustionGases.SteadyCarbonDioxideRise(made, Larger(air, made));
        Ratio oxygen = CombustionGases.SteadyOxygen(used, Larger(air, used / CombustionGases.OutdoorOxygen));
        return (
            VolumeConcentration.FromDecimalFractions(rise.DecimalFractions + (Defaults.Likely("outdoor-carbon-dioxide") / 1e6)),
            Ratio.FromDecimalFractions(Math.Max(0, oxygen.DecimalFractions)));
    }

    private static VolumeFlow Larger(VolumeFlow a, VolumeFlow b) => a.CubicMetersPerSecond >= b.CubicMetersPerSecond ? a : b;
}
