using Xunit;

namespace ConsultDesk.Calculations.Tests.Validation;

/// <summary>Runs every row of the validation table that is compiled in; mutation testing compiles those of four folders.</summary>
public sealed class RowTests
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
}
