namespace ConsultDesk.Calculations.Vehicle;

/// <summary>Whether an edit may put things where it puts them.</summary>
public static class Placement
{
    /// <summary>
    /// Why an edit is refused: it moves or resizes a fitted part, or makes two things meet that did not meet before. Null
    /// when nothing stands against it. What met before does not stand in the way of other edits.
    /// </summary>
    public static string? Refusal(Design before, Design after)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(after);
        return MovedFitted(before, after) ?? NewClash(before, after);
    }

    private static string? MovedFitted(Design before, Design after)
    {
        foreach (Opening was in before.Openings.Where(opening => opening.State == PartState.Fitted))
        {
            // Changing the state in the same edit is saying that it is not fitted.
            if (Openings.Find(after, was.Id) is { State: PartState.Fitted } now && (was.Kind != now.Kind || FaceBox.Of(was) != FaceBox.Of(now)))
            {
                return Fitted(was.Name);
            }
        }

        foreach (RoofPart was in before.Body.RoofParts.Where(part => part.State == PartState.Fitted))
        {
            RoofPart? now = after.Body.RoofParts.FirstOrDefault(part => part.Id == was.Id);
            if (now is { State: PartState.Fitted } && (was.Kind != now.Kind || FaceBox.Of(was) != FaceBox.Of(now)))
            {
                return Fitted(was.Name);
            }
        }

        return null;
    }

    private static string Fitted(string name) => $"{name} is fitted, and nothing moves or changes a fitted part. If that is wrong, change its state first.";

    private static string? NewClash(Design before, Design after)
    {
        HashSet<(string, string)> stood = [.. RoofPlan.Clashes(before).Select(clash => (clash.IdA, clash.IdB))];
        return RoofPlan.Clashes(after).FirstOrDefault(clash => !stood.Contains((clash.IdA, clash.IdB)))?.Reason;
    }
}
