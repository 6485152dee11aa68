using System.Collections.Immutable;
using System.Text;
using ConsultDesk.Calculations.Tests.Simulation;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Validation;

/// <summary>One rule of the trade, checked: what is claimed and what came out, a row for each van, weather and end of the assumptions.</summary>
/// <param name="Title">The rule in a few words.</param>
/// <param name="Claim">What the tests hold it to.</param>
/// <param name="Reading">What the numbers say, and where the claim stops; may be empty.</param>
/// <param name="Tests">Name of the test class.</param>
/// <param name="Columns">Heads of the columns.</param>
/// <param name="Rows">Cells as they are printed, as many to a row as there are columns.</param>
internal sealed record PracticeTable(
    string Title,
    string Claim,
    string Reading,
    string Tests,
    ImmutableArray<string> Columns,
    ImmutableArray<ImmutableArray<string>> Rows);

/// <summary>
/// docs/method/practice.md, written from the tables of the practice checks. A new check adds its table to
/// <see cref="Tables"/>; a table is computed once, for its own tests and for the document.
/// </summary>
public sealed class PracticeDocument
{
    // In the order of the document.
    private static readonly ImmutableArray<Func<PracticeTable>> Tables =
    [
        SituationPracticeTests.SealedIn,
        SituationPracticeTests.OneVentInRain,
        SituationPracticeTests.CabCurtain,
        SituationPracticeTests.AirAtTheBed,
        YearPracticeTests.WetMornings,
        YearPracticeTests.DeepFrost,
        YearPracticeTests.UnfluedHeat,
        YearPracticeTests.ShutCupboard,
        LiningPracticeTests.CoatedSkin,
        LiningPracticeTests.SealedOrBreathing,
        PlacePracticeTests.OneVent,
        PlacePracticeTests.NextForHotNights,
        ClimatePracticeTests.UnderTheBed,
        ClimatePracticeTests.EndsOfTheClimate,
        ClimatePracticeTests.HumidCoast,
        ClimatePracticeTests.DryerAgainstNight,
    ];

    [Fact]
    public void The_practice_checks_in_docs_are_up_to_date() => KeptDocument.Compare("docs/method/practice.md", Write());

    [Fact]
    public void Every_practice_check_prints_three_vans_and_weathers_at_low_likely_and_high()
    {
        foreach (PracticeTable table in Tables.Select(table => table()))
        {
            Assert.All(table.Rows, row => Assert.Equal(table.Columns.Length, row.Length));
            Assert.Equal("van", table.Columns[0]);
            Assert.Equal("weather", table.Columns[1]);
            Assert.Equal("assumptions", table.Columns[2]);
            Assert.True(table.Rows.Select(row => row[0]).Distinct().Count() >= 3, table.Title);
            Assert.True(table.Rows.Select(row => row[1]).Distinct().Count() >= 3, table.Title);
            Assert.Equal(["high", "likely", "low"], table.Rows.Select(row => row[2]).Distinct().Order(StringComparer.Ordinal));
        }
    }

    private static string Write()
    {
        StringBuilder text = new();
        Line("# Rules of the trade, checked");
        Line();
        Line("Written by the tests (`tests/run.sh --accept`); do not edit. What people who build vans say, as common practice without a source. The");
        Line("sizes asked for come from a rough model with a margin: they guard signs and sizes and prove no number. Each check runs with all assumed");
        Line("values at the low end of their bands, at the likely ones, and at the high end ([defaults.md](defaults.md)).");
        int number = 0;
        foreach (PracticeTable table in Tables.Select(table => table()))
        {
            Line();
            Line(string.Create(System.Globalization.CultureInfo.InvariantCulture, $"## {++number}. {table.Title}"));
            Line();
            Line(table.Claim);
            if (table.Reading.Length > 0)
            {
                Line();
                Line(table.Reading);
            }

            Line();
            Line($"Tests: `{table.Tests}`.");
            Line();
            Line("| " + string.Join(" | ", table.Columns) + " |");
            Line("| " + string.Join(" | ", table.Columns.Select((_, column) => column < 3 ? "---" : "---:")) + " |");
            foreach (ImmutableArray<string> row in table.Rows)
            {
                Line("| " + string.Join(" | ", row) + " |");
            }
        }

        return text.ToString();

        void Line(string line = "") => text.Append(line).Append('\n');
    }
}
