using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Figures;

/// <summary>Where the night's heat comes from and where it is lost, as bars on one scale.</summary>
public static class HeatFigure
{
    /// <summary>Draws the heat balance of an assessment.</summary>
    public static Figure Of(Assessment assessment, DisplayUnits units)
    {
        var heat = assessment.Heat;
        ImmutableArray<BalanceBar> from =
        [
            Bar("Heater", heat.Heater, Ink.Accent),
            Bar("People", heat.People, Ink.AirWithin),
            Bar("Cooking and other", heat.Other, Ink.AirWithin),
            .. heat.Losses.Where(path => path.Loss.Watts < 0).Select(path => Bar(path.Name, -path.Loss, Ink.AirWithin)),
        ];
        ImmutableArray<BalanceBar> to =
        [
            .. heat.Losses.Where(path => path.Loss.Watts >= 0).OrderByDescending(path => path.Loss.Watts).Select(path => Bar(path.Name, path.Loss, Ink.AirOut)),
        ];
        from = [.. from.Where(bar => bar.Size > 0.5)];
        var (elements, height) = new BalanceBars(Measure.Heat, units).Draw(("Heat comes from", from), ("Heat is lost through", to));
        var total = Power.FromWatts((decimal)to.Sum(bar => bar.Size));
        return new Figure
        {
            Id = "heat-balance",
            Title = "Where the night’s heat comes from and where it is lost",
            AltText = $"Mean heat over the night, {units.Format(total)} lost in all. It comes from: {InWords(from)}. It is lost through: {InWords(to)}. "
                + $"On the design night the heater would have to give {units.Format(heat.DesignLoad)}.",
            Width = 640,
            Height = height,
            Elements = elements,
            Legend =
            [
                new(LegendMark.Area, Ink.Accent, "Heater"),
                new(LegendMark.Area, Ink.AirWithin, "Other heat inside"),
                new(LegendMark.Area, Ink.AirOut, "Loss"),
            ],
            Table = new DataTable
            {
                Caption = "Heat balance of the night",
                Heads = ["Path", "Direction", "Heat", "Share of the loss"],
                NumberColumns = [2, 3],
                Rows = [.. from.Select(bar => Row(bar, "in")), .. to.Select(bar => Row(bar, "out"))],
            },
        };

        ImmutableArray<string> Row(BalanceBar bar, string direction) =>
        [
            bar.Name,
            direction,
            units.Format(Measure.Heat, bar.Amount),
            units.Format(Measure.Share, Ratio.FromPercent(Math.Round(total.Watts == 0 ? 0 : 100 * bar.Size / (double)total.Watts))),
        ];

        string InWords(IEnumerable<BalanceBar> list) =>
            string.Join(", ", list.Select(bar => $"{bar.Name} {units.Format(Measure.Heat, bar.Amount)}"));

        static BalanceBar Bar(string name, Power amount, Ink ink) => new(name, amount, (double)amount.Watts, ink);
    }
}
