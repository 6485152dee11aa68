using System.Collections.Immutable;

namespace ConsultDesk.Calculations.Costs;

/// <summary>The price book a firm starts with, embedded as prices.csv: generic parts, no brands.</summary>
public static class PriceBooks
{
    /// <summary>Where the default prices come from; shown beside them.</summary>
    public const string DefaultNote = "Prices of the book the app comes with are our judgement, invented for the demo: set your own before a client reads them.";

    /// <summary>The book the app comes with.</summary>
    public static PriceBook Default { get; } = Read();

    private static PriceBook Read()
    {
        (PriceBook? book, ImmutableArray<PriceTableError> errors) = PriceTable.Read(
            PriceTable.Columns,
            EmbeddedTable.Rows("Costs.prices.csv", PriceTable.Columns.Length).Select((cells, row) => (row + 2, cells.ToImmutableArray())));
        return book ?? throw new InvalidOperationException($"The table prices.csv is wrong: {string.Join("; ", errors)}.");
    }
}
