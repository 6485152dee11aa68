using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Simulation;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Walls, roof or floor that lose more heat than a winter vehicle should.</summary>
internal static class ThinInsulation
{
    // EN 1646-1 asks a vehicle of its winter grade for a mean of 1.2 W/(m2 K) (recalled); here it is asked of each part.
    private static double HighestUValue { get; } = FindingLimits.Of("heat-u-value");

    private const double AddedFoamMm = 19;

    public static Finding? Judge(FindingContext context)
    {
        AssemblyState worst = context.Assessment.Assemblies
            .Where(state => state.Area.SquareMeters > 0)
            .DefaultIfEmpty(context.Assessment.Assemblies[0])
            .MaxBy(state => state.UValue.WattsPerSquareMeterKelvin)!;
        if (!context.Occupied || worst.UValue.WattsPerSquareMeterKelvin <= HighestUValue)
        {
            return null;
        }

        return new Finding
        {
            Code = "thin-insulation",
            Severity = Severity.Advice,
            Title = $"Too little insulation: {worst.Part.ToLowerInvariant()}",
            Explanation = "Heat leaves there faster than in a vehicle built for winter, and the lining is cold enough to feel and to gather damp. Metal ribs lose more still.",
            Evidence =
            [
                new("U-value", worst.UValue),
                new("Winter grade of EN 1646-1 as a mean (recalled)", HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(HighestUValue)),
                new("Lining on the room side", worst.Temperatures[0]),
            ],
            Remedy = "Add closed-cell insulation against the skin, without gaps and over the ribs.",
            TriedAs = "The copy adds sheets until the winter grade is met.",
            Apply = design => design with
            {
                Walls = Insulate(design.Walls, HeatFlow.Horizontal),
                Roof = Insulate(design.Roof, HeatFlow.Upwards),
                Floor = Insulate(design.Floor, HeatFlow.Downwards),
            },
        };
    }

    private static LayeredAssembly Insulate(LayeredAssembly assembly, HeatFlow flow)
    {
        while (UValue(assembly, flow) > HighestUValue && assembly.Layers.Length < AssemblyRules.MaximumLayers)
        {
            SolidLayer foam = new()
            {
                Id = VapourReachesSkin.NewId(assembly, "added-foam"),
                Material = "elastomeric-foam",
                Thickness = Length.FromMillimeters(AddedFoamMm),
            };
            LayeredAssembly more = assembly with { Layers = assembly.Layers.Insert(assembly.Layers.Length - 1, foam) };
            // Outside a well ventilated air layer nothing counts; there the foam goes on the room side.
            assembly = UValue(more, flow) < UValue(assembly, flow) ? more : assembly with { Layers = assembly.Layers.Insert(0, foam) };
        }

        return assembly;
    }

    private static double UValue(LayeredAssembly assembly, HeatFlow flow) =>
        ThermalTransmittance.Of(assembly, flow).UValue.WattsPerSquareMeterKelvin;
}
