using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>What stands between the cab and the room behind it by night.</summary>
public enum CabDivider
{
    /// <summary>Nothing.</summary>
    Open,

    /// <summary>A curtain that hangs loose.</summary>
    Curtain,

    /// <summary>A quilted curtain fastened round its edges.</summary>
    InsulatedCurtain,

    /// <summary>A fixed wall, its door shut.</summary>
    Bulkhead,
}

/// <summary>Pure edits of what divides the cab from the room behind it.</summary>
public static class CabDividers
{
    /// <summary>True when the van has a cab with a way to a room behind it.</summary>
    public static bool Possible(Design design) => design.Passages.Any(passage => LeadsFromCab(design, passage));

    /// <summary>
    /// The design with this divider, and with the free area and mixing of the gap behind the cab as the defaults table
    /// has them for it; unchanged when there is no such gap. Several gaps share what one would have.
    /// </summary>
    public static Design With(Design design, CabDivider divider)
    {
        int gaps = design.Passages.Count(passage => LeadsFromCab(design, passage));
        return gaps == 0 ? design : design with
        {
            CabDivider = divider,
            Passages =
            [
                .. design.Passages.Select(passage => !LeadsFromCab(design, passage) ? passage : passage with
                {
                    FreeArea = FreeArea(design.Body, divider, passage.Bottom, passage.Top) / gaps,
                    Mixing = VolumeFlow.FromCubicMetersPerHour(Defaults.Likely("mixing-cab-" + Key(divider)) / gaps),
                }),
            ],
        };
    }

    /// <summary>Free area of the gap behind the cab between two heights: a share of the cross-section when open, else the divider's own gaps.</summary>
    internal static Area FreeArea(Body body, CabDivider divider, Length bottom, Length top) => divider == CabDivider.Open
        ? Area.FromSquareMeters(Defaults.Likely("cab-gap-open") / 100 * body.InteriorWidth.Meters * (top.Meters - bottom.Meters))
        : Area.FromSquareMeters(Defaults.Likely("cab-gap-" + Key(divider)));

    /// <summary>Thermal transmittance of the divider, the row of the defaults table; null when nothing stands there.</summary>
    internal static string? UValueRow(CabDivider divider) => divider == CabDivider.Open ? null : "u-cab-" + Key(divider);

    /// <summary>True when the passage leads from the cab into the room behind it.</summary>
    internal static bool LeadsFromCab(Design design, Passage passage) =>
        Kind(design, passage.ZoneA) == ZoneKind.Cab != (Kind(design, passage.ZoneB) == ZoneKind.Cab);

    private static ZoneKind? Kind(Design design, string zoneId) => design.Zones.FirstOrDefault(zone => zone.Id == zoneId)?.Kind;

    private static string Key(CabDivider divider) => divider switch
    {
        CabDivider.Open => "open",
        CabDivider.Curtain => "curtain",
        CabDivider.InsulatedCurtain => "insulated-curtain",
        CabDivider.Bulkhead => "bulkhead",
        _ => throw new ArgumentOutOfRangeException(nameof(divider), divider, "Expected open, curtain, insulated curtain or bulkhead."),
    };
}
