using System.Collections.Immutable;
using ConsultDesk.Calculations.Comfort;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// The VTT mould index over a year's hours, from clean, on linings, on what lies on the steel behind them, under the
/// mattress and in cupboards. Glass, its frames and bare metal are left out: they are wiped.
/// </summary>
internal static class MouldReport
{
    /// <summary>
    /// Inside surface resistance of a lining where mould is looked for: behind things and in corners (ISO 13788, recalled).
    /// </summary>
    public const double ShelteredInsideM2KPerW = 0.25;

    private const int Hours = YearSeries.Hours;

    /// <summary>The worst surface of each kind, the worst first.</summary>
    public static ImmutableArray<MouldSurface> Of(YearSeries series, NightModel model, InnerFaces faces)
    {
        List<MouldHours> found = [];
        for (int lining = 0; lining < faces.Linings; lining++)
        {
            NightSurface surface = faces.Lining(lining);
            if (OfFace(model, surface) is MouldHours inner)
            {
                ReadOnlySpan<double> vapourPa = series.ZoneVapourPressurePa.AsSpan(surface.Zone * Hours, Hours);
                for (int step = 0; step < Hours; step++)
                {
                    int hour = (series.FirstHour + step) % Hours;
                    inner.Face(step, faces.LiningC(lining, hour, ShelteredInsideM2KPerW), vapourPa[hour]);
                }

                found.Add(inner);
            }

            if (OfSkin(model, surface) is MouldHours outer)
            {
                Skin(series, lining, outer);
                found.Add(outer);
            }
        }

        if (series.SkinC.Length / Hours > faces.Linings)
        {
            MouldHours mattress = OfMattress(model);
            Skin(series, faces.Linings, mattress);
            found.Add(mattress);
        }

        return [.. MouldHours.Worst(found)];
    }

    /// <summary>The room side of a lining, clean; null where it is metal only.</summary>
    public static MouldHours? OfFace(NightModel model, NightSurface lining)
    {
        Zone zone = model.Design.Zones[lining.Zone];
        MouldPlace place = zone.Kind is ZoneKind.Cupboard or ZoneKind.UnderBed ? MouldPlace.Cupboard : MouldPlace.LiningFace;
        return Solid(Of(model.Design, lining.Part).Layers) is string inner ? Clean(model, place, $"{lining.Name}, {zone.Name}", MouldClasses.Of(inner)) : null;
    }

    /// <summary>What lies on the steel behind a lining, clean; null where nothing solid does.</summary>
    public static MouldHours? OfSkin(NightModel model, NightSurface lining) => OnTheSkin(Of(model.Design, lining.Part)) is string outer
        ? Clean(model, MouldPlace.BehindLining, $"{lining.Name}, {model.Design.Zones[lining.Zone].Name}", MouldClasses.Of(outer))
        : null;

    /// <summary>The mattress's underside, clean.</summary>
    public static MouldHours OfMattress(NightModel model) => Clean(model, MouldPlace.Mattress, "Mattress underside", MouldClasses.Of(MouldClasses.MattressCover));

    private static MouldHours Clean(NightModel model, MouldPlace place, string name, MouldSensitivity material) => new(place, name, material, model.Assumed["mould-decline"]);

    private static void Skin(YearSeries series, int row, MouldHours surface)
    {
        for (int step = 0; step < Hours; step++)
        {
            int hour = (series.FirstHour + step) % Hours;
            surface.Any(step, series.SkinC[(row * Hours) + hour], 100 * series.SkinHumidityShare[(row * Hours) + hour]);
        }
    }

    // The first solid layer that is not metal; null where there is none.
    // Between the skin and what lies on it: a coating that hardly feeds mould does not keep it off the wool it touches.
    private static string? OnTheSkin(LayeredAssembly assembly) =>
        Solid(assembly.Layers.Reverse().Where(layer => layer is not SolidLayer solid || !Materials.StuckToSteel.Contains(solid.Material)))
        ?? Solid(assembly.Layers.Reverse());

    private static string? Solid(IEnumerable<Layer> layers) =>
        layers.OfType<SolidLayer>().FirstOrDefault(layer => !Materials.Get(layer.Material).IsMetal)?.Material;

    private static LayeredAssembly Of(Design design, SurfacePart part) => part switch
    {
        SurfacePart.Walls => design.Walls,
        SurfacePart.Roof => design.Roof,
        SurfacePart.Floor => design.Floor,
        _ => throw new InvalidOperationException($"{part} is no lining."),
    };
}
