using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Reports.Tests;

/// <summary>An invented firm, client and van, and the plan made for them.</summary>
internal static class SamplePlan
{
    public static PlanRequest Request { get; } = new()
    {
        Firm = new FirmBrand("Heron & Daughters Van Advice", "#2f6f62", "desk@heron.example"),
        ClientName = "Ana Ferreira",
        VanName = "The Kingfisher",
        OptionName = "B, second vent at the bed",
        Revision = 3,
        PublishedAt = new DateTime(2026, 11, 25, 8, 30, 0, DateTimeKind.Utc),
        Design = SampleDesign.Design,
        DesignText = """{"format":1}""",
        Assessment = SampleDesign.Assessment,
        Units = DisplayUnits.Metric,
    };

    /// <summary>The sample's plan beside another option.</summary>
    public static PlanSnapshot Plan { get; } = PlanComposer.Compose(Request with
    {
        Other = new ComparedOption("A, as it is", SampleDesign.Design, Quieter, ["Roof fan: 10 % instead of 30 %"]),
    });

    /// <summary>The sample's plan with all that a whole consult adds: wishes, prices, decisions, declined advice and the own idea.</summary>
    public static PlanRequest Whole { get; } = Request with
    {
        Assessment = SampleYear.Assessment,
        DangerReason = "The client keeps the hob until spring and was told never to heat with it.",
        Wishes = new Wishes
        {
            BudgetNow = 2500,
            BudgetLater = 800,
            MustHaves = ["a bed across", "a desk for two"],
            WontHaves = [WontHave.AddedWindow, WontHave.FloorHole],
            OtherWontHaves = ["carpet on the walls"],
            LoudestAtBedDba = 40,
            Order = [Priority.Dry, Priority.Warm, Priority.Cheap],
            Looks = "pale wood, no plastic",
        },
        Cost = CostOf(SampleDesign.Design, "no floor hole (Floor vent)"),
        Own = new OwnIdea("A, the client’s own idea", SampleDesign.Design, Quieter with { Year = SampleYear.Assessment.Year }, CostOf(SampleDesign.Design), IsPublished: false, ["Roof fan: 10 % here, 30 % there"]),
        Decisions = [new PlanDecision("Heat source", "Diesel air heater", "Fuel is at hand everywhere", "Ana"), new PlanDecision("Budget and looks", "Pale wood", "", "")],
        Declined = [new PlanDeclined(null, "A second vent at the bed", "No second hole in the roof", "Ana")],
        Before = new PlanBefore(
            2, new DateTime(2026, 5, 3, 9, 0, 0, DateTimeKind.Utc), "A, the client’s own idea", ["Roof fan: 30 %, was 10 %"], [new PlanNumber("Water condensed in the night", "400\u00A0g")]),
    };

    public static PlanCost CostOf(Design design, params string[] broken) =>
        new(Costing.Of(design, PriceBooks.Default), "EUR", [.. broken], changed => Costing.Of(changed, PriceBooks.Default)) { Book = PriceBooks.Default };

    private static Assessment Quieter => SampleDesign.Assessment with
    {
        Air = SampleDesign.Assessment.Air with { OutdoorAir = UnitsNet.VolumeFlow.FromCubicMetersPerHour(118) },
        Findings = [],
    };

    /// <summary>A plan calculated from a preset van.</summary>
    public static PlanSnapshot Of(Design design, DisplayUnits units) => PlanComposer.Compose(Request with
    {
        Design = design,
        Assessment = Assessor.Assess(design),
        Units = units,
    });

    /// <summary>The plan of the sample's invented year, published although its danger stands.</summary>
    public static PlanSnapshot OfYear(DisplayUnits units) => PlanComposer.Compose(Request with
    {
        Assessment = SampleYear.Assessment,
        Units = units,
        DangerReason = "The client keeps the hob until spring and was told never to heat with it.",
    });

    /// <summary>Findings of a plan, those in the box of dangers among them.</summary>
    public static IEnumerable<FindingBlock> FindingsOf(IEnumerable<PlanBlock> blocks) => blocks.SelectMany(block => block switch
    {
        FindingBlock finding => [finding],
        DangerBlock box => box.Dangers,
        _ => Enumerable.Empty<FindingBlock>(),
    });

    /// <summary>Every text a reader of a plan sees, figures' tables and alternative texts among them.</summary>
    public static IEnumerable<string> TextsOf(IEnumerable<PlanSection> sections)
    {
        foreach (var section in sections)
        {
            yield return section.Heading;
            foreach (var text in section.Blocks.SelectMany(TextsOf))
            {
                yield return text;
            }
        }
    }

    public static IEnumerable<string> TextsOf(PlanBlock block) => block switch
    {
        ParagraphBlock paragraph => [paragraph.Text],
        ListBlock list => list.Items,
        NumbersBlock numbers => numbers.Numbers.SelectMany(number => new[] { number.Label, number.Value }),
        TableBlock table => TextsOf(table.Table),
        FigureBlock { Figure: var figure } =>
        [
            figure.Title, figure.AltText, .. figure.Legend.Select(entry => entry.Text),
            .. figure.Elements.OfType<Label>().Select(label => label.Text), .. TextsOf(figure.Table),
        ],
        PairsBlock pairs => pairs.Pairs.SelectMany(pair => new[] { pair.Label, pair.Value }),
        ThingsBlock things => things.Things.SelectMany(thing => new[] { thing.What, thing.Why, thing.Who, thing.Price, thing.Order }).Where(text => text.Length > 0),
        FindingBlock finding =>
        [
            finding.Title, finding.Text, finding.Remedy, .. finding.Numbers.SelectMany(number => new[] { number.Label, number.Value }),
        ],
        DangerBlock danger => danger.Dangers.SelectMany(TextsOf).Append(danger.Reason).Where(text => text.Length > 0),
        _ => throw new ArgumentException($"No texts of a {block.GetType().Name}.", nameof(block)),
    };

    private static IEnumerable<string> TextsOf(DataTable table) => [table.Caption, .. table.Heads, .. table.Rows.SelectMany(row => row)];
}
