using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Moisture;
using CsCheck;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Moisture;

public sealed class CombustionTests
{
    private static readonly Gen<Fuel> AnyFuel = Gen.OneOf([.. Fuel.All]);

    [Fact]
    public void Every_element_that_goes_in_comes_out() =>
        AnyFuel.Sample(fuel =>
        {
            // Shares by mass of carbon, hydrogen and oxygen in water (2 x 1.008 + 15.999) and carbon dioxide (12.011 + 2 x 15.999).
            double carbonOut = fuel.CarbonDioxidePerFuel * 12.011 / 44.009;
            double hydrogenOut = fuel.WaterPerFuel * 2.016 / 18.015;
            double oxygenOut = (fuel.CarbonDioxidePerFuel * 31.998 / 44.009) + (fuel.WaterPerFuel * 15.999 / 18.015);
            Assert.Equal(fuel.CarbonKmolPerKg * 12.011, carbonOut, 1e-9);
            Assert.Equal(fuel.HydrogenKmolPerKg * 1.008, hydrogenOut, 1e-9);
            Assert.Equal((fuel.OxygenKmolPerKg * 15.999) + fuel.OxygenPerFuel, oxygenOut, 1e-9);
        });

    [Fact]
    public void Mass_in_is_mass_out_but_for_what_does_not_burn() =>
        AnyFuel.Sample(fuel =>
        {
            double difference = 1 + fuel.OxygenPerFuel - fuel.WaterPerFuel - fuel.CarbonDioxidePerFuel;
            // Diesel's 0.3 % of sulphur and the like is neither carbon nor hydrogen, and 0.8 % of dry wood is ash.
            Assert.InRange(difference, -1e-9, fuel == Fuel.Firewood ? 0.8 * 0.0081 : 0.0031);
        });

    [Fact]
    public void More_air_means_less_carbon_dioxide_and_more_oxygen() =>
        Gen.Select(AnyFuel, Gen.Double[100, 3000], Gen.Double[20, 200], Gen.Double[1, 100]).Sample((fuel, watts, flow, more) =>
        {
            Temperature room = Temperature.FromDegreesCelsius(20);
            Pressure pressure = Pressure.FromPascals(101_325);
            VolumeFlow dioxide = CombustionGases.CarbonDioxide(fuel, Power.FromWatts(watts), room, pressure);
            VolumeFlow oxygen = CombustionGases.OxygenUsed(fuel, Power.FromWatts(watts), room, pressure);
            VolumeFlow little = VolumeFlow.FromCubicMetersPerHour(flow);
            VolumeFlow much = VolumeFlow.FromCubicMetersPerHour(flow + more);
            Assert.True(CombustionGases.SteadyCarbonDioxideRise(dioxide, much).DecimalFractions
                < CombustionGases.SteadyCarbonDioxideRise(dioxide, little).DecimalFractions);
            Assert.True(CombustionGases.SteadyOxygen(oxygen, much).DecimalFractions
                > CombustionGases.SteadyOxygen(oxygen, little).DecimalFractions);
        });

    [Fact]
    public void A_flame_without_ventilation_is_refused() =>
        Assert.Contains(
            "Ventilation is expected above 0 m3/h",
            Assert.Throws<ArgumentOutOfRangeException>(() => CombustionGases.SteadyOxygen(
                VolumeFlow.FromCubicMetersPerHour(0.3), VolumeFlow.Zero)).Message,
            StringComparison.Ordinal);

    [Fact]
    public void Less_air_than_the_flame_fills_is_refused_and_exactly_as_much_is_all_carbon_dioxide()
    {
        VolumeFlow dioxide = VolumeFlow.FromCubicMetersPerHour(0.3);

        Assert.Equal(1, CombustionGases.SteadyCarbonDioxideRise(dioxide, dioxide).DecimalFractions, 1e-12);
        Assert.Contains(
            "less than the carbon dioxide given off",
            Assert.Throws<ArgumentOutOfRangeException>(() => CombustionGases.SteadyCarbonDioxideRise(dioxide, dioxide / 2)).Message,
            StringComparison.Ordinal);
    }

    // 10 m3 of air hold 2.095 m3 of oxygen; 0.1 m3/h of it brings them to 18 % in 2.95 hours.
    [Fact]
    public void A_sealed_space_lasts_until_its_oxygen_is_used() =>
        Assert.Equal(10 * (0.2095 - 0.18) / 0.1, CombustionGases.TimeToOxygen(
            Volume.FromCubicMeters(10), VolumeFlow.FromCubicMetersPerHour(0.1), Ratio.FromPercent(18)).Hours, 1e-9);

    [Theory]
    [InlineData(0, 0.1, 0.18, "Air volume is expected above 0 m3.")]
    [InlineData(-1, 0.1, 0.18, "Air volume is expected above 0 m3.")]
    [InlineData(10, 0, 0.18, "Oxygen used is expected above 0 m3/h.")]
    [InlineData(10, 0.1, 0.3, "Limit of oxygen is 0.3; expected 0 to 0.2095.")]
    public void A_sealed_space_that_makes_no_sense_is_refused_with_the_reason(double cubicMetres, double usedM3PerH, double limit, string reason) =>
        Assert.Contains(
            reason,
            Assert.Throws<ArgumentOutOfRangeException>(() => CombustionGases.TimeToOxygen(
                Volume.FromCubicMeters(cubicMetres), VolumeFlow.FromCubicMetersPerHour(usedM3PerH), Ratio.FromDecimalFractions(limit))).Message,
            StringComparison.Ordinal);

    [Fact]
    public void A_flame_of_a_boiler_house_is_refused_with_its_range() =>
        Assert.Contains(
            "Heat input is 21000 W; expected 0 to 20000 W.",
            Assert.Throws<ArgumentOutOfRangeException>(() => CombustionGases.Water(Fuel.Propane, Power.FromKilowatts(21))).Message,
            StringComparison.Ordinal);

    [Fact]
    public void An_unknown_fuel_is_refused_with_the_fuels_there_are() =>
        Assert.Contains("propane", Assert.Throws<ArgumentException>(() => Fuel.Get("coal")).Message, StringComparison.Ordinal);

    [Fact]
    public void At_altitude_the_same_flame_fills_more_volume()
    {
        Temperature room = Temperature.FromDegreesCelsius(20);
        double low = CombustionGases.CarbonDioxide(Fuel.Propane, Power.FromKilowatts(1), room, StandardAtmosphere.Pressure(Length.Zero)).CubicMetersPerHour;
        double high = CombustionGases.CarbonDioxide(Fuel.Propane, Power.FromKilowatts(1), room, StandardAtmosphere.Pressure(Length.FromMeters(4000))).CubicMetersPerHour;

        // ASHRAE HoF 2017 ch. 1 Table 1: 101325 and 61640 Pa.
        Assert.Equal(101_325.0 / 61_640, high / low, 1e-4);
    }
}
