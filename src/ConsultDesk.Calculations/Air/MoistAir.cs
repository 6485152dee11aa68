using System.Runtime.CompilerServices;
using ConsultDesk.Calculations.Lanes;
using UnitsNet;

namespace ConsultDesk.Calculations.Air;

/// <summary>
/// Properties of moist air as an ideal mixture of dry air and water vapour
/// (ASHRAE Handbook Fundamentals 2017, chapter 1).
/// </summary>
/// <remarks>
/// <para>Valid for the temperatures of <see cref="TemperatureRange"/> and the pressures of
/// <see cref="PressureRange"/>. The ideal mixture lies 0.4 to 0.6 % below the tables of real moist air.</para>
/// <para>The members that take quantities check their range. The internal members with the unit in their name
/// are the same equations for inner loops: they take plain SI numbers (temperatures in degrees Celsius),
/// allocate nothing and check nothing.</para>
/// </remarks>
public static class MoistAir
{
    /// <summary>Temperatures accepted, -60 to 80 degrees Celsius.</summary>
    public static readonly ValidRange TemperatureRange = new("Temperature", -60, 80, "°C");

    /// <summary>Total pressures accepted, 50 to 110 kPa: about 5500 m of altitude to 700 m below the sea.</summary>
    public static readonly ValidRange PressureRange = new("Air pressure", 50_000, 110_000, "Pa");

    /// <summary>Vapour pressures with a dew or frost point within <see cref="TemperatureRange"/>.</summary>
    public static readonly ValidRange VapourPressureRange = new(
        "Vapour pressure",
        SaturationPressurePa(TemperatureRange.Minimum),
        SaturationPressurePa(TemperatureRange.Maximum),
        "Pa");

    /// <summary>Relative humidities accepted, 0 to 100 %.</summary>
    public static readonly ValidRange RelativeHumidityRange = new("Relative humidity", 0, 100, "%");

    /// <summary>Humidity ratios accepted, 0 to 5 kg of water per kg of dry air: above saturated air at 80 degrees Celsius and 5000 m.</summary>
    public static readonly ValidRange HumidityRatioRange = new("Humidity ratio", 0, 5, "kg/kg");

    /// <summary>Triple point of water, degrees Celsius: ice below, water from here on.</summary>
    public const double TriplePointC = 0.01;

    /// <summary>0 degrees Celsius in kelvin.</summary>
    public const double ZeroCelsiusK = 273.15;

    /// <summary>Molar mass of water over that of dry air, ASHRAE 2017 ch. 1 eq. 20.</summary>
    public const double MolarMassRatio = 0.621945;

    /// <summary>Gas constant of dry air, J/(kg K), ASHRAE 2017 ch. 1 eq. 1.</summary>
    public const double DryAirGasConstant = 287.042;

    /// <summary>Molar mass of dry air, kg/mol.</summary>
    internal const double DryAirKgPerMol = 0.028965;

    /// <summary>Gas constant of water vapour, J/(kg K).</summary>
    public const double VapourGasConstant = 461.5;

    /// <summary>Specific heat capacity of dry air at constant pressure, J/(kg K), ASHRAE 2017 ch. 1 eq. 30.</summary>
    public const double DryAirHeatCapacity = 1006;

    /// <summary>Specific heat capacity of water vapour at constant pressure, J/(kg K), ASHRAE 2017 ch. 1 eq. 30.</summary>
    public const double VapourHeatCapacity = 1860;

    /// <summary>Heat of evaporation at 0 degrees Celsius, J/kg, ASHRAE 2017 ch. 1 eq. 30.</summary>
    public const double EvaporationHeat = 2_501_000;

    /// <summary>Heat of sublimation at 0 degrees Celsius, J/kg, ASHRAE 2017 ch. 1 eq. 35.</summary>
    public const double SublimationHeat = 2_830_000;

    /// <summary>
    /// Saturation pressure over ice below 0.01 degrees Celsius and over water from there on.
    /// Hyland and Wexler 1983, ASHRAE 2017 ch. 1 eq. 5 and 6.
    /// </summary>
    public static Pressure SaturationPressure(Temperature temperature) =>
        Pressure.FromPascals(SaturationPressurePa(CheckedC(temperature, nameof(temperature))));

    /// <summary>Saturation pressure over water also below freezing, to which relative humidity refers.</summary>
    /// <remarks>
    /// Hyland and Wexler give equation 6 for 0 to 200 degrees Celsius. Below 0 it is continued to undercooled water,
    /// as hygrometers are calibrated (WMO No. 8); against the Smithsonian tables it stays within 1 % to -40.
    /// </remarks>
    public static Pressure SaturationPressureOverWater(Temperature temperature) =>
        Pressure.FromPascals(SaturationPressureOverWaterPa(CheckedC(temperature, nameof(temperature))));

    /// <summary>Vapour pressure = relative humidity times saturation pressure over water (WMO No. 8 convention).</summary>
    public static Pressure VapourPressure(Temperature temperature, RelativeHumidity relativeHumidity) =>
        Pressure.FromPascals(
            RelativeHumidityRange.Check(relativeHumidity.Percent, nameof(relativeHumidity)) / 100
            * SaturationPressureOverWaterPa(CheckedC(temperature, nameof(temperature))));

    /// <summary>Vapour pressure from the humidity ratio, ASHRAE 2017 ch. 1 eq. 20 solved for the vapour pressure.</summary>
    public static Pressure VapourPressure(Ratio humidityRatio, Pressure pressure) =>
        Pressure.FromPascals(VapourPressurePa(
            HumidityRatioRange.Check(humidityRatio.DecimalFractions, nameof(humidityRatio)),
            CheckedPa(pressure, nameof(pressure))));

    /// <summary>Relative humidity over water, 0 to 100 %; at freezing temperatures frost forms below 100 %.</summary>
    public static RelativeHumidity RelativeHumidity(Temperature temperature, Pressure vapourPressure)
    {
        double temperatureC = CheckedC(temperature, nameof(temperature));
        double share = vapourPressure.Pascals / SaturationPressureOverWaterPa(temperatureC);
        return UnitsNet.RelativeHumidity.FromPercent(
            RelativeHumidityRange.Check(100 * share, nameof(vapourPressure)));
    }

    /// <summary>
    /// Dew point, or frost point below 0.01 degrees Celsius: the temperature whose saturation pressure is the
    /// vapour pressure, by Newton's method on the logarithm.
    /// </summary>
    public static Temperature DewPoint(Pressure vapourPressure) =>
        Temperature.FromDegreesCelsius(DewPointC(
            VapourPressureRange.Check(vapourPressure.Pascals, nameof(vapourPressure))));

    /// <summary>Humidity ratio, kg of water per kg of dry air: W = 0.621945 pv / (p - pv), ASHRAE 2017 ch. 1 eq. 20.</summary>
    public static Ratio HumidityRatio(Pressure vapourPressure, Pressure pressure)
    {
        double vapourPressurePa = vapourPressure.Pascals;
        double pressurePa = CheckedPa(pressure, nameof(pressure));
        // The upper limit leaves dry air in the mixture at every pressure accepted.
        new ValidRange("Vapour pressure", 0, Math.Min(VapourPressureRange.Maximum, 0.95 * pressurePa), "Pa")
            .Check(vapourPressurePa, nameof(vapourPressure));
        return Ratio.FromDecimalFractions(HumidityRatio(vapourPressurePa, pressurePa));
    }

    /// <summary>
    /// Thermodynamic wet-bulb temperature, ASHRAE 2017 ch. 1 eq. 33 (water on the wick) and 35 (ice), by bisection.
    /// Where a wet and an iced wick would both balance, the wet one is given.
    /// </summary>
    public static Temperature WetBulb(Temperature temperature, Pressure vapourPressure, Pressure pressure)
    {
        double temperatureC = CheckedC(temperature, nameof(temperature));
        double pressurePa = CheckedPa(pressure, nameof(pressure));
        double saturationPa = SaturationPressurePa(temperatureC);
        new ValidRange("Vapour pressure", 0, saturationPa, "Pa")
            .Check(vapourPressure.Pascals, nameof(vapourPressure));
        new ValidRange("Saturation pressure", 0, 0.95 * pressurePa, "Pa").Check(saturationPa, nameof(temperature));
        return Temperature.FromDegreesCelsius(
            WetBulbC(temperatureC, HumidityRatio(vapourPressure.Pascals, pressurePa), pressurePa));
    }

    /// <summary>Humidity ratio from dry-bulb and wet-bulb temperature, ASHRAE 2017 ch. 1 eq. 33 and 35.</summary>
    public static Ratio HumidityRatioFromWetBulb(Temperature temperature, Temperature wetBulb, Pressure pressure)
    {
        double temperatureC = CheckedC(temperature, nameof(temperature));
        double wetBulbC = new ValidRange("Wet-bulb temperature", TemperatureRange.Minimum, temperatureC, "°C")
            .Check(wetBulb.DegreesCelsius, nameof(wetBulb));
        double pressurePa = CheckedPa(pressure, nameof(pressure));
        double humidityRatio = HumidityRatioFromWetBulb(temperatureC, wetBulbC, pressurePa);
        return humidityRatio >= 0
            ? Ratio.FromDecimalFractions(humidityRatio)
            : throw new ArgumentOutOfRangeException(
                nameof(wetBulb), wetBulbC, "Wet-bulb temperature is colder than perfectly dry air can make it.");
    }

    /// <summary>Enthalpy per kg of dry air, zero for dry air at 0 degrees Celsius: h = 1006 t + W (2501000 + 1860 t), ASHRAE 2017 ch. 1 eq. 30.</summary>
    public static SpecificEnergy Enthalpy(Temperature temperature, Ratio humidityRatio) =>
        SpecificEnergy.FromJoulesPerKilogram(EnthalpyJPerKg(
            CheckedC(temperature, nameof(temperature)),
            HumidityRatioRange.Check(humidityRatio.DecimalFractions, nameof(humidityRatio))));

    /// <summary>Volume per kg of dry air: v = 287.042 T (1 + 1.607858 W) / p, ASHRAE 2017 ch. 1 eq. 26.</summary>
    public static SpecificVolume SpecificVolume(Temperature temperature, Ratio humidityRatio, Pressure pressure) =>
        UnitsNet.SpecificVolume.FromCubicMetersPerKilogram(SpecificVolumeM3PerKg(
            CheckedC(temperature, nameof(temperature)),
            HumidityRatioRange.Check(humidityRatio.DecimalFractions, nameof(humidityRatio)),
            CheckedPa(pressure, nameof(pressure))));

    /// <summary>Density of the mixture: rho = (1 + W) / v, ASHRAE 2017 ch. 1 eq. 11.</summary>
    public static Density Density(Temperature temperature, Ratio humidityRatio, Pressure pressure) =>
        UnitsNet.Density.FromKilogramsPerCubicMeter(DensityKgPerM3(
            CheckedC(temperature, nameof(temperature)),
            HumidityRatioRange.Check(humidityRatio.DecimalFractions, nameof(humidityRatio)),
            CheckedPa(pressure, nameof(pressure))));

    /// <summary>Mass of water vapour per volume of air: pv / (461.5 T), ideal gas.</summary>
    public static Density VapourConcentration(Temperature temperature, Pressure vapourPressure) =>
        UnitsNet.Density.FromKilogramsPerCubicMeter(VapourConcentrationKgPerM3(
            CheckedC(temperature, nameof(temperature)),
            new ValidRange("Vapour pressure", 0, VapourPressureRange.Maximum, "Pa")
                .Check(vapourPressure.Pascals, nameof(vapourPressure))));

    /// <summary>Saturation pressure in Pa over ice below 0.01 degrees Celsius, over water from there on. Valid -100 to 200 degrees Celsius.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static double SaturationPressurePa(double temperatureC) =>
        temperatureC < TriplePointC ? SaturationPressureOverIcePa(temperatureC) : SaturationPressureOverWaterPa(temperatureC);

    /// <summary>Derivative of <see cref="SaturationPressurePa"/>, Pa/K.</summary>
    internal static double SaturationPressureSlopePaPerK(double temperatureC) =>
        SaturationPressurePa(temperatureC) * LogSlopePerK(temperatureC, temperatureC < TriplePointC);

    /// <summary>Hyland and Wexler 1983 eq. 18, ASHRAE 2017 ch. 1 eq. 5: -100 to 0.01 degrees Celsius.</summary>
    internal static double SaturationPressureOverIcePa(double temperatureC)
    {
        double t = temperatureC + ZeroCelsiusK;
        return Math.Exp((-5.6745359e3 / t) + 6.3925247
            + (t * (-9.677843e-3 + (t * (6.2215701e-7 + (t * (2.0747825e-9 - (t * 9.484024e-13)))))))
            + (4.1635019 * Math.Log(t)));
    }

    /// <summary>Hyland and Wexler 1983 eq. 17, ASHRAE 2017 ch. 1 eq. 6: 0 to 200 degrees Celsius, continued below for undercooled water.</summary>
    internal static double SaturationPressureOverWaterPa(double temperatureC)
    {
        double t = temperatureC + ZeroCelsiusK;
        return Math.Exp((-5.8002206e3 / t) + 1.3914993
            + (t * (-4.8640239e-2 + (t * (4.1764768e-5 - (t * 1.4452093e-8)))))
            + (6.5459673 * Math.Log(t)));
    }

    /// <summary>d ln(psat) / dT of the two equations above, 1/K.</summary>
    internal static double LogSlopePerK(double temperatureC, bool ice)
    {
        double t = temperatureC + ZeroCelsiusK;
        return ice
            ? (5.6745359e3 / (t * t)) - 9.677843e-3
                + (t * ((2 * 6.2215701e-7) + (t * ((3 * 2.0747825e-9) - (t * 4 * 9.484024e-13)))))
                + (4.1635019 / t)
            : (5.8002206e3 / (t * t)) - 4.8640239e-2
                + (t * ((2 * 4.1764768e-5) - (t * 3 * 1.4452093e-8)))
                + (6.5459673 / t);
    }

    /// <summary>Dew or frost point in degrees Celsius of a vapour pressure above 0 Pa, to 1e-9 K.</summary>
    internal static double DewPointC(double vapourPressurePa)
    {
        RequireVapour(vapourPressurePa);

        // The two equations meet at the triple point within a few parts in a billion; that gap belongs to the triple point.
        bool ice = vapourPressurePa < SaturationPressureOverIcePa(TriplePointC);
        return !ice && vapourPressurePa <= SaturationPressureOverWaterPa(TriplePointC)
            ? TriplePointC
            : SaturationTemperatureC(vapourPressurePa, ice);
    }

    /// <summary>Dew point over water, undercooled below freezing, in degrees Celsius: what weather files give in frost too.</summary>
    internal static double DewPointOverWaterC(double vapourPressurePa)
    {
        RequireVapour(vapourPressurePa);
        return SaturationTemperatureC(vapourPressurePa, ice: false);
    }

    private static void RequireVapour(double vapourPressurePa)
    {
        if (!(vapourPressurePa > 0))
        {
            throw new ArgumentOutOfRangeException(
                nameof(vapourPressurePa), vapourPressurePa, "Perfectly dry air has no dew point; expected a vapour pressure above 0 Pa.");
        }
    }

    private static double SaturationTemperatureC(double vapourPressurePa, bool ice)
    {
        double logarithm = Math.Log(vapourPressurePa);
        // Start: Magnus form with rounded constants; Newton then needs three or four steps.
        double scaled = logarithm - Math.Log(611.0);
        double temperatureC = ice ? 272.0 * scaled / (22.4 - scaled) : 240.0 * scaled / (17.4 - scaled);
        for (int step = 0; step < 20; step++)
        {
            double saturation = ice ? SaturationPressureOverIcePa(temperatureC) : SaturationPressureOverWaterPa(temperatureC);
            double change = (Math.Log(saturation) - logarithm) / LogSlopePerK(temperatureC, ice);
            temperatureC -= change;
            if (Math.Abs(change) < 1e-9)
            {
                return temperatureC;
            }
        }

        throw new ArithmeticException($"The dew point of {vapourPressurePa} Pa was not found in 20 steps.");
    }

    /// <summary>Relative humidity over water, share 0 to 1.</summary>
    internal static double RelativeHumidityShare(double temperatureC, double vapourPressurePa) =>
        vapourPressurePa / SaturationPressureOverWaterPa(temperatureC);

    /// <summary>Humidity ratio, kg/kg of dry air.</summary>
    internal static double HumidityRatio(double vapourPressurePa, double pressurePa) =>
        HumidityRatio(new ScalarLane(vapourPressurePa), new ScalarLane(pressurePa)).Value;

    /// <summary>The same in lanes.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static TLane HumidityRatio<TLane>(TLane vapourPressurePa, TLane pressurePa)
        where TLane : struct, ILane<TLane> =>
        TLane.Of(MolarMassRatio) * vapourPressurePa / (pressurePa - vapourPressurePa);

    /// <summary>Vapour pressure in Pa of a humidity ratio in kg/kg of dry air.</summary>
    internal static double VapourPressurePa(double humidityRatio, double pressurePa) =>
        VapourPressurePa(new ScalarLane(humidityRatio), new ScalarLane(pressurePa)).Value;

    /// <summary>The same in lanes.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static TLane VapourPressurePa<TLane>(TLane humidityRatio, TLane pressurePa)
        where TLane : struct, ILane<TLane> =>
        pressurePa * humidityRatio / (TLane.Of(MolarMassRatio) + humidityRatio);

    /// <summary>Enthalpy, J per kg of dry air.</summary>
    internal static double EnthalpyJPerKg(double temperatureC, double humidityRatio) =>
        EnthalpyJPerKg(new ScalarLane(temperatureC), new ScalarLane(humidityRatio)).Value;

    /// <summary>The same in lanes.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static TLane EnthalpyJPerKg<TLane>(TLane temperatureC, TLane humidityRatio)
        where TLane : struct, ILane<TLane> =>
        (TLane.Of(DryAirHeatCapacity) * temperatureC) + (humidityRatio * (TLane.Of(EvaporationHeat) + (TLane.Of(VapourHeatCapacity) * temperatureC)));

    /// <summary>Volume, m3 per kg of dry air.</summary>
    internal static double SpecificVolumeM3PerKg(double temperatureC, double humidityRatio, double pressurePa) =>
        SpecificVolumeM3PerKg(new ScalarLane(temperatureC), new ScalarLane(humidityRatio), new ScalarLane(pressurePa)).Value;

    /// <summary>The same in lanes.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static TLane SpecificVolumeM3PerKg<TLane>(TLane temperatureC, TLane humidityRatio, TLane pressurePa)
        where TLane : struct, ILane<TLane> =>
        TLane.Of(DryAirGasConstant) * (temperatureC + TLane.Of(ZeroCelsiusK)) * (TLane.Of(1) + (TLane.Of(1.607858) * humidityRatio)) / pressurePa;

    /// <summary>Density of the mixture, kg/m3.</summary>
    internal static double DensityKgPerM3(double temperatureC, double humidityRatio, double pressurePa) =>
        DensityKgPerM3(new ScalarLane(temperatureC), new ScalarLane(humidityRatio), new ScalarLane(pressurePa)).Value;

    /// <summary>The same in lanes.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static TLane DensityKgPerM3<TLane>(TLane temperatureC, TLane humidityRatio, TLane pressurePa)
        where TLane : struct, ILane<TLane> =>
        (TLane.Of(1) + humidityRatio) / SpecificVolumeM3PerKg(temperatureC, humidityRatio, pressurePa);

    /// <summary>Water vapour in the air, kg/m3.</summary>
    internal static double VapourConcentrationKgPerM3(double temperatureC, double vapourPressurePa) =>
        vapourPressurePa / (VapourGasConstant * (temperatureC + ZeroCelsiusK));

    /// <summary>Humidity ratio, kg/kg, from dry and wet bulb in degrees Celsius; negative where the pair is impossible.</summary>
    internal static double HumidityRatioFromWetBulb(double temperatureC, double wetBulbC, double pressurePa) =>
        HumidityRatioFromWetBulb(temperatureC, wetBulbC, pressurePa, wetBulbC < TriplePointC);

    private static double HumidityRatioFromWetBulb(double temperatureC, double wetBulbC, double pressurePa, bool ice)
    {
        double depression = temperatureC - wetBulbC;
        return ice
            ? (((2830 - (0.24 * wetBulbC)) * HumidityRatio(SaturationPressureOverIcePa(wetBulbC), pressurePa)) - (1.006 * depression))
                / (2830 + (1.86 * temperatureC) - (2.1 * wetBulbC))
            : (((2501 - (2.326 * wetBulbC)) * HumidityRatio(SaturationPressureOverWaterPa(wetBulbC), pressurePa)) - (1.006 * depression))
                / (2501 + (1.86 * temperatureC) - (4.186 * wetBulbC));
    }

    /// <summary>Wet bulb in degrees Celsius, to 1e-9 K.</summary>
    internal static double WetBulbC(double temperatureC, double humidityRatio, double pressurePa)
    {
        bool ice = temperatureC < TriplePointC
            || humidityRatio < HumidityRatioFromWetBulb(temperatureC, TriplePointC, pressurePa, ice: false);
        double low = ice ? -100 : TriplePointC;
        double high = ice ? Math.Min(temperatureC, TriplePointC) : temperatureC;
        while (high - low > 1e-9)
        {
            double middle = (low + high) / 2;
            if (HumidityRatioFromWetBulb(temperatureC, middle, pressurePa, ice) < humidityRatio)
            {
                low = middle;
            }
            else
            {
                high = middle;
            }
        }

        return (low + high) / 2;
    }

    private static double CheckedC(Temperature temperature, string parameter) =>
        TemperatureRange.Check(temperature.DegreesCelsius, parameter);

    private static double CheckedPa(Pressure pressure, string parameter) =>
        PressureRange.Check(pressure.Pascals, parameter);
}
