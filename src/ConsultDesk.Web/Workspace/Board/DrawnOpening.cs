using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Web.Workspace.Board;

/// <summary>An opening as a rectangle of a drawing, and what a drag of that rectangle means for it. All in metres: along the van, and across or upwards.</summary>
/// <param name="AlongM">Centre along the van.</param>
/// <param name="UpM">Centre across the van from above, height above the floor from the side.</param>
/// <param name="LengthM">Size along the drawing; 0 where it is seen edge on.</param>
/// <param name="HeightM">Size upwards in the drawing; 0 where it is seen edge on.</param>
public sealed record DrawnOpening(double AlongM, double UpM, double LengthM, double HeightM)
{
    // Nobody marks a hole finer than this with a tape on a roof.
    private const double StepM = 0.01;

    /// <summary>Where an opening lies in a view; null where that view does not show it.</summary>
    public static DrawnOpening? Of(Design design, Opening opening, BoardView view)
    {
        var body = design.Body;
        var (length, width) = (opening.Length.Meters, opening.Width.Meters);
        return (view, opening.Face) switch
        {
            (BoardView.Roof or BoardView.Plan, Face.Roof) or (BoardView.Plan, Face.Floor) => new(opening.X.Meters, opening.Y.Meters, length, width),
            (BoardView.Roof, _) => null,
            (BoardView.Plan, Face.Left) => new(opening.X.Meters, 0, length, 0),
            (BoardView.Plan, Face.Right) => new(opening.X.Meters, body.InteriorWidth.Meters, length, 0),
            (BoardView.Plan, Face.Nose) => new(0, opening.Y.Meters, 0, length),
            (BoardView.Plan, Face.Tail) => new(body.InteriorLength.Meters, opening.Y.Meters, 0, length),
            (BoardView.Side, Face.Roof) => new(opening.X.Meters, body.InteriorHeight.Meters, length, 0),
            (BoardView.Side, Face.Floor) => new(opening.X.Meters, 0, length, 0),
            (BoardView.Side, Face.Left or Face.Right) => new(opening.X.Meters, opening.Z.Meters, length, width),
            (BoardView.Side, Face.Nose) => new(0, opening.Z.Meters, 0, width),
            (BoardView.Side, Face.Tail) => new(body.InteriorLength.Meters, opening.Z.Meters, 0, width),
            _ => throw new ArgumentOutOfRangeException(nameof(view), view, "Expected a view and a face of the body."),
        };
    }

    /// <summary>The view in which the keyboard reaches an opening, so that nobody tabs through it twice.</summary>
    public static BoardView HomeOf(Opening opening) => opening.Face switch
    {
        Face.Roof => BoardView.Roof,
        Face.Floor => BoardView.Plan,
        _ => BoardView.Side,
    };

    /// <summary>
    /// The design with an opening drawn to a point of a view. What the view does not show of its place stays; a window drawn
    /// from above to the other half of the van goes to that wall.
    /// </summary>
    /// <param name="design">The design.</param>
    /// <param name="id">The opening.</param>
    /// <param name="view">The view.</param>
    /// <param name="alongM">Where its centre comes to lie along the drawing, to the next centimetre; null leaves it as it is.</param>
    /// <param name="upM">Where its centre comes to lie upwards in the drawing; null leaves it as it is.</param>
    public static Design MovedTo(Design design, string id, BoardView view, double? alongM, double? upM)
    {
        var opening = Openings.Find(design, id) ?? throw new ArgumentException($"There is no opening '{id}'.", nameof(id));
        var onWall = opening.Face is Face.Left or Face.Right;
        if (view == BoardView.Plan && onWall && upM is { } across)
        {
            var wall = across > design.Body.InteriorWidth.Meters / 2 ? Face.Right : Face.Left;
            design = wall == opening.Face ? design : Openings.Change(design, id, o => o with { Face = wall });
        }

        var atEnd = opening.Face is Face.Nose or Face.Tail;
        var seenFlat = opening.Face is Face.Roof or Face.Floor;
        return Openings.Move(
            design,
            id,
            atEnd ? opening.X : Stepped(alongM) ?? opening.X,
            view != BoardView.Side && !onWall ? Stepped(upM) ?? opening.Y : opening.Y,
            view == BoardView.Side && !seenFlat ? Stepped(upM) ?? opening.Z : opening.Z);
    }

    /// <summary>
    /// The design with an opening made larger or smaller by its corner at the right and the bottom of a view; the opposite
    /// corner stays. What the view does not show of its size stays.
    /// </summary>
    /// <param name="design">The design.</param>
    /// <param name="id">The opening.</param>
    /// <param name="view">The view.</param>
    /// <param name="alongM">Where the right edge comes to lie; null leaves it as it is.</param>
    /// <param name="upM">Where the lower edge comes to lie; null leaves it as it is.</param>
    public static Design SizedTo(Design design, string id, BoardView view, double? alongM, double? upM)
    {
        var opening = Openings.Find(design, id) ?? throw new ArgumentException($"There is no opening '{id}'.", nameof(id));
        if (Of(design, opening, view) is not { } drawn)
        {
            return design;
        }

        // An edge on the side that stays would turn the frame inside out: the smallest there is remains.
        var length = drawn.LengthM > 0 && alongM is { } right ? Math.Max(StepM, Step(right - (drawn.AlongM - (drawn.LengthM / 2)))) : drawn.LengthM;
        var height = drawn.HeightM > 0 && upM is { } bottom ? Math.Max(StepM, Step(drawn.UpM + (drawn.HeightM / 2) - bottom)) : drawn.HeightM;
        var atEnd = opening.Face is Face.Nose or Face.Tail;
        var (sizeAlong, sizeUp) = (Length.FromMeters(length), Length.FromMeters(height));
        var sized = Openings.Change(design, id, o => (atEnd, view) switch
        {
            (true, BoardView.Plan) => o with { Length = sizeUp },
            (true, _) => o with { Width = sizeUp },
            _ => o with { Length = length > 0 ? sizeAlong : o.Length, Width = height > 0 ? sizeUp : o.Width },
        });
        var along = drawn.AlongM + ((length - drawn.LengthM) / 2);
        var up = drawn.UpM - ((height - drawn.HeightM) / 2);
        return MovedExactly(sized, id, view, length > 0 ? along : drawn.AlongM, height > 0 ? up : drawn.UpM);
    }

    private static Design MovedExactly(Design design, string id, BoardView view, double alongM, double upM)
    {
        var opening = Openings.Find(design, id)!;
        var (along, up) = (Length.FromMeters(Math.Round(alongM, 4)), Length.FromMeters(Math.Round(upM, 4)));
        return opening.Face switch
        {
            Face.Roof or Face.Floor => Openings.Move(design, id, along, view == BoardView.Side ? opening.Y : up, opening.Z),
            Face.Left or Face.Right => Openings.Move(design, id, along, opening.Y, view == BoardView.Side ? up : opening.Z),
            _ => Openings.Move(design, id, opening.X, view == BoardView.Plan ? up : opening.Y, view == BoardView.Side ? up : opening.Z),
        };
    }

    private static double Step(double metres) => Math.Round(Math.Round(metres / StepM) * StepM, 3);

    private static Length? Stepped(double? metres) => metres is { } given ? Length.FromMeters(Step(given)) : null;
}
