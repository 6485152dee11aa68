using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Unknowns;

/// <summary>A design calculated and judged with one set of values.</summary>
/// <param name="Night">Its night; with its year when that was asked for.</param>
/// <param name="Situations">Its situations.</param>
/// <param name="Findings">What follows, the gravest first.</param>
/// <param name="BestRemedy">Key of the best of the remedies; null when none helps or none was given.</param>
internal sealed record Judged(Assessment Night, ImmutableArray<SituationResult> Situations, ImmutableArray<Finding> Findings, string? BestRemedy)
{
    /// <summary>Codes of the findings.</summary>
    public IEnumerable<string> Codes => Findings.Select(finding => finding.Code);

    /// <summary>How much a finding weighs here; null when it is not made.</summary>
    public Severity? SeverityOf(string code)
    {
        foreach (Finding finding in Findings)
        {
            if (finding.Code == code)
            {
                return finding.Severity;
            }
        }

        return null;
    }

    /// <summary>What it costs to act on the one when the other is true: a finding weighs otherwise, or weighs the same and asks for something else.</summary>
    public double LossAgainst(Judged truth, string code)
    {
        double weight = Losses.Between(SeverityOf(code), truth.SeverityOf(code));
        return weight > 0 || Said(code) == truth.Said(code) ? weight : Math.Min(Losses.Of(Severity.Advice), Losses.Of(SeverityOf(code) ?? Severity.Note));
    }

    /// <summary>True when a finding comes, goes, weighs otherwise or asks for something else.</summary>
    public bool Turns(Judged other, string code) => SeverityOf(code) != other.SeverityOf(code) || Said(code) != other.Said(code);

    /// <summary>True when the same findings say the same and the same remedy is the best.</summary>
    public bool SameAs(Judged other) => BestRemedy == other.BestRemedy && !Codes.Union(other.Codes).Any(code => Turns(other, code));

    /// <summary>True when it recommends the same: notes apart.</summary>
    public bool RecommendsAs(Judged other) => BestRemedy == other.BestRemedy
        && !Codes.Union(other.Codes).Any(code => Turns(other, code) && LossAgainst(other, code) > 0);

    // Title and remedy without their numbers: what is concluded and asked for, not how much of it.
    private string Said(string code) => Findings.FirstOrDefault(finding => finding.Code == code) is { } made
        ? new string([.. (made.Title + made.Remedy).Where(letter => !char.IsDigit(letter))])
        : "";
}

/// <summary>Calculates and judges a design again and again with one thing moved. Safe to use from several threads.</summary>
internal sealed class Judgement
{
    private readonly Design _now;
    private readonly Design _kept;
    private readonly WeatherHours _hours;
    private readonly ImmutableArray<HelpfulChange> _remedies;
    private readonly NightWeather _night;
    private readonly YearWeather _weather;
    private readonly IReadOnlyList<Situation> _situations;
    private readonly ImmutableArray<WeighedSituation> _wet;

    /// <summary>Prepares a design.</summary>
    /// <param name="now">The design without what comes later.</param>
    /// <param name="kept">The design as it is kept.</param>
    /// <param name="depth">How much is calculated.</param>
    /// <param name="hours">Hours of weather files.</param>
    /// <param name="remedies">Remedies whose order counts.</param>
    /// <param name="situations">Situations to run; null for those of the itinerary.</param>
    public Judgement(
        Design now, Design kept, AssessmentDepth depth, WeatherHours hours, ImmutableArray<HelpfulChange> remedies, IReadOnlyList<Situation>? situations)
    {
        (_now, _kept, Depth, _hours, _remedies) = (now, kept, depth, hours, remedies);
        _night = Nights.At(now);
        _weather = YearWeather.Of(now, hours: hours);
        _situations = situations ?? Simulation.Situations.Of(now, _weather);
        _wet = remedies.IsEmpty ? [] : HelpSearch.Weighed(now, _weather);
    }

    /// <summary>How much is calculated.</summary>
    public AssessmentDepth Depth { get; }

    /// <summary>The design with likely values.</summary>
    public Judged Likely(CancellationToken cancellation) => Calculated(_now, _kept, Assumptions.Likely, _weather, _situations, cancellation);

    /// <summary>The design with one unknown moved.</summary>
    public Judged At(Unknown unknown, double share, Judged likely, CancellationToken cancellation)
    {
        (Design now, Assumptions assumed) = unknown.Move(_now, share);
        if (!unknown.WeighsInAir)
        {
            return likely with { Findings = Findings(now, likely.Night, assumed, _weather) };
        }

        return Calculated(
            now,
            unknown.Move(_kept, share).Design,
            assumed,
            unknown.MovesShelter && Depth != AssessmentDepth.Night ? YearWeather.Of(now, hours: _hours) : _weather,
            [
                .. _situations.Select(situation => situation with
                {
                    People = situation.People > 0 ? now.Household.Sleepers : 0,
                    Shelter = unknown.MovesShelter ? now.Stop.Shelter : situation.Shelter,
                }),
            ],
            cancellation);
    }

    private Judged Calculated(
        Design now, Design kept, Assumptions assumed, YearWeather weather, IReadOnlyList<Situation> situations, CancellationToken cancellation)
    {
        ImmutableArray<SituationResult> results = SituationRun.Of(now, situations, assumed, cancellation);
        Assessment assessment = Assessor.AssessWithoutFindings(now, _night, assumed, cancellation) with
        {
            Situations = results,
            Year = Depth == AssessmentDepth.Night ? null : Assessor.AssessYear(now, weather, assumed, progress: null, cancellation),
        };
        return new Judged(assessment, results, Findings(now, assessment, assumed, weather), BestRemedy(now, kept, assumed, cancellation));
    }

    private ImmutableArray<Finding> Findings(Design now, Assessment assessment, Assumptions assumed, YearWeather weather) => FindingRules.Judge(
        new FindingContext(now, assessment, changed => Assessor.AssessWithoutFindings(changed, _night, assumed, CancellationToken.None))
        {
            Outdoor = Depth == AssessmentDepth.Night ? null : weather,
        });

    // The order of "what helps most now": what costs nothing by hours saved, then by hours saved for the money.
    private string? BestRemedy(Design now, Design kept, Assumptions assumed, CancellationToken cancellation)
    {
        if (_remedies.IsEmpty)
        {
            return null;
        }

        ImmutableArray<WeighedSituation> wet =
            [.. _wet.Select(weighed => weighed with { Situation = weighed.Situation with { People = now.Household.Sleepers } })];
        (double before, double glassAndMetalM2) = HelpSearch.Wet(now, wet, cancellation, assumed);
        if (glassAndMetalM2 <= 0)
        {
            return null;
        }

        return _remedies
            .Select(remedy => remedy with
            {
                WetHoursSaved = (before - HelpSearch.Wet(LaterParts.Without(remedy.Change.Apply(kept)), wet, cancellation, assumed).M2Hours) / glassAndMetalM2,
            })
            .Where(remedy => remedy.WetHoursSaved >= HelpSearch.LeastHours)
            .OrderByDescending(remedy => remedy.Price <= 0)
            .ThenByDescending(remedy => remedy.SavedPerHundred ?? remedy.WetHoursSaved)
            .ThenBy(remedy => remedy.Change.Key, StringComparer.Ordinal)
            .FirstOrDefault()?.Change.Key;
    }
}
