using System.Globalization;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>More wet mornings in the year than one in ten, the air that is missing and the step that gives it.</summary>
internal static class ManyWetMornings
{
    public static Finding? Judge(FindingContext context)
    {
        double limit = FindingLimits.Of("wet-share") / 100;
        if (context.Assessment.Year is not YearAssessment year || year.WetMornings is not { Nights: > 0 } mornings || mornings.Count <= limit * mornings.Nights)
        {
            return null;
        }

        double? missing = context.Outdoor is null ? null : NightAirNeed.MissingM3PerH(
            year, context.Outdoor, context.Assessment.Water.Sources.Sum(source => source.Rate.KilogramsPerSecond), limit);
        bool byAir = missing is double known && double.IsFinite(known);
        (string Words, int Index)? step = byAir ? FirstStep(context, missing!.Value) : null;
        return new Finding
        {
            Code = "many-wet-mornings",
            Severity = Severity.Warning,
            Title = mornings.SurfaceName.Length > 0 ? $"Many wet mornings: {PlainName.Of(mornings.SurfaceName)}" : "Many wet mornings",
            Explanation = "Glass and metal that are wet morning after morning rot seals and frames and feed mould. "
                + "One vent left open is enough only with an inlet that lets its air in; without one it draws on the leaks.",
            Evidence =
            [
                new("Wet mornings in the year", Scalar.FromAmount(mornings.Count)),
                new("Nights slept in the van", Scalar.FromAmount(mornings.Nights)),
                new("Outdoor air by night", year.NightAir),
                .. byAir ? [new("Outdoor air missing for at most one wet morning in ten (estimate)", VolumeFlow.FromCubicMetersPerHour(missing!.Value))] : Array.Empty<Evidence>(),
                new("Water condensed a night in the cold season", mornings.CondensedPerNight),
            ],
            Remedy = Words(missing, step?.Words),
            TriedAs = step is null
                ? "The copy hangs covers outside the glass; where they are not enough in the year, with the most air of this van's steps."
                : "The copy takes the first way of these that is enough in the year: this step, more air still, covers outside the glass.",
            Apply = design => YearTrial.First(
                context with { Design = design }, (_, tried) => tried.WetMornings.Count, limit * mornings.Nights, Ways(step?.Index)),
        };
    }

    private static string Words(double? missing, string? step) => (missing, step) switch
    {
        (double air, _) when double.IsInfinity(air) =>
            "No ventilation alone brings this down: on too many nights the outdoor air is as damp as the cold surface can bear. Keep the surface warmer with covers outside and steady warmth, and wipe what is left.",
        (_, null) => "None of this van's inlets and fan steps brings the air that is missing: plan another inlet low down and a vent at the other end, keep the glass warmer with covers outside, and wipe what is left.",
        _ => string.Create(CultureInfo.InvariantCulture, $"The first step that brings the missing air: {step}. Covers outside the glass and steady warmth cut what is left; more outdoor air needs more heat."),
    };

    // The step and the ones after it, then covers alone and with the most air.
    private static IEnumerable<Func<Design, Design>> Ways(int? step) =>
    [
        .. MoreAir.Steps.Skip(step ?? int.MaxValue).Take(3).Select(next => next.Way),
        GlassCovers.AllOutside,
        design => GlassCovers.AllOutside(MoreAir.Steps.Last().Way(design)),
    ];

    // The first step whose steady night takes in the air it has now and the air that is missing.
    private static (string Words, int Index)? FirstStep(FindingContext context, double missingM3PerH)
    {
        double nowM3PerH = context.Assessment.Air.OutdoorAir.CubicMetersPerHour;
        foreach ((int index, (string words, Func<Design, Design> way)) in MoreAir.Steps.Index())
        {
            Design changed = way(context.Design);
            if (!DesignCheck.Errors(changed).IsEmpty)
            {
                continue;
            }

            double airM3PerH = context.Reassess(changed).Air.OutdoorAir.CubicMetersPerHour;
            if (airM3PerH > nowM3PerH && airM3PerH >= nowM3PerH + missingM3PerH
                && context.DangerCodes(changed).Except(context.DangerCodes(context.Design)).IsEmpty)
            {
                return (words, index);
            }
        }

        return null;
    }
}
