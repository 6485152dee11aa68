using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Tests.Validation;
using UnitsNet;
using static ConsultDesk.Calculations.Tests.Validation.Tolerance;

namespace ConsultDesk.Calculations.Tests.Air;

/// <summary>Moist air and the standard atmosphere.</summary>
public static class PsychrometricChecks
{
    private const string Table1 = "ASHRAE HoF 2017 ch. 1 Table 1, in psychrolib tests at 3066345";
    private const string Table2 = "ASHRAE HoF 2017 ch. 1 Table 2 (real moist air), in psychrolib tests at 3066345";
    private const string Table2Recalled = "ASHRAE HoF ch. 1 Table 2 (real moist air), recalled";
    private const string Table3 = "ASHRAE HoF 2017 ch. 1 Table 3, in psychrolib tests at 3066345";
    private const string Example1 = "ASHRAE HoF 2017 ch. 1 Example 1, in psychrolib tests at 3066345";
    private const string Spreadsheet = "psychrolib tests at 3066345 (spreadsheet of ASHRAE's equations)";
    private const string HylandWexler = "Hyland and Wexler 1983 (ASHRAE ch. 1 eq. 5, 6), evaluated with npm psychrolib 1.1.1";
    private const string Sbi224 = "SBi-anvisning 224 (Danish moisture guideline), Annex A Table 23";
    private const string Smithsonian = "Smithsonian Meteorological Tables (1951), undercooled water, recalled";

    private static readonly Pressure SeaLevel = Pressure.FromPascals(101_325);

    public static CheckGroup Group { get; } = new("Moist air",
    [
        Saturation(-60, 1.08, Absolute(0.01), Table3, Sureness.Read),
        Saturation(-20, 103.24, Relative(3e-4), Table3, Sureness.Read),
        Saturation(-5, 401.74, Relative(3e-4), Table3, Sureness.Read),
        Saturation(5, 872.6, Relative(3e-4), Table3, Sureness.Read),
        Saturation(25, 3169.7, Relative(3e-4), Table3, Sureness.Read),
        Saturation(50, 12351.3, Relative(3e-4), Table3, Sureness.Read),
        Saturation(26.85, 3536.58941, Relative(3e-4), "IAPWS-IF97 Table 35 (300 K), in several public test suites", Sureness.Read),
        Saturation(-43.15, 8.94735, Relative(3e-3), "IAPWS R14-08(2011) Table 3 (230 K, ice), in tests of PyPI iapws", Sureness.Read),
        Saturation(-19, 113.9, Relative(3e-3), Sbi224, Sureness.Read),
        Saturation(31, 4492, Relative(3e-3), Sbi224, Sureness.Read),
        Saturation(32, 4755, Relative(3e-3), Sbi224, Sureness.Read),
        Saturation(-40, 12.8452493, Relative(1e-6), HylandWexler, Sureness.Derived),
        Saturation(-30, 38.01567717, Relative(1e-6), HylandWexler, Sureness.Derived),
        Saturation(-10, 259.902865, Relative(1e-6), HylandWexler, Sureness.Derived),
        Saturation(0, 611.1535709, Relative(1e-6), HylandWexler, Sureness.Derived),
        Saturation(10, 1227.995275, Relative(1e-6), HylandWexler, Sureness.Derived),
        Saturation(20, 2338.8037, Relative(1e-6), HylandWexler, Sureness.Derived),
        Saturation(30, 4246.030244, Relative(1e-6), HylandWexler, Sureness.Derived),
        Saturation(40, 7383.460009, Relative(1e-6), HylandWexler, Sureness.Derived),
        OverWater(-10, 286.27),
        OverWater(-20, 125.40),
        OverWater(-30, 50.88),
        OverWater(-40, 18.91),
        Concentration(-20, 0.886),
        Concentration(-19, 0.971),
        Concentration(31, 32.00),
        Concentration(32, 33.76),

        SaturatedRatio(-50, 0.0000243, 0.01, Table2, Sureness.Read),
        SaturatedRatio(-20, 0.0006373, 0.01, Table2, Sureness.Read),
        SaturatedRatio(-5, 0.0024863, 0.005, Table2, Sureness.Read),
        SaturatedRatio(5, 0.005425, 0.005, Table2, Sureness.Read),
        SaturatedRatio(25, 0.020173, 0.005, Table2, Sureness.Read),
        SaturatedRatio(50, 0.086863, 0.01, Table2, Sureness.Read),
        SaturatedRatio(-40, 0.0000793, 0.007, Table2Recalled, Sureness.Memory),
        SaturatedRatio(-10, 0.0016062, 0.007, Table2Recalled, Sureness.Memory),
        SaturatedRatio(0, 0.0037895, 0.007, Table2Recalled, Sureness.Memory),
        SaturatedRatio(20, 0.014758, 0.007, Table2Recalled, Sureness.Memory),
        SaturatedRatio(40, 0.049141, 0.007, Table2Recalled, Sureness.Memory),
        new("Humidity ratio", "pv 3169.7 Pa, p 95461 Pa", 0.0213603998, "kg/kg", Relative(1e-6),
            () => MoistAir.HumidityRatio(Pressure.FromPascals(3169.7), Pressure.FromPascals(95_461)).DecimalFractions,
            Spreadsheet, Sureness.Read),
        FromWetBulb(30, 25, 95_461, 0.01922812742),
        FromWetBulb(-1, -5, 95_461, 0.001203998199),

        SaturatedEnthalpy(-20, -18_542),
        SaturatedEnthalpy(5, 18_639),
        SaturatedEnthalpy(25, 76_504),
        SaturatedEnthalpy(50, 275_353),
        new("Enthalpy", "25 °C, dry air", 25_148, "J/kg", Relative(3e-4),
            () => MoistAir.Enthalpy(Celsius(25), Ratio.Zero).JoulesPerKilogram, Table2, Sureness.Read),
        new("Enthalpy", "30 °C, W 0.02", 81_316, "J/kg", Relative(3e-4),
            () => MoistAir.Enthalpy(Celsius(30), Fraction(0.02)).JoulesPerKilogram, Spreadsheet, Sureness.Read),
        new("Specific volume", "25 °C, dry air, 101325 Pa", 0.8443, "m3/kg", Relative(1e-3),
            () => MoistAir.SpecificVolume(Celsius(25), Ratio.Zero, SeaLevel).CubicMetersPerKilogram, Table2, Sureness.Read),
        new("Specific volume", "30 °C, W 0.02, 95461 Pa", 0.9408553744, "m3/kg", Relative(3e-4),
            () => MoistAir.SpecificVolume(Celsius(30), Fraction(0.02), Pressure.FromPascals(95_461)).CubicMetersPerKilogram,
            Spreadsheet, Sureness.Read),
        new("Density", "30 °C, W 0.02, 95461 Pa", 1.084119863, "kg/m3", Relative(3e-4),
            () => MoistAir.Density(Celsius(30), Fraction(0.02), Pressure.FromPascals(95_461)).KilogramsPerCubicMeter,
            Spreadsheet, Sureness.Read),
        new("Wet bulb", "7 °C, 61 %, 100 kPa", 3.926674338, "°C", Relative(1e-3),
            () => MoistAir.WetBulb(
                Celsius(7),
                MoistAir.VapourPressure(Celsius(7), RelativeHumidity.FromPercent(61)),
                Pressure.FromPascals(100_000)).DegreesCelsius,
            "psychrolib tests at 3066345", Sureness.Read),
        new("Dew point", "20 °C, 50 %", 9.3, "°C", Absolute(0.05),
            () => MoistAir.DewPoint(MoistAir.VapourPressure(Celsius(20), RelativeHumidity.FromPercent(50))).DegreesCelsius,
            "DIN 4108-3 table of dew points, recalled", Sureness.Memory),
        new("Humidity ratio", "40 °C dry, 20 °C wet bulb, 101325 Pa", 0.0065, "kg/kg", Absolute(1e-4),
            () => ExampleRatio().DecimalFractions, Example1, Sureness.Read) { Equation = "Humidity ratio from wet bulb" },
        new("Dew point", "40 °C dry, 20 °C wet bulb, 101325 Pa", 7, "°C", Absolute(0.5),
            () => MoistAir.DewPoint(ExampleVapour()).DegreesCelsius, Example1, Sureness.Read),
        new("Relative humidity", "40 °C dry, 20 °C wet bulb, 101325 Pa", 14, "%", Absolute(1),
            () => MoistAir.RelativeHumidity(Celsius(40), ExampleVapour()).Percent, Example1, Sureness.Read),
        new("Enthalpy", "40 °C dry, 20 °C wet bulb, 101325 Pa", 56_700, "J/kg", Absolute(100),
            () => MoistAir.Enthalpy(Celsius(40), ExampleRatio()).JoulesPerKilogram, Example1, Sureness.Read),
        new("Specific volume", "40 °C dry, 20 °C wet bulb, 101325 Pa", 0.896, "m3/kg", Relative(0.01),
            () => MoistAir.SpecificVolume(Celsius(40), ExampleRatio(), SeaLevel).CubicMetersPerKilogram, Example1, Sureness.Read),

        AtmospherePressure(0, 101_325),
        AtmospherePressure(500, 95_461),
        AtmospherePressure(1000, 89_875),
        AtmospherePressure(4000, 61_640),
        AtmosphereTemperature(500, 11.8),
        AtmosphereTemperature(1000, 8.5),
        AtmosphereTemperature(4000, -11),
    ]);

    private static Temperature Celsius(double value) => Temperature.FromDegreesCelsius(value);

    private static Ratio Fraction(double value) => Ratio.FromDecimalFractions(value);

    private static Ratio ExampleRatio() => MoistAir.HumidityRatioFromWetBulb(Celsius(40), Celsius(20), SeaLevel);

    private static Pressure ExampleVapour() => MoistAir.VapourPressure(ExampleRatio(), SeaLevel);

    private static Check Saturation(double celsius, double expected, Tolerance tolerance, string source, Sureness origin) => new(
        "Saturation pressure", $"{celsius} °C", expected, "Pa", tolerance,
        () => MoistAir.SaturationPressure(Celsius(celsius)).Pascals, source, origin)
    {
        Equation = celsius < MoistAir.TriplePointC ? "Saturation pressure over ice" : "Saturation pressure over water",
    };

    private static Check OverWater(double celsius, double expected) => new(
        "Saturation pressure over undercooled water", $"{celsius} °C", expected, "Pa", Relative(0.01),
        () => MoistAir.SaturationPressureOverWater(Celsius(celsius)).Pascals, Smithsonian, Sureness.Memory);

    private static Check Concentration(double celsius, double expected) => new(
        "Vapour concentration at saturation", $"{celsius} °C", expected, "g/m3", Relative(3e-3),
        () => 1000 * MoistAir.VapourConcentration(Celsius(celsius), MoistAir.SaturationPressure(Celsius(celsius))).KilogramsPerCubicMeter,
        Sbi224, Sureness.Read);

    private static Check SaturatedRatio(double celsius, double expected, double tolerance, string source, Sureness origin) => new(
        "Humidity ratio at saturation", $"{celsius} °C, 101325 Pa", expected, "kg/kg", Relative(tolerance),
        () => MoistAir.HumidityRatio(MoistAir.SaturationPressure(Celsius(celsius)), SeaLevel).DecimalFractions, source, origin)
    {
        Equation = "Humidity ratio",
    };

    private static Check SaturatedEnthalpy(double celsius, double expected) => new(
        "Enthalpy at saturation", $"{celsius} °C, 101325 Pa", expected, "J/kg", Relative(0.01),
        () => MoistAir.Enthalpy(
            Celsius(celsius),
            MoistAir.HumidityRatio(MoistAir.SaturationPressure(Celsius(celsius)), SeaLevel)).JoulesPerKilogram,
        Table2, Sureness.Read)
    {
        Equation = "Enthalpy",
    };

    private static Check FromWetBulb(double celsius, double wetBulb, double pascals, double expected) => new(
        "Humidity ratio from wet bulb", $"{celsius} °C dry, {wetBulb} °C wet bulb, {pascals} Pa", expected, "kg/kg", Relative(3e-4),
        () => MoistAir.HumidityRatioFromWetBulb(Celsius(celsius), Celsius(wetBulb), Pressure.FromPascals(pascals)).DecimalFractions,
        Spreadsheet, Sureness.Read);

    private static Check AtmospherePressure(double metres, double expected) => new(
        "Standard atmosphere, pressure", $"{metres} m", expected, "Pa", Absolute(1),
        () => StandardAtmosphere.Pressure(Length.FromMeters(metres)).Pascals, Table1, Sureness.Read);

    private static Check AtmosphereTemperature(double metres, double expected) => new(
        "Standard atmosphere, temperature", $"{metres} m", expected, "°C", Absolute(0.1),
        () => StandardAtmosphere.Temperature(Length.FromMeters(metres)).DegreesCelsius, Table1, Sureness.Read);
}
