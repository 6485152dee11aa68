using ConsultDesk.Calculations.Costs;
using ConsultDesk.Records;

namespace ConsultDesk.Web.Prices;

/// <summary>The firm's tax on sales as totals are reckoned with it.</summary>
internal static class FirmTax
{
    public static Tax Of(Firm firm) => new(firm.TaxName, firm.TaxPercent, firm.PricesIncludeTax);
}
