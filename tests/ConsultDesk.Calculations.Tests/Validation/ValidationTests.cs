using Xunit;

namespace ConsultDesk.Calculations.Tests.Validation;

/// <summary>Runs every row, and keeps docs/validation.md true.</summary>
public sealed class ValidationTests
{
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
        KeptDocument.Compare("docs/validation.md", ValidationDocument.Write(CheckGroup.All));
    }
}
