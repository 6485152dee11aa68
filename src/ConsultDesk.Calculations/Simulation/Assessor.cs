using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>How much is calculated; each step holds all before it.</summary>
public enum AssessmentDepth
{
    /// <summary>The steady night and its findings: under a millisecond.</summary>
    Night,

    /// <summary>The year, situations, scores, running card and all findings.</summary>
    Year,

    /// <summary>The low-likely-high bands of the headline numbers on top: several years.</summary>
    Bands,
}

/// <summary>
/// The front door of the calculation: a design and its weather in, everything that follows out. Parts that come later
/// are left out of all of it (<see cref="LaterParts"/>), so an opening of the design may have no flow.
/// </summary>
public static class Assessor
{
    /// <summary>Version of the calculation method, changed whenever a result could change.</summary>
    public const string MethodVersion = "7";

    /// <summary>Assesses a design in the mean night of its own stop.</summary>
    /// <exception cref="ArgumentException">The design is wrong; the message names the fields.</exception>
    /// <exception cref="NightNotConvergedException">The night did not balance.</exception>
    public static Assessment Assess(Design design, CancellationToken cancellation = default)
    {
        RequireValid(design);
        return Assess(design, Nights.At(design), cancellation);
    }

    /// <summary>Assesses a design in a night.</summary>
    /// <param name="design">The design; its stop gives shelter and altitude.</param>
    /// <param name="weather">Outdoor air of the night.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">The design is wrong; the message names the fields.</exception>
    /// <exception cref="NightNotConvergedException">The night did not balance.</exception>
    public static Assessment Assess(Design design, NightWeather weather, CancellationToken cancellation = default)
    {
        RequireValid(design);
        design = LaterParts.Without(design);
        Assessment assessment = AssessWithoutFindings(design, weather, cancellation);
        // A remedy may be applied long after this assessment was superseded, so it does not hang on its cancellation.
        FindingContext context = new(design, assessment, changed => AssessWithoutFindings(changed, weather, CancellationToken.None));
        return assessment with { Findings = Findings(context) };
    }

    /// <summary>Assesses a design to a depth, in the mean night of its own stop and in the year of its itinerary, made from monthly means.</summary>
    /// <param name="design">The design.</param>
    /// <param name="depth">How much is calculated.</param>
    /// <param name="progress">Told the share done now and then, 0 to 1.</param>
    /// <param name="cancellation">Stops the work; looked at at least each day of a year.</param>
    /// <exception cref="ArgumentException">The design is wrong; the message names the fields.</exception>
    /// <exception cref="CalculationFailedException">Night, situation or year did not balance.</exception>
    public static Assessment Assess(Design design, AssessmentDepth depth, IProgress<double>? progress = null, CancellationToken cancellation = default) =>
        Assess(design, WeatherHours.None, depth, progress, cancellation);

    /// <summary>Assesses a design to a depth, its year in the hours of its places' weather files as far as they are here.</summary>
    /// <param name="design">The design.</param>
    /// <param name="hours">Hours of the weather files that places of the design name; where they are missing the months are used.</param>
    /// <param name="depth">How much is calculated.</param>
    /// <param name="progress">Told the share done now and then, 0 to 1.</param>
    /// <param name="cancellation">Stops the work; looked at at least each day of a year.</param>
    /// <exception cref="ArgumentException">The design is wrong; the message names the fields.</exception>
    /// <exception cref="CalculationFailedException">Night, situation or year did not balance.</exception>
    public static Assessment Assess(
        Design design, WeatherHours hours, AssessmentDepth depth, IProgress<double>? progress = null, CancellationToken cancellation = default)
    {
        if (depth == AssessmentDepth.Night)
        {
            return Assess(design, cancellation);
        }

        RequireValid(design);
        design = LaterParts.Without(design);
        NightWeather night = Nights.At(design);
        YearWeather weather = YearWeather.Of(design, hours: hours);
        IProgress<double>? whole = depth == AssessmentDepth.Year ? progress : null;
        Assessment assessment = AssessWithoutFindings(design, night, cancellation) with
        {
            Situations = SituationRun.Of(design, Situations.Of(design, weather), Assumptions.Likely, cancellation),
            Year = AssessYear(design, weather, Assumptions.Likely, whole, cancellation),
        };
        FindingContext context = new(design, assessment, changed => AssessWithoutFindings(changed, night, CancellationToken.None))
        {
            Outdoor = weather,
            ReassessYear = changed => AssessYear(changed, weather, Assumptions.Likely, progress: null, CancellationToken.None),
        };
        assessment = assessment with { Findings = Findings(context), Scores = Scoring.Of(design, assessment.Year) };
        ImmutableArray<HeadlineBand> bands = HeadlineBands.OfNight(design, night, assessment, cancellation);
        return assessment with
        {
            Card = RunningCards.Of(design, Situations.ForCard(design, weather), assessment.Findings, Assumptions.Likely, cancellation),
            Bands = depth == AssessmentDepth.Year ? bands : [.. bands, .. HeadlineBands.Of(design, weather, assessment.Year!, progress, cancellation)],
        };
    }

    /// <summary>An assessment with the bands of its year on top of those of its night, as <see cref="AssessmentDepth.Bands"/> has them.</summary>
    /// <param name="design">The design.</param>
    /// <param name="hours">Hours of its weather files.</param>
    /// <param name="assessment">Its assessment with the year.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">The assessment has no year.</exception>
    /// <exception cref="CalculationFailedException">A year did not balance.</exception>
    public static Assessment WithBands(Design design, WeatherHours hours, Assessment assessment, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(assessment);
        YearAssessment year = assessment.Year ?? throw new ArgumentException("Bands of the year need the year.", nameof(assessment));
        design = LaterParts.Without(design);
        return assessment with
        {
            Bands = [.. assessment.Bands, .. HeadlineBands.Of(design, YearWeather.Of(design, hours: hours), year, progress: null, cancellation)],
        };
    }

    /// <summary>The year of a design, with what is assumed.</summary>
    internal static YearAssessment AssessYear(
        Design design, YearWeather weather, Assumptions assumed, IProgress<double>? progress, CancellationToken cancellation)
    {
        VanModel van = new(design, assumed);
        return AssessYear(van, YearRun.Of(van, weather, options: null, fromDay: 0, YearWeather.Days, progress, cancellation), weather, cancellation);
    }

    /// <summary>The same of a year that was run.</summary>
    internal static YearAssessment AssessYear(VanModel van, YearSeries series, YearWeather weather, CancellationToken cancellation)
    {
        NightModel model = new(van.Night.Design, van.Night.Assumed);
        return YearReport.Write(series, model, weather, HottestWithFansFailed(van, series, model, weather, cancellation), cancellation) with { Weather = weather.Basis };
    }

    // The day of the hottest locked hour and the day before, calculated again with fans that stop when the van is left.
    private static double? HottestWithFansFailed(VanModel van, YearSeries series, NightModel model, YearWeather weather, CancellationToken cancellation)
    {
        int row = YearSeries.Hours * model.FirstOf(ZoneKind.Living);
        int hottest = -1;
        for (int hour = 0; hour < YearSeries.Hours; hour++)
        {
            if (!series.Occupied[hour] && (hottest < 0 || series.ZoneC[row + hour] > series.ZoneC[row + hottest]))
            {
                hottest = hour;
            }
        }

        if (hottest < 0 || model.Design.Openings.All(opening => opening.Fan is null))
        {
            return null;
        }

        int from = ((hottest / 24) - 1 + YearWeather.Days) % YearWeather.Days;
        return YearRun.HottestLeftC(van, weather, new RunOptions { FansFailWhenLocked = true }, model.FirstOf(ZoneKind.Living), from, days: 2, cancellation);
    }

    internal static Assessment AssessWithoutFindings(Design design, NightWeather weather, CancellationToken cancellation) =>
        AssessWithoutFindings(design, weather, Assumptions.Likely, cancellation);

    internal static Assessment AssessWithoutFindings(Design design, NightWeather weather, Assumptions assumed, CancellationToken cancellation)
    {
        RequireValid(design);
        NightModel model = new(design, assumed);
        SteadyNight night = new(model, weather, HeaterLimit.OfW(design), cancellation);
        SteadyNight designNight = new(model, DesignNight.Of(weather), HeaterLimit.UnlimitedW, cancellation);
        return NightReport.Write(night, designNight.Balance.HeaterW);
    }

    private static ImmutableArray<Finding> Findings(FindingContext context) => [.. FindingRules.Judge(context).Select(AppliedRemedy.Of)];

    internal static void RequireValid(Design design)
    {
        ImmutableArray<DesignError> errors = DesignCheck.Errors(design);
        if (!errors.IsEmpty)
        {
            throw new ArgumentException(
                "The design cannot be assessed: " + string.Join(" ", errors.Select(error => $"{error.Path}: {error.Message}")), nameof(design));
        }
    }
}
