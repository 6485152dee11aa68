using ConsultDesk.Calculations.Envelope;
using UnitsNet;

namespace ConsultDesk.Calculations.Tests.Envelope;

/// <summary>Assemblies for tests, written as a person would name them from inside to outside.</summary>
public static class Assemblies
{
    public static LayeredAssembly Of(params Layer[] layers) => new()
    {
        Name = "Wall",
        Layers = [.. layers.Select((layer, index) => layer.Id.Length > 0 ? layer : layer with { Id = $"layer-{index}" })],
    };

    public static SolidLayer Solid(string material, double millimetres, string id = "") =>
        new() { Id = id, Material = material, Thickness = Length.FromMillimeters(millimetres) };

    public static AirLayer Air(double millimetres, AirLayerVentilation ventilation = AirLayerVentilation.Unventilated, string id = "") =>
        new() { Id = id, Thickness = Length.FromMillimeters(millimetres), Ventilation = ventilation };

    public static MembraneLayer Membrane(double sd, string id = "") =>
        new() { Id = id, Name = "Vapour control layer", VapourEquivalentThickness = Length.FromMeters(sd) };
}
