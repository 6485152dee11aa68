using ConsultDesk.Calculations.Heating;
using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Vehicle;
using CsCheck;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Heating;

public sealed class HeaterTests
{
    [Fact]
    public void Every_kind_of_heater_has_a_class_with_possible_values_and_a_source()
    {
        Assert.All(Enum.GetValues<HeaterKind>().Where(kind => kind != HeaterKind.None), kind =>
            Assert.NotNull(Heaters.Nearest(kind, Power.FromKilowatts(2))));
        Assert.All(Heaters.All, heater =>
        {
            Assert.InRange(heater.Efficiency, 0.5, 1);
            Assert.InRange(heater.TurnDownShare, 0, 1);
            Assert.Equal(heater.Kind == HeaterKind.Electric, heater.Fuel is null);
            Assert.Contains(new[] { "from memory", "our judgement", "resistance" }, word => heater.Source.Contains(word, StringComparison.Ordinal));
        });
    }

    [Fact]
    public void A_boiler_and_a_stove_burn_what_they_are_made_for_and_only_gas_burners_lose_output_in_thin_air()
    {
        Assert.Equal(Fuel.Diesel, Heaters.Nearest(HeaterKind.Hydronic, Power.FromKilowatts(5))!.Fuel);
        Assert.Equal(Fuel.Firewood, Heaters.Nearest(HeaterKind.WoodStove, Power.FromKilowatts(3))!.Fuel);
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        double High(HeaterKind kind) => Calculations.Simulation.HeaterLimit.OfW(van with { Heater = van.Heater with { Kind = kind } }, 3000);
        double rated = (double)van.Heater.RatedOutput.Watts;
        Assert.Equal(rated, High(HeaterKind.Hydronic));
        Assert.Equal(rated, High(HeaterKind.WoodStove));
        // 4 % per 1000 ft above the sea: 3000 m are 9843 ft.
        Assert.Equal(rated * (1 - (0.04 * 9.8425)), High(HeaterKind.RoomSealedGas), 0.1);
    }

    [Fact]
    public void The_boiler_of_the_table_burns_what_its_manual_says_within_the_tenth_it_allows()
    {
        // A fleet's technical manual: 0.62 L/h at 5.0 kW and 0.27 L/h at 2.4 kW, each within 10 %; diesel of 0.84 kg/L.
        HeaterClass boiler = Heaters.Nearest(HeaterKind.Hydronic, Power.FromKilowatts(5))!;
        double LitresPerHour(double kilowatts) => FuelUse.Rate(boiler.Fuel!, Power.FromKilowatts(kilowatts), boiler.Efficiency).KilogramsPerHour / 0.84;
        Assert.InRange(LitresPerHour(5), 0.9 * 0.62, 1.1 * 0.62);
        Assert.InRange(LitresPerHour(2.4), 0.9 * 0.27, 1.1 * 0.27);
    }

    [Fact]
    public void No_heater_is_no_class() => Assert.Null(Heaters.Nearest(HeaterKind.None, Power.FromKilowatts(2)));

    [Fact]
    public void The_nearest_class_is_found_by_rated_output() =>
        Assert.Equal("liquid-4kw", Heaters.Nearest(HeaterKind.RoomSealedLiquidFuel, Power.FromKilowatts(3.5))!.Key);

    [Fact]
    public void The_fuel_table_agrees_with_the_fuel_rates_of_its_source()
    {
        // Diesel air heaters of the 2 kW class, 0.1 to 0.28 L/h (from memory): the table must lie inside.
        HeaterClass heater = Heaters.Nearest(HeaterKind.RoomSealedLiquidFuel, Power.FromKilowatts(2))!;
        double LitresPerHour(Power output) => FuelUse.Rate(heater.Fuel!, output, heater.Efficiency).KilogramsPerHour / 0.84;

        Assert.InRange(LitresPerHour(heater.LowestOutput), 0.0995, 0.28);
        Assert.InRange(LitresPerHour(heater.RatedOutput), 0.1, 0.28);
    }

    [Fact]
    public void Fuel_rises_with_output_and_falls_with_efficiency() =>
        Gen.Select(Gen.Double[100, 5000], Gen.Double[1, 1000], Gen.Double[0.3, 0.9]).Sample((watts, more, efficiency) =>
        {
            double Rate(double w, double e) => FuelUse.Rate(Fuel.Diesel, Power.FromWatts(w), e).KilogramsPerHour;
            Assert.True(Rate(watts + more, efficiency) > Rate(watts, efficiency));
            Assert.True(Rate(watts, efficiency + 0.05) < Rate(watts, efficiency));
        });

    [Fact]
    public void Gas_input_falls_with_altitude_above_2000_feet_and_not_below()
    {
        Assert.Equal(1, FuelUse.GasInputShare(Length.FromFeet(1999)).DecimalFractions);
        Assert.Equal(0.92, FuelUse.GasInputShare(Length.FromFeet(2001)).DecimalFractions, 1e-3);
        Gen.Select(Gen.Double[610, 4900], Gen.Double[1, 100]).Sample((metres, more) =>
            Assert.True(FuelUse.GasInputShare(Length.FromMeters(metres + more)).DecimalFractions
                < FuelUse.GasInputShare(Length.FromMeters(metres)).DecimalFractions));
    }

    [Fact]
    public void Heat_flows_inwards_when_it_is_warmer_outside() =>
        Assert.Equal(-100, (double)HeatLoss.Transmission(
            HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(2), Area.FromSquareMeters(5),
            Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(30)).Watts, 1e-6);

    [Fact]
    public void An_efficiency_out_of_range_is_refused() =>
        Assert.Contains(
            "Efficiency is 1.2; expected 0.2 to 1.",
            Assert.Throws<ArgumentOutOfRangeException>(() => FuelUse.Rate(Fuel.Diesel, Power.FromKilowatts(1), 1.2)).Message,
            StringComparison.Ordinal);
}
