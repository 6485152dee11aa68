using System.Globalization;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Findings;

/// <summary>
/// Remedies of the findings that need the year, judged by a second year, on the fixed row of <see cref="RandomOption"/>.
/// YEAR_REMEDY_VANS in the environment sets how many (4 unless set).
/// </summary>
public sealed class YearRemedyTests
{
    private static readonly string[] Codes =
        ["many-wet-mornings", "wet-skin", "damp-mattress", "damp-cupboard", "mould-grows", "flame-gases-high", "hot-nights", "heater-short-in-cold", "heater-cycles"];

    private static readonly int Count = int.Parse(Environment.GetEnvironmentVariable("YEAR_REMEDY_VANS") ?? "4", CultureInfo.InvariantCulture);

    [Fact]
    public void A_remedy_of_the_year_clears_its_finding_or_lowers_its_number_in_the_year_and_brings_no_danger()
    {
        int applied = 0;
        int cleared = 0;
        int number = 0;
        List<string> failures = [];
        List<string> left = [];
        foreach (Design van in RandomOption.Row(Count))
        {
            string name = $"van {number++}";
            Assessment before = Year(van);
            foreach (Finding finding in before.Findings.Where(finding => Codes.Contains(finding.Code) && finding.Apply is not null))
            {
                applied++;
                Design changed = finding.Apply!(van);
                if (ReferenceEquals(changed, van))
                {
                    // None of its ways is better in this van's year, so none is taken.
                    left.Add($"{name} {finding.Code} {finding.Evidence[0].Value}");
                    continue;
                }

                Assessment after = Year(changed);
                failures.AddRange(after.Findings
                    .Where(f => f.Severity == Severity.Danger && before.Findings.All(b => b.Code != f.Code))
                    .Select(f => $"{name} {finding.Code} brings the danger {f.Code}"));
                if (after.Findings.SingleOrDefault(f => f.Code == finding.Code) is not Finding still)
                {
                    cleared++;
                }
                else
                {
                    // For each of these the first number is worse the more there is.
                    IQuantity was = finding.Evidence[0].Value;
                    if (still.Evidence[0].Value.As(was.Unit) >= (double)was.Value)
                    {
                        failures.Add($"{name} {finding.Code} ({finding.TriedAs}): {was} -> {still.Evidence[0].Value}");
                    }
                }
            }
        }

        TestContext.Current.TestOutputHelper?.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{number} vans, {applied} remedies applied, {cleared} cleared their finding, nothing helped {left.Count}: {string.Join(", ", left)}"));
        Assert.True(applied > 2 * left.Count, string.Join("\n", left));
        Assert.True(failures.Count == 0, $"{failures.Count} of {applied}\n" + string.Join("\n", failures));
    }

    private static Assessment Year(Design design) => Assessor.Assess(design, AssessmentDepth.Year, progress: null, TestContext.Current.CancellationToken);
}
