using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Costs;

/// <summary>How a part found its item in the price book.</summary>
public enum PriceMatch
{
    /// <summary>The book has none that fits.</summary>
    None,

    /// <summary>The part names the item.</summary>
    ByKey,

    /// <summary>The part names no item: the one of its kind with the same size.</summary>
    SameSize,

    /// <summary>The part names no item: the one of its kind nearest in size.</summary>
    NearestSize,
}

/// <summary>What one part of a design costs.</summary>
/// <param name="PartId">Path of the part in the words of the stored text, for example <c>openings[roof-fan]</c>.</param>
/// <param name="Name">Name of the part.</param>
/// <param name="State">How far it has come.</param>
/// <param name="Item">The item it was priced by; null when the book has none that fits.</param>
/// <param name="Match">How the item was found.</param>
/// <param name="Quantity">Pieces or square metres.</param>
/// <param name="Price">What it costs to buy, rounded to hundredths; null without an item.</param>
/// <param name="Fitting">What it costs to have it fitted, rounded to hundredths; null without an item.</param>
public sealed record CostLine(
    string PartId, string Name, PartState State, PriceItem? Item, PriceMatch Match, double Quantity, decimal? Price, decimal? Fitting)
{
    /// <summary>Part and fitting together; null without an item.</summary>
    public decimal? Whole => Price + Fitting;

    /// <summary>True when it is still to be bought: proposed or later.</summary>
    public bool ToBuy => State is PartState.Proposed or PartState.Later;
}

/// <summary>What a design still costs.</summary>
/// <param name="Lines">Every part that costs or would cost something, fitted and owned ones too, in the order of the design.</param>
/// <param name="Now">Parts and fitting of what is proposed, as far as the book has prices.</param>
/// <param name="Later">The same of what comes later.</param>
/// <param name="Unpriced">Lines that are still to be bought and have no price.</param>
public sealed record CostSheet(ImmutableArray<CostLine> Lines, decimal Now, decimal Later, int Unpriced);
