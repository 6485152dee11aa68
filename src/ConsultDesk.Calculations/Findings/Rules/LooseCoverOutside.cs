using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Covers outside whose edges are loose: wind gets behind them and takes much of their warmth away.</summary>
internal static class LooseCoverOutside
{
    public static Finding? Judge(FindingContext context)
    {
        Design design = context.Design;
        HashSet<string> loose =
        [
            .. design.Glazings.Where(glazing => glazing.Pane.Cover == Cover.OutsideLoose).Select(glazing => glazing.Id),
            .. design.Openings.Where(opening => opening.Pane?.Cover == Cover.OutsideLoose).Select(opening => opening.Id),
        ];
        if (loose.Count == 0)
        {
            return null;
        }

        SurfaceState coldest = context.Assessment.Surfaces.Where(surface => loose.Contains(surface.Id)).MinBy(surface => surface.Temperature.DegreesCelsius)!;
        SurfaceState fastened = context.Reassess(GlassCovers.Fastened(design)).Surfaces.Single(surface => surface.Id == coldest.Id);
        return fastened.Temperature <= coldest.Temperature ? null : new Finding
        {
            Code = "loose-cover-outside",
            Severity = Severity.Advice,
            Title = "Covers outside hang loose",
            Explanation = "A cover outside keeps wind and clear sky from the glass, as long as the air behind it stands still. Through loose edges the wind changes it, and the glass stays nearly as cold as without a cover.",
            Evidence =
            [
                new($"Glass behind the loose cover, {coldest.Name}", coldest.Temperature),
                new("The same glass with its edges fastened all round", fastened.Temperature),
                new("Dew point of the air before it", coldest.DewPoint),
                new("Water condensed on it over the night", coldest.CondensedPerNight),
            ],
            Remedy = "Fasten the edges all round, at the bottom too, where the wind lifts them.",
            TriedAs = "The copy has the same covers with fastened edges.",
            Apply = GlassCovers.Fastened,
        };
    }
}
