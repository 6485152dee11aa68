using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// Heat the sun brings into each zone: through glass, and through skin it warms (the sol-air rise a I / ho carried in by
/// the U-value). The van's heading is not known, so upright faces all see the same share of the sun on a level surface.
/// </summary>
internal static class SunGain
{
    /// <summary>Heat into each zone per W/m2 of global sun on a level surface, m2.</summary>
    public static double[] ApertureM2(NightModel model)
    {
        double glass = model.Assumed["glass-sun"];
        double upright = model.Assumed["sun-on-walls"];
        double skin = model.Assumed["skin-absorptance"] * SurfaceFilms.OutsideM2KPerW;
        double[] apertureM2 = new double[model.ZoneCount];
        foreach (NightSurface surface in model.Surfaces)
        {
            double seen = surface.Part switch
            {
                SurfacePart.Roof => 1,
                SurfacePart.Floor => 0,
                SurfacePart.Glazing or SurfacePart.Pane => FaceOf(model.Design, surface) == Face.Roof ? 1 : upright,
                SurfacePart.Walls or SurfacePart.Metal => upright,
                _ => throw new InvalidOperationException($"Unknown part {surface.Part}."),
            };
            double taken = surface.Part is SurfacePart.Glazing or SurfacePart.Pane
                ? glass * CoverShare(PaneOf(model.Design, surface).Cover, model.Assumed)
                : skin * surface.Path.UValueWPerM2K;
            apertureM2[surface.Zone] += seen * taken * surface.AreaM2;
        }

        for (int zone = 0; zone < apertureM2.Length; zone++)
        {
            apertureM2[zone] += upright * skin * model.OtherLossWPerK[zone];
        }

        return apertureM2;
    }

    /// <summary>The face a pane sits in.</summary>
    internal static Face FaceOf(Design design, NightSurface surface) => surface.Part == SurfacePart.Glazing
        ? design.Glazings.Single(glazing => glazing.Id == surface.Id).Face
        : design.Openings.Single(opening => opening.Id == surface.Id).Face;

    /// <summary>Share of the sun that a cover lets into the van.</summary>
    internal static double CoverShare(Cover cover, Assumptions assumed) => cover switch
    {
        Cover.None => 1,
        Cover.InsideLoose or Cover.InsideTight => assumed["cover-sun-inside"],
        Cover.Outside => assumed["cover-sun-outside"],
        Cover.OutsideLoose => assumed["cover-sun-outside-loose"],
        _ => throw new InvalidOperationException($"Unknown cover {cover}."),
    };

    /// <summary>The pane of a glass surface.</summary>
    internal static Pane PaneOf(Design design, NightSurface surface) => surface.Part == SurfacePart.Glazing
        ? design.Glazings.Single(glazing => glazing.Id == surface.Id).Pane
        : design.Openings.Single(opening => opening.Id == surface.Id).Pane!;
}
