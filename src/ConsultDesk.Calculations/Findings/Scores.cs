using System.Collections.Immutable;

namespace ConsultDesk.Calculations.Findings;

/// <summary>The four scores. Danger stands outside them.</summary>
public sealed record Scores(Score Ventilation, Score Heating, Score Breathability, Score HotNights)
{
    /// <summary>All four in the order they are shown.</summary>
    public ImmutableArray<Score> All => [Ventilation, Heating, Breathability, HotNights];
}

/// <summary>One score: points from a stated curve over calculated numbers, never without them.</summary>
/// <param name="Name">What is scored.</param>
/// <param name="Points">0 to 100: the lowest of its parts.</param>
/// <param name="Parts">What it is made from, the part that decides first.</param>
public sealed record Score(string Name, double Points, ImmutableArray<ScorePart> Parts);

/// <summary>A number and the points it gives.</summary>
/// <param name="Evidence">The number.</param>
/// <param name="Points">0 to 100.</param>
/// <param name="Source">Published source of the curve, or <c>our judgement</c>.</param>
public sealed record ScorePart(Evidence Evidence, double Points, string Source);
