using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Web.Workspace.Board;

/// <summary>A drawing of the van on which openings are moved.</summary>
public enum BoardView
{
    /// <summary>Seen from the left.</summary>
    Side,

    /// <summary>Seen from above.</summary>
    Plan,

    /// <summary>The roof alone, seen from above.</summary>
    Roof,
}

/// <summary>What the handles show.</summary>
/// <param name="Design">The van as it stands in the editor.</param>
/// <param name="Chosen">Id of the opening that is chosen; null for none.</param>
public sealed record BoardState(Design Design, string? Chosen);
