using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Reports.Figures;

/// <summary>A part sealed and breathing, side by side.</summary>
public static class LiningTrialTable
{
    /// <summary>A column for each way, a row for each number that says whether it dries.</summary>
    /// <param name="trials">The ways.</param>
    /// <param name="words">What a way is called.</param>
    /// <param name="units">Units of the numbers.</param>
    public static DataTable Of(ImmutableArray<LiningTrial> trials, Func<LiningGaps, string> words, DisplayUnits units) => new()
    {
        Caption = "Sealed or breathing, over the whole year",
        Heads = ["What", .. trials.Select(trial => words(trial.Gaps) + (trial.Stands ? " (as it is)" : ""))],
        NumberColumns = [.. Enumerable.Range(1, trials.Length)],
        Rows =
        [
            Row(trials, "Most water on the skin", trial => OnSkin(trial, skin => units.FormatPerArea(skin.PeakPerSquareMetre))),
            Row(trials, "Hours of the year the skin is wet", trial => OnSkin(trial, skin => Count(skin.WetHours))),
            Row(trials, "Hours above 80 % humidity", trial => OnSkin(trial, skin => Count(skin.HoursAbove80))),
            Row(trials, "Longest time to dry", trial => OnSkin(trial, skin => WallCheckFigure.DryTime(skin, units))),
            Row(trials, "Wet mornings on the van’s glass and metal", trial => Count(trial.WetMornings.Count)),
        ],
    };

    private static ImmutableArray<string> Row(ImmutableArray<LiningTrial> trials, string what, Func<LiningTrial, string> cell) =>
        [what, .. trials.Select(cell)];

    private static string OnSkin(LiningTrial trial, Func<SkinYear, string> cell) =>
        trial.Check.Skin is { } skin ? cell(skin) : DataTable.Nothing;

    private static string Count(int number) => number.ToString(CultureInfo.InvariantCulture);
}
