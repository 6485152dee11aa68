using System.Globalization;
using ConsultDesk.Reports.Units;
using CsCheck;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Reports.Tests.Units;

/// <summary>Units chosen for each kind of number: what is chosen is used, what is typed comes back.</summary>
public sealed class UnitChoiceTests
{
    // °C, inches and cfm on one screen.
    private static readonly DisplayUnits Mix = DisplayUnits.Imperial.With("temperature=°C;heat=W;large-length=m");

    public static TheoryData<Measure, string> EveryUnit =>
        [.. DisplayUnits.Chosen.SelectMany(measure => DisplayUnits.SymbolsOf(measure).Select(symbol => (measure, symbol)))];

    // Factors: NIST Special Publication 811 (2008), appendix B.8: 1 knot = 0.514444 m/s, 1 km/h = 1/3.6 m/s, 1 in = 25.4 mm,
    // 1 ft3/min = 4.719474e-4 m3/s, 1 US gallon = 3.785412 L.
    [Fact]
    public void The_other_units_read_as_the_published_factors_say()
    {
        (string Choice, Measure Measure, IQuantity Quantity, string Expected)[] rows =
        [
            ("small-length=cm", Measure.SmallLength, Length.FromMillimeters(35), "3.5_cm"),
            ("air-flow=L/s", Measure.AirFlow, VolumeFlow.FromCubicMetersPerHour(36), "10_L/s"),
            ("air-flow=cfm", Measure.AirFlow, VolumeFlow.FromCubicMetersPerSecond(4.719474e-2), "100_cfm"),
            ("heat=kW", Measure.Heat, Power.FromWatts(1850), "1.85_kW"),
            ("wind-speed=kn", Measure.WindSpeed, Speed.FromMetersPerSecond(5.14444), "10.0_kn"),
            ("wind-speed=km/h", Measure.WindSpeed, Speed.FromMetersPerSecond(10), "36_km/h"),
            ("water-volume=gal", Measure.WaterVolume, UnitsNet.Volume.FromLiters(3.785412), "1.00_gal"),
            ("volume=L", Measure.Volume, UnitsNet.Volume.FromCubicMeters(0.12), "120_L"),
        ];

        Assert.All(rows, row => Assert.Equal(row.Expected.Replace('_', '\u00A0'), DisplayUnits.Metric.With(row.Choice).Format(row.Measure, row.Quantity)));
    }

    [Fact]
    public void Celsius_inches_and_cfm_stand_on_one_screen()
    {
        Assert.Equal("21.4\u00A0°C", Mix.Format(Temperature.FromDegreesCelsius(21.44)));
        Assert.Equal("13.8\u00A0in", Mix.Format(Length.FromMillimeters(350)));
        Assert.Equal("59\u00A0cfm", Mix.Format(VolumeFlow.FromCubicMetersPerHour(100)));
        Assert.Equal("1000\u00A0W", Mix.Format(Power.FromWatts(1000)));
        Assert.Equal("3.70\u00A0m", Mix.Format(Length.FromMeters(3.7)));
        Assert.Equal("15.5\u00A0in²", Mix.Format(Area.FromSquareCentimeters(100)));
    }

    [Fact]
    public void A_difference_of_temperatures_follows_the_temperature_and_conductivity_the_U_value()
    {
        Assert.Equal("5.0\u00A0K", Mix.Format(TemperatureDelta.FromKelvins(5)));
        var other = DisplayUnits.Metric.With("temperature=°F;u-value=BTU/(h·ft²·°F)");
        Assert.Equal("9.0\u00A0°F", other.Format(TemperatureDelta.FromKelvins(5)));
        Assert.Equal("BTU/(h·ft·°F)", other.Symbol(Measure.Conductivity));
        Assert.Equal("BTU/(h·ft²)", other.Symbol(Measure.HeatPerArea));
    }

    [Fact]
    public void Choices_are_written_as_they_are_read_and_only_where_they_differ_from_the_preset()
    {
        Assert.Equal("", DisplayUnits.Metric.Choices);
        Assert.Equal("temperature=°C;large-length=m;heat=W", Mix.Choices);
        Assert.Equal(Mix.Choices, DisplayUnits.Imperial.With(Mix.Choices).Choices);
        Assert.Equal("", Mix.With("temperature=°F;heat=BTU/h;large-length=ft").Choices);
        Assert.Equal("", DisplayUnits.Metric.With("temperature=°C").Choices);
        Assert.Equal("Imperial", Mix.Name);
    }

    [Fact]
    public void All_choices_together_fit_the_column_they_are_stored_in()
    {
        var most = DisplayUnits.Chosen.Aggregate(DisplayUnits.Metric, (units, measure) => units.With(
            measure, DisplayUnits.SymbolsOf(measure).Where(symbol => symbol != DisplayUnits.Metric.Symbol(measure)).MaxBy(symbol => symbol.Length)!));

        Assert.InRange(most.Choices.Length, 100, 500);
    }

    [Theory]
    [InlineData("temperature")]
    [InlineData("temperature=")]
    [InlineData("temperature=K")]
    [InlineData("temperature=°c")]
    [InlineData("Temperature=°C")]
    [InlineData("temperature=°C;")]
    [InlineData("temperature=°C;temperature=°F")]
    [InlineData("temperature=°C=°F")]
    [InlineData("share=%")]
    [InlineData("conductivity=W/(m·K)")]
    [InlineData("0=°C")]
    [InlineData(" ")]
    public void What_is_no_choice_is_refused_with_what_was_expected(string choices)
    {
        var refused = Assert.Throws<FormatException>(() => DisplayUnits.Metric.With(choices));
        Assert.Contains("expected", refused.Message, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(EveryUnit))]
    public void What_is_typed_comes_back_from_the_quantity_as_it_was_typed(Measure measure, string symbol)
    {
        var units = DisplayUnits.Metric.With(measure, symbol);
        Assert.Equal(symbol, units.Symbol(measure));

        // Up to six digits of either sign, from thousandths to hundred thousands; altitudes are typed whole.
        Gen.Select(Gen.Int[-999_999, 999_999], Gen.Int[0, measure == Measure.Altitude ? 0 : 3]).Sample(typed =>
        {
            var (digits, places) = typed;
            var text = ((decimal)digits / (decimal)Math.Pow(10, places)).ToString("0.###", CultureInfo.InvariantCulture);
            var read = units.Parse(measure, text);
            Assert.True(read.IsRead, read.Error);
            Assert.Equal(text, units.Entry(measure, read.Value));

            // Four decimals: three behind a comma could be thousands and are asked back.
            var comma = text.Contains('.') ? text.Replace('.', ',') + new string('0', 4 - (text.Length - text.IndexOf('.') - 1)) : text;
            var again = units.Parse(measure, comma.Replace("-", "−", StringComparison.Ordinal) + " " + symbol);
            Assert.True(again.IsRead, again.Error);
            Assert.Equal(text, units.Entry(measure, again.Value));
        });
    }

    [Theory]
    [MemberData(nameof(EveryUnit))]
    public void A_quantity_is_the_same_after_a_trip_through_any_unit(Measure measure, string symbol)
    {
        var units = DisplayUnits.Metric.With(measure, symbol);
        Gen.Double.Unit.Sample(share =>
        {
            var si = DisplayUnits.Metric.Quantity(measure, 0.01 + (share * 5000));
            var back = units.Quantity(measure, units.Value(measure, si));
            Assert.Equal(DisplayUnits.Metric.Value(measure, si), DisplayUnits.Metric.Value(measure, back), 1e-9 * 5000);
        });
    }

    [Fact]
    public void An_altitude_with_decimals_is_shown_whole_and_stays_as_it_is()
    {
        var station = Length.FromMeters(1396.9);
        var entry = DisplayUnits.Metric.Entry(Measure.Altitude, station);

        Assert.Equal("1397", entry);
        Assert.Equal("4583", DisplayUnits.Imperial.Entry(Measure.Altitude, station));
        Assert.Equal("0", DisplayUnits.Metric.Entry(Measure.Altitude, Length.FromMeters(-0.3)));
        Assert.Equal("1397", DisplayUnits.Metric.Entry(Measure.Altitude, DisplayUnits.Metric.Parse(Measure.Altitude, entry).Value!));
    }
}
