using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Web.Workspace;

/// <summary>What cost and advice are reckoned with.</summary>
/// <param name="Book">The firm's prices.</param>
/// <param name="IsDefault">True for the invented prices the app comes with.</param>
/// <param name="Currency">The firm's currency, code of three letters.</param>
/// <param name="Wishes">What the client wants of the van.</param>
public sealed record CostBasis(PriceBook Book, bool IsDefault, string Currency, Wishes Wishes);
