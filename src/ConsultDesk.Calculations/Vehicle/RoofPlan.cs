using System.Collections.Immutable;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>Two things that want the same place on the body.</summary>
/// <param name="IdA">Id of the opening, roof part or hidden part named first.</param>
/// <param name="IdB">Id of the other.</param>
/// <param name="Face">The face they meet on.</param>
/// <param name="Reason">Why that cannot be, in one plain sentence.</param>
public sealed record PlaceClash(string IdA, string IdB, Face Face, string Reason);

/// <summary>What takes up the roof and the other faces, and where things meet.</summary>
public static class RoofPlan
{
    // A lid needs a flange on flat sheet: nearer to the edge the roof bends. Our judgement.
    private const double EdgeM = 0.04;

    /// <summary>
    /// Everything that meets: openings with each other, with hidden parts and with what lies on the roof, lids with the
    /// roof's edge, roof parts with each other. Panels and boxes may lie on racks and bars.
    /// </summary>
    public static ImmutableArray<PlaceClash> Clashes(Design design)
    {
        ArgumentNullException.ThrowIfNull(design);
        ImmutableArray<PlaceClash>.Builder clashes = ImmutableArray.CreateBuilder<PlaceClash>();
        ImmutableArray<RoofPart> roofParts = design.Body.RoofParts;
        for (int index = 0; index < design.Openings.Length; index++)
        {
            Opening opening = design.Openings[index];
            FaceBox hole = FaceBox.Of(opening);
            foreach (Opening other in design.Openings.Skip(index + 1).Where(other => hole.Overlaps(FaceBox.Of(other))))
            {
                clashes.Add(TwoHoles(opening, other));
            }

            clashes.AddRange(WithTheBody(design.Body, opening));
        }

        for (int index = 0; index < roofParts.Length; index++)
        {
            RoofPart part = roofParts[index];
            foreach (RoofPart other in roofParts.Skip(index + 1).Where(other => CannotShare(part.Kind, other.Kind) && FaceBox.Of(part).Overlaps(FaceBox.Of(other))))
            {
                clashes.Add(new PlaceClash(part.Id, other.Id, Face.Roof, $"{part.Name} and {other.Name} take the same place on the roof."));
            }
        }

        return clashes.ToImmutable();
    }

    /// <summary>What a new opening would meet: the openings that are there, and what lies behind the skin or on the roof.</summary>
    internal static IEnumerable<PlaceClash> ClashesOf(Design design, Opening opening)
    {
        FaceBox hole = FaceBox.Of(opening);
        return design.Openings.Where(other => hole.Overlaps(FaceBox.Of(other))).Select(other => TwoHoles(opening, other)).Concat(WithTheBody(design.Body, opening));
    }

    private static PlaceClash TwoHoles(Opening opening, Opening other) =>
        new(opening.Id, other.Id, opening.Face, $"{opening.Name} and {other.Name} would be cut into the same place.");

    private static IEnumerable<PlaceClash> WithTheBody(Body body, Opening opening)
    {
        FaceBox hole = FaceBox.Of(opening);
        foreach (HiddenPart part in HiddenParts.CutBy(body, opening))
        {
            yield return new PlaceClash(opening.Id, part.Id, opening.Face, $"{opening.Name} would cut {part.Name}, which lies behind the skin there.");
        }

        if (opening.Face != Face.Roof)
        {
            yield break;
        }

        foreach (RoofPart part in body.RoofParts.Where(part => hole.Overlaps(FaceBox.Of(part))))
        {
            yield return new PlaceClash(opening.Id, part.Id, Face.Roof, $"{part.Name} lies where {opening.Name} must open and breathe.");
        }

        if (OverEdge(body, hole))
        {
            yield return new PlaceClash(
                opening.Id, "roof-edge", Face.Roof, FormattableString.Invariant($"{opening.Name} comes nearer than {EdgeM * 1000:0} mm to the roof's edge, where the sheet bends."));
        }
    }

    private static bool OverEdge(Body body, FaceBox hole) =>
        hole.AlongLowM < EdgeM || hole.AlongHighM > body.InteriorLength.Meters - EdgeM
        || hole.AcrossLowM < EdgeM || hole.AcrossHighM > body.InteriorWidth.Meters - EdgeM;

    private static bool CannotShare(RoofPartKind a, RoofPartKind b) => !Carries(a) && !Carries(b) || (a == b && a == RoofPartKind.Rack);

    private static bool Carries(RoofPartKind kind) => kind is RoofPartKind.Rack or RoofPartKind.RoofBar;
}
