using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using UnitsNet;
using UnitsNet.Units;

namespace ConsultDesk.Reports.Units;

/// <summary>
/// The one place where a quantity becomes text for a reader, and typed text becomes a quantity. The decimal point is
/// a point everywhere, a negative number has a real minus sign, and a no-break space stands before the unit.
/// </summary>
public sealed class DisplayUnits
{
    /// <summary>Stands between number and unit, so that a line never breaks there.</summary>
    public const string NoBreakSpace = "\u00A0";

    private const string MinusSign = "\u2212";

    private readonly Dictionary<Measure, DisplayUnit> _units;
    private readonly DisplayUnits? _preset;

    private DisplayUnits(string name, Dictionary<Measure, DisplayUnit> units, DisplayUnits? preset = null)
    {
        Name = name;
        _units = units;
        _preset = preset;
    }

    /// <summary>SI units as used in the trade.</summary>
    public static DisplayUnits Metric { get; } = new("Metric", new Dictionary<Measure, DisplayUnit>(Shared())
    {
        [Measure.Temperature] = new(TemperatureUnit.DegreeCelsius, "°C", 1),
        [Measure.TemperatureDifference] = new(TemperatureDeltaUnit.Kelvin, "K", 1),
        [Measure.SmallLength] = new(LengthUnit.Millimeter, "mm", 1, 4, Exact: true),
        [Measure.LargeLength] = new(LengthUnit.Meter, "m", 2),
        [Measure.Altitude] = new(LengthUnit.Meter, "m", 0, 4),
        [Measure.SmallArea] = new(AreaUnit.SquareCentimeter, "cm²", 1, Exact: true),
        [Measure.LargeArea] = new(AreaUnit.SquareMeter, "m²", 2),
        [Measure.Volume] = new(VolumeUnit.CubicMeter, "m³", 2),
        [Measure.AirFlow] = new(VolumeFlowUnit.CubicMeterPerHour, "m³/h", 1, 2, Trace: true, Whole: true),
        [Measure.Heat] = new(PowerUnit.Watt, "W", 0),
        [Measure.Pressure] = new(PressureUnit.Pascal, "Pa", 2),
        [Measure.BarometricPressure] = new(PressureUnit.Hectopascal, "hPa", 0, 4),
        [Measure.Fuel] = new(MassUnit.Kilogram, "kg", 2, Trace: true),
        [Measure.LargeMass] = new(MassUnit.Kilogram, "kg", 1),
        [Measure.WaterVolume] = new(VolumeUnit.Liter, "L", 1, Trace: true),
        [Measure.FuelVolume] = new(VolumeUnit.Liter, "L", 1, Trace: true),
        [Measure.HeatPerArea] = new(HeatFluxUnit.WattPerSquareMeter, "W/m²", 0),
        [Measure.UValue] = new(HeatTransferCoefficientUnit.WattPerSquareMeterKelvin, "W/(m²·K)", 2),
        [Measure.Conductivity] = new(ThermalConductivityUnit.WattPerMeterKelvin, "W/(m·K)", 3),
        [Measure.WindSpeed] = new(SpeedUnit.MeterPerSecond, "m/s", 1),
    });

    /// <summary>Inch, foot, Fahrenheit, cfm and BTU/h. Water stays in grams, energy in kWh.</summary>
    public static DisplayUnits Imperial { get; } = new("Imperial", new Dictionary<Measure, DisplayUnit>(Shared())
    {
        [Measure.Temperature] = new(TemperatureUnit.DegreeFahrenheit, "°F", 1, 4),
        [Measure.TemperatureDifference] = new(TemperatureDeltaUnit.DegreeFahrenheit, "°F", 1),
        [Measure.SmallLength] = new(LengthUnit.Inch, "in", 2, Exact: true),
        [Measure.LargeLength] = new(LengthUnit.Foot, "ft", 1),
        [Measure.Altitude] = new(LengthUnit.Foot, "ft", 0, 4),
        [Measure.SmallArea] = new(AreaUnit.SquareInch, "in²", 1, Exact: true),
        [Measure.LargeArea] = new(AreaUnit.SquareFoot, "ft²", 1),
        [Measure.Volume] = new(VolumeUnit.CubicFoot, "ft³", 0),
        [Measure.AirFlow] = new(VolumeFlowUnit.CubicFootPerMinute, "cfm", 1, 2, Trace: true, Whole: true),
        [Measure.Heat] = new(PowerUnit.BritishThermalUnitPerHour, "BTU/h", 0),
        [Measure.Pressure] = new(PressureUnit.InchOfWaterColumn, "inH₂O", 3),
        [Measure.BarometricPressure] = new(PressureUnit.InchOfMercury, "inHg", 2, 4),
        [Measure.Fuel] = new(MassUnit.Pound, "lb", 2, Trace: true),
        [Measure.LargeMass] = new(MassUnit.Pound, "lb", 1),
        [Measure.WaterVolume] = new(VolumeUnit.UsQuart, "qt", 1, Trace: true),
        [Measure.FuelVolume] = new(VolumeUnit.UsGallon, "gal", 2, Trace: true),
        [Measure.HeatPerArea] = new(HeatFluxUnit.BtuPerHourSquareFoot, "BTU/(h·ft²)", 1),
        [Measure.UValue] = new(HeatTransferCoefficientUnit.BtuPerHourSquareFootDegreeFahrenheit, "BTU/(h·ft²·°F)", 3),
        [Measure.Conductivity] = new(ThermalConductivityUnit.BtuPerHourFootFahrenheit, "BTU/(h·ft·°F)", 4),
        [Measure.WindSpeed] = new(SpeedUnit.MilePerHour, "mph", 1),
    });

    /// <summary>Both presets.</summary>
    public static IReadOnlyList<DisplayUnits> All { get; } = [Metric, Imperial];

    /// <summary>
    /// The kinds of number whose unit is chosen, in the order a person looks for them. What has one unit everywhere, and
    /// what follows another kind, is no choice of its own.
    /// </summary>
    public static ImmutableArray<Measure> Chosen { get; } =
    [
        Measure.Temperature, Measure.SmallLength, Measure.LargeLength, Measure.SmallArea, Measure.LargeArea, Measure.Volume,
        Measure.AirFlow, Measure.Heat, Measure.Pressure, Measure.BarometricPressure, Measure.FuelVolume, Measure.Fuel,
        Measure.WaterVolume, Measure.LargeMass, Measure.WindSpeed, Measure.Altitude, Measure.UValue,
    ];

    /// <summary>Units beside those of the presets.</summary>
    private static readonly Dictionary<Measure, DisplayUnit[]> Further = new()
    {
        [Measure.SmallLength] = [new(LengthUnit.Centimeter, "cm", 2, 4, Exact: true)],
        [Measure.Volume] = [new(VolumeUnit.Liter, "L", 0)],
        [Measure.AirFlow] = [new(VolumeFlowUnit.LiterPerSecond, "L/s", 1, 2, Trace: true, Whole: true)],
        [Measure.Heat] = [new(PowerUnit.Kilowatt, "kW", 3)],
        [Measure.WaterVolume] = [new(VolumeUnit.UsGallon, "gal", 2, Trace: true)],
        [Measure.WindSpeed] = [new(SpeedUnit.KilometerPerHour, "km/h", 0), new(SpeedUnit.Knot, "kn", 1)],
    };

    /// <summary>Kinds whose unit belongs to that of another kind: nobody thinks in °C and tells differences in °F.</summary>
    private static readonly Dictionary<Measure, Measure> Followed = new()
    {
        [Measure.TemperatureDifference] = Measure.Temperature,
        [Measure.Conductivity] = Measure.UValue,
        [Measure.HeatPerArea] = Measure.UValue,
    };

    /// <summary>Name of the preset: <c>Metric</c> or <c>Imperial</c>.</summary>
    public string Name { get; }

    /// <summary>What differs from the preset, as <see cref="With(string)"/> reads it; empty for the preset itself.</summary>
    public string Choices => string.Join(';', Chosen
        .Where(measure => Symbol(measure) != Preset.Symbol(measure))
        .Select(measure => Key(measure) + '=' + Symbol(measure)));

    private DisplayUnits Preset => _preset ?? this;

    /// <summary>The preset of that name.</summary>
    /// <exception cref="ArgumentException">No preset has that name.</exception>
    public static DisplayUnits Named(string name) => All.FirstOrDefault(units => units.Name == name)
        ?? throw new ArgumentException($"There are no display units named '{name}'; expected Metric or Imperial.", nameof(name));

    /// <summary>Symbols of the units a kind of number can be shown in, those of the presets first.</summary>
    public static ImmutableArray<string> SymbolsOf(Measure measure) => [.. UnitsOf(measure).Select(unit => unit.Symbol)];

    /// <summary>These units with some kinds of number in others.</summary>
    /// <param name="choices">
    /// <c>measure=symbol</c> with semicolons between, for example <c>temperature=°C;air-flow=cfm</c>; empty for none.
    /// </param>
    /// <exception cref="FormatException">It names a kind or a unit that does not exist, or a kind twice.</exception>
    public DisplayUnits With(string choices)
    {
        ArgumentNullException.ThrowIfNull(choices);
        var units = this;
        var seen = new HashSet<Measure>();
        foreach (var choice in choices.Length == 0 ? [] : choices.Split(';'))
        {
            var parts = choice.Split('=');
            if (parts.Length != 2)
            {
                throw new FormatException($"The unit choice '{choice}' cannot be read; expected measure=symbol, for example air-flow=cfm.");
            }

            var measure = Chosen.FirstOrDefault(known => Key(known) == parts[0], (Measure)(-1));
            if (measure < 0)
            {
                throw new FormatException($"There is no choice of unit for '{parts[0]}'; expected one of {string.Join(", ", Chosen.Select(Key))}.");
            }

            if (!seen.Add(measure))
            {
                throw new FormatException($"The unit of '{parts[0]}' is chosen twice; expected each kind once.");
            }

            units = units.With(measure, parts[1]);
        }

        return units;
    }

    /// <summary>These units with one kind of number, and what follows it, in another.</summary>
    /// <exception cref="FormatException">The kind is none of <see cref="Chosen"/>, or has no such unit.</exception>
    public DisplayUnits With(Measure measure, string symbol)
    {
        if (!Chosen.Contains(measure))
        {
            throw new FormatException($"There is no choice of unit for '{Key(measure)}'; expected one of {string.Join(", ", Chosen.Select(Key))}.");
        }

        var unit = UnitsOf(measure).FirstOrDefault(known => known.Symbol == symbol)
            ?? throw new FormatException($"'{symbol}' is no unit for '{Key(measure)}'; expected one of {string.Join(", ", SymbolsOf(measure))}.");
        var units = new Dictionary<Measure, DisplayUnit>(_units) { [measure] = unit };
        foreach (var (follower, leader) in Followed)
        {
            if (leader == measure)
            {
                units[follower] = (unit == Imperial._units[measure] ? Imperial : Metric)._units[follower];
            }
        }

        return new DisplayUnits(Name, units, Preset);
    }

    /// <summary>Unit symbol of a kind of number, empty for a count.</summary>
    public string Symbol(Measure measure) => _units[measure].Symbol;

    /// <summary>The value of a quantity in the unit of this kind of number, not rounded: for axes and scales.</summary>
    public double Value(Measure measure, IQuantity quantity) => _units[measure].Value(quantity);

    /// <summary>The quantity that is so many of the unit of this kind of number.</summary>
    public IQuantity Quantity(Measure measure, double value) => _units[measure].Quantity(value);

    /// <summary>
    /// Number and unit. The kind follows from the quantity: lengths under one metre in mm or in, areas under
    /// 0.1 m² in cm² or in², pressures from 10 kPa as barometric pressure, masses as water up to 2 kg.
    /// </summary>
    public string Format(IQuantity quantity) => Format(MeasureOf(quantity), quantity);

    /// <summary>Number and unit for a stated kind, for example a fuel mass or an altitude.</summary>
    public string Format(Measure measure, IQuantity quantity)
    {
        if (quantity is Duration duration && measure == Measure.Duration)
        {
            return FormatDuration(duration);
        }

        var symbol = Symbol(measure);
        var number = Number(measure, quantity);
        return symbol.Length == 0 ? number : number + NoBreakSpace + symbol;
    }

    /// <summary>Water by volume, one litre for each kilogram.</summary>
    public string FormatLitres(Mass water) => Format(Measure.WaterVolume, UnitsNet.Volume.FromLiters(water.Kilograms));

    /// <summary>Water on an area, from the mass on each square metre.</summary>
    public string FormatPerArea(Mass perSquareMetre) =>
        Format(Measure.WaterPerArea, AreaDensity.FromKilogramsPerSquareMeter(perSquareMetre.Kilograms));

    /// <summary>Electric energy as charge of a 12 V battery: a kilowatt-hour is 83.3 Ah.</summary>
    public string FormatAtTwelveVolts(Energy energy) =>
        Format(Measure.BatteryCharge, ElectricCharge.FromAmpereHours(energy.WattHours / 12)) + " at 12" + NoBreakSpace + "V";

    /// <summary>Number without unit, with the digits a reader can use: for table columns with the unit in the head.</summary>
    public string Number(Measure measure, IQuantity quantity)
    {
        var unit = _units[measure];
        var value = unit.Value(quantity);

        // Flows through openings are added up by readers: the digits before the point are all kept.
        var significantDigits = unit.Whole && Math.Abs(value) >= 1
            ? Math.Max(unit.SignificantDigits, (int)Math.Floor(Math.Log10(Math.Abs(value))) + 1)
            : unit.SignificantDigits;
        return Sensible(value, unit.Decimals, significantDigits, unit.Trace, unit.Exact);
    }

    /// <summary>
    /// Number without unit for an edit field: up to six significant digits, ASCII, no trailing zeros. Altitudes are whole:
    /// weather stations give theirs with decimals that nobody means.
    /// </summary>
    public string Entry(Measure measure, IQuantity quantity)
    {
        var value = Plain(_units[measure].Value(quantity));
        value = measure == Measure.Altitude ? Math.Round(value, MidpointRounding.AwayFromZero) : value;
        // Adding zero takes the sign from a negative one.
        return (value + 0d).ToString("0.############", CultureInfo.InvariantCulture);
    }

    /// <summary>
    /// Reads a typed number in the unit of its kind or in the one that follows it, a fraction, or feet with inches. A point or
    /// a comma is the decimal mark, a leading minus may be typed or real. Nothing is guessed and nothing is clamped.
    /// </summary>
    /// <param name="measure">Kind of number, which fixes the unit.</param>
    /// <param name="text">What was typed.</param>
    /// <param name="minimum">Smallest value accepted, or null.</param>
    /// <param name="maximum">Largest value accepted, or null.</param>
    public TypedQuantity Parse(Measure measure, string? text, IQuantity? minimum = null, IQuantity? maximum = null)
    {
        var unit = _units[measure];
        var typed = (text ?? "").Trim();
        if (typed.Length == 0)
        {
            return new(null, "Nothing is entered. " + Expected(measure, minimum, maximum));
        }

        var (quantity, trouble) = TypedText.Read(typed.Replace(MinusSign, "-", StringComparison.Ordinal).Replace(NoBreakSpace, " ", StringComparison.Ordinal), unit.Unit, unit.Symbol);
        if (quantity is null)
        {
            return new(null, trouble + " " + Expected(measure, minimum, maximum));
        }

        var number = unit.Value(quantity);

        // Compared in the unit of the field, with a hair's room for the conversion of a limit.
        var low = minimum is null ? double.NegativeInfinity : unit.Value(minimum);
        var high = maximum is null ? double.PositiveInfinity : unit.Value(maximum);
        var room = 1e-9 * Math.Max(1, Math.Abs(number));
        if (number < low - room || number > high + room)
        {
            return new(null, $"{typed} is out of range. " + Expected(measure, minimum, maximum));
        }

        return new(quantity, null);
    }

    /// <summary>What a field expects, as the end of its message: unit and range.</summary>
    public string Expected(Measure measure, IQuantity? minimum = null, IQuantity? maximum = null)
    {
        var symbol = Symbol(measure);
        var unit = symbol.Length == 0 ? "" : NoBreakSpace + symbol;
        return (minimum, maximum) switch
        {
            (null, null) => symbol.Length == 0 ? "Expected a number." : $"Expected a number in {symbol}.",
            (not null, null) => $"Expected {Limit(measure, minimum)}{unit} or more.",
            (null, not null) => $"Expected at most {Limit(measure, maximum)}{unit}.",
            (not null, not null) => $"Expected {Limit(measure, minimum)} to {Limit(measure, maximum)}{unit}.",
        };
    }

    /// <summary>Kind of number a quantity is by its type and size.</summary>
    /// <exception cref="ArgumentException">The type of quantity is not one that is ever shown.</exception>
    public static Measure MeasureOf(IQuantity quantity) => quantity switch
    {
        Temperature => Measure.Temperature,
        TemperatureDelta => Measure.TemperatureDifference,
        Length length => Math.Abs(length.Meters) < 1 ? Measure.SmallLength : Measure.LargeLength,
        Area area => Math.Abs(area.SquareMeters) < 0.1 ? Measure.SmallArea : Measure.LargeArea,
        UnitsNet.Volume => Measure.Volume,
        VolumeFlow => Measure.AirFlow,
        Power => Measure.Heat,
        Pressure pressure => Math.Abs(pressure.Pascals) < 10_000 ? Measure.Pressure : Measure.BarometricPressure,
        Mass mass => Math.Abs(mass.Kilograms) < 2 ? Measure.Water : Measure.LargeMass,
        MassFlow => Measure.WaterRate,
        UnitsNet.Energy => Measure.Energy,
        HeatTransferCoefficient => Measure.UValue,
        ThermalConductivity => Measure.Conductivity,
        Speed => Measure.WindSpeed,
        Ratio => Measure.Share,
        UnitsNet.RelativeHumidity => Measure.RelativeHumidity,
        VolumeConcentration => Measure.Concentration,
        UnitsNet.Duration => Measure.Duration,
        AreaDensity => Measure.WaterPerArea,
        HeatFlux or Irradiance => Measure.HeatPerArea,
        ElectricCharge => Measure.BatteryCharge,
        Scalar => Measure.Count,
        _ => throw new ArgumentException($"There is no display unit for {quantity.QuantityInfo.Name}.", nameof(quantity)),
    };

    private static IEnumerable<DisplayUnit> UnitsOf(Measure measure) =>
        new[] { Metric._units[measure], Imperial._units[measure] }.Concat(Further.GetValueOrDefault(measure, [])).DistinctBy(unit => unit.Symbol);

    /// <summary>Name of a kind of number in stored text: <c>air-flow</c>.</summary>
    private static string Key(Measure measure) => JsonNamingPolicy.KebabCaseLower.ConvertName(measure.ToString());

    private static Dictionary<Measure, DisplayUnit> Shared() => new()
    {
        [Measure.VapourEquivalentThickness] = new(LengthUnit.Meter, "m", 3, 4, Exact: true),
        [Measure.Water] = new(MassUnit.Gram, "g", 0, Trace: true),
        [Measure.WaterRate] = new(MassFlowUnit.GramPerHour, "g/h", 0, Trace: true),
        [Measure.FuelRate] = new(MassFlowUnit.GramPerHour, "g/h", 0, Trace: true),
        [Measure.Energy] = new(EnergyUnit.KilowattHour, "kWh", 2, Trace: true),
        [Measure.BatteryCharge] = new(ElectricChargeUnit.AmpereHour, "Ah", 0, Trace: true),
        [Measure.ElectricPower] = new(PowerUnit.Watt, "W", 1, Exact: true),
        [Measure.Share] = new(RatioUnit.Percent, "%", 1, Trace: true, Exact: true),
        [Measure.RelativeHumidity] = new(RelativeHumidityUnit.Percent, "%", 0),
        [Measure.Concentration] = new(VolumeConcentrationUnit.PartPerMillion, "ppm", 0),
        [Measure.Duration] = new(DurationUnit.Hour, "h", 2),
        [Measure.WaterPerArea] = new(AreaDensityUnit.GramPerSquareMeter, "g/m²", 1, Trace: true, Exact: true),
        [Measure.Count] = new(ScalarUnit.Amount, "", 2, 6, Exact: true),
    };

    /// <summary>
    /// A number as a reader needs it. A trace rounds to "&lt;0.1" instead of nothing at all; an exact number (a size,
    /// a count) drops the zeros it was not given.
    /// </summary>
    private static string Sensible(double value, int decimals, int significantDigits, bool trace = false, bool exact = false)
    {
        // Rounded to its significant digits first: 0.9999 has the digits of 1.00, not of 0.999.
        var significant = double.Parse(
            value.ToString("E" + (significantDigits - 1), CultureInfo.InvariantCulture),
            CultureInfo.InvariantCulture);
        var magnitude = significant == 0 ? 0 : (int)Math.Floor(Math.Log10(Math.Abs(significant)) + 1e-9);
        var places = Math.Clamp(significantDigits - 1 - magnitude, 0, decimals);
        var rounded = Math.Round(significant, places, MidpointRounding.AwayFromZero);
        var smallest = Math.Pow(10, -places);
        if (trace && rounded == 0 && value > smallest * 1e-3)
        {
            return "<" + smallest.ToString("F" + places, CultureInfo.InvariantCulture);
        }

        if (trace && rounded == 0)
        {
            return "0";
        }

        var format = exact ? "0." + new string('#', places) : "F" + places;
        var text = Math.Abs(rounded).ToString(format, CultureInfo.InvariantCulture);
        return rounded < 0 ? MinusSign + text : text;
    }

    private static string FormatDuration(Duration duration)
    {
        var seconds = duration.Seconds;
        if (Math.Abs(seconds) < 60)
        {
            return Sensible(seconds, 0, 2) + NoBreakSpace + "s";
        }

        // Rounded before it is split, or 59.6 min would read "60 min".
        var minutes = (long)Math.Round(seconds / 60, MidpointRounding.AwayFromZero);
        if (Math.Abs(seconds) < 600 && minutes < 10)
        {
            return Sensible(seconds / 60, 1, 2) + NoBreakSpace + "min";
        }

        if (Math.Abs(minutes) < 60)
        {
            return Sensible(minutes, 0, 2) + NoBreakSpace + "min";
        }

        if (Math.Abs(minutes) >= 48 * 60)
        {
            return Sensible(minutes / 1440d, Math.Abs(minutes) < 14400 ? 1 : 0, 3) + NoBreakSpace + "days";
        }

        var sign = minutes < 0 ? MinusSign : "";
        var (hours, rest) = Math.DivRem(Math.Abs(minutes), 60);
        var text = string.Create(CultureInfo.InvariantCulture, $"{sign}{hours}{NoBreakSpace}h");
        return rest == 0 ? text : string.Create(CultureInfo.InvariantCulture, $"{text}{NoBreakSpace}{rest}{NoBreakSpace}min");
    }

    private string Limit(Measure measure, IQuantity quantity) =>
        Plain(_units[measure].Value(quantity)).ToString("0.######", CultureInfo.InvariantCulture).Replace("-", MinusSign, StringComparison.Ordinal);

    private static double Plain(double value) =>
        double.Parse(value.ToString("G6", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    /// <summary>A unit of the library, how it is written, and how finely a value is shown.</summary>
    private sealed record DisplayUnit(Enum Unit, string Symbol, int Decimals, int SignificantDigits = 3, bool Trace = false, bool Exact = false, bool Whole = false)
    {
        public double Value(IQuantity quantity) => quantity.As(Unit);

        public IQuantity Quantity(double number) => UnitsNet.Quantity.From(number, Unit);
    }
}
