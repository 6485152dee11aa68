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
        _toSkinM2KPerW = [.. model.Surfaces.Skip(FirstLining).Select(lining => ToSkinM2KPerW(model, lining.Part))];
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
        return LiningC(roomC, skinC, _toSkinM2KPerW[lining], insideM2KPerW);
    }

    /// <summary>The same from the temperatures of room and skin.</summary>
    public static double LiningC(double roomC, double skinC, double toSkinM2KPerW, double insideM2KPerW) =>
        skinC + ((roomC - skinC) * toSkinM2KPerW / (toSkinM2KPerW + insideM2KPerW));

    /// <summary>Resistance between a lining's room side and the skin.</summary>
    public static double ToSkinM2KPerW(NightModel model, SurfacePart part) => Of(model, part).Layers.Sum(layer => layer.SquareMeterKelvinsPerWatt);

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
            if (Radiates(surface, zone))
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

    /// <summary>True for what counts in <see cref="RadiantC"/> of a zone.</summary>
    public static bool Radiates(NightSurface surface, int zone) => surface.Zone == zone && double.IsInfinity(surface.AirBehindCoverMPerS);

    private static AssemblyResistance Of(NightModel model, SurfacePart part) => part switch
    {
        SurfacePart.Walls => model.Walls,
        SurfacePart.Roof => model.Roof,
        SurfacePart.Floor => model.Floor,
        _ => throw new InvalidOperationException($"{part} is no lining."),
    };
}
