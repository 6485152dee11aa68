using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Tests.Validation;
using UnitsNet;
using static ConsultDesk.Calculations.Tests.Validation.Tolerance;

namespace ConsultDesk.Calculations.Tests.Moisture;

/// <summary>Vapour at cold surfaces, and people.</summary>
public static class MoistureChecks
{
    private const string Lewis = "hm = hc / (rho cp Le^(2/3)), beta = hm / (Rv T) with rho 1.204, cp 1006, Le 0.845, Rv 461.5, by hand";
    private const string GlassByHand = "beta (pi - psat) with psat of ISO 13788 (671.8 Pa) and L 2.5 MJ/kg, iterated by hand";
    private const string Jones = "Jones, Air Conditioning Engineering, 5th ed., Table 7.16";
    private const string D6245 = "ASTM D6245 / ASHRAE 62.1 equation (recalled), AD 1.8 m2, RQ 0.83, by hand";

    private static readonly Temperature Room = Temperature.FromDegreesCelsius(20);

    public static CheckGroup Group { get; } = new("Vapour and people",
    [
        Transfer(2.5, 1.70693165e-8),
        Transfer(3, 2.04831798e-8),
        Transfer(4, 2.73109064e-8),
        new("Coefficient of vapour transfer", "3 W/(m2 K), rule of thumb", 2.1e-8, "kg/(m2 s Pa)", Relative(0.05),
            () => Coefficient(3), "beta = 7e-9 hc, rule of thumb of the literature, recalled", Origin.Memory),
        new("Condensing on single glass, without latent heat", "20 °C, 50 %, -5 °C outside, hc 3", 36.62563411, "g/(m2 h)", Relative(2e-3),
            () => 3.6e6 * Coefficient(3) * ((0.5 * MoistAir.SaturationPressurePa(20)) - MoistAir.SaturationPressurePa(1.32183908)),
            GlassByHand, Origin.Derived),
        new("Condensing on single glass", "20 °C, 50 %, -5 °C outside, hc 3", 33.8, "g/(m2 h)", Relative(5e-3),
            () => WetGlass().Flux.GramsPerHourPerSquareMeter, GlassByHand, Origin.Derived),
        new("Surface of wet single glass", "20 °C, 50 %, -5 °C outside, hc 3", 2.094, "°C", Absolute(0.02),
            () => WetGlass().SurfaceTemperature.DegreesCelsius, GlassByHand, Origin.Derived),
        new("Coldest surface without mould", "20 °C, 50 %, limit 80 %", 12.6, "°C", Absolute(0.05),
            () => SurfaceHumidity.ColdestSurface(HalfHumid(), RelativeHumidity.FromPercent(80)).DegreesCelsius,
            "DIN 4108-2 minimum surface temperature, recalled", Origin.Memory),
        new("Temperature factor without mould", "20 °C, 50 %, -5 °C outside, limit 80 %", 0.70, "-", Absolute(0.01),
            () => SurfaceHumidity.TemperatureFactor(
                SurfaceHumidity.ColdestSurface(HalfHumid(), RelativeHumidity.FromPercent(80)), Room, Temperature.FromDegreesCelsius(-5)),
            "DIN 4108-2 requirement fRsi, recalled", Origin.Memory),

        Resting(20, 25),
        Resting(22, 35),
        Resting(24, 40),
        Resting(26, 50),
        new("Vapour of a latent heat", "45 W", 66.12, "g/h", Absolute(0.1),
            () => Occupants.Vapour(Power.FromWatts(45)).GramsPerHour, "45 x 3600 / 2450, by hand", Origin.Derived),
        Breath(0.7, 10.81389198),
        Breath(1.0, 15.44841711),
        Breath(1.2, 18.53810053),
        Breath(2.0, 30.89683422),
        new("Carbon dioxide of a sleeper", "0.7 met", 11.0, "L/h", Absolute(1.4),
            () => Occupants.CarbonDioxide(0.7, Area.FromSquareMeters(1.8)).LitersPerHour,
            "Emission rate of carbon dioxide while sleeping (2021): 11.0 ± 1.4 L/h measured", Origin.Read),
    ]);

    private static Pressure HalfHumid() => MoistAir.VapourPressure(Room, RelativeHumidity.FromPercent(50));

    private static double Coefficient(double convection) => VapourTransfer.Coefficient(
        HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(convection), Room, Density.FromKilogramsPerCubicMeter(1.204));

    private static SurfaceCondensation WetGlass() => Condensation.Steady(
        Glass.Path(
            Glass.PaneResistance(Calculations.Vehicle.GlassKind.SinglePane, Length.FromMillimeters(4), Length.Zero),
            Calculations.Vehicle.Cover.None, ThermalResistance.Zero, SurfaceFilms.Outside()),
        Room, Temperature.FromDegreesCelsius(-5), HalfHumid(), Coefficient(3));

    private static Check Transfer(double convection, double expected) => new(
        "Coefficient of vapour transfer", $"{convection} W/(m2 K), 20 °C", expected, "kg/(m2 s Pa)", Relative(1e-3),
        () => Coefficient(convection), Lewis, Origin.Derived);

    private static Check Resting(double celsius, double expected) => new(
        "Latent heat, seated at rest", $"{celsius} °C", expected, "W", Absolute(0.5),
        () => (double)Occupants.RestingLatentHeat(Temperature.FromDegreesCelsius(celsius)).Watts, Jones, Origin.Read);

    private static Check Breath(double met, double expected) => new(
        "Carbon dioxide of a person", $"{met} met", expected, "L/h", Relative(1e-3),
        () => Occupants.CarbonDioxide(met, Area.FromSquareMeters(1.8)).LitersPerHour, D6245, Origin.Derived);
}
