using ConsultDesk.Reports.Units;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Reports.Tests.Units;

public sealed class DisplayUnitsTests
{
    private static readonly DisplayUnits Metric = DisplayUnits.Metric;
    private static readonly DisplayUnits Imperial = DisplayUnits.Imperial;

    // Conversion factors: NIST Special Publication 811 (2008), appendix B.8: 1 in = 25.4 mm exactly,
    // 1 ft3/min = 4.719474e-4 m3/s, 1 Btu(IT)/h = 0.2930711 W, 1 inH2O = 249.0889 Pa (conventional),
    // 1 Btu(IT)/(h ft2 F) = 5.678263 W/(m2 K), 1 mi/h = 0.44704 m/s, 1 lb = 0.45359237 kg.
    [Fact]
    public void Every_kind_of_quantity_reads_in_metric_and_in_imperial_units()
    {
        (IQuantity Quantity, string Metric, string Imperial)[] rows =
        [
            (Temperature.FromDegreesCelsius(21.44), "21.4_°C", "70.6_°F"),
            (Temperature.FromDegreesCelsius(-40), "−40.0_°C", "−40.0_°F"),
            (Temperature.FromDegreesCelsius(40), "40.0_°C", "104.0_°F"),
            (TemperatureDelta.FromKelvins(5), "5.0_K", "9.0_°F"),
            (Length.FromMillimeters(350), "350_mm", "13.8_in"),
            (Length.FromMeters(3.7), "3.70_m", "12.1_ft"),
            (Area.FromSquareCentimeters(100), "100_cm²", "15.5_in²"),
            (Area.FromSquareMeters(1.2), "1.20_m²", "12.9_ft²"),
            (UnitsNet.Volume.FromCubicMeters(10), "10.0_m³", "353_ft³"),
            (VolumeFlow.FromCubicMetersPerHour(100), "100_m³/h", "59_cfm"),
            (Power.FromWatts(1000), "1000_W", "3410_BTU/h"),
            (Pressure.FromPascals(24.90889), "24.9_Pa", "0.100_inH₂O"),
            (Pressure.FromPascals(101325), "1013_hPa", "29.92_inHg"),
            (Mass.FromGrams(412.4), "412_g", "412_g"),
            (MassFlow.FromGramsPerHour(84.2), "84_g/h", "84_g/h"),
            (HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(5.678263), "5.68_W/(m²·K)", "1.00_BTU/(h·ft²·°F)"),
            (Speed.FromMetersPerSecond(4.4704), "4.5_m/s", "10.0_mph"),
            (Ratio.FromDecimalFractions(0.125), "12.5_%", "12.5_%"),
            (RelativeHumidity.FromPercent(61.6), "62_%", "62_%"),
            (VolumeConcentration.FromPartsPerMillion(1234), "1230_ppm", "1230_ppm"),
            (Scalar.FromAmount(3), "3", "3"),
        ];

        Assert.All(rows, row =>
        {
            Assert.Equal(row.Metric.Replace('_', '\u00A0'), Metric.Format(row.Quantity));
            Assert.Equal(row.Imperial.Replace('_', '\u00A0'), Imperial.Format(row.Quantity));
        });
    }

    [Theory]
    [InlineData(0.4, "<1_g")]
    [InlineData(1e-9, "0_g")]
    [InlineData(0, "0_g")]
    [InlineData(0.6, "1_g")]
    [InlineData(999.6, "1000_g")]
    [InlineData(12345, "12.3_kg")]
    public void A_trace_of_water_is_told_apart_from_none(double grams, string expected) =>
        Assert.Equal(expected.Replace('_', '\u00A0'), Metric.Format(Mass.FromGrams(grams)));

    [Theory]
    [InlineData(0.02, "<0.1_m³/h")]
    [InlineData(4.62, "4.6_m³/h")]
    [InlineData(9.97, "10_m³/h")]
    [InlineData(37.4, "37_m³/h")]
    [InlineData(1234.4, "1234_m³/h")]
    public void A_flow_keeps_its_whole_digits_and_one_decimal_when_it_is_small(double flow, string expected) =>
        Assert.Equal(expected.Replace('_', '\u00A0'), Metric.Format(VolumeFlow.FromCubicMetersPerHour(flow)));

    [Theory]
    [InlineData(-0.04, "0.0_°C")]
    [InlineData(-0.06, "−0.1_°C")]
    [InlineData(9.96, "10.0_°C")]
    public void A_rounded_zero_has_no_sign(double celsius, string expected) =>
        Assert.Equal(expected.Replace('_', '\u00A0'), Metric.Format(Temperature.FromDegreesCelsius(celsius)));

    [Theory]
    [InlineData(42, "42_s")]
    [InlineData(90, "1.5_min")]
    [InlineData(599, "10_min")]
    [InlineData(3599, "1_h")]
    [InlineData(8.5 * 3600, "8_h_30_min")]
    [InlineData(4 * 86400, "4.0_days")]
    public void A_duration_reads_in_the_unit_a_person_would_use(double seconds, string expected) =>
        Assert.Equal(expected.Replace('_', '\u00A0'), Metric.Format(Duration.FromSeconds(seconds)));

    [Fact]
    public void Mass_of_fuel_and_altitude_have_their_own_units()
    {
        Assert.Equal("1.25\u00A0kg", Metric.Format(Measure.Fuel, Mass.FromGrams(1250)));
        Assert.Equal("2.76\u00A0lb", Imperial.Format(Measure.Fuel, Mass.FromGrams(1250)));
        Assert.Equal("40\u00A0m", Metric.Format(Measure.Altitude, Length.FromMeters(40)));
        Assert.Equal("2500\u00A0mm", Metric.Format(Measure.SmallLength, Length.FromMeters(2.5)));
    }

    [Fact]
    public void A_type_of_quantity_that_is_never_shown_is_refused() =>
        Assert.Throws<ArgumentException>(() => Metric.Format(ElectricCurrent.FromAmperes(1)));

    [Theory]
    [InlineData("350", 350)]
    [InlineData(" 12,5 ", 12.5)]
    [InlineData("12.5 mm", 12.5)]
    [InlineData("12.5\u00A0MM", 12.5)]
    [InlineData(".5", 0.5)]
    public void A_typed_number_is_read_in_the_unit_of_the_preset(string typed, double millimetres)
    {
        var read = Metric.Parse(Measure.SmallLength, typed);
        Assert.Null(read.Error);
        Assert.Equal(millimetres, Assert.IsType<Length>(read.Value).Millimeters, 9);
    }

    [Theory]
    [InlineData(Measure.SmallLength, "14 in", 355.6)]
    [InlineData(Measure.SmallLength, "14\"", 355.6)]
    [InlineData(Measure.SmallLength, "3/4 in", 19.05)]
    [InlineData(Measure.SmallLength, "1 3/4 inches", 44.45)]
    [InlineData(Measure.SmallLength, "1/2", 0.5)]
    [InlineData(Measure.SmallLength, "35 cm", 350)]
    [InlineData(Measure.SmallLength, "0,125 m", 125)]
    [InlineData(Measure.LargeLength, "5 ft 6 in", 1.6764)]
    [InlineData(Measure.LargeLength, "5'6 1/2\"", 1.6891)]
    [InlineData(Measure.LargeLength, "12 feet", 3.6576)]
    [InlineData(Measure.AirFlow, "900 cfm", 1529.11)]
    [InlineData(Measure.AirFlow, "25 l/s", 90)]
    [InlineData(Measure.AirFlow, "90 m3/h", 90)]
    [InlineData(Measure.Temperature, "-22 F", -30)]
    [InlineData(Measure.Temperature, "−22 °F", -30)]
    [InlineData(Measure.Heat, "2 kW", 2000)]
    [InlineData(Measure.Heat, "6824 BTU/h", 2000)]
    [InlineData(Measure.SmallArea, "62 in²", 400)]
    [InlineData(Measure.SmallArea, "62 sq in", 400)]
    [InlineData(Measure.BarometricPressure, "29.92 inHg", 1013.21)]
    [InlineData(Measure.WindSpeed, "36 km/h", 10)]
    [InlineData(Measure.Duration, "90 min", 1.5)]
    [InlineData(Measure.Fuel, "1 lb", 0.453592)]
    public void Another_unit_than_the_fields_is_read_as_it_is_typed(Measure measure, string typed, double inTheFieldsUnit)
    {
        // Exact definitions of the international yard and pound (1959), the US gallon and the inch of mercury.
        var read = Metric.Parse(measure, typed);
        Assert.Null(read.Error);
        Assert.Equal(inTheFieldsUnit, Metric.Value(measure, read.Value!), 3e-4 * Math.Abs(inTheFieldsUnit));
    }

    [Fact]
    public void A_comma_before_three_digits_is_asked_back()
    {
        Assert.StartsWith("‘1,500’ could mean 1500 or 1.5. ", Metric.Parse(Measure.SmallLength, "1,500").Error, StringComparison.Ordinal);
        Assert.StartsWith("‘-12,345 mm’ could mean 12345 or 12.345. ", Metric.Parse(Measure.SmallLength, "-12,345 mm").Error, StringComparison.Ordinal);
        Assert.Equal(1.5, ((Length)Metric.Parse(Measure.SmallLength, "1,5").Value!).Millimeters, 9);
        Assert.Equal(0.125, ((Length)Metric.Parse(Measure.SmallLength, "0,125").Value!).Millimeters, 9);
        Assert.Equal(1.2345, ((Length)Metric.Parse(Measure.SmallLength, "1,2345").Value!).Millimeters, 9);
    }

    [Theory]
    [InlineData("-10")]
    [InlineData("−10")]
    [InlineData("-10,0 °C")]
    public void Both_minus_signs_are_read(string typed) =>
        Assert.Equal(-10, Assert.IsType<Temperature>(Metric.Parse(Measure.Temperature, typed).Value).DegreesCelsius, 9);

    [Theory]
    [InlineData("")]
    [InlineData(null)]
    [InlineData("   ")]
    [InlineData("ten")]
    [InlineData("1,234.5")]
    [InlineData("1.2.3")]
    [InlineData("1e3")]
    [InlineData("NaN")]
    [InlineData("Infinity")]
    [InlineData("12 cfm")]
    [InlineData("12 of them")]
    [InlineData("1,500")]
    [InlineData("3/0 in")]
    [InlineData("1 5/4 in")]
    [InlineData("5 ft 6 ft")]
    [InlineData("5 in 6 in")]
    [InlineData("19")]
    [InlineData("2001")]
    [InlineData("-350")]
    public void What_cannot_be_read_or_is_out_of_range_says_what_was_expected(string? typed)
    {
        var read = Metric.Parse(Measure.SmallLength, typed, Length.FromMillimeters(20), Length.FromMeters(2));
        Assert.Null(read.Value);
        Assert.False(read.IsRead);
        Assert.EndsWith("Expected 20 to 2000\u00A0mm.", read.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Both_limits_of_a_range_are_accepted_in_either_preset()
    {
        Assert.All(DisplayUnits.All, units =>
        {
            IQuantity low = Length.FromMillimeters(20), high = Length.FromMeters(2);
            foreach (var limit in new[] { low, high })
            {
                var typed = limit.As(units == Metric ? UnitsNet.Units.LengthUnit.Millimeter : UnitsNet.Units.LengthUnit.Inch)
                    .ToString("R", System.Globalization.CultureInfo.InvariantCulture);
                Assert.True(units.Parse(Measure.SmallLength, typed, low, high).IsRead, typed);
            }
        });
    }

    [Fact]
    public void What_a_field_shows_is_read_back_as_the_same_quantity()
    {
        foreach (var units in DisplayUnits.All)
        {
            foreach (var millimetres in new[] { 0.9, 12.5, 350, 1234.5 })
            {
                var entry = units.Entry(Measure.SmallLength, Length.FromMillimeters(millimetres));
                var read = Assert.IsType<Length>(units.Parse(Measure.SmallLength, entry).Value);
                Assert.Equal(millimetres, read.Millimeters, millimetres * 1e-5);
            }

            Assert.Equal("-10.5", Metric.Entry(Measure.Temperature, Temperature.FromDegreesCelsius(-10.5)));
        }
    }

    [Fact]
    public void Every_kind_of_number_has_a_unit_in_both_presets_and_can_be_typed()
    {
        foreach (var units in DisplayUnits.All)
        {
            foreach (var measure in Enum.GetValues<Measure>())
            {
                var read = units.Parse(measure, "1.5 " + units.Symbol(measure));
                Assert.True(read.IsRead, $"{units.Name} {measure}: {read.Error}");
                // Altitudes are whole numbers.
                Assert.Equal(measure == Measure.Altitude ? "2" : "1.5", units.Entry(measure, read.Value));
            }
        }
    }

    [Fact]
    public void An_unknown_preset_is_refused() => Assert.Throws<ArgumentException>(() => DisplayUnits.Named("Nautical"));
}
