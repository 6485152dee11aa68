using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Web.Workspace;

/// <summary>The drawings of the van as it was last assessed.</summary>
public sealed class VanDrawings
{
    private Design? _drawn;

    /// <summary>From the side, with the air that flows; null before the first result.</summary>
    public Figure? Side { get; private set; }

    /// <summary>From above.</summary>
    public Figure? Plan { get; private set; }

    /// <summary>What lies on the roof, and what is in the way of what.</summary>
    public Figure? Roof { get; private set; }

    /// <summary>What the signs of side and plan mean.</summary>
    public IReadOnlyList<LegendEntry> Legend { get; private set; } = [];

    /// <summary>Draws a result, unless it is of the design drawn already: the year brings no other drawing of the night than the night did.</summary>
    public void Show(AssessedDesign result, DisplayUnits units)
    {
        if (ReferenceEquals(result.Design, _drawn))
        {
            return;
        }

        _drawn = result.Design;
        Side = VanDrawing.Side(result.Design, result.Assessment, units);
        Plan = VanDrawing.Plan(result.Design, result.Assessment, units);
        Roof = VanDrawing.Roof(result.Design, units);
        Legend = [.. Side.Legend.Union(Plan.Legend)];
    }
}
