using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Tests.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Testing;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Findings;

/// <summary>
/// What must hold for every remedy that can be applied, on the fixed row of <see cref="RandomOption"/>. REMEDY_VANS in
/// the environment sets how many (200 unless set; tests/long.sh remedies tries 1000).
/// </summary>
public sealed class RemedyTests
{
    // For the first number of each finding that has a remedy to apply: whether more of it is better.
    private static readonly Dictionary<string, bool> MoreIsBetter = new()
    {
        ["unflued-flame-asleep"] = false,
        ["cooker-for-warmth"] = false,
        ["suction-on-flue"] = false,
        ["intake-beside-exhaust"] = true,
        ["snow-over-exhaust"] = false,
        ["gas-locker-inside"] = true,
        ["gas-without-fixed-openings"] = true,
        ["night-air-short"] = true,
        ["carbon-dioxide-high"] = false,
        ["fan-sealed-in"] = true,
        ["fan-against-draught"] = true,
        ["fan-behind-shut-lid"] = false,
        ["only-leakage"] = true,
        ["old-air-at-the-bed"] = false,
        ["nothing-open-in-rain"] = true,
        ["glass-condensing"] = false,
        ["metal-condensing"] = false,
        ["linings-condensing"] = false,
        ["loose-cover-inside"] = true,
        ["loose-cover-outside"] = true,
        ["air-damp"] = false,
        ["heater-too-small"] = false,
        ["heater-too-big"] = false,
        ["vapour-reaches-skin"] = true,
        ["thin-insulation"] = false,
        ["battery-frost"] = true,
        ["water-frost"] = true,
        ["relief-flap-covered"] = true,
        ["one-way-out"] = true,
        ["rust-sealed"] = false,
        ["cuts-hidden-part"] = false,
        ["alarms-needed"] = false,
    };

    private static readonly int Count = int.Parse(Environment.GetEnvironmentVariable("REMEDY_VANS") ?? "200", CultureInfo.InvariantCulture);

    private static ImmutableArray<Finding> Of(Design design) => Assessor.Assess(design, TestContext.Current.CancellationToken).Findings;

    [Fact]
    public void Applying_a_remedy_removes_the_finding_or_betters_its_number_and_brings_no_danger()
    {
        int number = 0;
        int applied = 0;
        int cleared = 0;
        List<string> failures = [];
        SortedDictionary<string, int> brought = new(StringComparer.Ordinal);
        foreach (Design design in RandomOption.Row(Count).Concat(Vans.Varied()).Concat(DangerVans.All.Select(pair => pair.Van)))
        {
            string van = $"van {number++}";
            ImmutableArray<Finding> before = Of(design);
            HashSet<string> had = [.. before.Where(finding => finding.Severity <= Severity.Warning).Select(finding => finding.Code)];
            foreach (Finding finding in before)
            {
                if (finding.Apply is not Func<Design, Design> apply)
                {
                    continue;
                }

                applied++;
                Design after = apply(design);
                if (!DesignCheck.Errors(after).IsEmpty)
                {
                    failures.Add($"{van} {finding.Code}: {string.Join(" ", DesignCheck.Errors(after))}");
                    continue;
                }

                ImmutableArray<Finding> now = Of(after);
                foreach (Finding grave in now.Where(f => f.Severity <= Severity.Warning && !had.Contains(f.Code)))
                {
                    if (grave.Severity == Severity.Danger)
                    {
                        failures.Add($"{van} {finding.Code} brings the danger {grave.Code}");
                    }

                    string pair = $"{finding.Code} -> {grave.Code}";
                    brought[pair] = brought.GetValueOrDefault(pair) + 1;
                }

                if (now.SingleOrDefault(f => f.Code == finding.Code) is not Finding left)
                {
                    cleared++;
                }
                else if (!Better(finding, left))
                {
                    failures.Add($"{van} {finding.Code}: {finding.Evidence[0].Label} {finding.Evidence[0].Value} -> {left.Evidence[0].Value}; {RandomVan.Describe(design)} ==> {RandomVan.Describe(after)}");
                }
            }
        }

        TestContext.Current.TestOutputHelper?.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{number} vans, {applied} remedies applied, {cleared} cleared their finding. Warnings brought: {string.Join(", ", brought.OrderByDescending(pair => pair.Value).Select(pair => $"{pair.Key} {pair.Value}"))}"));
        Assert.True(failures.Count == 0, $"{failures.Count} of {applied}\n" + string.Join("\n", failures.Take(40)));
    }

    private static bool Better(Finding was, Finding left)
    {
        IQuantity first = was.Evidence[0].Value;
        double wasValue = (double)first.Value;
        double isValue = left.Evidence[0].Value.As(first.Unit);
        return MoreIsBetter[was.Code] ? isValue > wasValue : isValue < wasValue;
    }
}
