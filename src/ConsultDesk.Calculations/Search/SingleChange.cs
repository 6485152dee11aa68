using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>What a change does to a design.</summary>
public enum ChangeKind
{
    /// <summary>What is there, used otherwise: opened, or running. It costs nothing.</summary>
    Use,

    /// <summary>One part more.</summary>
    Add,

    /// <summary>One part less.</summary>
    Remove,

    /// <summary>A part elsewhere.</summary>
    Move,

    /// <summary>A part exchanged for another.</summary>
    Swap,
}

/// <summary>One change a consultant could propose, of parts that are not fitted.</summary>
/// <param name="Key">Stable key, unique among the changes of one design.</param>
/// <param name="Kind">What it does.</param>
/// <param name="Words">The change in a few words, for example <c>Add roof fan 350 mm with rain hood over the rear</c>.</param>
/// <param name="CutsBody">True when it needs a hole in the body.</param>
/// <param name="Apply">The change; unchanged when it no longer fits the design it is given.</param>
public sealed record SingleChange(string Key, ChangeKind Kind, string Words, bool CutsBody, Func<Design, Design> Apply)
{
    /// <summary>What it decides: changes of one group exclude each other in one design, for example all vents that could be cut into the roof.</summary>
    public string Group { get; init; } = "";

    /// <summary>
    /// What it is among its like, where no other kind can stand in for it: heaters of one kind, insulation open or closed to vapour, covers inside or outside the
    /// glass. Empty where its kind makes no such difference.
    /// </summary>
    public string Family { get; init; } = "";

    /// <summary>Key of the rule that keeps it from being proposed at all; null when it may be.</summary>
    internal string? Barred { get; init; }
}
