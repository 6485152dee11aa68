using Xunit;

namespace ConsultDesk.Calculations.Tests.Validation;

/// <summary>Keeps docs/validation.md true and as full as it says; its rows run in <see cref="RowTests"/>.</summary>
public sealed class ValidationTests
{
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
    public void Enough_rows_count_in_all_in_each_subject_and_of_those_read_in_a_source() =>
        Assert.Empty(ValidationCount.Shortfalls(CheckGroup.All));

    [Fact]
    public void No_equation_counts_more_rows_than_it_may()
    {
        foreach (CheckGroup group in CheckGroup.All)
        {
            Assert.All(
                ValidationCount.Counted([group]).GroupBy(row => row.Equation),
                equation => Assert.InRange(equation.Count(), 1, ValidationCount.MostPerEquation));
        }
    }

    [Fact]
    public void The_validation_table_in_docs_is_up_to_date()
    {
        KeptDocument.Compare("docs/validation.md", ValidationDocument.Write(CheckGroup.All));
    }
}
