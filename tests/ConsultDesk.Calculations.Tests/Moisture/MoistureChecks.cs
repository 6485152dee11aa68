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
    private const string D6245 = "V = 0.00276 AD M RQ/(0.23 RQ + 0.77) L/s of ASTM D6245 and ASHRAE 62.1 (recalled), AD 1.8 m2, RQ 0.83, by hand";

    private static readonly Temperature Room = Temperature.FromDegreesCelsius(20);

    public static CheckGroup Group { get; } = new("Vapour and people",
    [
        Transfer(2.5, 1.70693165e-8),
        Transfer(3, 2.04831798e-8),
        Transfer(4, 2.73109064e-8),
        new("Coefficient of vapour transfer", "3 W/(m2 K), rule of thumb", 2.1e-8, "kg/(m2 s Pa)", Relative(0.05),
            () => Coefficient(3), "beta = 7e-9 hc, rule of thumb of the literature, recalled", Sureness.Memory),
        new("Condensing on single glass, without latent heat", "20 °C, 50 %, -5 °C outside, hc 3", 36.62563411, "g/(m2 h)", Relative(2e-3),
            () => 3.6e6 * Coefficient(3) * ((0.5 * MoistAir.SaturationPressurePa(20)) - MoistAir.SaturationPressurePa(1.32183908)),
            GlassByHand, Sureness.Derived),
        new("Condensing on single glass", "20 °C, 50 %, -5 °C outside, hc 3", 33.8, "g/(m2 h)", Relative(5e-3),
            () => WetGlass().Flux.GramsPerHourPerSquareMeter, GlassByHand, Sureness.Derived),
        new("Surface of wet single glass", "20 °C, 50 %, -5 °C outside, hc 3", 2.094, "°C", Absolute(0.02),
            () => WetGlass().SurfaceTemperature.DegreesCelsius, GlassByHand, Sureness.Derived),
        new("Coldest surface without mould", "20 °C, 50 %, limit 80 %", 12.6, "°C", Absolute(0.05),
            () => SurfaceHumidity.ColdestSurface(HalfHumid(), RelativeHumidity.FromPercent(80)).DegreesCelsius,
            "DIN 4108-2 minimum surface temperature, recalled", Sureness.Memory),
        new("Temperature factor without mould", "20 °C, 50 %, -5 °C outside, limit 80 %", 0.70, "-", Absolute(0.01),
            () => SurfaceHumidity.TemperatureFactor(
                SurfaceHumidity.ColdestSurface(HalfHumid(), RelativeHumidity.FromPercent(80)), Room, Temperature.FromDegreesCelsius(-5)),
            "DIN 4108-2 requirement fRsi, recalled", Sureness.Memory),

        Person("Vapour of a sleeper", "sleeper-water", 50, "g/h", Relative(0.25), "asleep 50 g/h: New Zealand metal roofing code of practice, 10.8.1", Sureness.Read),
        Person("Vapour of a person awake", "awake-water", 51.43, "g/h", Relative(0.05), Jones + ": 35 W latent at 22 °C, over 2.45 MJ/kg", Sureness.Read),
        Person("Heat of a sleeper", "sleeper-heat", 73.27, "W", Relative(0.05), "0.7 met of 58.15 W/m2 over 1.8 m2, by hand; 0.7 met of ASHRAE Fundamentals ch. 9 recalled", Sureness.Derived),
        Person("Heat of a person awake, adult male at 24 °C", "awake-heat", 105, "W", Relative(0.05), "ASHRAE Fundamentals 2013 ch. 18 Table 1, theatre, adjusted total", Sureness.Read),
        Person("Heat of a person awake, seated at rest", "awake-heat", 115, "W", Relative(0.10), Jones, Sureness.Read),
        Person("Carbon dioxide of a sleeper, measured", "sleeper-carbon-dioxide", 11.0, "L/h", Absolute(1.4),
            "Emission rate of carbon dioxide while sleeping (2021): 11.0 ± 1.4 L/h measured", Sureness.Read),
        Person("Carbon dioxide of a sleeper, 0.7 met", "sleeper-carbon-dioxide", 10.81389198, "L/h", Relative(0.05), D6245, Sureness.Derived),
        Person("Carbon dioxide of a person awake, 1.2 met", "awake-carbon-dioxide", 18.53810053, "L/h", Relative(0.02), D6245, Sureness.Derived),
        Person("Vapour of a dog of 22.7 kg", "animal-water", 19.7, "g/h", Relative(0.33), "one US pint a day for 50 lb: a trade page on household moisture", Sureness.Read),
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
        () => Coefficient(convection), Lewis, Sureness.Derived);

    // What runs is the table of assumed values, so that is what the sources are held against.
    private static Check Person(string quantity, string key, double expected, string unit, Tolerance tolerance, string source, Sureness origin) => new(
        quantity, $"row {key}, likely", expected, unit, tolerance, () => Calculations.Vehicle.Defaults.Likely(key), source, origin);
}
