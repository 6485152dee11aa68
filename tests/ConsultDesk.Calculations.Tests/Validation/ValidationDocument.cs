using System.Globalization;
using System.Text;

namespace ConsultDesk.Calculations.Tests.Validation;

/// <summary>docs/validation.md, written from the rows.</summary>
public static class ValidationDocument
{
    public static string Write(IReadOnlyList<CheckGroup> groups)
    {
        IReadOnlyList<Check> all = [.. groups.SelectMany(group => group.Rows)];
        var text = new StringBuilder();
        Line(text, "# Validation table");
        Line(text);
        Line(text, "Every row is a test: a value from outside the project against what the code computes.");
        Line(text, "Written by the tests (`tests/run.sh --accept`); do not edit. Computed values are shown to 4 significant digits (whole numbers in full);");
        Line(text, "\"used\" is the difference from the expected value as a share of what the tolerance allows.");
        Line(text);
        Line(text, "Some rows check functions no assessment calls: wet bulb, enthalpy, EN 721 without an open flame. Night and year state the balances of");
        Line(text, "flame, people and heat for their own zones; what holds those is `tests/.../Simulation`, not these rows.");
        Line(text);
        Line(text, "| origin | meaning | rows |");
        Line(text, "| --- | --- | ---: |");
        foreach ((Sureness origin, string meaning) in new[]
        {
            (Sureness.Read, "read in the source named, or in a copy of it"),
            (Sureness.Derived, "worked out by hand from a stated formula: proves the evaluation, not the formula"),
            (Sureness.Memory, "recalled from the source named, not seen: a sanity bound"),
            (Sureness.CommonPractice, "a rule of the trade, no source"),
        })
        {
            Line(text, $"| {Word(origin)} | {meaning} | {all.Count(check => check.Origin == origin)} |");
        }

        Line(text, $"| | all | {all.Count} |");
        Counts(text, groups);
        foreach (CheckGroup group in groups)
        {
            Line(text);
            Line(text, $"## {group.Title} ({group.Rows.Count})");
            Line(text);
            Line(text, "| quantity | inputs | expected | computed | unit | tolerance | used | origin | source |");
            Line(text, "| --- | --- | ---: | ---: | --- | --- | ---: | --- | --- |");
            foreach (Check check in group.Rows)
            {
                double computed = check.Compute();
                Line(text, $"| {check.Quantity} | {check.Inputs} | {Plain(check.Expected)} | {Significant(computed)} | {check.Unit} "
                    + $"| {check.Tolerance} | {Used(check, computed)} | {Word(check.Origin)} | {check.Source} |");
            }
        }

        return text.ToString();
    }

    private static void Counts(StringBuilder text, IReadOnlyList<CheckGroup> groups)
    {
        Line(text);
        Line(text, "## How many count");
        Line(text);
        Line(text, $"Many rows on one curve are one check of its equation: at most {ValidationCount.MostPerEquation} rows of an equation count, and of those worked out by hand or recalled");
        Line(text, $"at most {ValidationCount.MostUnreadPerEquation}, because a formula evaluated by hand a second time proves nothing the first did not.");
        Line(text, $"Wanted: {ValidationCount.WantedInAll} that count, {ValidationCount.WantedReadPercent} % of them read, and {ValidationCount.WantedInSubject} in each of the first seven subjects.");
        Line(text);
        Line(text, "| subject | rows | equations | counted | of them read | share read |");
        Line(text, "| --- | ---: | ---: | ---: | ---: | ---: |");
        foreach ((string name, bool _, IReadOnlyList<CheckGroup> own) in ValidationCount.BySubject(groups))
        {
            CountLine(text, name, own);
        }

        CountLine(text, "**all**", groups);
        IReadOnlyList<Check> loose = ValidationCount.CountedOfAnyOrigin(groups);
        Line(text);
        Line(text, string.Create(
            CultureInfo.InvariantCulture,
            $"With {ValidationCount.MostPerEquation} rows of an equation whatever their origin, {loose.Count} would count, {ValidationCount.ReadPercent(loose):F0} % of them read."));
        Line(text);
        string[] shortfalls = [.. ValidationCount.Shortfalls(groups)];
        Line(text, shortfalls.Length == 0 ? "Nothing is short of what is wanted." : "Short of what is wanted:");
        foreach (string shortfall in shortfalls)
        {
            Line(text, $"- {shortfall}");
        }
    }

    private static void CountLine(StringBuilder text, string name, IReadOnlyList<CheckGroup> groups)
    {
        IReadOnlyList<Check> counted = ValidationCount.Counted(groups);
        int equations = groups.Sum(group => group.Rows.Select(row => row.Equation).Distinct().Count());
        Line(text, string.Create(
            CultureInfo.InvariantCulture,
            $"| {name} | {groups.Sum(group => group.Rows.Count)} | {equations} | {counted.Count} | {counted.Count(row => row.Origin == Sureness.Read)} | {ValidationCount.ReadPercent(counted):F0} % |"));
    }

    /// <summary>4 significant digits; integers of more digits are rounded to the unit, not to the thousand.</summary>
    public static string Significant(double value)
    {
        double size = Math.Abs(value);
        return size switch
        {
            0 => "0",
            >= 1000 and < 1e7 => value.ToString("F0", CultureInfo.InvariantCulture),
            >= 1e-3 and < 1000 => value.ToString("F" + (3 - (int)Math.Floor(Math.Log10(size))), CultureInfo.InvariantCulture),
            _ => value.ToString("0.000e-0", CultureInfo.InvariantCulture),
        };
    }

    private static string Plain(double value) => Math.Abs(value) is 0 or (>= 1e-3 and < 1e7)
        ? value.ToString(CultureInfo.InvariantCulture)
        : value.ToString("0.##########e-0", CultureInfo.InvariantCulture);

    private static string Used(Check check, double computed) => string.Create(
        CultureInfo.InvariantCulture,
        $"{100 * Math.Abs(computed - check.Expected) / check.Tolerance.Around(check.Expected):F0} %");

    private static string Word(Sureness origin) => origin switch
    {
        Sureness.Read => "read",
        Sureness.Derived => "derived",
        Sureness.Memory => "memory",
        Sureness.CommonPractice => "common practice",
        _ => throw new ArgumentOutOfRangeException(nameof(origin), origin, "Expected a named origin."),
    };

    private static void Line(StringBuilder text, string line = "") => text.Append(line).Append('\n');
}
