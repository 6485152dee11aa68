using System.Globalization;
using System.Text;
using ConsultDesk.Calculations.Airflow;
using ConsultDesk.Calculations.Tests.Validation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Vehicle;

public sealed class DefaultsTests
{
    [Fact]
    public void Every_assumed_value_lies_in_its_band_and_names_its_source()
    {
        Assert.NotEmpty(Defaults.All);
        foreach (AssumedValue value in Defaults.All)
        {
            Assert.True(value.Low <= value.Likely && value.Likely <= value.High, value.Key);
            Assert.False(string.IsNullOrWhiteSpace(value.Source), value.Key);
            Assert.Matches("^[a-z0-9-]+$", value.Key);
        }
    }

    [Fact]
    public void What_the_air_network_assumes_stands_in_the_table()
    {
        Assert.Equal(Defaults.Likely("wind-ratio-sheltered"), WindPressure.ShelterFactor(Shelter.Sheltered));
        Assert.Equal(Defaults.Likely("wind-ratio-ordinary"), WindPressure.ShelterFactor(Shelter.Ordinary));
        Assert.Equal(Defaults.Likely("wind-ratio-exposed"), WindPressure.ShelterFactor(Shelter.Exposed));
        Assert.Equal(Defaults.Likely("wind-pressure-nose"), WindPressure.Coefficient(Face.Nose, Angle.Zero), 2);
        Assert.Equal(Defaults.Likely("wind-pressure-side"), WindPressure.Coefficient(Face.Left, Angle.Zero), 2);
        Assert.Equal(Defaults.Likely("wind-pressure-side"), WindPressure.Coefficient(Face.Right, Angle.Zero), 2);
        Assert.Equal(Defaults.Likely("wind-pressure-tail"), WindPressure.Coefficient(Face.Tail, Angle.Zero), 2);
        Assert.Equal(Defaults.Likely("wind-pressure-roof"), WindPressure.Coefficient(Face.Roof, Angle.Zero));
        Assert.Equal(Defaults.Likely("wind-pressure-floor"), WindPressure.Coefficient(Face.Floor, Angle.Zero));
    }

    [Fact]
    public void A_key_that_is_not_in_the_table_is_refused_by_name()
    {
        ArgumentException error = Assert.Throws<ArgumentException>(() => Defaults.Likely("no-such-thing"));
        Assert.Contains("no-such-thing", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_table_of_assumed_values_in_docs_is_up_to_date() => KeptDocument.Compare("docs/method/defaults.md", Document());

    private static string Document()
    {
        StringBuilder text = new();
        Line("# What is assumed, and what may be entered");
        Line();
        Line("Written by the tests (`tests/run.sh --accept`); do not edit. The values stand in `src/ConsultDesk.Calculations/Vehicle/defaults.csv`,");
        Line("the ranges in `DesignLimits`. The calculation uses the likely value; low and high are the band we would not be surprised by.");
        Line("Most are our judgement, and say so.");
        Line();
        Line("## Assumed values");
        Line();
        Line("| what | low | likely | high | unit | source | key |");
        Line("| --- | ---: | ---: | ---: | --- | --- | --- |");
        foreach (AssumedValue value in Defaults.All)
        {
            Line($"| {value.Meaning} | {Number(value.Low)} | {Number(value.Likely)} | {Number(value.High)} | {value.Unit} | {value.Source} | `{value.Key}` |");
        }

        Line();
        Line("## Ranges of what may be entered");
        Line();
        Line("| field | from | to | unit |");
        Line("| --- | ---: | ---: | --- |");
        foreach (ValidRange range in DesignLimits.All)
        {
            Line($"| {range.Field} | {Number(range.Minimum)} | {Number(range.Maximum)} | {(range.Unit.Length == 0 ? "-" : range.Unit)} |");
        }

        return text.ToString();

        void Line(string line = "") => text.Append(line).Append('\n');
    }

    private static string Number(double value) => value.ToString(CultureInfo.InvariantCulture);
}
