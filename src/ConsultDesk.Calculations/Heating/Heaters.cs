using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Heating;

/// <summary>A generic heater of the table.</summary>
public sealed record HeaterClass
{
    /// <summary>Stable key.</summary>
    public required string Key { get; init; }

    /// <summary>Which kind it is.</summary>
    public required HeaterKind Kind { get; init; }

    /// <summary>Generic name.</summary>
    public required string Name { get; init; }

    /// <summary>What it burns, or null for an electric one.</summary>
    public required Fuel? Fuel { get; init; }

    /// <summary>Heat output at its highest setting, at sea level.</summary>
    public required Power RatedOutput { get; init; }

    /// <summary>Heat output at its lowest steady setting; below that it starts and stops.</summary>
    public required Power LowestOutput { get; init; }

    /// <summary>Heat to the cabin over lower heating value of the fuel, or over electric energy; above 0 to 1.</summary>
    public required double Efficiency { get; init; }

    /// <summary>Mean electric draw while it runs, besides the heat of an electric heater.</summary>
    public required Power ElectricDraw { get; init; }

    /// <summary>Electric draw for the minutes of starting.</summary>
    public required Power StartDraw { get; init; }

    /// <summary>Published source, or <c>our judgement</c>, or <c>from memory</c>.</summary>
    public required string Source { get; init; }

    /// <summary>Lowest over rated output, 0 to 1: an oversized heater with a high value soots and cycles.</summary>
    public double TurnDownShare => (double)(LowestOutput.Watts / RatedOutput.Watts);
}

/// <summary>The table of generic heaters, embedded as heaters.csv.</summary>
public static class Heaters
{
    /// <summary>Every heater in the order of the table.</summary>
    public static ImmutableArray<HeaterClass> All { get; } = Read();

    /// <summary>
    /// The heater of a kind whose rated output is nearest to the one asked for, or null for <see cref="HeaterKind.None"/>.
    /// </summary>
    public static HeaterClass? Nearest(HeaterKind kind, Power ratedOutput) =>
        All.Where(heater => heater.Kind == kind).MinBy(heater => Math.Abs(heater.RatedOutput.Watts - ratedOutput.Watts));

    private static ImmutableArray<HeaterClass> Read() =>
    [
        .. EmbeddedTable.Rows("Heating.heaters.csv", columns: 10).Select(row => new HeaterClass
        {
            Key = row[0],
            Kind = Enum.Parse<HeaterKind>(row[1]),
            Name = row[2],
            Fuel = row[3].Length == 0 ? null : Fuel.Get(row[3]),
            RatedOutput = Power.FromWatts(Number(row[4])),
            LowestOutput = Power.FromWatts(Number(row[5])),
            Efficiency = Number(row[6]),
            ElectricDraw = Power.FromWatts(Number(row[7])),
            StartDraw = Power.FromWatts(Number(row[8])),
            Source = row[9],
        }),
    ];

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
