using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Plans;

/// <summary>The parts with their prices.</summary>
internal sealed class PartsList(CostSheet sheet, string currency, Design design, DisplayUnits units)
{
    /// <summary>The blocks of the section.</summary>
    public IEnumerable<PlanBlock> Blocks()
    {
        if (Table(PartState.Proposed, "To buy now", "now", sheet.Now) is { } now)
        {
            yield return new TableBlock(now);
        }
        else
        {
            yield return new ParagraphBlock("Nothing has to be bought now.");
        }

        if (Table(PartState.Later, "To buy later; drawn in the plan and counted in no result", "later", sheet.Later) is { } later)
        {
            yield return new TableBlock(later);
        }

        var there = new[] { PartState.Fitted, PartState.Owned }
            .Select(state => (Word: state == PartState.Fitted ? "Fitted" : "Owned", Names: Names(state)))
            .Where(group => group.Names.Count > 0)
            .Select(group => new PlanNumber(group.Word, string.Join("; ", group.Names)))
            .ToImmutableArray();
        if (!there.IsEmpty)
        {
            yield return new ParagraphBlock("What is there already costs nothing more:");
            yield return new PairsBlock(there);
        }

        var open = sheet.Unpriced switch
        {
            0 => "",
            1 => " One part has no price in our list; it comes on top.",
            var more => string.Create(CultureInfo.InvariantCulture, $" {more} parts have no price in our list; they come on top."),
        };
        yield return new ParagraphBlock(
            $"The prices are our own figures in {currency} at the time of publishing, for generic parts and their usual fitting. They are no offer by a supplier or a trade: ask for one before you order.{open}");
    }

    private DataTable? Table(PartState state, string caption, string total, decimal sum)
    {
        var lines = sheet.Lines.Where(line => line.State == state).ToList();
        if (lines.Count == 0)
        {
            return null;
        }

        return new DataTable
        {
            Caption = caption,
            Heads = ["Part", "Priced as", "How much", "Part, " + currency, "Fitting, " + currency, "Fitted by"],
            NumberColumns = [2, 3, 4],
            Rows =
            [
                .. lines.Select(line => ImmutableArray.Create(
                    line.Name,
                    line.Item?.Name ?? "no price in our list",
                    Amount(line),
                    line.Price is { } price ? Number(price) : DataTable.Nothing,
                    line.Fitting is { } fitting ? Number(fitting) : DataTable.Nothing,
                    Trades.NeedsTrade(line, design) ? "licensed trade" : "you")),
                [$"Total {total}: {Money.Of(sum, currency)}", DataTable.Nothing, DataTable.Nothing, Sum(lines, line => line.Price), Sum(lines, line => line.Fitting), DataTable.Nothing],
            ],
        };
    }

    private List<string> Names(PartState state) => [.. sheet.Lines.Where(line => line.State == state).Select(line => line.Name).Distinct()];

    private string Amount(CostLine line) => line.Item?.Unit == PriceUnit.SquareMetre
        ? units.Format(Measure.LargeArea, Area.FromSquareMeters(line.Quantity))
        : line.Quantity.ToString("0.##", CultureInfo.InvariantCulture);

    private static string Sum(List<CostLine> lines, Func<CostLine, decimal?> of) => Number(lines.Sum(line => of(line) ?? 0));

    // The currency stands in the head.
    private static string Number(decimal amount) => Money.Of(amount, "").TrimEnd(DisplayUnits.NoBreakSpace[0]);
}
