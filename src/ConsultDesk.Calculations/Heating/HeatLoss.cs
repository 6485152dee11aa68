using ConsultDesk.Calculations.Air;
using UnitsNet;

namespace ConsultDesk.Calculations.Heating;

/// <summary>Steady heat losses.</summary>
public static class HeatLoss
{
    /// <summary>Through a part of the envelope: U A (Ti - Te); negative when it is warmer outside.</summary>
    public static Power Transmission(HeatTransferCoefficient uValue, Area area, Temperature room, Temperature outdoor) =>
        Power.FromWatts(TransmissionW(
            uValue.WattsPerSquareMeterKelvin * area.SquareMeters, Checked(room, nameof(room)), Checked(outdoor, nameof(outdoor))));

    /// <summary>Sensible heat to warm outdoor air: rho cp Q (Ti - Te), cp 1006 J/(kg K) of dry air.</summary>
    /// <param name="flow">Outdoor air, at the density given.</param>
    /// <param name="density">Density of that air.</param>
    /// <param name="room">Room air, within <see cref="MoistAir.TemperatureRange"/>.</param>
    /// <param name="outdoor">Outdoor air, within <see cref="MoistAir.TemperatureRange"/>.</param>
    public static Power Ventilation(VolumeFlow flow, Density density, Temperature room, Temperature outdoor) =>
        Power.FromWatts(TransmissionW(
            density.KilogramsPerCubicMeter * MoistAir.DryAirHeatCapacity * flow.CubicMetersPerSecond,
            Checked(room, nameof(room)),
            Checked(outdoor, nameof(outdoor))));

    /// <summary>Heat that leaves at a conductance in W/K, whatever carries it.</summary>
    internal static double TransmissionW(double conductanceWPerK, double fromC, double toC) => conductanceWPerK * (fromC - toC);

    private static double Checked(Temperature temperature, string parameter) =>
        MoistAir.TemperatureRange.Check(temperature.DegreesCelsius, parameter);
}
