using System.Collections.Immutable;
using ConsultDesk.Calculations.Costs;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Costs;

/// <summary>What a price table may hold.</summary>
public sealed class PriceTableTests
{
    private static readonly ImmutableArray<string> Heading = [.. PriceTable.NeededColumns, "lengthMm", "widthMm", "freeShare"];

    [Fact]
    public void The_default_book_has_every_kind_of_part_and_keys_of_its_own()
    {
        Assert.InRange(PriceBooks.Default.Items.Length, 40, 100);
        Assert.Equal(Enum.GetValues<PriceKind>(), PriceBooks.Default.Items.Select(item => item.Kind).Distinct().Order());
        Assert.Equal(PriceBooks.Default.Items.Length, PriceBooks.Default.Items.Select(item => item.Key).Distinct().Count());
        Assert.Contains("invented", PriceBooks.DefaultNote, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_item_of_the_default_book_reads_back_as_itself()
    {
        (PriceBook? book, ImmutableArray<PriceTableError> errors) = PriceTable.Read(
            PriceTable.Columns, PriceBooks.Default.Items.Select((item, at) => (at + 2, PriceTable.Cells(item))));
        Assert.Empty(errors);
        Assert.Equal(PriceBooks.Default.Items.Select(PriceTable.Cells), book!.Items.Select(PriceTable.Cells));
        Assert.All(PriceBooks.Default.Items, item => Assert.Empty(PriceTable.Errors(item)));
    }

    [Theory]
    [InlineData("Vent 1,roof-vent,A vent,10,0,each,you,400,400,1", "key")]
    [InlineData("v,skylight,A vent,10,0,each,you,400,400,1", "kind")]
    [InlineData("v,roof-vent,,10,0,each,you,400,400,1", "name")]
    [InlineData("v,roof-vent,A vent,-10,0,each,you,400,400,1", "price")]
    [InlineData("v,roof-vent,A vent,10.005,0,each,you,400,400,1", "price")]
    [InlineData("v,roof-vent,A vent,1e3,0,each,you,400,400,1", "price")]
    [InlineData("v,roof-vent,A vent,1000001,0,each,you,400,400,1", "price")]
    [InlineData("v,roof-vent,A vent,10,x,each,licensed-trade,400,400,1", "fitting")]
    [InlineData("v,roof-vent,A vent,10,50,each,you,400,400,1", "fitting")]
    [InlineData("v,roof-vent,A vent,10,0,square-metre,you,400,400,1", "unit")]
    [InlineData("v,roof-vent,A vent,10,0,each,me,400,400,1", "fittedBy")]
    [InlineData("v,roof-vent,A vent,10,0,each,you,,400,1", "lengthMm")]
    [InlineData("v,roof-vent,A vent,10,0,each,you,40000,400,1", "lengthMm")]
    [InlineData("v,roof-vent,A vent,10,0,each,you,400,400,NaN", "freeShare")]
    [InlineData("v,smoke-alarm,An alarm,10,0,each,you,400,,", "lengthMm")]
    [InlineData("v,roof-vent,A vent,10,0,each,you,400,400", "all")]
    public void A_wrong_line_is_told_once_with_its_line_its_column_and_what_was_expected(string line, string column)
    {
        (PriceBook? book, ImmutableArray<PriceTableError> errors) = PriceTable.Read(
            Heading, [(2, Row("good,roof-vent,A vent,10,0,each,you,400,400,1")), (7, Row(line))]);
        Assert.Null(book);
        PriceTableError error = Assert.Single(errors);
        Assert.Equal((7, column), (error.Line, error.Column));
        Assert.StartsWith("Expected", error.Expected, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_lines_with_one_key_are_told_with_the_first_ones_number()
    {
        ImmutableArray<string> row = Row("v,roof-vent,A vent,10,0,each,you,400,400,1");
        (_, ImmutableArray<PriceTableError> errors) = PriceTable.Read(Heading, [(2, row), (3, row)]);
        Assert.Contains("line 2", Assert.Single(errors).Expected, StringComparison.Ordinal);
    }

    [Fact]
    public void A_heading_without_a_column_or_with_one_nobody_knows_is_refused_as_a_whole()
    {
        Assert.Equal("kind", Assert.Single(PriceTable.Read(["key", "name"], []).Errors).Column);
        Assert.Equal("colour", Assert.Single(PriceTable.Read([.. PriceTable.NeededColumns, "colour"], []).Errors).Column);
        Assert.Equal("key", Assert.Single(PriceTable.Read([.. PriceTable.NeededColumns, "key"], []).Errors).Column);
        Assert.NotEmpty(PriceTable.Read(Heading, []).Errors);
    }

    private static ImmutableArray<string> Row(string line) => [.. line.Split(',')];
}
