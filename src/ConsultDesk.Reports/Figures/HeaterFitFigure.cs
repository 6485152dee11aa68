using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Figures;

/// <summary>
/// How the heater fits: its output in all the hours it gives heat, the largest first, against what it can give, its lowest
/// steady output and what the coldest night needs.
/// </summary>
public static class HeaterFitFigure
{
    private const double Top = 10;
    private const double Bottom = 168;
    private const double Left = 40;
    private const double Right = NarrowRows.Width - 66;
    private const int Points = 60;
    private const double LabelStep = 11.5;

    // Less than this is no heat.
    private const double LeastW = 10;

    /// <summary>Draws the fit; null without a year or without its fit.</summary>
    public static Figure? Of(Design design, Assessment assessment, DisplayUnits units)
    {
        if (assessment.Year is not { HeaterFit: { } fit } year)
        {
            return null;
        }

        var output = year.Hours.HeaterW.Where(watts => watts >= LeastW).OrderDescending().Select(watts => (double)watts).ToArray();
        var none = design.Heater.Kind == HeaterKind.None;
        var needed = (double)Math.Max(fit.LoadAsleep.Watts, fit.LoadAwake.Watts);
        var gives = (double)fit.Gives.Watts;
        var lowest = (double)fit.LowestOutput.Watts;
        var perWatt = units.Value(Measure.Heat, Power.FromWatts(1000)) / 1000;
        var axis = new ValueAxis(perWatt * Math.Max(output.FirstOrDefault(), Math.Max(needed, gives)), Top, Bottom);
        double Y(double watts) => axis.Y(watts * perWatt);

        var canvas = new FigureCanvas(NarrowRows.Width, Bottom + 34);
        foreach (var (text, y) in axis.Ticks())
        {
            canvas.Line(Ink.Rule, 0.4, false, new(Left, y), new(Right, y));
            canvas.Write(Left - 5, y + 3.6, text, TextAnchor.End, Ink.Muted);
        }

        if (output.Length > 0)
        {
            var curve = Enumerable.Range(0, Points + 1)
                .Select(point => new FigurePoint(
                    Left + ((Right - Left) * point / Points),
                    Y(output[(int)Math.Round((double)point / Points * (output.Length - 1))])))
                .ToList();
            canvas.Add(new Polyline([new(Left, Bottom), .. curve, new(Right, Bottom)], Closed: true) { Fill = Ink.Accent, FillOpacity = 0.25 });
            canvas.Add(new Polyline([.. curve]) { Stroke = Ink.Accent, StrokeWidth = 1.8 });
        }

        var lines = new List<(double Watts, string Text, Action<double> Draw)>
        {
            (needed, units.Format(Power.FromWatts(needed)), y => canvas.Line(Ink.AirOut, 1.6, true, new(Left, y), new(Right, y))),
        };
        if (!none)
        {
            lines.Add((gives, units.Format(fit.Gives), y => canvas.Line(Ink.Text, 2, false, new(Left, y), new(Right, y))));
        }

        if (lowest > 0)
        {
            lines.Add((lowest, units.Format(fit.LowestOutput), y => canvas.Line(Ink.Muted, 1, false, new(Left, y), new(Right, y))));
        }

        foreach (var line in lines)
        {
            line.Draw(Y(line.Watts));
        }

        // Labels of lines that lie close to one another move apart, the upper one upwards.
        var below = double.PositiveInfinity;
        foreach (var line in lines.OrderBy(line => line.Watts))
        {
            var baseline = Math.Min(Y(line.Watts) + 3.6, below - LabelStep);
            canvas.Write(Right + 5, baseline, line.Text, bold: true);
            below = baseline;
        }

        canvas.Line(Ink.Rule, 1, false, new(Left, Bottom), new(Right, Bottom));
        var hours = output.Length.ToString(CultureInfo.InvariantCulture);
        canvas.Write(Left, Bottom + 14, "0", TextAnchor.Start, Ink.Muted);
        canvas.Write(Right, Bottom + 14, output.Length == 0 ? "never on" : hours, TextAnchor.End, Ink.Muted);
        canvas.Write((Left + Right) / 2, Bottom + 28, $"Hours of the year with heat; output in {units.Symbol(Measure.Heat)}", TextAnchor.Middle, Ink.Muted);
        return new Figure
        {
            Id = "heater-fit",
            Title = none ? "What a heater would have to give" : "How the heater fits",
            AltText = none
                ? $"The van has no heater. At {units.Format(fit.DesignOutdoor)} outside it would need {units.Format(Power.FromWatts(needed))}."
                : $"The heater gives heat in {hours} hours of the year, at most {units.Format(Power.FromWatts(output.FirstOrDefault()))}. "
                    + $"It can give {units.Format(fit.Gives)}{(lowest > 0 ? $" and runs steadily from {units.Format(fit.LowestOutput)}; {units.Format(Rounded(fit.CyclingShare))} of its hours lie below that" : "")}. "
                    + $"At {units.Format(fit.DesignOutdoor)} outside it has to give {units.Format(fit.LoadAsleep)} by night and {units.Format(fit.LoadAwake)} by day.",
            Width = canvas.Width,
            Height = canvas.Height,
            Elements = canvas.Elements,
            Legend =
            [
                .. none ? [] : new[]
                {
                    new LegendEntry(LegendMark.Area, Ink.Accent, "Output, hour by hour, the largest first", 0.25),
                    new LegendEntry(LegendMark.Line, Ink.Text, "Thick line: all the heater can give"),
                },
                new(LegendMark.Dashed, Ink.AirOut, $"Needed at {units.Format(fit.DesignOutdoor)} outside"),
                .. lowest > 0 ? new[] { new LegendEntry(LegendMark.Line, Ink.Muted, "Thin line: lowest steady output; below it the heater starts and stops") } : [],
            ],
            Table = Table(fit, design, units),
        };
    }

    /// <summary>The numbers of the fit, a row each.</summary>
    public static DataTable Table(HeaterFit fit, Design design, DisplayUnits units)
    {
        var kind = design.Heater.Kind;
        var rows = ImmutableArray.CreateBuilder<ImmutableArray<string>>();
        Add("Cold the heater is sized for", units.Format(fit.DesignOutdoor));
        Add("Needed to hold the night’s temperature", units.Format(fit.LoadAsleep));
        Add("Needed to hold the day’s temperature", units.Format(fit.LoadAwake));
        Add("Outdoor air counted", units.Format(fit.Air));
        Add("Outdoor air with the openings as they stand", units.Format(fit.AirAsItStands));
        if (kind != HeaterKind.None)
        {
            Add("All the heater can give at the highest stay", units.Format(fit.Gives));
            if (fit.LowestOutput.Watts > 0)
            {
                Add("Lowest steady output", units.Format(fit.LowestOutput));
                Add("Share of its hours below that: it starts and stops", units.Format(Rounded(fit.CyclingShare)));
            }

            Add("Highest stay", units.Format(Measure.Altitude, fit.HighestStay));
            if (fit.RatedAltitude is { } rated)
            {
                Add("Altitude it runs at without a setting", units.Format(Measure.Altitude, rated));
            }

            Add("Days with heat", fit.HeatingDays.ToString(CultureInfo.InvariantCulture));
            if (fit is { FuelPerHeatingDay: { } usual, FuelColdestDay: { } most })
            {
                Add("Fuel on a day with heat", FuelWords.Of(usual, kind, units));
                Add("Fuel on the coldest day", FuelWords.Of(most, kind, units));
            }
        }

        Add("Electricity a day for heat and fans", $"{units.Format(fit.ElectricPerDay)} ({units.FormatAtTwelveVolts(fit.ElectricPerDay)})");
        Add("The same on the day that takes most", $"{units.Format(fit.ElectricWorstDay)} ({units.FormatAtTwelveVolts(fit.ElectricWorstDay)})");
        if (fit.WithoutSun is { } time)
        {
            Add("How long the battery carries that, with no other users and no charging", units.Format(time));
        }

        return new DataTable { Caption = "Heater and electricity", Heads = ["What", "Value"], NumberColumns = [1], Rows = rows.ToImmutable() };

        void Add(string what, string value) => rows.Add([what, value]);
    }

    private static Ratio Rounded(Ratio share) => Ratio.FromPercent(Math.Round(share.Percent));
}
