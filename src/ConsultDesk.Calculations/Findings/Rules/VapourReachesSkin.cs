using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>A lining and insulation open to vapour before metal that is colder than the room's dew point.</summary>
internal static class VapourReachesSkin
{
    // Vapour-equivalent thickness from which we call a lining tight against a winter's vapour. Our judgement.
    private static double TightM { get; } = FindingLimits.Of("vapour-tight");

    // What a remedy puts against the skin.
    private const string ClosedCellFoam = "elastomeric-foam";

    public static Finding? Judge(FindingContext context)
    {
        if (!context.Occupied)
        {
            return null;
        }

        Temperature dewPoint = context.LivedIn.Select(pair => pair.State.DewPoint)
            .DefaultIfEmpty(context.Assessment.Zones[0].DewPoint)
            .MaxBy(dew => dew.DegreesCelsius);
        (LayeredAssembly Assembly, AssemblyState State, double InsideM, Temperature Skin)? worst = Parts(context)
            .Select(part => (part.Assembly, part.State, InsideM: InsideResistanceM(part.Assembly), Skin: part.State.Temperatures[^2]))
            .Where(part => part.InsideM < TightM && part.Skin.DegreesCelsius < dewPoint.DegreesCelsius)
            .OrderBy(part => part.InsideM)
            .Select(part => ((LayeredAssembly, AssemblyState, double, Temperature)?)part)
            .FirstOrDefault();
        if (worst is not { } open)
        {
            return null;
        }

        return new Finding
        {
            Code = "vapour-reaches-skin",
            Severity = Severity.Advice,
            Title = $"Vapour can reach the cold skin: {open.State.Part.ToLowerInvariant()}",
            Explanation = "The skin behind the lining is colder than the dew point of the room's air, and the layers before it let vapour through. "
                + "Gaps in a lining carry more vapour than the layers themselves. Whether it dries again in time is not part of a steady night.",
            Evidence =
            [
                new("Vapour resistance (sd) before the skin", Length.FromMeters(open.InsideM)),
                new("Inside of the skin", open.Skin),
                new("Dew point of the room's air", dewPoint),
            ],
            Remedy = "Stick closed-cell insulation to the skin without gaps, or close the lining against air and vapour with every joint sealed; and keep the room's air dry. "
                + "A lining that breathes helps only while the room is drier than the skin.",
            Apply = WithClosedCells,
        };
    }

    private static IEnumerable<(LayeredAssembly Assembly, AssemblyState State)> Parts(FindingContext context) =>
    [
        (context.Design.Walls, context.Assessment.Assemblies.Single(state => state.Part == "Walls")),
        (context.Design.Roof, context.Assessment.Assemblies.Single(state => state.Part == "Roof")),
        (context.Design.Floor, context.Assessment.Assemblies.Single(state => state.Part == "Floor")),
    ];

    // Vapour-equivalent thickness of everything on the room side of the outermost layer; infinite when there is no metal skin.
    private static double InsideResistanceM(LayeredAssembly assembly) =>
        assembly.Layers[^1] is SolidLayer skin && Materials.Get(skin.Material).IsMetal
            ? assembly.Layers[..^1].Sum(ResistanceM)
            : double.PositiveInfinity;

    private static double ResistanceM(Layer layer) => layer switch
    {
        SolidLayer solid => Materials.Get(solid.Material).VapourEquivalentThicknessM(solid.Thickness),
        MembraneLayer membrane => membrane.VapourEquivalentThickness.Meters,
        // ISO 13788 takes 0.01 m for any unventilated air layer (recalled).
        AirLayer => 0.01,
        _ => throw new ArgumentException($"A layer of kind {layer.GetType().Name} is not known to the calculation.", nameof(layer)),
    };

    /// <summary>Closed-cell foam against the skin of walls, roof and floor where vapour could reach it.</summary>
    internal static Design WithClosedCells(Design design) => design with
    {
        Walls = WithClosedCells(design.Walls),
        Roof = WithClosedCells(design.Roof),
        Floor = WithClosedCells(design.Floor),
    };

    // Swaps the layer against the skin for closed-cell foam, or adds one where the skin is bare.
    private static LayeredAssembly WithClosedCells(LayeredAssembly assembly)
    {
        if (!(InsideResistanceM(assembly) < TightM))
        {
            return assembly;
        }

        int skin = assembly.Layers.Length - 1;
        SolidLayer foam = new() { Id = NewId(assembly, "closed-cells"), Material = ClosedCellFoam, Thickness = Length.FromMillimeters(20) };
        bool swap = skin > 0 && assembly.Layers[skin - 1] is SolidLayer { Material: not ClosedCellFoam } behind
            && Materials.Get(behind.Material).Conductivity.WattsPerMeterKelvin < InsulationConductivity;
        return assembly with
        {
            Name = $"{assembly.Name}, closed-cell foam on the skin",
            Layers = swap
                ? assembly.Layers.SetItem(skin - 1, foam with { Thickness = ((SolidLayer)assembly.Layers[skin - 1]).Thickness })
                : assembly.Layers.Insert(skin, foam),
        };
    }

    /// <summary>Conductivity below which a material counts as insulation, W/(m K). Common practice.</summary>
    internal const double InsulationConductivity = 0.06;

    internal static string NewId(LayeredAssembly assembly, string stem) => assembly.Layers.Any(layer => layer.Id == stem)
        ? NewId(assembly, stem + "-more")
        : stem;
}
