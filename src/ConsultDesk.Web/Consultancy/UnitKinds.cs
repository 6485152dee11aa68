using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Web.Consultancy;

/// <summary>The kinds of number whose unit is chosen, in a person's words.</summary>
internal static class UnitKinds
{
    /// <summary>Each kind with something of its usual size.</summary>
    public static IReadOnlyDictionary<Measure, (string Label, IQuantity Example)> All { get; } = new Dictionary<Measure, (string, IQuantity)>
    {
        [Measure.Temperature] = ("Temperature", Temperature.FromDegreesCelsius(4)),
        [Measure.SmallLength] = ("Small lengths", Length.FromMillimeters(350)),
        [Measure.LargeLength] = ("Large lengths", Length.FromMeters(3.7)),
        [Measure.SmallArea] = ("Free area of openings", Area.FromSquareCentimeters(400)),
        [Measure.LargeArea] = ("Glass, walls, floor", Area.FromSquareMeters(1.8)),
        [Measure.Volume] = ("Rooms", UnitsNet.Volume.FromCubicMeters(9.5)),
        [Measure.AirFlow] = ("Air flow", VolumeFlow.FromCubicMetersPerHour(85)),
        [Measure.Heat] = ("Heat", Power.FromWatts(1800)),
        [Measure.Pressure] = ("Pressure across openings", Pressure.FromPascals(5)),
        [Measure.BarometricPressure] = ("Barometer", Pressure.FromHectopascals(1013)),
        [Measure.FuelVolume] = ("Liquid fuel", UnitsNet.Volume.FromLiters(1.6)),
        [Measure.Fuel] = ("Gas, by weight", Mass.FromKilograms(0.35)),
        [Measure.WaterVolume] = ("Water by volume", UnitsNet.Volume.FromLiters(2.4)),
        [Measure.LargeMass] = ("Weights", Mass.FromKilograms(12)),
        [Measure.WindSpeed] = ("Wind", Speed.FromMetersPerSecond(4)),
        [Measure.Altitude] = ("Altitude", Length.FromMeters(640)),
        [Measure.UValue] = ("U-value and conductivity", HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(1.2)),
    };

    /// <summary>One sentence in these units, to see how they read together.</summary>
    public static string Example(DisplayUnits units)
    {
        string Of(Measure measure) => units.Format(measure, All[measure].Example);
        return $"At {Of(Measure.Temperature)} outside a fan of {Of(Measure.SmallLength)} takes {Of(Measure.AirFlow)} out of a van "
            + $"{Of(Measure.LargeLength)} long; its heater gives {Of(Measure.Heat)} and burns {Of(Measure.FuelVolume)} a day.";
    }
}
