using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Covers hung loosely inside make the glass colder while room air still reaches it.</summary>
internal static class LooseCoverInside
{
    public static Finding? Judge(FindingContext context)
    {
        Design design = context.Design;
        HashSet<string> loose =
        [
            .. design.Glazings.Where(glazing => glazing.Pane.Cover == Cover.InsideLoose).Select(glazing => glazing.Id),
            .. design.Openings.Where(opening => opening.Pane?.Cover == Cover.InsideLoose).Select(opening => opening.Id),
        ];
        if (loose.Count == 0)
        {
            return null;
        }

        SurfaceState coldest = Coldest(context.Assessment, loose);
        SurfaceState bare = context.Reassess(WithoutLooseCovers(design)).Surfaces.Single(surface => surface.Id == coldest.Id);
        bool wet = coldest.CondensedPerNight.Grams > 0;
        return new Finding
        {
            Code = "loose-cover-inside",
            Severity = wet ? Severity.Warning : Severity.Advice,
            Title = "Loose covers inside make the glass colder",
            Explanation = "A cover inside keeps the room's warmth from the glass. With loose edges the room's vapour still gets there, meets colder glass, and dries away more slowly.",
            Evidence =
            [
                new($"Glass behind the cover, {coldest.Name}", coldest.Temperature),
                new("The same glass without a cover", bare.Temperature),
                new("Dew point of the air before it", coldest.DewPoint),
                new("Water condensed behind it over the night", coldest.CondensedPerNight),
            ],
            Remedy = "Hang the covers outside, or seal their edges all round and wipe the glass in the morning.",
            Apply = GlassCovers.LooseToOutside,
        };
    }

    private static SurfaceState Coldest(Assessment assessment, HashSet<string> ids) =>
        assessment.Surfaces.Where(surface => ids.Contains(surface.Id)).MinBy(surface => surface.Temperature.DegreesCelsius)!;

    private static Design WithoutLooseCovers(Design design) => design with
    {
        Glazings = [.. design.Glazings.Select(glazing => glazing with { Pane = Bare(glazing.Pane) })],
        Openings = [.. design.Openings.Select(opening => opening.Pane is Pane pane ? opening with { Pane = Bare(pane) } : opening)],
    };

    private static Pane Bare(Pane pane) => pane.Cover == Cover.InsideLoose ? pane with { Cover = Cover.None } : pane;
}
