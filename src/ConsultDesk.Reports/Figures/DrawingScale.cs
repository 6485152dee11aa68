namespace ConsultDesk.Reports.Figures;

/// <summary>Where metres of the van lie in a drawing of it: along the van to the right, across or upwards to the top.</summary>
/// <param name="UnitsPerMetre">Units of the drawing for one metre, more than 0.</param>
/// <param name="ZeroX">Horizontal place of the windscreen's foot.</param>
/// <param name="ZeroY">Vertical place of the left wall seen from above, of the floor seen from the side.</param>
public sealed record DrawingScale(double UnitsPerMetre, double ZeroX, double ZeroY)
{
    /// <summary>Place in the drawing of a point of the van, m.</summary>
    public FigurePoint At(double alongM, double upM) => new(ZeroX + (alongM * UnitsPerMetre), ZeroY - (upM * UnitsPerMetre));
}
