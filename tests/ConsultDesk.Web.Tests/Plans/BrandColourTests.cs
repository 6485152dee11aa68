using System.Globalization;
using ConsultDesk.Web.Plans;
using Xunit;

namespace ConsultDesk.Web.Tests.Plans;

public sealed class BrandColourTests
{
    // The grounds a plan's text stands on, from desk.css.
    private const string LightPaper = "#f7f5f0";
    private const string DarkPaper = "#12181a";

    [Theory]
    [InlineData("ffff00")]
    [InlineData("000000")]
    [InlineData("ffffff")]
    [InlineData("1f5a52")]
    [InlineData("777777")]
    [InlineData("ff69b4")]
    [InlineData("0000ff")]
    public void Any_colour_of_a_firm_gives_text_that_can_be_read(string hex)
    {
        var colour = BrandColour.Read(hex)!;

        // WCAG 2.2, success criterion 1.4.3: 4.5:1.
        Assert.True(Contrast(colour.LightInk, LightPaper) >= 4.5, colour.LightInk);
        Assert.True(Contrast(colour.DarkInk, DarkPaper) >= 4.5, colour.DarkInk);
        Assert.True(Contrast(colour.On, colour.Hex) >= 4.5, colour.On);
    }

    [Fact]
    public void A_colour_that_reads_already_is_left_alone() => Assert.Equal("#1f5a52", BrandColour.Read("1f5a52")!.LightInk);

    private static double Contrast(string a, string b) =>
        (Math.Max(Luminance(a), Luminance(b)) + 0.05) / (Math.Min(Luminance(a), Luminance(b)) + 0.05);

    private static double Luminance(string hex)
    {
        double Linear(int at)
        {
            var share = int.Parse(hex.AsSpan(at, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture) / 255d;
            return share <= 0.04045 ? share / 12.92 : Math.Pow((share + 0.055) / 1.055, 2.4);
        }

        return (0.2126 * Linear(1)) + (0.7152 * Linear(3)) + (0.0722 * Linear(5));
    }
}
