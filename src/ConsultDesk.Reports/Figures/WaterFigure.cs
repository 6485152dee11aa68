using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Figures;

/// <summary>Where the night's water comes from and where it goes, as bars on one scale.</summary>
public static class WaterFigure
{
    /// <summary>Draws the water balance of an assessment.</summary>
    public static Figure Of(Assessment assessment, DisplayUnits units)
    {
        var water = assessment.Water;
        var from = ImmutableArray.CreateBuilder<BalanceBar>();
        foreach (var source in water.Sources)
        {
            from.Add(Bar(source.Name, source.Rate, Ink.AirWithin));
        }

        var to = ImmutableArray.CreateBuilder<BalanceBar>();
        if (water.CarriedOut.GramsPerHour < 0)
        {
            // Outdoor air wetter than the inside brings water in.
            from.Add(Bar("Brought in by outdoor air", -water.CarriedOut, Ink.AirIn));
        }
        else
        {
            to.Add(Bar("Carried out by air", water.CarriedOut, Ink.AirOut));
        }

        if (water.Removed.GramsPerHour > 0.05)
        {
            to.Add(Bar("Taken out by dehumidifiers", water.Removed, Ink.AirWithin));
        }

        to.Add(Bar("Condensing on glass and bare metal", water.Condensing - water.OnLinings - water.Mist, Ink.Wet));
        if (water.OnLinings.GramsPerHour > 0.05)
        {
            to.Add(Bar("Condensing on walls, roof and floor", water.OnLinings, Ink.Wet));
        }

        if (water.Mist.GramsPerHour > 0.05)
        {
            to.Add(Bar("Mist that settles anywhere", water.Mist, Ink.Wet));
        }

        var bars = new BalanceBars(Measure.WaterRate, units);
        var (elements, height) = bars.Draw(("Water comes from", from.ToImmutable()), ("Water goes to", to.ToImmutable()));
        var total = MassFlow.FromGramsPerHour(from.Sum(bar => bar.Size));
        return new Figure
        {
            Id = "water-balance",
            Title = "Where the night’s water comes from and where it goes",
            AltText = $"Water in the van while people sleep, {units.Format(Measure.WaterRate, total)} in all. "
                + $"It comes from: {InWords(from)}. It goes to: {InWords(to)}. "
                + $"Over the night of {units.Format(assessment.Night)} that is {units.Format(Measure.Water, water.CondensedPerNight)} of condensed water.",
            Width = 640,
            Height = height,
            Elements = elements,
            Legend =
            [
                new(LegendMark.Area, Ink.AirWithin, "Given off inside"),
                new(LegendMark.Area, water.CarriedOut.GramsPerHour < 0 ? Ink.AirIn : Ink.AirOut, water.CarriedOut.GramsPerHour < 0 ? "Brought in with air" : "Leaves with air"),
                new(LegendMark.Area, Ink.Wet, "Stays in the van as water or frost"),
            ],
            Table = new DataTable
            {
                Caption = "Water balance of the night",
                Heads = ["Path", "Direction", "Rate", "Over the night"],
                NumberColumns = [2, 3],
                Rows = [.. from.Select(bar => Row(bar, "in")), .. to.Select(bar => Row(bar, "out"))],
            },
        };

        ImmutableArray<string> Row(BalanceBar bar, string direction) =>
        [
            bar.Name,
            direction,
            units.Format(Measure.WaterRate, bar.Amount),
            units.Format(Measure.Water, Mass.FromGrams(bar.Size * assessment.Night.Hours)),
        ];

        string InWords(IEnumerable<BalanceBar> list) =>
            string.Join(", ", list.Select(bar => $"{bar.Name} {units.Format(Measure.WaterRate, bar.Amount)}"));

        static BalanceBar Bar(string name, MassFlow rate, Ink ink) => new(name, rate, rate.GramsPerHour, ink);
    }
}
