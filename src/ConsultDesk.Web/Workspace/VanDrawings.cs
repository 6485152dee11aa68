using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Web.Workspace;

/// <summary>The drawings of the van as it was last assessed.</summary>
public sealed class VanDrawings
{
    private AssessedDesign? _shown;
    private DisplayUnits? _units;
    private SituationState? _situation;

    /// <summary>From the side, with the air that flows; null before the first result.</summary>
    public Figure? Side { get; private set; }

    /// <summary>From above.</summary>
    public Figure? Plan { get; private set; }

    /// <summary>What lies on the roof, and what is in the way of what.</summary>
    public Figure? Roof { get; private set; }

    /// <summary>The steps of the shade.</summary>
    public Figure? Scale { get; private set; }

    /// <summary>What the zones are shaded by; null for nothing.</summary>
    public ZoneQuantity? Shade { get; private set; } = ZoneQuantity.Humidity;

    /// <summary>What the signs of side and plan mean.</summary>
    public IReadOnlyList<LegendEntry> Legend { get; private set; } = [];

    /// <summary>
    /// Draws a result, unless it is of the design and the situation drawn already: the year brings no other drawing of
    /// the night than the night did.
    /// </summary>
    /// <param name="result">The design with what it comes to in the night, or in a situation in its place.</param>
    /// <param name="units">Units of the reader.</param>
    /// <param name="situation">The situation in place of the night; null for the night.</param>
    public void Show(AssessedDesign result, DisplayUnits units, SituationState? situation = null)
    {
        if (ReferenceEquals(result.Design, _shown?.Design) && ReferenceEquals(units, _units) && ReferenceEquals(situation, _situation))
        {
            return;
        }

        (_shown, _units, _situation) = (result, units, situation);
        Roof = VanDrawing.Roof(result.Design, units);
        DrawZones();
    }

    /// <summary>Shades the zones by another quantity.</summary>
    public void ShadeBy(ZoneQuantity? quantity)
    {
        if (quantity != Shade)
        {
            Shade = quantity;
            DrawZones();
        }
    }

    private void DrawZones()
    {
        if (_shown is not { } shown || _units is not { } units)
        {
            return;
        }

        Side = VanDrawing.Side(shown.Design, shown.Assessment, units, Shade);
        Plan = VanDrawing.Plan(shown.Design, shown.Assessment, units, Shade);
        Scale = ZoneShades.Scale(Shade, units);
        Legend = VanDrawing.WholeLegend(shown.Design);
    }
}
