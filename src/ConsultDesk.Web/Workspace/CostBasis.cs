using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;

namespace ConsultDesk.Web.Workspace;

/// <summary>What cost and advice are reckoned with.</summary>
/// <param name="Book">The firm's prices.</param>
/// <param name="IsDefault">True for the invented prices the app comes with.</param>
/// <param name="Currency">The firm's currency, code of three letters.</param>
/// <param name="Wishes">What the client wants of the van.</param>
public sealed record CostBasis(PriceBook Book, bool IsDefault, string Currency, Wishes Wishes)
{
    /// <summary>The tax on sales of the firm.</summary>
    public Tax Tax { get; init; } = Tax.None;

    /// <summary>The basis before, as long as prices, currency and wishes are the same: an answer of the search belongs to one.</summary>
    public static CostBasis Of(LoadedPrices prices, string currency, Wishes wishes, Tax tax, CostBasis? before) =>
        before is not null && ReferenceEquals(before.Book, prices.Book) && ReferenceEquals(before.Wishes, wishes) && before.Currency == currency && before.Tax == tax
            ? before
            : new CostBasis(prices.Book, prices.IsDefault, currency, wishes) { Tax = tax };
}
