using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Reports.Figures;

/// <summary>A zone in the scene.</summary>
public sealed record SceneZone(string Id, string Name, double X, double Y, double Width, double Height);

/// <summary>An opening in the scene: its middle, and the way out of the van from there as a vector of length 1.</summary>
public sealed record SceneOpening(string Id, string Name, FigurePoint At, FigurePoint Outward);

/// <summary>A passage in the scene: its middle, and the way from its zone A to its zone B.</summary>
public sealed record ScenePassage(string Id, FigurePoint At, FigurePoint TowardsB);

/// <summary>Glass in the scene, as its outline.</summary>
public sealed record SceneGlass(string Id, ImmutableArray<FigurePoint> Outline);

/// <summary>
/// The van from the left without words and numbers, and where everything that changes through a night is in it: for a night that is
/// played, and for its still pictures.
/// </summary>
public sealed record NightScene
{
    /// <summary>What stays as it is.</summary>
    public required Figure Base { get; init; }

    /// <summary>Outline of the body.</summary>
    public required ImmutableArray<FigurePoint> Body { get; init; }

    /// <summary>What lies in the box of the cab and before the windscreen: no air of the van.</summary>
    public required ImmutableArray<FigurePoint> BeforeScreen { get; init; }

    /// <summary>The zones but cupboards, which stand before or behind one.</summary>
    public required ImmutableArray<SceneZone> Zones { get; init; }

    /// <summary>The openings.</summary>
    public required ImmutableArray<SceneOpening> Openings { get; init; }

    /// <summary>The passages between zones.</summary>
    public required ImmutableArray<ScenePassage> Passages { get; init; }

    /// <summary>Glass that is seen from the left: what is on the right wall lies behind it.</summary>
    public required ImmutableArray<SceneGlass> Glass { get; init; }

    /// <summary>Top of the cooker, where steam rises; null without one.</summary>
    public FigurePoint? Cooker { get; init; }

    /// <summary>The scene of a design.</summary>
    public static NightScene Of(Design design) => new VanSideSheet(design, null, Units.DisplayUnits.Metric, null).Scene();
}
