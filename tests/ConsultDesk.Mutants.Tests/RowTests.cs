using Xunit;

namespace ConsultDesk.Calculations.Tests.Validation;

/// <summary>The rows of the validation table that belong to the four folders, without the page they are written to.</summary>
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
        Assert.InRange(check.Compute() - check.Expected, -check.Tolerance.Around(check.Expected), check.Tolerance.Around(check.Expected));
    }
}
