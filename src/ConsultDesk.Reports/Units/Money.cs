using System.Globalization;

namespace ConsultDesk.Reports.Units;

/// <summary>Amounts of money for the reader.</summary>
public static class Money
{
    /// <summary>An amount to the nearest whole, for a sentence: a price is no promise.</summary>
    public static string Rounded(decimal amount, string currency) => Of(decimal.Round(amount, MidpointRounding.AwayFromZero), currency);

    /// <summary>An amount with its currency, for example <c>1 250 EUR</c>: whole where it is, thousands apart, nothing breaks.</summary>
    public static string Of(decimal amount, string currency)
    {
        var format = amount == decimal.Truncate(amount) ? "#,0" : "#,0.00";
        return amount.ToString(format, CultureInfo.InvariantCulture)
            .Replace(",", DisplayUnits.NoBreakSpace, StringComparison.Ordinal)
            .Replace("-", "\u2212", StringComparison.Ordinal) + DisplayUnits.NoBreakSpace + currency;
    }
}
