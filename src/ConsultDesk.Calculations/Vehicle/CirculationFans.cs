using System.Globalization;
using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>Pure edits of the fans that move air within the van.</summary>
public static class CirculationFans
{
    /// <summary>The fan with this id, or null.</summary>
    public static CirculationFan? Find(Design design, string id) => design.CirculationFans.FirstOrDefault(fan => fan.Id == id);

    /// <summary>The design with one small running fan more, with flow and draw from the defaults table.</summary>
    /// <param name="design">The design.</param>
    /// <param name="zoneA">Id of one zone.</param>
    /// <param name="zoneB">Id of another.</param>
    /// <exception cref="ArgumentException">There is no such zone, or both are the same.</exception>
    public static Design Add(Design design, string zoneA, string zoneB)
    {
        string nameA = Name(design, zoneA);
        string nameB = Name(design, zoneB);
        if (zoneA == zoneB)
        {
            throw new ArgumentException($"The fan would blow back into {nameA}; expected two different zones.", nameof(zoneB));
        }

        int number = Enumerable.Range(1, design.CirculationFans.Length + 1).First(n => Find(design, Id(n)) is null);
        return design with
        {
            CirculationFans = design.CirculationFans.Add(new CirculationFan
            {
                Id = Id(number),
                Name = $"Small fan, {nameA} to {nameB}",
                ZoneA = zoneA,
                ZoneB = zoneB,
                Flow = VolumeFlow.FromCubicMetersPerHour(Defaults.Likely("circulation-flow")),
                ElectricDraw = Power.FromWatts(Defaults.Likely("circulation-draw")),
                Running = true,
            }),
        };
    }

    /// <summary>The design with one fan changed.</summary>
    /// <exception cref="ArgumentException">There is no such fan.</exception>
    public static Design Change(Design design, string id, Func<CirculationFan, CirculationFan> change)
    {
        CirculationFan fan = Find(design, id) ?? throw new ArgumentException($"There is no fan '{id}'.", nameof(id));
        return design with { CirculationFans = design.CirculationFans.Replace(fan, change(fan)) };
    }

    /// <summary>The design without a fan.</summary>
    public static Design Remove(Design design, string id) =>
        design with { CirculationFans = [.. design.CirculationFans.Where(fan => fan.Id != id)] };

    private static string Name(Design design, string zoneId) => design.Zones.FirstOrDefault(zone => zone.Id == zoneId)?.Name
        ?? throw new ArgumentException($"There is no zone '{zoneId}'.", nameof(zoneId));

    private static string Id(int number) => string.Create(CultureInfo.InvariantCulture, $"circulation-fan-{number}");
}
