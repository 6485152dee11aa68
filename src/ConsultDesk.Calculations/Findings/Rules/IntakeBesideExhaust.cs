using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>An opening so near the heater's exhaust that it takes in its gases.</summary>
internal static class IntakeBesideExhaust
{
    private const string LimitKey = "exhaust-to-opening";

    private const int Steps = 8;

    public static Finding? Judge(FindingContext context)
    {
        Design design = context.Design;
        if (Exhaust.Of(design) is not BodyPoint exhaust || Exhaust.Nearest(design, exhaust) is not (Opening opening, Length distance)
            || distance.Meters >= FindingLimits.Of(LimitKey))
        {
            return null;
        }

        return new Finding
        {
            Code = "intake-beside-exhaust",
            Severity = Severity.Danger,
            Title = $"The heater's exhaust ends beside an opening: {PlainName.Of(opening.Name)}",
            Explanation = "Any opening can let air in: with the wind, with warmth, or because a fan elsewhere pulls. Beside the exhaust that air is burnt gas, "
                + "and the carbon monoxide in it has no smell. A window shut tonight will be open some other night.",
            Evidence =
            [
                new($"From the exhaust to {opening.Name}", distance),
                new("Least distance (our judgement)", Length.FromMeters(FindingLimits.Of(LimitKey))),
            ],
            Remedy = "Lead the exhaust to another side of the van, away from every opening and from where gases gather under it, as the heater's maker says. "
                + "A fitter the maker approves does it and the local code decides. Fit a carbon monoxide alarm.",
            TriedAs = "The copy ends the exhaust under the floor or low on a side, where it is farthest from every opening.",
            Apply = Moved,
        };
    }

    private static Design Moved(Design design)
    {
        double now = Exhaust.Of(design) is BodyPoint exhaust && Exhaust.Nearest(design, exhaust) is (_, Length distance) ? distance.Meters : double.MaxValue;
        BodyPoint? best = Places(design)
            .Where(place => !SnowOverExhaust.WouldBury(design, place))
            .MaxBy(place => Exhaust.Nearest(design, place)?.Distance.Meters ?? double.MaxValue);
        return best is not null && (Exhaust.Nearest(design, best)?.Distance.Meters ?? double.MaxValue) > now
            ? design with { Equipment = design.Equipment with { HeaterExhaust = best } }
            : design;
    }

    private static IEnumerable<BodyPoint> Places(Design design) =>
        from step in Enumerable.Range(0, Steps + 1)
        let x = design.Body.InteriorLength * ((step + 1.0) / (Steps + 2))
        from place in new BodyPoint[]
        {
            new(Face.Floor, x, design.Body.InteriorWidth * 0.1, Length.Zero),
            new(Face.Floor, x, design.Body.InteriorWidth * 0.9, Length.Zero),
            new(Face.Left, x, Length.Zero, design.Body.InteriorHeight * 0.05),
            new(Face.Right, x, design.Body.InteriorWidth, design.Body.InteriorHeight * 0.05),
            new(Face.Left, x, Length.Zero, design.Body.InteriorHeight * 0.3),
            new(Face.Right, x, design.Body.InteriorWidth, design.Body.InteriorHeight * 0.3),
        }
        select place;
}
