using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Reports.Units;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Reports.Tests.Plans;

/// <summary>What the workshop gets: parts with their places, cut sheet, order of build.</summary>
public sealed class BuildSheetTests
{
    private static readonly Design Van = SampleDesign.Design;

    [Fact]
    public void Only_holes_that_are_still_to_be_cut_are_on_the_cut_sheet_under_the_numbers_of_the_drawing()
    {
        var states = new[] { PartState.Fitted, PartState.Owned, PartState.Proposed, PartState.Later };
        var design = Van with { Openings = [.. Van.Openings.Select((opening, index) => opening with { State = states[index % 4] })] };
        var table = new CutSheet(design, DisplayUnits.Metric).Blocks().OfType<TableBlock>().First().Table;
        var drawn = VanDrawing.Plan(design, null, DisplayUnits.Metric).Table.Rows.ToDictionary(row => row[0], row => row[1]);
        var rows = table.Rows.Where(row => !row[1].StartsWith("Exhaust", StringComparison.Ordinal)).ToList();
        Assert.NotEmpty(rows);
        Assert.All(rows, row => Assert.StartsWith(drawn[row[0]], row[1], StringComparison.Ordinal));
        Assert.Equal(
            design.Openings.Where(opening => opening.State != PartState.Fitted && opening.Kind is OpeningKind.RoofVent or OpeningKind.SlidingWindow or OpeningKind.HingedWindow or OpeningKind.FloorVent).Select(opening => opening.Name),
            rows.Select(row => drawn[row[0]]));
        Assert.All(design.Openings.Where(opening => opening.State == PartState.Fitted), fitted => Assert.DoesNotContain(rows, row => drawn[row[0]] == fitted.Name));
    }

    // Worked by hand: 5.2 m long, 1.78 m wide; a lid at 3.5 m and 1.09 m lies 1.7 m before the doors and 200 mm right of the centre line.
    [Fact]
    public void A_hole_in_the_roof_is_measured_from_both_ends_and_from_the_centre_line()
    {
        var (sheet, hole) = OneHole(Face.Roof, x: 3.5, y: 1.09, z: 0);
        var place = sheet.Datums(hole).Replace('\u00A0', ' ');
        Assert.Contains("3500 mm behind the windscreen’s foot", place, StringComparison.Ordinal);
        Assert.Contains("1700 mm before the rear doors", place, StringComparison.Ordinal);
        Assert.Contains("200 mm right of the centre line", place, StringComparison.Ordinal);
    }

    [Fact]
    public void A_hole_in_a_wall_is_measured_from_the_front_and_from_the_floor()
    {
        var (sheet, hole) = OneHole(Face.Left, x: 2.4, y: 0, z: 1.25);
        var place = sheet.Datums(hole).Replace('\u00A0', ' ');
        Assert.Contains("2400 mm behind the windscreen’s foot", place, StringComparison.Ordinal);
        Assert.Contains("1250 mm above the finished floor", place, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(3.5, "is cut: move the hole")]
    [InlineData(3.73, "40 mm away")] // the lid ends at 3.68, a bow 20 mm wide at 3.73 begins at 3.72
    [InlineData(3.9, null)]
    public void What_lies_behind_a_hole_or_near_it_is_named(double bowAt, string? expected)
    {
        var (sheet, hole) = OneHole(Face.Roof, x: 3.5, y: 0.89, z: 0, new HiddenPart
        {
            Id = "bow",
            Kind = HiddenPartKind.Rib,
            Name = "Third bow",
            Face = Face.Roof,
            X = Length.FromMeters(bowAt),
            Y = Length.FromMeters(0.89),
            Z = Length.Zero,
            Length = Length.FromMillimeters(20),
            Width = Length.FromMeters(1.6),
        });
        var behind = string.Join("; ", sheet.Behind(hole)).Replace('\u00A0', ' ');
        if (expected is null)
        {
            Assert.StartsWith("nothing is recorded; look for", behind, StringComparison.Ordinal);
        }
        else
        {
            Assert.Contains("Third bow (rib or roof bow) " + expected, behind, StringComparison.Ordinal);
            Assert.Contains("look besides for", behind, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_cut_sheet_has_its_checks_its_edges_and_its_caution()
    {
        var (sheet, _) = OneHole(Face.Roof, x: 3.5, y: 0.89, z: 0);
        var text = PlanWords.Of([new PlanSection("x", "x", [.. sheet.Blocks()])]);
        Assert.All(
            new[] { "body shop", "licensed trades", "airbag", "wiring", "tank", "door track", "primer", "sealant", "template" },
            word => Assert.Contains(word, text, StringComparison.Ordinal));
    }

    [Fact]
    public void A_finished_van_has_no_cut_sheet_and_no_steps_for_its_walls()
    {
        var finished = BuildStages.Started(Van, BuildStage.LivedIn);
        Assert.False(new CutSheet(finished, DisplayUnits.Metric).Any);
        var steps = Steps(finished);
        Assert.DoesNotContain(steps, step => step.StartsWith("Insulation", StringComparison.Ordinal) || step.StartsWith("Holes", StringComparison.Ordinal) || step.StartsWith("Heater", StringComparison.Ordinal));
        Assert.StartsWith("First wet-night trial", steps[^1], StringComparison.Ordinal);
    }

    // Common practice, no source: what lies behind the lining comes before it.
    [Fact]
    public void A_shell_is_built_in_the_order_of_the_trade()
    {
        string[] order = ["Rust", "Coating", "Holes and sealing", "Wiring", "Insulation", "Lining", "Furniture", "Heater", "Alarms", "First wet-night trial"];
        var steps = Steps(BuildStages.Started(Van, BuildStage.EmptyShell));
        Assert.Equal(order, steps.Select(step => order.First(start => step.StartsWith(start, StringComparison.Ordinal))));
    }

    [Fact]
    public void Every_part_to_buy_says_where_it_goes_and_openings_carry_their_number()
    {
        var design = BuildStages.Started(Van, BuildStage.EmptyShell);
        var cost = SamplePlan.CostOf(design);
        var plan = PlanComposer.Compose(SamplePlan.Whole with { Design = design, Cost = cost });
        var table = plan.Sections.Single(section => section.Id == PlanComposer.Parts).Blocks.OfType<TableBlock>().First().Table;
        Assert.Equal(["Part", "No.", "Where it goes", "Size"], table.Heads.Take(4));
        Assert.All(table.Rows[..^1], row => Assert.NotEqual(DataTable.Nothing, row[2]));
        foreach (var (opening, index) in design.Openings.Select((opening, index) => (opening, index)).Where(pair => table.Rows.Any(row => row[0] == pair.opening.Name)))
        {
            Assert.Equal($"{index + 1}", table.Rows.First(row => row[0] == opening.Name)[1]);
        }
    }

    private static List<string> Steps(Design design) => [.. new BuildOrder(design, DisplayUnits.Metric).Blocks().OfType<ListBlock>().First().Items];

    private static (CutSheet Sheet, Opening Hole) OneHole(Face face, double x, double y, double z, params HiddenPart[] hidden)
    {
        var hole = Van.Openings.First(opening => opening.Kind == OpeningKind.RoofVent) with
        {
            Face = face,
            State = PartState.Proposed,
            X = Length.FromMeters(x),
            Y = Length.FromMeters(y),
            Z = Length.FromMeters(z),
            Length = Length.FromMillimeters(360),
            Width = Length.FromMillimeters(360),
        };
        var design = Van with
        {
            Openings = [hole],
            Body = Van.Body with { InteriorLength = Length.FromMeters(5.2), InteriorWidth = Length.FromMeters(1.78), HiddenParts = [.. hidden] },
        };
        return (new CutSheet(design, DisplayUnits.Metric), hole);
    }
}
