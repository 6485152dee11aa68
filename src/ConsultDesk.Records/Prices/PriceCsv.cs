using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Costs;
using CsvHelper;
using CsvHelper.Configuration;

namespace ConsultDesk.Records;

/// <summary>A price table has wrong lines; nothing of it was taken.</summary>
public sealed class PriceTableException(IReadOnlyList<PriceTableError> errors)
    : Exception(string.Join(" ", errors.Select(e => FormattableString.Invariant($"Line {e.Line}, {e.Column}: {e.Expected}"))))
{
    /// <summary>One entry per wrong line, at least one.</summary>
    public IReadOnlyList<PriceTableError> Errors { get; } = errors;
}

/// <summary>
/// The text form of a price book: a heading and a line per item, cells quoted as RFC 4180 has it. What a spreadsheet
/// would take for a formula is written with an apostrophe before it, and read without.
/// </summary>
public static class PriceCsv
{
    /// <summary>Longest text that is read, UTF-16 characters.</summary>
    public const int LongestText = 2_000_000;

    // What begins a formula in a spreadsheet.
    private const string FormulaStarts = "=+-@\t\r";

    /// <summary>The text of a book.</summary>
    public static string Write(PriceBook book)
    {
        ArgumentNullException.ThrowIfNull(book);
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        using (var csv = new CsvWriter(text, new CsvConfiguration(CultureInfo.InvariantCulture) { NewLine = "\r\n" }))
        {
            WriteLine(csv, PriceTable.Columns);
            foreach (var item in book.Items)
            {
                WriteLine(csv, PriceTable.Cells(item));
            }
        }

        return text.ToString();
    }

    /// <summary>Reads a book.</summary>
    /// <exception cref="PriceTableException">A line is wrong.</exception>
    public static PriceBook Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (text.Length > LongestText)
        {
            throw new PriceTableException([new(1, "all", FormattableString.Invariant($"Expected at most {LongestText} characters, got {text.Length}."))]);
        }

        HashSet<int> badLines = [];
        var configuration = new CsvConfiguration(CultureInfo.InvariantCulture)
        {
            BadDataFound = bad => badLines.Add(bad.Context.Parser!.RawRow),
            MaxFieldSize = 0,
        };
        using var parser = new CsvParser(new StringReader(text.TrimStart('\uFEFF')), configuration);
        if (!parser.Read())
        {
            throw new PriceTableException([new(1, "all", $"Expected a heading with the columns {string.Join(", ", PriceTable.NeededColumns)}.")]);
        }

        var heading = Cells(parser);
        if (heading.Length == 1 && heading[0].Contains(';', StringComparison.Ordinal))
        {
            throw new PriceTableException([new(1, "all", "Expected commas between the cells, got semicolons: export the table again as comma-separated.")]);
        }

        var (book, errors) = PriceTable.Read(heading, Rows(parser));
        // A stray quote moves the cells about, so its own message replaces what follows from it.
        IReadOnlyList<PriceTableError> all =
        [
            .. badLines.Select(line => new PriceTableError(line, "all", "Expected quotes round a whole cell, doubled inside it."))
                .Concat(errors.Where(error => !badLines.Contains(error.Line)))
                .OrderBy(error => error.Line),
        ];
        return all.Count > 0 ? throw new PriceTableException(all) : book!;
    }

    private static IEnumerable<(int Line, ImmutableArray<string> Cells)> Rows(CsvParser parser)
    {
        while (parser.Read())
        {
            yield return (parser.RawRow, Cells(parser));
        }
    }

    private static ImmutableArray<string> Cells(CsvParser parser) => [.. (parser.Record ?? []).Select(Unguarded)];

    private static void WriteLine(CsvWriter csv, ImmutableArray<string> cells)
    {
        foreach (var cell in cells)
        {
            csv.WriteField(Guarded(cell));
        }

        csv.NextRecord();
    }

    private static string Guarded(string cell) => StartsFormula(cell) || IsGuarded(cell) ? "'" + cell : cell;

    private static string Unguarded(string cell) => IsGuarded(cell) ? cell[1..] : cell;

    private static bool StartsFormula(string cell) => cell.Length > 0 && FormulaStarts.Contains(cell[0], StringComparison.Ordinal);

    // A cell that only looks guarded gets one more apostrophe, so that reading takes off exactly what writing put on.
    private static bool IsGuarded(string cell) => cell.Length > 1 && cell[0] == '\'' && (cell[1] == '\'' || FormulaStarts.Contains(cell[1], StringComparison.Ordinal));
}
