using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Costs;

/// <summary>What one part of a design costs.</summary>
/// <param name="PartId">Path of the part in the words of the stored text, for example <c>openings[roof-fan]</c>.</param>
/// <param name="Name">Name of the part.</param>
/// <param name="State">How far it has come.</param>
/// <param name="Item">The item it was priced by; null when the book has none that fits.</param>
/// <param name="Quantity">Pieces or square metres.</param>
/// <param name="Price">What it costs to buy; null without an item.</param>
/// <param name="Fitting">What it costs to have it fitted; null without an item.</param>
public sealed record CostLine(string PartId, string Name, PartState State, PriceItem? Item, double Quantity, decimal? Price, decimal? Fitting);

/// <summary>What a design still costs.</summary>
/// <param name="Lines">Every part that costs or would cost something, fitted and owned ones too, in the order of the design.</param>
/// <param name="Now">Parts and fitting of what is proposed, as far as the book has prices.</param>
/// <param name="Later">The same of what comes later.</param>
/// <param name="Unpriced">Lines that are still to be bought and have no price.</param>
public sealed record CostSheet(ImmutableArray<CostLine> Lines, decimal Now, decimal Later, int Unpriced);
