using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings;

/// <summary>Lids that stay open in rain.</summary>
internal static class RainHoods
{
    /// <summary>A hood over every roof lid that can be shut; without such a lid a hooded one is added, shut.</summary>
    public static Design OverLids(Design design) => design.Openings.Any(IsLid)
        ? design with
        {
            Openings =
            [
                .. design.Openings.Select(opening => IsLid(opening)
                    ? opening with { Facts = opening.Facts with { UsableInRain = true, RainSensor = false } }
                    : opening),
            ],
        }
        : AddedShut(design);

    private static bool IsLid(Opening opening) => opening.Kind == OpeningKind.RoofVent && !opening.Facts.Fixed;

    private static Design AddedShut(Design design)
    {
        Design added = MoreAir.AddBedLid(design);
        return added.Openings.Length > design.Openings.Length
            ? added with { Openings = added.Openings.SetItem(added.Openings.Length - 1, added.Openings[^1] with { Position = Position.Shut }) }
            : design;
    }
}
