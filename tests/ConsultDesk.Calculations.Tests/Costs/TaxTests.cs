using ConsultDesk.Calculations.Costs;
using CsCheck;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Costs;

/// <summary>Tax on sales: gross = net (1 + rate), worked by hand (derived from that definition; rounding to hundredths is common practice, no source).</summary>
public sealed class TaxTests
{
    [Theory]
    // 120 at 20 % in the price is 100 and 20; 99.99 / 1.2 = 83.325, half up 83.33.
    [InlineData(120, 20, true, 100, 20, 120)]
    [InlineData(99.99, 20, true, 83.33, 16.66, 99.99)]
    // 8.1 % of 250 is 20.25.
    [InlineData(250, 8.1, false, 250, 20.25, 270.25)]
    // 25 % of 0.02 is 0.005, half up 0.01.
    [InlineData(0.02, 25, false, 0.02, 0.01, 0.03)]
    [InlineData(0, 20, true, 0, 0, 0)]
    [InlineData(77.5, 0, false, 77.5, 0, 77.5)]
    public void A_total_is_parted_into_net_and_tax(double total, double percent, bool included, double net, double tax, double gross) =>
        Assert.Equal(new((decimal)net, (decimal)tax, (decimal)gross), new Tax("VAT", percent, included).Of((decimal)total));

    [Fact]
    public void Net_and_tax_add_up_whatever_the_rate_and_neither_is_below_nought() =>
        Gen.Select(Gen.Int[0, 100_000_000], Gen.Double[0, 50], Gen.Bool).Sample((cents, percent, included) =>
        {
            var parts = new Tax("VAT", percent, included).Of(cents / 100m);
            Assert.Equal(parts.Gross, parts.Net + parts.Tax);
            Assert.True(parts.Net >= 0 && parts.Tax >= 0);
            Assert.Equal(cents / 100m, included ? parts.Gross : parts.Net);
        });

    [Fact]
    public void A_total_below_nought_or_a_rate_that_is_none_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new Tax("VAT", 20, true).Of(-1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Tax("VAT", double.NaN, true).Of(1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Tax("VAT", -1, true).Of(1));
    }
}
