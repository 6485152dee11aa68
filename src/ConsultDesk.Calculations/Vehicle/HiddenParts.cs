using System.Collections.Immutable;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>What lies behind the skin where somebody wants to cut.</summary>
public static class HiddenParts
{
    /// <summary>The known hidden parts an opening cuts, in the body's order.</summary>
    public static ImmutableArray<HiddenPart> CutBy(Body body, Opening opening)
    {
        FaceBox hole = FaceBox.Of(opening);
        return [.. body.HiddenParts.Where(part => hole.Overlaps(FaceBox.Of(part)))];
    }
}
