using System.Collections.Immutable;

namespace ConsultDesk.Calculations.Envelope;

/// <summary>What is wrong with an assembly, at the field it concerns.</summary>
/// <param name="LayerId">Id of the layer, or null when it concerns the whole assembly.</param>
/// <param name="Field">Name of the member, for example <c>Thickness</c>.</param>
/// <param name="Message">The value and what was expected.</param>
public sealed record AssemblyProblem(string? LayerId, string Field, string Message);

/// <summary>What an assembly must fulfil before anything is calculated from it.</summary>
public static class AssemblyRules
{
    /// <summary>Thicknesses of a solid layer accepted, 0.05 to 300 mm.</summary>
    public static readonly ValidRange SolidThicknessRange = new("Layer thickness", 0.05, 300, "mm");

    /// <summary>Vapour-equivalent air layer thicknesses of a membrane accepted, 0.001 to 10,000 m.</summary>
    public static readonly ValidRange MembraneRange = new("Vapour resistance sd", 0.001, 10_000, "m");

    /// <summary>Most layers of an assembly.</summary>
    public const int MaximumLayers = 20;

    /// <summary>Everything that is wrong, in the order of the layers; empty when it can be calculated.</summary>
    public static ImmutableArray<AssemblyProblem> Problems(LayeredAssembly assembly)
    {
        ArgumentNullException.ThrowIfNull(assembly);
        ImmutableArray<AssemblyProblem>.Builder problems = ImmutableArray.CreateBuilder<AssemblyProblem>();
        if (assembly.Layers.IsDefaultOrEmpty)
        {
            problems.Add(new(null, nameof(LayeredAssembly.Layers), "There is no layer; expected at least the outside skin."));
            return problems.ToImmutable();
        }

        if (assembly.Layers.Length > MaximumLayers)
        {
            problems.Add(new(null, nameof(LayeredAssembly.Layers),
                $"There are {assembly.Layers.Length} layers; expected at most {MaximumLayers}."));
        }

        if (assembly.Layers.Any(layer => layer.Id.Length == 0))
        {
            problems.Add(new(null, nameof(LayeredAssembly.Layers), "The id of a layer is empty; expected a short name."));
        }

        foreach (IGrouping<string, Layer> twins in assembly.Layers.GroupBy(layer => layer.Id).Where(group => group.Key.Length > 0 && group.Count() > 1))
        {
            problems.Add(new(twins.Key, nameof(Layer.Id), $"{twins.Count()} layers have the id '{twins.Key}'; expected each id once."));
        }

        if (assembly.Layers.All(layer => layer is MembraneLayer))
        {
            problems.Add(new(null, nameof(LayeredAssembly.Layers), "There are only membranes; expected at least one layer that has a thickness."));
        }

        foreach (Layer layer in assembly.Layers)
        {
            Add(problems, layer);
        }

        return problems.ToImmutable();
    }

    /// <summary>Throws with the first problem, if there is one.</summary>
    /// <exception cref="ArgumentException">The assembly cannot be calculated.</exception>
    public static void Check(LayeredAssembly assembly)
    {
        ImmutableArray<AssemblyProblem> problems = Problems(assembly);
        if (problems.Length > 0)
        {
            AssemblyProblem first = problems[0];
            string place = first.LayerId is null ? $"Assembly '{assembly.Name}'" : $"Assembly '{assembly.Name}', layer '{first.LayerId}'";
            throw new ArgumentException($"{place}: {first.Message}", nameof(assembly));
        }
    }

    private static void Add(ImmutableArray<AssemblyProblem>.Builder problems, Layer layer)
    {
        switch (layer)
        {
            case SolidLayer solid:
                if (Materials.Find(solid.Material) is null)
                {
                    problems.Add(new(layer.Id, nameof(SolidLayer.Material),
                        $"There is no material '{solid.Material}'; expected a key of the materials table."));
                }

                AddRange(problems, layer, nameof(SolidLayer.Thickness), SolidThicknessRange, solid.Thickness.Millimeters);
                break;
            case AirLayer air:
                AddRange(problems, layer, nameof(AirLayer.Thickness), AirLayers.ThicknessRange, air.Thickness.Millimeters);
                if (!Enum.IsDefined(air.Ventilation))
                {
                    problems.Add(new(layer.Id, nameof(AirLayer.Ventilation), "Expected unventilated, slightly ventilated or well ventilated."));
                }

                break;
            case MembraneLayer membrane:
                AddRange(problems, layer, nameof(MembraneLayer.VapourEquivalentThickness), MembraneRange, membrane.VapourEquivalentThickness.Meters);
                break;
            default:
                throw new ArgumentException($"A layer of kind {layer.GetType().Name} is not known to the calculation.", nameof(layer));
        }
    }

    private static void AddRange(
        ImmutableArray<AssemblyProblem>.Builder problems, Layer layer, string field, ValidRange range, double value)
    {
        // Lengths keep their own unit: 0.05 mm may come back as 0.049999... mm, so the limits get a hair's breadth.
        double breadth = 1e-9 * range.Maximum;
        if (!(value >= range.Minimum - breadth && value <= range.Maximum + breadth))
        {
            problems.Add(new(layer.Id, field, range.Message(value)));
        }
    }
}
