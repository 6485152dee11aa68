using ConsultDesk.Calculations;
using ConsultDesk.Calculations.Vehicle;
using Microsoft.AspNetCore.Components;
using UnitsNet;

namespace ConsultDesk.Web.Workspace;

/// <summary>Edits one opening of the design.</summary>
public partial class OpeningEditor
{
    private static readonly Face[] Sides = [Face.Left, Face.Right];

    [CascadingParameter]
    public required OptionEditor Editor { get; set; }

    /// <summary>The opening in the design.</summary>
    [Parameter, EditorRequired]
    public required Opening Opening { get; set; }

    private bool Fitted => Opening.State == PartState.Fitted;

    // What is only planned is no fact of the van: it is what the option says.
    private string? Fact(string member) => Fitted ? $"openings[{Opening.Id}].{member}" : null;

    private Body Body => Editor.Design.Body;

    private ValidRange Along => new("Centre from the windscreen", 0, Body.InteriorLength.Meters, "m");

    private ValidRange Across => new("Centre from the left wall", 0, Body.InteriorWidth.Meters, "m");

    private ValidRange Upwards => new("Centre above the floor", 0, Body.InteriorHeight.Meters, "m");

    private Design Move(Design design, Length? x = null, Length? y = null, Length? z = null)
    {
        var opening = Openings.Find(design, Opening.Id)!;
        return Openings.Move(design, Opening.Id, x ?? opening.X, y ?? opening.Y, z ?? opening.Z);
    }

    private Design SetFan(Design design, Func<Fan, Fan> change) =>
        Openings.Change(design, Opening.Id, opening => opening with { Fan = change(opening.Fan!) });

    private Design SetFacts(Design design, Func<OpeningFacts, OpeningFacts> change) =>
        Openings.Change(design, Opening.Id, opening => opening with { Facts = change(opening.Facts) });

    // What cannot be shut stands open.
    private Design SetFixed(Design design, bool isFixed) => Openings.Change(design, Opening.Id, opening => opening with
    {
        Facts = opening.Facts with { Fixed = isFixed },
        Position = isFixed ? Position.Full : opening.Position,
    });
}
