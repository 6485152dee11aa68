using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// A design compiled for situations: built once, every opening can be set anew without building again. Immutable and
/// shared by all situations of the design. Covers hang while people sleep and at no other time, as in the year.
/// </summary>
internal sealed class SituationModel
{
    private readonly double[] _share;
    private readonly SituationModel _uncovered;

    public SituationModel(Design design, Assumptions assumed)
    {
        Design = design;
        // Every opening gets its path; how far it stands open is a matter of the state.
        Night = new NightModel(design with { Openings = [.. design.Openings.Select(opening => opening with { Position = Position.Full, Covered = false })] }, assumed);
        SunApertureM2 = SunGain.ApertureM2(Night);
        _share = new double[4 * design.Openings.Length];
        for (int index = 0; index < design.Openings.Length; index++)
        {
            foreach (Position position in Enum.GetValues<Position>())
            {
                _share[(4 * index) + (int)position] = Share(design.Openings[index], position, assumed);
            }
        }

        SteamOutlets = [.. AboveCooker(design, assumed["steam-capture-reach"])];
        _uncovered = HasCovers(design) ? new SituationModel(WithoutCovers(design), assumed) : this;
    }

    /// <summary>The design as it was given.</summary>
    public Design Design { get; }

    /// <summary>The network and surfaces, all openings present.</summary>
    public NightModel Night { get; }

    /// <summary>Heat into each zone per W/m2 of sun, m2.</summary>
    public double[] SunApertureM2 { get; }

    /// <summary>Indices of the roof openings above the cooker.</summary>
    public ImmutableArray<int> SteamOutlets { get; }

    /// <summary>The model while people do something: with its covers hung while they sleep.</summary>
    public SituationModel While(Activity activity) => activity == Activity.Asleep ? this : _uncovered;

    /// <summary>Path of an opening.</summary>
    public OutsidePath Path(int opening) => Night.OpeningPaths[opening]
        ?? throw new InvalidOperationException($"Opening {opening} has no path.");

    /// <summary>Share of its full capacity an opening passes in a position.</summary>
    public double OpenShare(int opening, Position position) => _share[(4 * opening) + (int)position];

    private static bool HasCovers(Design design) =>
        design.Glazings.Any(glazing => glazing.Pane.Cover != Cover.None) || design.Openings.Any(opening => opening.Pane is { Cover: not Cover.None });

    private static Design WithoutCovers(Design design) => design with
    {
        Glazings = [.. design.Glazings.Select(glazing => glazing with { Pane = glazing.Pane with { Cover = Cover.None } })],
        Openings = [.. design.Openings.Select(opening => opening with { Pane = opening.Pane is Pane pane ? pane with { Cover = Cover.None } : null })],
    };

    // A cover before a window hinders the wide window more than the narrow gap, so the capacity is not just in proportion.
    private static double Share(Opening opening, Position position, Assumptions assumed)
    {
        double share = position.Share();
        if (share == 0 || opening.Fan is not null)
        {
            return share;
        }

        double fullM2 = Openings.FullFreeArea(opening).SquareMeters;
        return share * NightModel.DischargeCoefficient(opening, share * fullM2, assumed) / NightModel.DischargeCoefficient(opening, fullM2, assumed);
    }

    /// <summary>Indices of the roof openings within reach of a cooker, along the van.</summary>
    internal static IEnumerable<int> AboveCooker(Design design, double reachM)
    {
        for (int index = 0; index < design.Openings.Length; index++)
        {
            Opening opening = design.Openings[index];
            if (opening.Face == Face.Roof && design.Body.Furniture.Any(piece => piece.Kind == FurnitureKind.Cooker
                && Math.Abs(piece.X.Meters + (piece.Length.Meters / 2) - opening.X.Meters) <= reachM))
            {
                yield return index;
            }
        }
    }
}
