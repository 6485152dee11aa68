using Xunit;

namespace ConsultDesk.Calculations.Tests.Validation;

/// <summary>Runs every row, and keeps docs/validation.md true.</summary>
public sealed class ValidationTests
{
    private const string Accept = "ACCEPT_VALIDATION";

    public static TheoryData<string, string> Rows()
    {
        var data = new TheoryData<string, string>();
        foreach (CheckGroup group in CheckGroup.All)
        {
            foreach (Check check in group.Rows)
            {
                data.Add(group.Title, check.Id);
            }
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(Rows))]
    public void The_computed_value_lies_within_the_tolerance_of_its_source(string group, string id)
    {
        Check check = CheckGroup.All.Single(g => g.Title == group).Rows.Single(row => row.Id == id);

        double computed = check.Compute();

        double allowed = check.Tolerance.Around(check.Expected);
        Assert.True(
            Math.Abs(computed - check.Expected) <= allowed,
            $"{id}: expected {check.Expected} {check.Unit} {check.Tolerance}, computed {computed} ({check.Source})");
    }

    [Fact]
    public void Every_row_can_fail_and_names_its_source()
    {
        foreach (Check check in CheckGroup.All.SelectMany(group => group.Rows))
        {
            Assert.True(double.IsFinite(check.Expected), check.Id);
            // An expected zero with a relative tolerance would allow nothing; anything above a third would allow nearly all.
            Assert.InRange(check.Tolerance.Value, double.Epsilon, check.Tolerance.IsRelative ? 0.34 : double.MaxValue);
            Assert.True(check.Tolerance.Around(check.Expected) > 0, check.Id);
            Assert.False(string.IsNullOrWhiteSpace(check.Source), check.Id);
            Assert.DoesNotContain("|", check.Id + check.Source + check.Unit, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_validation_table_in_docs_is_up_to_date()
    {
        string path = Path.Combine(RepositoryRoot(), "docs", "validation.md");
        string now = ValidationDocument.Write(CheckGroup.All);
        if (Environment.GetEnvironmentVariable(Accept) == "1")
        {
            File.WriteAllText(path, now);
            return;
        }

        string kept = File.Exists(path) ? File.ReadAllText(path).ReplaceLineEndings("\n") : "";
        if (kept == now)
        {
            return;
        }

        string[] keptLines = kept.Split('\n');
        string[] nowLines = now.Split('\n');
        int line = Enumerable.Range(0, Math.Max(keptLines.Length, nowLines.Length))
            .First(i => keptLines.ElementAtOrDefault(i) != nowLines.ElementAtOrDefault(i));
        Assert.Fail($"docs/validation.md differs from line {line + 1}; read the change, then accept it with {Accept}=1.\n"
            + $"kept: {keptLines.ElementAtOrDefault(line)}\nnow:  {nowLines.ElementAtOrDefault(line)}");
    }

    private static string RepositoryRoot()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "ConsultDesk.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new InvalidOperationException("ConsultDesk.sln was not found above the tests.");
    }
}
