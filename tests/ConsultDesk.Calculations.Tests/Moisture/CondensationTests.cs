using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Moisture;
using CsCheck;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Moisture;

public sealed class CondensationTests
{
    private static readonly Gen<double> AnySurfaceC = Gen.Double[-40, 25];
    private static readonly Gen<double> AnyCoefficient = Gen.Double[1e-9, 1e-7];
    private static readonly Gen<double> AnyConductance = Gen.Double[3, 60];

    [Fact]
    public void The_steady_flux_satisfies_both_of_its_equations() =>
        Gen.Select(Gen.Double[1, 4000], AnySurfaceC, AnyCoefficient, AnyConductance).Sample((vapourPa, dryC, beta, conductance) =>
        {
            double flux = Condensation.SteadyFluxKgPerM2S(vapourPa, dryC, beta, conductance);
            double wetC = Condensation.WetSurfaceC(dryC, flux, conductance);
            double saturation = Condensation.IsFrost(dryC)
                ? MoistAir.SaturationPressureOverIcePa(wetC)
                : MoistAir.SaturationPressureOverWaterPa(wetC);
            Assert.Equal(beta * (vapourPa - saturation), flux, 1e-9 * beta * (vapourPa + saturation));
        });

    [Fact]
    public void Latent_heat_lessens_the_flux_and_never_turns_it() =>
        Gen.Select(Gen.Double[1, 4000], AnySurfaceC, AnyCoefficient, AnyConductance).Sample((vapourPa, dryC, beta, conductance) =>
        {
            double excess = vapourPa - MoistAir.SaturationPressurePa(dryC);
            double steady = Condensation.SteadyFluxKgPerM2S(vapourPa, dryC, beta, conductance);
            double oneStep = Condensation.FluxKgPerM2S(vapourPa, dryC, beta, conductance);
            Assert.True(Math.Abs(steady) <= beta * Math.Abs(excess) * (1 + 1e-9));
            Assert.True(Math.Abs(oneStep) <= beta * Math.Abs(excess));
            Assert.True(steady * excess >= -1e-18 && oneStep * excess >= 0);
        });

    [Fact]
    public void One_step_of_elimination_is_near_the_steady_flux_for_ordinary_surfaces() =>
        // Within 2 K of warming; the error is of second order in it.
        Gen.Select(Gen.Double[200, 1500], Gen.Double[-15, 10], Gen.Double[1e-8, 3e-8], Gen.Double[25, 40]).Sample((vapourPa, dryC, beta, conductance) =>
        {
            double steady = Condensation.SteadyFluxKgPerM2S(vapourPa, dryC, beta, conductance);
            double oneStep = Condensation.FluxKgPerM2S(vapourPa, dryC, beta, conductance);
            Assert.Equal(steady, oneStep, 0.02 * Math.Abs(steady));
        });

    [Fact]
    public void A_surface_at_the_dew_point_neither_gains_nor_loses() =>
        Gen.Select(Gen.Double[5, 4000], AnyCoefficient).Sample((vapourPa, beta) =>
        {
            double flux = Condensation.SteadyFluxKgPerM2S(vapourPa, MoistAir.DewPointC(vapourPa), beta, 30);
            Assert.Equal(0, flux, 1e-6 * beta * vapourPa);
        });

    [Fact]
    public void Frost_takes_the_vapour_pressure_over_ice_and_the_heat_of_sublimation()
    {
        Assert.True(Condensation.IsFrost(0));
        Assert.False(Condensation.IsFrost(0.01));
        Assert.Equal(2_830_000, Condensation.LatentHeatJPerKg(-5));
        Assert.Equal(2_501_000, Condensation.LatentHeatJPerKg(5));
        // Between the saturation pressures over ice and over water at -10 °C (260 and 286 Pa) frost grows.
        Assert.True(Condensation.FluxKgPerM2S(275, -10, 2e-8, 30) > 0);
    }

    [Fact]
    public void Two_ways_in_series_resist_like_their_sum() =>
        Gen.Select(AnyCoefficient, AnyCoefficient).Sample((a, b) =>
            Assert.Equal((1 / a) + (1 / b), 1 / VapourTransfer.InSeries(a, b), 1e-9 * ((1 / a) + (1 / b))));

    [Theory]
    [InlineData(0)]
    [InlineData(-1e-8)]
    [InlineData(double.NaN)]
    public void A_surface_no_vapour_reaches_is_refused(double coefficient) =>
        Assert.Contains(
            "Coefficient of vapour transfer is expected above 0",
            Assert.Throws<ArgumentOutOfRangeException>(() => Condensation.Steady(
                new SurfacePath(0.13, 0.04), Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(0), Pressure.FromPascals(1000), coefficient)).Message,
            StringComparison.Ordinal);

    [Fact]
    public void More_vapour_than_air_of_80_degrees_holds_is_refused() =>
        Assert.Contains(
            "Vapour pressure is 90000 Pa; expected 0 to",
            Assert.Throws<ArgumentOutOfRangeException>(() => Condensation.Steady(
                new SurfacePath(0.13, 0.04), Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(0), Pressure.FromPascals(90_000), 1e-8)).Message,
            StringComparison.Ordinal);

    [Fact]
    public void A_temperature_factor_needs_a_kelvin_between_room_and_outdoors()
    {
        Temperature outdoor = Temperature.FromDegreesCelsius(10);

        Assert.Equal(0.5, SurfaceHumidity.TemperatureFactor(Temperature.FromDegreesCelsius(10.5), Temperature.FromDegreesCelsius(11), outdoor), 1e-9);
        Assert.Equal(0.5, SurfaceHumidity.TemperatureFactor(Temperature.FromDegreesCelsius(9.5), Temperature.FromDegreesCelsius(9), outdoor), 1e-9);
        Assert.Contains(
            "differ by at least 1 K",
            Assert.Throws<ArgumentOutOfRangeException>(() => SurfaceHumidity.TemperatureFactor(outdoor, Temperature.FromDegreesCelsius(10.9), outdoor)).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_limit_of_surface_humidity_is_refused_with_its_range() =>
        Assert.Contains(
            "Relative humidity at the surface is 10 %; expected 20 to 100 %.",
            Assert.Throws<ArgumentOutOfRangeException>(
                () => SurfaceHumidity.ColdestSurface(Pressure.FromPascals(1000), RelativeHumidity.FromPercent(10))).Message,
            StringComparison.Ordinal);

    [Fact]
    public void Vapour_transfer_is_refused_with_what_is_out_of_range()
    {
        Temperature air = Temperature.FromDegreesCelsius(20);
        Assert.Contains(
            "Density of the air is 3 kg/m3; expected 0.5 to 2 kg/m3.",
            Assert.Throws<ArgumentOutOfRangeException>(() => VapourTransfer.Coefficient(
                HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(3), air, Density.FromKilogramsPerCubicMeter(3))).Message,
            StringComparison.Ordinal);
        Assert.Contains(
            "Convective heat transfer coefficient is 0 W/(m2 K)",
            Assert.Throws<ArgumentOutOfRangeException>(() => VapourTransfer.Coefficient(
                HeatTransferCoefficient.Zero, air, Density.FromKilogramsPerCubicMeter(1.2))).Message,
            StringComparison.Ordinal);
    }
}
