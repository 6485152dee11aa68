using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings;

/// <summary>Edits of what hangs before the glass.</summary>
internal static class GlassCovers
{
    /// <summary>Outside covers over all fixed glass and over the panes of shut windows.</summary>
    public static Design AllOutside(Design design) => Change(design, _ => true);

    /// <summary>Outside covers instead of loose inside ones.</summary>
    public static Design LooseToOutside(Design design) => Change(design, pane => pane.Cover == Cover.InsideLoose);

    /// <summary>Loose covers outside with their edges fastened.</summary>
    public static Design Fastened(Design design) => design with
    {
        Glazings = [.. design.Glazings.Select(glazing => glazing with { Pane = Fastened(glazing.Pane) })],
        Openings = [.. design.Openings.Select(opening => opening.Pane is Pane pane ? opening with { Pane = Fastened(pane) } : opening)],
    };

    private static Pane Fastened(Pane pane) => pane.Cover == Cover.OutsideLoose ? pane with { Cover = Cover.Outside } : pane;

    // A cover over an open window would shut out the air, so open ones stay bare.
    private static Design Change(Design design, Func<Pane, bool> change) => design with
    {
        Glazings =
        [
            .. design.Glazings.Select(glazing => change(glazing.Pane)
                ? glazing with { Pane = glazing.Pane with { Cover = Cover.Outside } }
                : glazing),
        ],
        Openings =
        [
            .. design.Openings.Select(opening => opening.Pane is Pane pane && change(pane)
                ? opening with { Pane = pane with { Cover = opening.Position == Position.Shut ? Cover.Outside : Cover.None } }
                : opening),
        ],
    };
}
