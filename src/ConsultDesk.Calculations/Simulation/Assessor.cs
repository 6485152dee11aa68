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

/// <summary>The front door of the calculation: a design and its weather in, everything that follows out.</summary>
public static class Assessor
{
    /// <summary>Version of the calculation method, changed whenever a result could change.</summary>
    public const string MethodVersion = "1";

    /// <summary>Assesses a design in the mean night of its own stop.</summary>
    /// <exception cref="ArgumentException">The design is wrong; the message names the fields.</exception>
    /// <exception cref="NightNotConvergedException">The night did not balance.</exception>
    public static Assessment Assess(Design design, CancellationToken cancellation = default)
    {
        RequireValid(design);
        return Assess(design, Nights.At(design.Stop), cancellation);
    }

    /// <summary>Assesses a design in a night.</summary>
    /// <param name="design">The design; its stop gives shelter and altitude.</param>
    /// <param name="weather">Outdoor air of the night.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">The design is wrong; the message names the fields.</exception>
    /// <exception cref="NightNotConvergedException">The night did not balance.</exception>
    public static Assessment Assess(Design design, NightWeather weather, CancellationToken cancellation = default)
    {
        Assessment assessment = AssessWithoutFindings(design, weather, cancellation);
        // A remedy may be applied long after this assessment was superseded, so it does not hang on its cancellation.
        FindingContext context = new(design, assessment, changed => AssessWithoutFindings(changed, weather, CancellationToken.None));
        return assessment with { Findings = FindingRules.Judge(context) };
    }

    internal static Assessment AssessWithoutFindings(Design design, NightWeather weather, CancellationToken cancellation)
    {
        RequireValid(design);
        NightModel model = new(design);
        SteadyNight night = new(model, weather, HeaterLimit.OfW(design), cancellation);
        SteadyNight designNight = new(model, DesignNight.Of(weather), HeaterLimit.UnlimitedW, cancellation);
        return NightReport.Write(night, designNight.Balance.HeaterW);
    }

    private static void RequireValid(Design design)
    {
        ImmutableArray<DesignError> errors = DesignCheck.Errors(design);
        if (!errors.IsEmpty)
        {
            throw new ArgumentException(
                "The design cannot be assessed: " + string.Join(" ", errors.Select(error => $"{error.Path}: {error.Message}")), nameof(design));
        }
    }
}
