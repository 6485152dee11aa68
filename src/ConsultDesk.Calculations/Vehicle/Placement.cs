using System.Collections.Immutable;
using ConsultDesk.Calculations.Envelope;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>Whether an edit may put things where it puts them, and leaves alone what is built in.</summary>
public static class Placement
{
    /// <summary>
    /// Why an edit is refused: it moves, changes or removes a fitted part, or makes two things meet that did not meet before.
    /// Null when nothing stands against it. How a fitted part is used, what it may be used for and how well it is known stay
    /// free; so does everything once the same edit says that the part is not fitted. What met before does not stand in the way.
    /// </summary>
    public static string? Refusal(Design before, Design after)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(after);
        return ChangedFitted(before, after) is string name
            ? $"{name} is fitted, and nothing moves, changes or removes a fitted part. If that is wrong, say first that it is not fitted."
            : NewClash(before, after);
    }

    /// <summary>True when an edit is not refused and leaves nothing wrong that was right.</summary>
    internal static bool IsPossible(Design before, Design after) =>
        Refusal(before, after) is null && !DesignCheck.Errors(after).Except(DesignCheck.Errors(before)).Any();

    // Name of the first fitted part that is no longer what or where it was.
    private static string? ChangedFitted(Design before, Design after) =>
        First(before.Openings, after.Openings, part => part.Id, part => part.State, SameOpening)?.Name
        ?? First(before.Body.RoofParts, after.Body.RoofParts, part => part.Id, part => part.State, (was, now) => was.Kind == now.Kind && FaceBox.Of(was) == FaceBox.Of(now))?.Name
        ?? First(before.CirculationFans, after.CirculationFans, part => part.Id, part => part.State, (was, now) =>
            (was.ZoneA, was.ZoneB, was.Flow.CubicMetersPerSecond) == (now.ZoneA, now.ZoneB, now.Flow.CubicMetersPerSecond))?.Name
        ?? First(before.Dryers, after.Dryers, part => part.Id, part => part.State, (was, now) =>
            (was.Kind, was.ZoneId, was.RemovedPerDay.Kilograms) == (now.Kind, now.ZoneId, now.RemovedPerDay.Kilograms))?.Name
        ?? (ChangedHeater(before.Heater, after.Heater) ? "The heater" : null)
        ?? ChangedLayer(before.Walls, after.Walls) ?? ChangedLayer(before.Roof, after.Roof) ?? ChangedLayer(before.Floor, after.Floor)
        ?? (before is { CabDividerState: PartState.Fitted, CabDivider: not CabDivider.Open } && after.CabDividerState == PartState.Fitted && before.CabDivider != after.CabDivider
            ? "What divides the cab off" : null)
        ?? (before.BedBaseState == PartState.Fitted && after.BedBaseState == PartState.Fitted && before.BedBase != after.BedBase ? "The bed base" : null);

    private static T? First<T>(ImmutableArray<T> before, ImmutableArray<T> after, Func<T, string> id, Func<T, PartState> state, Func<T, T, bool> same)
        where T : class =>
        before.FirstOrDefault(was => state(was) == PartState.Fitted
            && (after.FirstOrDefault(now => id(now) == id(was)) is not T now || (state(now) == PartState.Fitted && !same(was, now))));

    private static bool SameOpening(Opening was, Opening now) =>
        was.Kind == now.Kind && FaceBox.Of(was) == FaceBox.Of(now)
        && (was.Fan?.FreeAirFlow.CubicMetersPerSecond, was.Fan?.ShutOffPressure.Pascals) == (now.Fan?.FreeAirFlow.CubicMetersPerSecond, now.Fan?.ShutOffPressure.Pascals)
        && was.Pane?.Glass == now.Pane?.Glass;

    private static bool ChangedHeater(Heater was, Heater now) =>
        was is { State: PartState.Fitted, Kind: not HeaterKind.None } && now.State == PartState.Fitted
        && (was.Kind, (double)was.RatedOutput.Watts, was.ZoneId) != (now.Kind, (double)now.RatedOutput.Watts, now.ZoneId);

    // Name of the first fitted layer that is gone, is another or lies elsewhere among the fitted ones.
    private static string? ChangedLayer(LayeredAssembly before, LayeredAssembly after)
    {
        int last = -1;
        foreach (Layer was in before.Layers.Where(layer => layer.State == PartState.Fitted))
        {
            int index = after.Layers.ToList().FindIndex(layer => layer.Id == was.Id);
            if (index >= 0 && after.Layers[index].State != PartState.Fitted)
            {
                continue;
            }

            if (index <= last || !SameLayer(was, after.Layers[index]))
            {
                return NameOf(was);
            }

            last = index;
        }

        return null;
    }

    private static bool SameLayer(Layer was, Layer now) => (was, now) switch
    {
        (SolidLayer a, SolidLayer b) => a.Material == b.Material && a.Thickness.Meters == b.Thickness.Meters,
        (AirLayer a, AirLayer b) => a.Ventilation == b.Ventilation && a.Thickness.Meters == b.Thickness.Meters,
        (MembraneLayer a, MembraneLayer b) => a.VapourEquivalentThickness.Meters == b.VapourEquivalentThickness.Meters,
        _ => false,
    };

    private static string NameOf(Layer layer) => layer switch
    {
        SolidLayer solid => Materials.Find(solid.Material)?.Name ?? solid.Material,
        MembraneLayer membrane => membrane.Name,
        _ => "The air layer",
    };

    private static string? NewClash(Design before, Design after)
    {
        HashSet<(string, string)> stood = [.. RoofPlan.Clashes(before).Select(clash => (clash.IdA, clash.IdB))];
        return RoofPlan.Clashes(after).FirstOrDefault(clash => !stood.Contains((clash.IdA, clash.IdB)))?.Reason;
    }
}
