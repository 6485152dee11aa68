using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>An opening cut through a rib, an airbag, wiring, a tank or a door's track.</summary>
internal static class CutsHiddenPart
{
    private const int Steps = 24;
    private const double EdgeM = 0.05;

    public static Finding? Judge(FindingContext context)
    {
        ImmutableArray<(Opening Opening, HiddenPart Part, Area Shared)> cuts = Cuts(context.Design);
        if (cuts.IsEmpty)
        {
            return null;
        }

        int fitted = cuts.Select(cut => cut.Opening).Distinct().Count(opening => opening.State == PartState.Fitted);
        return new Finding
        {
            Code = "cuts-hidden-part",
            Severity = Severity.Warning,
            Title = "A hole would cut what lies behind the skin",
            Explanation = "Ribs and bows carry the body in a crash, airbags fire when they are hit, wiring without its cover starts fires, and a tank or a door's track is costly. "
                + "None of it shows from outside.",
            Evidence =
            [
                new("Places where an opening meets a hidden part", Scalar.FromAmount(cuts.Length)),
                .. cuts.Select(cut => new Evidence($"{cut.Opening.Name} over {cut.Part.Name}", cut.Shared)),
            ],
            Remedy = (fitted > 0 ? "What is fitted there was cut already: have a body shop look at it before the van is driven on. " : "")
                + "Move an opening that is not cut yet to where nothing lies behind. Look from inside before cutting, and follow the body builder's instructions; whatever must be cut all the same "
                + "is a body shop's work, airbags and looms are an auto electrician's.",
            TriedAs = "The copy moves what is not fitted yet to the nearest free place of the same face.",
            Apply = Cuts(Moved(context.Design)).Length < cuts.Length ? Moved : null,
        };
    }

    private static ImmutableArray<(Opening Opening, HiddenPart Part, Area Shared)> Cuts(Design design) =>
    [
        .. from opening in design.Openings
           from part in HiddenParts.CutBy(design.Body, opening)
           select (opening, part, Area.FromSquareMeters(FaceBox.Of(opening).SharedM2(FaceBox.Of(part)))),
    ];

    private static Design Moved(Design design)
    {
        foreach (Opening opening in design.Openings.Where(opening => opening.State != PartState.Fitted))
        {
            if (!HiddenParts.CutBy(design.Body, opening).IsEmpty && Places(design, opening).FirstOrDefault(place => Free(design, place)) is Opening place)
            {
                Design moved = Openings.Move(design, opening.Id, place.X, place.Y, place.Z);
                design = DesignCheck.Errors(moved).IsEmpty ? moved : design;
            }
        }

        return design;
    }

    private static bool Free(Design design, Opening place)
    {
        Design without = Openings.Remove(design, place.Id);
        return !RoofPlan.ClashesOf(without, place).Any()
            && Openings.ZoneAt(design, place.Face, place.X, place.Z) is not null;
    }

    // Along the face and across it; nearest first, those of the same zone before the others.
    private static IEnumerable<Opening> Places(Design design, Opening opening)
    {
        bool ends = opening.Face is Face.Nose or Face.Tail;
        double alongM = (ends ? design.Body.InteriorWidth : design.Body.InteriorLength).Meters;
        double acrossM = (opening.Face is Face.Roof or Face.Floor ? design.Body.InteriorWidth : design.Body.InteriorHeight).Meters;
        return
            from u in Grid(alongM, opening.Length.Meters)
            from v in Grid(acrossM, opening.Width.Meters)
            let place = ends
                ? opening with { Y = u, Z = v }
                : opening.Face is Face.Roof or Face.Floor ? opening with { X = u, Y = v } : opening with { X = u, Z = v }
            orderby Openings.ZoneAt(design, place.Face, place.X, place.Z)?.Id == opening.ZoneId ? 0 : 1,
                Math.Abs((place.X - opening.X).Meters) + Math.Abs((place.Y - opening.Y).Meters) + Math.Abs((place.Z - opening.Z).Meters)
            select place;
    }

    private static IEnumerable<Length> Grid(double sizeM, double frameM)
    {
        double fromM = (frameM / 2) + EdgeM;
        double toM = sizeM - fromM;
        return toM < fromM
            ? []
            : Enumerable.Range(0, Steps + 1).Select(step => Length.FromMeters(Math.Round(fromM + (step * (toM - fromM) / Steps), 3)));
    }
}
