using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>Pure edits of the bed's base.</summary>
public static class Beds
{
    /// <summary>
    /// The design with this bed base, and with the free area and mixing of the platform between bed and the space under
    /// it as the defaults table has them; only the base changes where there is no space under the bed.
    /// </summary>
    public static Design With(Design design, BedBase bedBase)
    {
        string row = Row(bedBase);
        return design with
        {
            BedBase = bedBase,
            Passages =
            [
                .. design.Passages.Select(passage => !IsPlatform(design, passage) ? passage : passage with
                {
                    FreeArea = Area.FromSquareMeters(Defaults.Likely("bed-gap-" + row)),
                    Mixing = VolumeFlow.FromCubicMetersPerHour(Defaults.Likely("mixing-under-bed-" + row)),
                }),
            ],
        };
    }

    /// <summary>True when the passage leads through the bed's platform into the space under it.</summary>
    internal static bool IsPlatform(Design design, Passage passage) =>
        (Is(design, passage.ZoneA, ZoneKind.Sleeping) && Is(design, passage.ZoneB, ZoneKind.UnderBed))
        || (Is(design, passage.ZoneA, ZoneKind.UnderBed) && Is(design, passage.ZoneB, ZoneKind.Sleeping));

    private static bool Is(Design design, string zoneId, ZoneKind kind) => design.Zones.Any(zone => zone.Id == zoneId && zone.Kind == kind);

    private static string Row(BedBase bedBase) => bedBase switch
    {
        BedBase.Solid => "solid",
        BedBase.Slatted => "slats",
        BedBase.VentilatedUnderlay => "underlay",
        _ => throw new ArgumentOutOfRangeException(nameof(bedBase), bedBase, "Expected solid, slatted or ventilated underlay."),
    };
}
