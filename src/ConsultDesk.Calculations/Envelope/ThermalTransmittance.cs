using System.Collections.Immutable;
using UnitsNet;

namespace ConsultDesk.Calculations.Envelope;

/// <summary>Resistances of an assembly of uniform layers, and what follows from them.</summary>
public sealed record AssemblyResistance
{
    /// <summary>Inside surface.</summary>
    public required ThermalResistance InsideSurface { get; init; }

    /// <summary>
    /// Each layer in the assembly's order. Zero for membranes and for everything from a well ventilated air layer outwards;
    /// reduced outside a slightly ventilated one.
    /// </summary>
    public required ImmutableArray<ThermalResistance> Layers { get; init; }

    /// <summary>Outside surface.</summary>
    public required ThermalResistance OutsideSurface { get; init; }

    /// <summary>From room air to outdoor air.</summary>
    public ThermalResistance Total => ThermalResistance.FromSquareMeterKelvinsPerWatt(TotalM2KPerW);

    /// <summary>U = 1 / total resistance.</summary>
    public HeatTransferCoefficient UValue => HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(1 / TotalM2KPerW);

    internal double TotalM2KPerW =>
        InsideSurface.SquareMeterKelvinsPerWatt
        + Layers.Sum(layer => layer.SquareMeterKelvinsPerWatt)
        + OutsideSurface.SquareMeterKelvinsPerWatt;

    /// <summary>
    /// Steady temperatures at the room side, between the layers and at the outside, one more than there are layers:
    /// each step falls by its share of the total resistance.
    /// </summary>
    public ImmutableArray<Temperature> Temperatures(Temperature room, Temperature outdoor)
    {
        double fall = (room.DegreesCelsius - outdoor.DegreesCelsius) / TotalM2KPerW;
        double celsius = room.DegreesCelsius - (fall * InsideSurface.SquareMeterKelvinsPerWatt);
        ImmutableArray<Temperature>.Builder temperatures = ImmutableArray.CreateBuilder<Temperature>(Layers.Length + 1);
        temperatures.Add(Temperature.FromDegreesCelsius(celsius));
        foreach (ThermalResistance layer in Layers)
        {
            celsius -= fall * layer.SquareMeterKelvinsPerWatt;
            temperatures.Add(Temperature.FromDegreesCelsius(celsius));
        }

        return temperatures.ToImmutable();
    }
}

/// <summary>Ribs or battens that replace part of one layer over its whole thickness.</summary>
/// <param name="LayerId">Id of the layer they cross.</param>
/// <param name="Material">Key of their material.</param>
/// <param name="Share">Share of the area they take, above 0 and below 1.</param>
public sealed record Ribs(string LayerId, string Material, Ratio Share);

/// <summary>Result of the combined method of ISO 6946.</summary>
public sealed record CombinedResistance
{
    /// <summary>Upper limit: heat flows straight through each section.</summary>
    public required ThermalResistance Upper { get; init; }

    /// <summary>Lower limit: every plane between layers has one temperature.</summary>
    public required ThermalResistance Lower { get; init; }

    /// <summary>Mean of both limits.</summary>
    public required ThermalResistance Total { get; init; }

    /// <summary>Largest relative error, (upper - lower) / (2 total).</summary>
    public required Ratio MaximumError { get; init; }

    /// <summary>
    /// False where the standard does not apply: metal ribs, or limits further apart than
    /// <see cref="ThermalTransmittance.WidestLimits"/>. The truth then lies between the limits; show both.
    /// </summary>
    public required bool WithinScope { get; init; }

    /// <summary>U = 1 / total.</summary>
    public HeatTransferCoefficient UValue =>
        HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(1 / Total.SquareMeterKelvinsPerWatt);
}

/// <summary>U-values of layered assemblies (ISO 6946).</summary>
public static class ThermalTransmittance
{
    /// <summary>Ratio of upper to lower limit beyond which the combined method is not to be used (ISO 6946, recalled).</summary>
    public const double WidestLimits = 1.5;

    /// <summary>
    /// Resistances with the conventional surfaces. Everything from a well ventilated air layer outwards counts for
    /// nothing and the outside surface is taken as an inside one; outside a slightly ventilated layer at most
    /// <see cref="AirLayers.OutsideOfSlightlyVentilatedM2KPerW"/> counts.
    /// </summary>
    /// <exception cref="ArgumentException">The assembly breaks a rule of <see cref="AssemblyRules"/>.</exception>
    public static AssemblyResistance Of(LayeredAssembly assembly, HeatFlow flow) =>
        Of(assembly, flow, SurfaceFilms.Outside());

    /// <summary>Resistances with the outside surface given, for example by wind.</summary>
    /// <exception cref="ArgumentException">The assembly breaks a rule of <see cref="AssemblyRules"/>.</exception>
    public static AssemblyResistance Of(LayeredAssembly assembly, HeatFlow flow, ThermalResistance outsideSurface)
    {
        AssemblyRules.Check(assembly);
        double[] layers = LayerResistances(assembly, flow, out bool wellVentilated);
        return new AssemblyResistance
        {
            InsideSurface = SurfaceFilms.Inside(flow),
            Layers = [.. layers.Select(layer => ThermalResistance.FromSquareMeterKelvinsPerWatt(layer))],
            OutsideSurface = wellVentilated ? SurfaceFilms.Inside(flow) : outsideSurface,
        };
    }

    /// <summary>
    /// Combined method of ISO 6946: R' = 1 / sum(f / Rsection), R'' = Rsi + sum(1 / sum(f / Rlayer)) + Rse,
    /// R = (R' + R'')/2, error (R' - R'')/(2 R).
    /// </summary>
    /// <exception cref="ArgumentException">The assembly breaks a rule, or the ribs do not fit it.</exception>
    public static CombinedResistance WithRibs(LayeredAssembly assembly, HeatFlow flow, Ribs ribs)
    {
        ArgumentNullException.ThrowIfNull(ribs);
        AssemblyResistance plain = Of(assembly, flow);
        int index = assembly.Layers.ToList().FindIndex(layer => layer.Id == ribs.LayerId);
        if (index < 0)
        {
            throw new ArgumentException($"There is no layer '{ribs.LayerId}'; expected the id of the layer the ribs cross.", nameof(ribs));
        }

        double share = ribs.Share.DecimalFractions;
        if (!(share is > 0 and < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(ribs), share, "Share of the area taken by ribs is expected above 0 and below 1.");
        }

        Length thickness = assembly.Layers[index] switch
        {
            SolidLayer solid => solid.Thickness,
            AirLayer air => air.Thickness,
            _ => throw new ArgumentException($"Layer '{ribs.LayerId}' has no thickness for ribs to cross.", nameof(ribs)),
        };
        if (plain.Layers[index].SquareMeterKelvinsPerWatt <= 0)
        {
            throw new ArgumentException($"Layer '{ribs.LayerId}' lies outside a well ventilated air layer; ribs in it change nothing.", nameof(ribs));
        }

        Material material = Materials.Get(ribs.Material);
        double[] between = [.. plain.Layers.Select(layer => layer.SquareMeterKelvinsPerWatt)];
        double[] across = [.. between];
        across[index] = thickness.Meters / material.ConductivityWPerMK;
        (double upper, double lower) = Limits(
            plain.InsideSurface.SquareMeterKelvinsPerWatt,
            plain.OutsideSurface.SquareMeterKelvinsPerWatt,
            [(1 - share, between), (share, across)]);
        double total = (upper + lower) / 2;
        return new CombinedResistance
        {
            Upper = ThermalResistance.FromSquareMeterKelvinsPerWatt(upper),
            Lower = ThermalResistance.FromSquareMeterKelvinsPerWatt(lower),
            Total = ThermalResistance.FromSquareMeterKelvinsPerWatt(total),
            MaximumError = Ratio.FromDecimalFractions((upper - lower) / (2 * total)),
            WithinScope = !material.IsMetal && upper / lower <= WidestLimits,
        };
    }

    /// <summary>Upper and lower limit, m2 K/W, of sections with a share of the area and one resistance per layer.</summary>
    internal static (double Upper, double Lower) Limits(
        double insideM2KPerW, double outsideM2KPerW, IReadOnlyList<(double Share, double[] LayersM2KPerW)> sections)
    {
        double upper = 1 / sections.Sum(section =>
            section.Share / (insideM2KPerW + section.LayersM2KPerW.Sum() + outsideM2KPerW));
        double lower = insideM2KPerW + outsideM2KPerW;
        for (int layer = 0; layer < sections[0].LayersM2KPerW.Length; layer++)
        {
            // A membrane has no resistance in any section.
            if (sections.All(section => section.LayersM2KPerW[layer] > 0))
            {
                lower += 1 / sections.Sum(section => section.Share / section.LayersM2KPerW[layer]);
            }
        }

        return (upper, lower);
    }

    private static double[] LayerResistances(LayeredAssembly assembly, HeatFlow flow, out bool wellVentilated)
    {
        double[] resistances = new double[assembly.Layers.Length];
        wellVentilated = false;
        for (int i = 0; i < resistances.Length && !wellVentilated; i++)
        {
            switch (assembly.Layers[i])
            {
                case SolidLayer solid:
                    resistances[i] = solid.Thickness.Meters / Materials.Get(solid.Material).ConductivityWPerMK;
                    break;
                case AirLayer { Ventilation: AirLayerVentilation.WellVentilated }:
                    wellVentilated = true;
                    break;
                case AirLayer { Ventilation: AirLayerVentilation.SlightlyVentilated } air:
                    resistances[i] = AirLayers.UnventilatedM2KPerW(air.Thickness.Meters, flow) / 2;
                    break;
                case AirLayer air:
                    resistances[i] = AirLayers.UnventilatedM2KPerW(air.Thickness.Meters, flow);
                    break;
            }
        }

        int slight = assembly.Layers.ToList().FindIndex(layer => layer is AirLayer { Ventilation: AirLayerVentilation.SlightlyVentilated });
        if (slight >= 0)
        {
            double outside = resistances.Skip(slight + 1).Sum();
            double kept = Math.Min(1, AirLayers.OutsideOfSlightlyVentilatedM2KPerW / outside);
            for (int i = slight + 1; i < resistances.Length; i++)
            {
                resistances[i] *= kept;
            }
        }

        return resistances;
    }
}
