using ConsultDesk.Calculations;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Web.Plans;

namespace ConsultDesk.Web.Workspace;

/// <summary>Publishes an option, with what stands beside it in the plan: the client's own idea, and another option.</summary>
/// <param name="options">Where options are stored.</param>
/// <param name="press">Composes and stores the plan.</param>
/// <param name="queue">Runs the assessments.</param>
/// <param name="who">Who is signed in.</param>
/// <param name="hours">Hours of the van's weather files that are there.</param>
/// <param name="log">Gets what a plan goes without.</param>
public sealed partial class PlanPublication(VanOptions options, PlanPress press, ComputeQueue queue, SignedIn who, WeatherHours hours, ILogger log)
{
    // Options whose year is calculated for the list of those weighed; the rest stand there by name.
    private const int MostConsidered = 8;

    /// <summary>True for the option that is always the client's own idea.</summary>
    public static bool IsOwnIdea(OptionLine option) => option.Letter == PlanPress.OwnLetter;

    /// <summary>Publishes what was assessed at a version that is stored.</summary>
    /// <param name="open">The option.</param>
    /// <param name="result">Its result with the year.</param>
    /// <param name="version">The stored version it belongs to.</param>
    /// <param name="choice">What the consultant chose in the dialog.</param>
    /// <param name="ownIdea">The client's own idea; null when it is the option itself, or there is none.</param>
    /// <param name="all">All options of the van: the plan says which were weighed.</param>
    /// <exception cref="PublishRefusedException">What stands beside it cannot be read or calculated.</exception>
    public async Task<PublishedPlan> PublishAsync(OpenOption open, AssessedDesign result, Guid version, PublishChoice choice, Guid? ownIdea, IReadOnlyList<OptionLine> all)
    {
        result = result with { Assessment = await WithBandsAsync(result) };
        var other = choice.OtherId is { } otherId ? await AssessAsync(otherId) : null;
        var own = ownIdea is { } idea ? await AssessAsync(idea) : null;
        List<AssessedOption> considered = [];
        foreach (var line in all.Where(line => line.Id != open.Id && line.Id != other?.Option.Id && line.Id != own?.Option.Id).OrderByDescending(line => line.UpdatedAt).Take(MostConsidered))
        {
            try
            {
                considered.Add(await AssessAsync(line.Id));
            }
            catch (PublishRefusedException)
            {
                // Its name and its reason stand in the plan without numbers.
            }
        }

        var tonight = await TonightAsync(result.Design);
        return await press.PublishAsync(who, new(
            open.Id,
            version,
            result.Design,
            result.Assessment,
            other,
            choice.DangerReason,
            choice.LinkLife,
            own,
            tonight)
        {
            Considered = considered,
        });
    }

    // A plan without the bands of its year is one too.
    private async Task<Assessment> WithBandsAsync(AssessedDesign result)
    {
        try
        {
            return await queue.RunAsync(
                this, Urgency.InTheEnd, cancellation => Assessor.WithBands(result.Design, hours, result.Assessment, cancellation), CancellationToken.None);
        }
        catch (CalculationFailedException failed)
        {
            LogNoBands(log, failed);
            return result.Assessment;
        }
    }

    [LoggerMessage(LogLevel.Warning, "A plan is published without the bands of its year.")]
    private static partial void LogNoBands(ILogger log, Exception error);

    // Seconds of work: in the queue, never on the circuit, and before anything is stored.
    private async Task<TonightTable> TonightAsync(Design design)
    {
        try
        {
            return await queue.RunAsync(
                this,
                Urgency.InTheEnd,
                cancellation => TonightTable.Of(design, YearWeather.Of(design, hours: hours), Assumptions.Likely, cancellation),
                CancellationToken.None);
        }
        catch (Exception failed) when (failed is CalculationFailedException or ArgumentException)
        {
            throw new PublishRefusedException($"The settings for tonight cannot be calculated, so nothing was published: {failed.Message}");
        }
    }

    private async Task<AssessedOption> AssessAsync(Guid optionId)
    {
        LoadedOption other;
        try
        {
            other = await options.Load(who, optionId) ?? throw new PublishRefusedException("The option to compare with is gone.");
        }
        catch (DesignTextException damaged)
        {
            throw new PublishRefusedException("The option to compare with cannot be read: " + damaged.Message);
        }

        try
        {
            var assessment = await queue.RunAsync(
                this, Urgency.Soon, cancellation => Assessor.Assess(other.Design, hours, AssessmentDepth.Year, cancellation: cancellation), CancellationToken.None);
            return new AssessedOption(other, assessment);
        }
        catch (Exception failed) when (failed is CalculationFailedException or ArgumentException)
        {
            throw new PublishRefusedException($"Option {other.Letter} cannot be calculated, so it cannot be compared with: {failed.Message}");
        }
    }
}
