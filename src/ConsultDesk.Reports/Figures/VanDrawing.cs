using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Reports.Figures;

/// <summary>The van to scale, with its openings, the air that passes them, and the surfaces that get wet.</summary>
public static class VanDrawing
{
    /// <summary>Seen from above, nose to the left, so that the left wall lies at the bottom.</summary>
    /// <param name="design">The van.</param>
    /// <param name="assessment">Gives flows and wet surfaces; null draws the van alone.</param>
    /// <param name="units">Units of the labels and the table.</param>
    /// <param name="shade">Quantity its zones are shaded by; null for none.</param>
    public static Figure Plan(Design design, Assessment? assessment, DisplayUnits units, ZoneQuantity? shade = null) =>
        new VanPlanSheet(design, assessment, units, shade).Draw();

    /// <summary>Seen from the left, nose to the left.</summary>
    /// <param name="design">The van.</param>
    /// <param name="assessment">Gives flows, the state of the zones and wet surfaces; null draws the van alone.</param>
    /// <param name="units">Units of the labels and the table.</param>
    /// <param name="shade">Quantity its zones are shaded by; null for none.</param>
    public static Figure Side(Design design, Assessment? assessment, DisplayUnits units, ZoneQuantity? shade = null) =>
        new VanSideSheet(design, assessment, units, shade).Draw();

    /// <summary>The roof from above with what lies on and behind it, what is left free for a lid, and what meets.</summary>
    /// <param name="design">The van.</param>
    /// <param name="units">Units of the labels and the table.</param>
    public static Figure Roof(Design design, DisplayUnits units) => new VanRoofSheet(design, units).Draw();

    /// <summary>
    /// Every sign that side and plan of this van may come to show, whatever its air does: a legend that keeps its lines while
    /// numbers change.
    /// </summary>
    /// <param name="design">The van.</param>
    public static IReadOnlyList<LegendEntry> WholeLegend(Design design) => new VanSideSheet(design, null, DisplayUnits.Metric, null).WholeLegend();

    /// <summary>What each part is called in plan and side view, by its path in the stored text.</summary>
    internal static IReadOnlyDictionary<string, string> Marks(Design design) =>
        new VanPlanSheet(design, null, DisplayUnits.Metric, null).Marks().DistinctBy(mark => mark.Key).ToDictionary(mark => mark.Key, mark => mark.Value, StringComparer.Ordinal);
}
