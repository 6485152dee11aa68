using System.Globalization;
using ConsultDesk.Calculations.Costs;

namespace ConsultDesk.Reports.Units;

/// <summary>The tax on sales in words.</summary>
public static class TaxWords
{
    /// <summary>Name and rate, for example VAT 20 %.</summary>
    public static string NameOf(Tax tax) => string.Create(CultureInfo.InvariantCulture, $"{tax.Name} {tax.Percent:0.##}{DisplayUnits.NoBreakSpace}%");

    /// <summary>What a total means: that the tax is in it, or what it comes to with the tax; null when no tax is spoken of.</summary>
    public static string? Of(Tax tax, decimal total, string currency)
    {
        if (tax.IsNone)
        {
            return null;
        }

        var parts = tax.Of(total);
        return tax.Included
            ? $"with {NameOf(tax)}, which is {Money.Of(parts.Tax, currency)} of it"
            : $"without {NameOf(tax)}; {Money.Of(parts.Gross, currency)} with it";
    }
}
