using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Web.Workspace.Board;

/// <summary>Where an opening sits and how large it is, in words.</summary>
internal static class WhereWords
{
    public static string Of(Opening opening, DisplayUnits units)
    {
        string Metres(UnitsNet.Length length) => units.Format(Measure.SmallLength, length);
        var size = $"{units.Number(Measure.SmallLength, opening.Length)} by {Metres(opening.Width)}";
        var along = $"{Metres(opening.X)} behind the windscreen’s foot";
        var across = $"{Metres(opening.Y)} from the left wall";
        var high = $"{Metres(opening.Z)} above the floor";
        return opening.Face switch
        {
            Face.Roof => $"roof, {along}, {across}, {size}",
            Face.Floor => $"floor, {along}, {across}, {size}",
            Face.Left => $"left wall, {along}, {high}, {size}",
            Face.Right => $"right wall, {along}, {high}, {size}",
            Face.Nose => $"nose, {across}, {high}, {size}",
            Face.Tail => $"rear doors, {across}, {high}, {size}",
            _ => throw new ArgumentOutOfRangeException(nameof(opening), opening.Face, "Expected a face of the body."),
        };
    }
}
