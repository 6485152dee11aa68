using ConsultDesk.Calculations.Envelope;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>Temperatures of the room side of glass, metal and linings, hour by hour, from what a year's run wrote down.</summary>
internal sealed class InnerFaces
{
    private const int Hours = YearSeries.Hours;

    private readonly YearSeries _series;
    private readonly NightModel _model;
    private readonly double[] _toSkinM2KPerW;

    /// <summary>Lists them.</summary>
    public InnerFaces(YearSeries series, NightModel model)
    {
        _series = series;
        _model = model;
        FirstLining = model.Surfaces.Count(surface => !VanModel.IsLining(surface.Part));
        _toSkinM2KPerW = [.. model.Surfaces.Skip(FirstLining).Select(lining => Of(lining.Part).Layers.Sum(layer => layer.SquareMeterKelvinsPerWatt))];
    }

    /// <summary>Linings come from here on in the model's surfaces.</summary>
    public int FirstLining { get; }

    /// <summary>Linings.</summary>
    public int Linings => _toSkinM2KPerW.Length;

    /// <summary>A lining of the model.</summary>
    public NightSurface Lining(int lining) => _model.Surfaces[FirstLining + lining];

    /// <summary>Room side of a lining with some resistance between it and the room's air, no heat stored between face and skin.</summary>
    public double LiningC(int lining, int hour, double insideM2KPerW)
    {
        double roomC = _series.ZoneC[(Lining(lining).Zone * Hours) + hour];
        double skinC = _series.SkinC[(lining * Hours) + hour];
        double toSkin = _toSkinM2KPerW[lining];
        return skinC + ((roomC - skinC) * toSkin / (toSkin + insideM2KPerW));
    }

    /// <summary>
    /// Mean radiant temperature in a zone: its glass, metal and linings by area. Glass behind an inside cover is left out;
    /// the air stands for a zone without any of these.
    /// </summary>
    public double RadiantC(int zone, int hour)
    {
        double sum = 0;
        double areaM2 = 0;
        for (int k = 0; k < _model.Surfaces.Length; k++)
        {
            NightSurface surface = _model.Surfaces[k];
            if (surface.Zone == zone && double.IsInfinity(surface.AirBehindCoverMPerS))
            {
                double faceC = k < FirstLining
                    ? _series.SurfaceC[(k * Hours) + hour]
                    : LiningC(k - FirstLining, hour, surface.Path.InsideM2KPerW);
                sum += surface.AreaM2 * faceC;
                areaM2 += surface.AreaM2;
            }
        }

        return areaM2 == 0 ? _series.ZoneC[(zone * Hours) + hour] : sum / areaM2;
    }

    private AssemblyResistance Of(SurfacePart part) => part switch
    {
        SurfacePart.Walls => _model.Walls,
        SurfacePart.Roof => _model.Roof,
        SurfacePart.Floor => _model.Floor,
        _ => throw new InvalidOperationException($"{part} is no lining."),
    };
}
