using ConsultDesk.Calculations.Costs;

namespace ConsultDesk.Records;

/// <summary>What an item cost during some time.</summary>
/// <param name="Price">Its price; null while the book had no such item.</param>
/// <param name="Fitting">The price of having it fitted; null while the book had no such item.</param>
/// <param name="From">From when, UTC; null for as long as the firm is there.</param>
/// <param name="Until">Until when, UTC; null for still.</param>
/// <param name="ReplacedBy">Who ended it; empty while it holds.</param>
/// <param name="WasDefault">True when it stood in the book the app comes with.</param>
public sealed record PastPrice(decimal? Price, decimal? Fitting, DateTime? From, DateTime? Until, string ReplacedBy, bool WasDefault);

/// <summary>One book that was in use.</summary>
internal sealed record UsedBook(PriceBook Book, DateTime? From, DateTime? Until, string ReplacedBy, bool WasDefault);

internal static class PriceHistory
{
    /// <summary>The history of one item, the newest first; books that left it as it was are one entry.</summary>
    /// <param name="books">The books in use, the newest first.</param>
    /// <param name="key">Key of the item.</param>
    public static IReadOnlyList<PastPrice> Of(IEnumerable<UsedBook> books, string key)
    {
        List<PastPrice> entries = [];
        foreach (var book in books)
        {
            var item = book.Book.Items.FirstOrDefault(item => item.Key == key);
            if (entries is [.., var newer] && (newer.Price, newer.Fitting, newer.WasDefault) == (item?.Price, item?.Fitting, book.WasDefault))
            {
                entries[^1] = newer with { From = book.From };
            }
            else
            {
                entries.Add(new(item?.Price, item?.Fitting, book.From, book.Until, book.ReplacedBy, book.WasDefault));
            }
        }

        return entries;
    }
}
