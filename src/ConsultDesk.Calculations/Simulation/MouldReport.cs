using System.Collections.Immutable;
using ConsultDesk.Calculations.Air;
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

    // Below what any material needs, by more than the table of saturation is off.
    private const double SurelyDryPercent = 79.99;

    // The year repeats until the third.
    private const int Years = 3;

    /// <summary>The worst surface of each kind, the worst first.</summary>
    public static ImmutableArray<MouldSurface> Of(YearSeries series, NightModel model, InnerFaces faces)
    {
        List<MouldSurface> found = [];
        double decline = model.Assumed["mould-decline"];
        double[] celsius = new double[Hours];
        double[] percent = new double[Hours];
        for (int lining = 0; lining < faces.Linings; lining++)
        {
            NightSurface surface = faces.Lining(lining);
            Zone zone = model.Design.Zones[surface.Zone];
            LayeredAssembly assembly = Of(model.Design, surface.Part);
            string name = $"{surface.Name}, {zone.Name}";
            if (Solid(assembly.Layers) is string inner)
            {
                Face(series, faces, lining, celsius, percent);
                found.Add(Run(
                    zone.Kind is ZoneKind.Cupboard or ZoneKind.UnderBed ? MouldPlace.Cupboard : MouldPlace.LiningFace, name, MouldClasses.Of(inner), decline));
            }

            if (OnTheSkin(assembly) is string outer)
            {
                Skin(series, lining, celsius, percent);
                found.Add(Run(MouldPlace.BehindLining, name, MouldClasses.Of(outer), decline));
            }
        }

        if (series.SkinC.Length / Hours > faces.Linings)
        {
            Skin(series, faces.Linings, celsius, percent);
            found.Add(Run(MouldPlace.Mattress, "Mattress underside", MouldClasses.Of(MouldClasses.MattressCover), decline));
        }

        return
        [
            .. found.GroupBy(surface => surface.Place)
                .Select(kind => kind.MaxBy(surface => (surface.Index, surface.ThirdYear))!)
                .OrderByDescending(surface => surface.Index),
        ];

        MouldSurface Run(MouldPlace place, string name, MouldSensitivity material, double declineOf)
        {
            (double first, double third) = Highest(celsius, percent, series.FirstHour, material, declineOf);
            return new MouldSurface(place, name, first, third);
        }
    }

    /// <summary>Highest index in the first and in the third of three like years that begin at an hour, from clean.</summary>
    internal static (double First, double Third) Highest(
        ReadOnlySpan<double> celsius, ReadOnlySpan<double> percent, int firstHour, MouldSensitivity material, double decline)
    {
        if (!GrowsAnywhere(percent, material))
        {
            return (0, 0);
        }

        MouldState state = default;
        double first = 0;
        double last = 0;
        for (int year = 0; year < Years; year++)
        {
            last = 0;
            for (int step = 0; step < celsius.Length; step++)
            {
                int hour = (firstHour + step) % celsius.Length;
                // Nothing is known above the model's range: steel in the sun grows nothing, and what it kills is not said.
                if (celsius[hour] <= MouldIndex.TemperatureRange.Maximum)
                {
                    state = MouldIndex.Next(state, celsius[hour], percent[hour], material, decline, 1);
                    last = Math.Max(last, state.Index);
                }
            }

            first = year == 0 ? last : first;
        }

        return (first, last);
    }

    // What starts clean and is never damp enough stays clean.
    private static bool GrowsAnywhere(ReadOnlySpan<double> percent, MouldSensitivity material)
    {
        double least = MouldIndex.LeastHumidityPercent(material);
        foreach (double humidity in percent)
        {
            if (humidity >= least)
            {
                return true;
            }
        }

        return false;
    }

    private static void Face(YearSeries series, InnerFaces faces, int lining, double[] celsius, double[] percent)
    {
        int zone = faces.Lining(lining).Zone;
        for (int hour = 0; hour < Hours; hour++)
        {
            double faceC = faces.LiningC(lining, hour, ShelteredInsideM2KPerW);
            celsius[hour] = faceC;
            double vapourPa = series.ZoneVapourPressurePa[(zone * Hours) + hour];
            // How dry a face is makes no difference where nothing grows: only a damp one is asked of the equation itself, most hours of the
            // year of the table. Below freezing the table is that of ice, and nothing grows at all.
            double roughPercent = 100 * vapourPa / SaturationTable.Pa(faceC, out _);
            // Above saturation water lies on it, and the air in its pores is saturated.
            percent[hour] = faceC > 0 && roughPercent < SurelyDryPercent
                ? roughPercent
                : 100 * Math.Min(1, vapourPa / MoistAir.SaturationPressureOverWaterPa(faceC));
        }
    }

    private static void Skin(YearSeries series, int row, double[] celsius, double[] percent)
    {
        for (int hour = 0; hour < Hours; hour++)
        {
            celsius[hour] = series.SkinC[(row * Hours) + hour];
            percent[hour] = 100 * series.SkinHumidityShare[(row * Hours) + hour];
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
