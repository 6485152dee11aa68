using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Web.Workspace.Board;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Web.Tests.Workspace.Board;

/// <summary>What a drag in a drawing means for the opening that is dragged.</summary>
public sealed class DrawnOpeningTests
{
    private const double Millimetre = 0.001;

    private static Design Van()
    {
        var design = Samples.Design();
        return NewOpenings.Kinds.Aggregate(design, (van, kind) => NewOpenings.Place(van, kind.Make(van)) ?? van);
    }

    public static TheoryData<string, BoardView> Seen()
    {
        var data = new TheoryData<string, BoardView>();
        var design = Van();
        foreach (var opening in design.Openings)
        {
            foreach (var view in Enum.GetValues<BoardView>().Where(view => DrawnOpening.Of(design, opening, view) is not null))
            {
                data.Add(opening.Id, view);
            }
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(Seen))]
    public void An_opening_drawn_to_where_it_lies_stays_to_the_centimetre(string id, BoardView view)
    {
        var design = Van();
        var was = Openings.Find(design, id)!;
        var drawn = DrawnOpening.Of(design, was, view)!;

        var now = Openings.Find(DrawnOpening.MovedTo(design, id, view, drawn.AlongM, drawn.UpM), id)!;

        Assert.Equal(was.Face, now.Face);
        Assert.Equal(was.X.Meters, now.X.Meters, 0.005 + 1e-9);
        Assert.Equal(was.Y.Meters, now.Y.Meters, 0.005 + 1e-9);
        Assert.Equal(was.Z.Meters, now.Z.Meters, 0.005 + 1e-9);
        Assert.Equal((was.Length, was.Width), (now.Length, now.Width));
    }

    [Theory]
    [MemberData(nameof(Seen))]
    public void The_corner_drawn_out_leaves_the_opposite_corner_where_it_is(string id, BoardView view)
    {
        var design = Van();
        var before = DrawnOpening.Of(design, Openings.Find(design, id)!, view)!;

        var sized = DrawnOpening.SizedTo(design, id, view, before.AlongM + (before.LengthM / 2) + 0.1, before.UpM - (before.HeightM / 2) - 0.05);
        var after = DrawnOpening.Of(sized, Openings.Find(sized, id)!, view)!;

        if (before.LengthM > 0)
        {
            Assert.Equal(before.LengthM + 0.1, after.LengthM, 0.005 + 1e-9);
            Assert.Equal(before.AlongM - (before.LengthM / 2), after.AlongM - (after.LengthM / 2), Millimetre);
        }

        if (before.HeightM > 0)
        {
            Assert.Equal(before.HeightM + 0.05, after.HeightM, 0.005 + 1e-9);
            Assert.Equal(before.UpM + (before.HeightM / 2), after.UpM + (after.HeightM / 2), Millimetre);
        }

        // What the view does not show of it is as it was.
        Assert.Equal(Openings.Find(design, id)!.Face, Openings.Find(sized, id)!.Face);
    }

    [Fact]
    public void A_window_drawn_from_above_across_the_middle_goes_to_the_other_wall()
    {
        var design = Van();
        var window = design.Openings.First(opening => opening.Face == Face.Left);

        var right = Openings.Find(DrawnOpening.MovedTo(design, window.Id, BoardView.Plan, window.X.Meters, design.Body.InteriorWidth.Meters), window.Id)!;

        Assert.Equal(Face.Right, right.Face);
        Assert.Equal(window.Z, right.Z);
    }

    [Fact]
    public void From_the_side_a_lid_moves_along_the_roof_and_a_window_up_and_down()
    {
        var design = Van();
        var lid = design.Openings.First(opening => opening.Face == Face.Roof);
        var moved = Openings.Find(DrawnOpening.MovedTo(design, lid.Id, BoardView.Side, 2.5, 99), lid.Id)!;
        Assert.Equal((2.5, lid.Y), (moved.X.Meters, moved.Y));

        var window = design.Openings.First(opening => opening.Face == Face.Left);
        var raised = Openings.Find(DrawnOpening.MovedTo(design, window.Id, BoardView.Side, window.X.Meters, 1.5), window.Id)!;
        Assert.Equal((1.5, window.Y), (raised.Z.Meters, raised.Y));
    }

    [Fact]
    public void A_place_drawn_between_two_centimetres_is_the_nearer_one()
    {
        var design = Van();
        var lid = design.Openings.First(opening => opening.Face == Face.Roof);

        var moved = Openings.Find(DrawnOpening.MovedTo(design, lid.Id, BoardView.Roof, 2.5049, 0.8951), lid.Id)!;

        Assert.Equal(Length.FromMeters(2.5), moved.X);
        Assert.Equal(Length.FromMeters(0.9), moved.Y);
    }
}
