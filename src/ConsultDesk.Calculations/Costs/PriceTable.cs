using System.Collections.Immutable;
using System.Globalization;

namespace ConsultDesk.Calculations.Costs;

/// <summary>What is wrong with one line of a price table.</summary>
/// <param name="Line">Line of the table, the heading is 1.</param>
/// <param name="Column">Name of the column.</param>
/// <param name="Expected">What was expected there.</param>
public sealed record PriceTableError(int Line, string Column, string Expected);

/// <summary>A price table as rows of cells: which columns there are, and what each cell may hold. How cells are quoted is not its matter.</summary>
public static class PriceTable
{
    /// <summary>Most a part or its fitting may cost.</summary>
    public const decimal HighestPrice = 1_000_000;

    /// <summary>Longest name, UTF-16 characters.</summary>
    public const int LongestName = 300;

    /// <summary>Longest key, characters.</summary>
    public const int LongestKey = 100;

    /// <summary>Columns every table has, before those of the facts.</summary>
    public static ImmutableArray<string> NeededColumns { get; } = ["key", "kind", "name", "price", "fitting", "unit", "fittedBy"];

    /// <summary>All columns in the order they are written.</summary>
    public static ImmutableArray<string> Columns { get; } = [.. NeededColumns, .. PriceFacts.All.Select(fact => fact.Name)];

    /// <summary>The cells of an item, one for each of <see cref="Columns"/>.</summary>
    public static ImmutableArray<string> Cells(PriceItem item)
    {
        ArgumentNullException.ThrowIfNull(item);
        return
        [
            item.Key,
            Choices.Name(item.Kind),
            item.Name,
            item.Price.ToString(CultureInfo.InvariantCulture),
            item.Fitting.ToString(CultureInfo.InvariantCulture),
            Choices.Name(item.Unit),
            Choices.Name(item.FittedBy),
            .. PriceFacts.All.Select(fact => item.Facts.GetValueOrDefault(fact.Name, "")),
        ];
    }

    /// <summary>Reads a whole table: its book, or one error for each line that is wrong and no book at all.</summary>
    /// <param name="heading">Cells of the heading.</param>
    /// <param name="rows">The rows with the line each begins on.</param>
    public static (PriceBook? Book, ImmutableArray<PriceTableError> Errors) Read(ImmutableArray<string> heading, IEnumerable<(int Line, ImmutableArray<string> Cells)> rows)
    {
        ArgumentNullException.ThrowIfNull(rows);
        if (HeadingError(heading) is PriceTableError wrongHeading)
        {
            return (null, [wrongHeading]);
        }

        ImmutableArray<PriceItem>.Builder items = ImmutableArray.CreateBuilder<PriceItem>();
        ImmutableArray<PriceTableError>.Builder errors = ImmutableArray.CreateBuilder<PriceTableError>();
        Dictionary<string, int> lineOfKey = [];
        foreach ((int line, ImmutableArray<string> cells) in rows)
        {
            (PriceItem? item, PriceTableError? error) = Item(heading, cells, line);
            if (item is not null && !lineOfKey.TryAdd(item.Key, line))
            {
                error = new PriceTableError(line, "key", string.Create(CultureInfo.InvariantCulture, $"Expected another key: line {lineOfKey[item.Key]} has '{item.Key}' too."));
            }

            if (error is not null)
            {
                errors.Add(error);
            }
            else if (item is not null)
            {
                items.Add(item);
            }
        }

        if (items.Count == 0 && errors.Count == 0)
        {
            errors.Add(new PriceTableError(2, "key", "Expected at least one item below the heading."));
        }

        return errors.Count > 0 ? (null, errors.ToImmutable()) : (new PriceBook(items.ToImmutable()), []);
    }

    /// <summary>What is wrong with an item, column by column; empty when nothing is.</summary>
    public static ImmutableArray<PriceTableError> Errors(PriceItem item) =>
        Item(Columns, Cells(item), line: 0).Error is PriceTableError error ? [error] : [];

    private static PriceTableError? HeadingError(ImmutableArray<string> heading)
    {
        foreach (string column in NeededColumns.Where(column => !heading.Contains(column)))
        {
            return new PriceTableError(1, column, $"Expected a heading with the column '{column}'. Columns: {string.Join(", ", NeededColumns)}, then facts.");
        }

        foreach (string column in heading)
        {
            if (!Columns.Contains(column))
            {
                return new PriceTableError(1, Shown(column), $"Expected one of the columns {string.Join(", ", Columns)}.");
            }

            if (heading.Count(other => other == column) > 1)
            {
                return new PriceTableError(1, column, $"Expected the column '{column}' once.");
            }
        }

        return null;
    }

    private static (PriceItem? Item, PriceTableError? Error) Item(ImmutableArray<string> heading, ImmutableArray<string> cells, int line)
    {
        (PriceItem? Item, PriceTableError? Error) Wrong(string column, string expected) => (null, new PriceTableError(line, column, expected));

        if (cells.Length != heading.Length)
        {
            return Wrong("all", string.Create(CultureInfo.InvariantCulture, $"Expected {heading.Length} cells as in the heading, got {cells.Length}."));
        }

        string Cell(string column) => heading.IndexOf(column) is int at and >= 0 ? cells[at].Trim() : "";
        string Got(string column) => Cell(column).Length == 0 ? "nothing" : $"'{Shown(Cell(column))}'";

        if (!IsKey(Cell("key")))
        {
            return Wrong("key", $"Expected a key of small letters a to z, digits and hyphens, at most {LongestKey} characters, for example roof-vent-400; got {Got("key")}.");
        }

        if (Choices.Parse<PriceKind>(Cell("kind")) is not PriceKind kind)
        {
            return Wrong("kind", $"Expected one of {Names<PriceKind>()}; got {Got("kind")}.");
        }

        string name = Cell("name");
        if (name.Length is 0 or > LongestName || name.Any(char.IsControl))
        {
            return Wrong("name", $"Expected a name of 1 to {LongestName} characters without line breaks, got {name.Length.ToString(CultureInfo.InvariantCulture)}.");
        }

        foreach (string column in new[] { "price", "fitting" })
        {
            if (!IsMoney(Cell(column), out _))
            {
                return Wrong(column, string.Create(CultureInfo.InvariantCulture, $"Expected an amount from 0 to {HighestPrice} with at most two decimals after a point, for example 129.50; got {Got(column)}."));
            }
        }

        if (Choices.Parse<PriceUnit>(Cell("unit")) is not PriceUnit unit)
        {
            return Wrong("unit", $"Expected one of {Names<PriceUnit>()}; got {Got("unit")}.");
        }

        if (!UnitsOf(kind).Contains(unit))
        {
            return Wrong("unit", $"Expected {string.Join(" or ", UnitsOf(kind).Select(Choices.Name))} for the kind {Choices.Name(kind)}; got {Got("unit")}.");
        }

        if (Choices.Parse<FittedBy>(Cell("fittedBy")) is not FittedBy fittedBy)
        {
            return Wrong("fittedBy", $"Expected one of {Names<FittedBy>()}; got {Got("fittedBy")}.");
        }

        IsMoney(Cell("price"), out decimal price);
        IsMoney(Cell("fitting"), out decimal fitting);
        if (fittedBy == FittedBy.You && fitting != 0)
        {
            return Wrong("fitting", "Expected 0 where the client fits it.");
        }

        foreach (PriceFact fact in PriceFacts.All)
        {
            string cell = Cell(fact.Name);
            if (cell.Length == 0 && fact.Needed.Contains(kind))
            {
                return Wrong(fact.Name, $"Expected {fact.Expected} for the kind {Choices.Name(kind)}; got nothing.");
            }

            if (cell.Length > 0 && !fact.Fits(kind))
            {
                return Wrong(fact.Name, $"Expected nothing for the kind {Choices.Name(kind)}; got {Got(fact.Name)}.");
            }

            if (cell.Length > 0 && !fact.Holds(cell))
            {
                return Wrong(fact.Name, $"Expected {fact.Expected}; got {Got(fact.Name)}.");
            }
        }

        if (kind == PriceKind.Material)
        {
            bool membrane = Cell("material") == PriceFacts.Membrane;
            string needed = membrane ? "vapourSdM" : "thicknessMm";
            string other = membrane ? "thicknessMm" : "vapourSdM";
            if (Cell(needed).Length == 0)
            {
                return Wrong(needed, $"Expected {PriceFacts.Find(needed)!.Expected} for the material {Cell("material")}; got nothing.");
            }

            if (Cell(other).Length > 0)
            {
                return Wrong(other, $"Expected nothing for the material {Cell("material")}; got {Got(other)}.");
            }
        }

        return (new PriceItem
        {
            Key = Cell("key"),
            Kind = kind,
            Name = name,
            Price = price,
            Fitting = fitting,
            Unit = unit,
            FittedBy = fittedBy,
            Facts = PriceFacts.All.Where(fact => Cell(fact.Name).Length > 0).ToImmutableSortedDictionary(fact => fact.Name, fact => Cell(fact.Name), StringComparer.Ordinal),
        }, null);
    }

    private static bool IsKey(string key) => key.Length is > 0 and <= LongestKey
        && key.Split('-').All(part => part.Length > 0 && part.All(letter => char.IsAsciiLetterLower(letter) || char.IsAsciiDigit(letter)));

    private static bool IsMoney(string text, out decimal amount) =>
        PriceFacts.IsNumber(text, out amount) && amount <= HighestPrice && decimal.Round(amount, 2) == amount;

    private static ImmutableArray<PriceUnit> UnitsOf(PriceKind kind) => kind switch
    {
        PriceKind.Material or PriceKind.Cover => [PriceUnit.SquareMetre],
        PriceKind.BedBase or PriceKind.CabDivider => [PriceUnit.Each, PriceUnit.SquareMetre],
        PriceKind.LiquidFuel => [PriceUnit.Litre],
        PriceKind.BottledGas or PriceKind.Firewood => [PriceUnit.Kilogram],
        PriceKind.Electricity => [PriceUnit.KilowattHour],
        _ => [PriceUnit.Each],
    };

    private static string Names<T>()
        where T : struct, Enum => string.Join(", ", Enum.GetValues<T>().Select(Choices.Name));

    // A message names the cell, not a page of it.
    private static string Shown(string cell) => cell.Length <= 40 ? cell : string.Concat(cell.AsSpan(0, 40), "...");
}
