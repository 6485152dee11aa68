using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Plans;

/// <summary>The parts with their prices.</summary>
internal sealed class PartsList(CostSheet sheet, string currency, Tax tax, Design design, DisplayUnits units)
{
    private const string Total = "Total ";

    private readonly IReadOnlyDictionary<string, string> _marks = VanDrawing.Marks(design);

    /// <summary>Names of the parts that are to be bought, now and later.</summary>
    public static IEnumerable<string> Names(CostSheet sheet) => sheet.Lines.Where(line => line.ToBuy).Select(line => line.Name);

    /// <summary>True for the first cell of the row of totals.</summary>
    public static bool IsTotal(string cell) => cell.StartsWith(Total, StringComparison.Ordinal);

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
            Heads = ["Part", "No.", "Where it goes", "Size", "Priced as", "How much", "Part, " + currency, "Fitting, " + currency, "Fitted by"],
            NumberColumns = [5, 6, 7],
            Wordy = true,
            Rows =
            [
                .. lines.Select(line => ImmutableArray.Create(
                    line.Name,
                    _marks.GetValueOrDefault(MarkedPart(line.PartId), DataTable.Nothing),
                    Where(line.PartId),
                    Size(line),
                    line.Item?.Name ?? "no price in our list",
                    Amount(line),
                    line.Price is { } price ? Number(price) : DataTable.Nothing,
                    line.Fitting is { } fitting ? Number(fitting) : DataTable.Nothing,
                    Trades.NeedsTrade(line, design) ? "licensed trade" : "you")),
                [$"{Total}{total}: {Money.Of(sum, currency)}{Taxed(sum)}", DataTable.Nothing, DataTable.Nothing, DataTable.Nothing, DataTable.Nothing, DataTable.Nothing, Sum(lines, line => line.Price), Sum(lines, line => line.Fitting), DataTable.Nothing],
            ],
        };
    }

    private string Taxed(decimal sum) => sum > 0 && TaxWords.Of(tax, sum, currency) is { } words ? $", {words}" : "";

    // A cover hangs at the opening it covers.
    private static string MarkedPart(string partId) =>
        partId.IndexOf(".pane.", StringComparison.Ordinal) is > 0 and var end ? partId[..end] : partId;

    private string Where(string partId)
    {
        var part = MarkedPart(partId);
        if (design.Openings.FirstOrDefault(opening => part == $"openings[{opening.Id}]") is { } opening)
        {
            return opening.Face switch
            {
                Face.Roof => "roof",
                Face.Floor => "floor",
                Face.Left => "left wall",
                Face.Right => "right wall",
                Face.Nose => "nose",
                Face.Tail => "rear doors",
                _ => throw new InvalidOperationException($"No words for {opening.Face}."),
            };
        }

        var layers = partId.IndexOf(".layers[", StringComparison.Ordinal);
        return layers > 0 ? partId[..layers]
            : partId == "heater" ? ZoneName(design.Heater.ZoneId)
            : partId == "bedBase" ? "under the mattress"
            : partId == "cabDivider" ? "behind the cab"
            : partId.StartsWith("body.roofParts[", StringComparison.Ordinal) ? "on the roof"
            : partId.StartsWith("glazings[", StringComparison.Ordinal) ? "at the glass"
            : design.CirculationFans.FirstOrDefault(fan => partId == $"circulationFans[{fan.Id}]") is { } fan ? ZoneName(fan.ZoneA)
            : design.Dryers.FirstOrDefault(dryer => partId == $"dryers[{dryer.Id}]") is { } dryer ? ZoneName(dryer.ZoneId)
            : partId switch
            {
                "equipment.carbonMonoxideAlarm" or "equipment.smokeAlarm" => "as its maker says",
                "equipment.lowGasAlarm" => "near the floor",
                "equipment.extinguisher" => "in reach of bed and door",
                _ => DataTable.Nothing,
            };
    }

    private string ZoneName(string id) => ScoreFigure.Lower(design.Zones.First(zone => zone.Id == id).Name);

    private string Size(CostLine line)
    {
        var partId = line.PartId;
        if (design.Openings.FirstOrDefault(opening => partId == $"openings[{opening.Id}]") is { } opening)
        {
            return Box(opening.Length, opening.Width);
        }

        if (design.Body.RoofParts.FirstOrDefault(part => partId == $"body.roofParts[{part.Id}]") is { } roof)
        {
            return Box(roof.Length, roof.Width);
        }

        return partId == "heater" ? units.Format(Measure.Heat, design.Heater.RatedOutput)
            : new[] { ("walls", design.Walls), ("roof", design.Roof), ("floor", design.Floor) }
                .SelectMany(part => part.Item2.Layers.OfType<Calculations.Envelope.SolidLayer>().Select(layer => (Id: $"{part.Item1}.layers[{layer.Id}]", layer.Thickness)))
                .FirstOrDefault(layer => layer.Id == partId) is { Id: not null, Thickness: var thickness } ? units.Format(Measure.SmallLength, thickness)
            : DataTable.Nothing;
    }

    private string Box(Length length, Length width) => $"{units.Number(Measure.SmallLength, length)}\u00A0×\u00A0{units.Format(Measure.SmallLength, width)}";

    private List<string> Names(PartState state) => [.. sheet.Lines.Where(line => line.State == state).Select(line => line.Name).Distinct()];

    private string Amount(CostLine line) => line.Item?.Unit == PriceUnit.SquareMetre
        ? units.Format(Measure.LargeArea, Area.FromSquareMeters(line.Quantity))
        : line.Quantity.ToString("0.##", CultureInfo.InvariantCulture);

    private static string Sum(List<CostLine> lines, Func<CostLine, decimal?> of) => Number(lines.Sum(line => of(line) ?? 0));

    // The currency stands in the head.
    private static string Number(decimal amount) => Money.Of(amount, "").TrimEnd(DisplayUnits.NoBreakSpace[0]);
}
