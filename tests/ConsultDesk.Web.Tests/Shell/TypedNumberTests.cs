using System.Globalization;
using ConsultDesk.Web.Intake;
using ConsultDesk.Web.Shell;
using Xunit;

namespace ConsultDesk.Web.Tests.Shell;

public sealed class TypedNumberTests
{
    // Common practice of writing numbers (ISO 80000-1, 7.3.2: the decimal sign is a comma or a point), from memory.
    [Theory]
    [InlineData("1500", "1500")]
    [InlineData("1 500", "1500")]
    [InlineData("1\u202F500", "1500")]
    [InlineData("1'500", "1500")]
    [InlineData("1.5", "1.5")]
    [InlineData("1,5", "1.5")]
    [InlineData("1,50", "1.5")]
    [InlineData("0,500", "0.5")]
    [InlineData(".750", "0.75")]
    [InlineData("1500,250", "1500.25")]
    [InlineData("1.2345", "1.2345")]
    [InlineData("1,500.00", "1500")]
    [InlineData("1.500,00", "1500")]
    [InlineData("1,500,000", "1500000")]
    [InlineData("1,500", "1500 1.5")]
    [InlineData("1.500", "1500 1.5")]
    [InlineData("12,345", "12345 12.345")]
    [InlineData("1,5,0", "")]
    [InlineData("1.5,0.0", "")]
    [InlineData("-5", "")]
    [InlineData("five", "")]
    [InlineData("", "")]
    [InlineData(null, "")]
    public void A_number_is_read_as_everything_it_can_mean(string? typed, string readings) =>
        Assert.Equal(readings, string.Join(' ', TypedNumber.Readings(typed).Select(number => number.ToString("0.####", CultureInfo.InvariantCulture))));

    [Fact]
    public void A_budget_that_can_mean_two_amounts_is_asked_about_and_not_guessed()
    {
        Assert.Null(Questionnaire.Money("1,500"));
        Assert.Equal("“1,500” can mean 1500 or 1.5. Type it as 1500, or as 1.5.", Questionnaire.MoneyError("1,500"));
        Assert.Equal(1500, Questionnaire.Money("1500"));
        Assert.Equal(1.5m, Questionnaire.Money("1.5"));
        Assert.Null(Questionnaire.MoneyError("1.5"));
        Assert.StartsWith("Expected an amount from 0 to", Questionnaire.MoneyError("much"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_size_that_can_mean_two_is_read_as_the_one_a_van_can_have_and_asked_about_when_both_can_be()
    {
        var unit = Questionnaire.SizeUnits.First(known => known.Metres == 1).Value;
        // A van 3705 m long is none.
        Assert.Equal(3.705, Questionnaire.Metres("3,705", unit, new("size", 1, 15, "m")));
        Assert.Null(Questionnaire.Metres("1,500", unit, new("size", 1, 2000, "m")));
    }
}
