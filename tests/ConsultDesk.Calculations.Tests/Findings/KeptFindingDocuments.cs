using System.Globalization;
using System.Text;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Tests.Validation;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Findings;

public sealed class KeptFindingDocuments
{
    [Fact]
    public void The_table_of_limits_in_docs_is_up_to_date() => KeptDocument.Compare("docs/method/limits.md", Limits());

    [Fact]
    public void The_score_curves_in_docs_are_up_to_date() => KeptDocument.Compare("docs/method/score-curves.md", Curves());

    [Fact]
    public void Every_limit_names_its_source_and_has_a_key_of_its_own()
    {
        Assert.NotEmpty(FindingLimits.All);
        Assert.All(FindingLimits.All, limit => Assert.False(string.IsNullOrWhiteSpace(limit.Source), limit.Key));
        Assert.Equal(FindingLimits.All.Length, FindingLimits.All.Select(limit => limit.Key).Distinct().Count());
    }

    private static string Limits()
    {
        StringBuilder text = new();
        text.Append("# Limits of the findings\n\n");
        text.Append("Written by the tests (`tests/run.sh --accept`); do not edit. The numbers stand in\n`src/ConsultDesk.Calculations/Findings/limits.csv`; which rule uses them: [findings.md](findings.md). None of them says that\nsomething below it cannot hurt.\n\n");
        text.Append("| what | limit | unit | source | key |\n| --- | ---: | --- | --- | --- |\n");
        foreach (FindingLimit limit in FindingLimits.All)
        {
            text.Append(CultureInfo.InvariantCulture, $"| {limit.Meaning} | {limit.Value} | {limit.Unit} | {limit.Source} | `{limit.Key}` |\n");
        }

        return text.ToString();
    }

    private static string Curves()
    {
        StringBuilder text = new();
        text.Append("# Score curves\n\n");
        text.Append("Written by the tests (`tests/run.sh --accept`); do not edit. The rows stand in\n`src/ConsultDesk.Calculations/Findings/scores.csv`: straight lines between them, level beyond the ends. What is scored:\n[scores.md](scores.md).\n\n");
        text.Append("| score | number | number: points | unit | source |\n| --- | --- | --- | --- | --- |\n");
        foreach (ScoreCurve curve in ScoreCurve.All)
        {
            string rows = string.Join(", ", curve.Rows.Select(row => string.Create(CultureInfo.InvariantCulture, $"{row.Number}: {row.Points}")));
            text.Append(CultureInfo.InvariantCulture, $"| {curve.Score} | {curve.Part} | {rows} | {curve.Unit} | {curve.Source} |\n");
        }

        return text.ToString();
    }
}
