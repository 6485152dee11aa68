using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings;

/// <summary>Makes the running card of a design.</summary>
public static class RunningCards
{
    /// <summary>Searches every cell that occurs.</summary>
    /// <param name="design">A valid design.</param>
    /// <param name="cells">The situation of each cell; none where its weather never occurs.</param>
    /// <param name="findings">The option's findings, whose dangers the card carries.</param>
    /// <param name="assumed">What is assumed.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="NightNotConvergedException">A situation did not balance.</exception>
    public static RunningCard Of(
        Design design,
        IReadOnlyList<CardSituation> cells,
        IEnumerable<Finding> findings,
        Assumptions assumed,
        CancellationToken cancellation = default)
    {
        SituationModel model = new(design, assumed);
        ImmutableArray<CardCell>.Builder found = ImmutableArray.CreateBuilder<CardCell>();
        ImmutableArray<CardGap>.Builder leftOut = ImmutableArray.CreateBuilder<CardGap>();
        foreach (CardSituation cell in cells)
        {
            if (cell.Situation is Situation situation)
            {
                found.Add(new CardCellSearch(model, cell, situation, cancellation).Find());
            }
            else
            {
                leftOut.Add(new CardGap(cell.Moment, cell.Weather, cell.OccursWhen));
            }
        }

        return new RunningCard(found.ToImmutable())
        {
            LeftOut = leftOut.ToImmutable(),
            Dangers =
            [
                .. findings.Where(finding => finding.Severity == Severity.Danger)
                    .Select(danger => new CardDanger(danger.Code, danger.Title, danger.Remedy)),
            ],
        };
    }

    /// <summary>What the card says to one situation of a design, found by the same search over its openings and fans.</summary>
    /// <param name="design">A valid design; parts that come later are left out.</param>
    /// <param name="situation">The situation; its cell of the card gives the aim.</param>
    /// <param name="assumed">What is assumed.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="NightNotConvergedException">It did not balance.</exception>
    public static SituationAdvice For(Design design, Situation situation, Assumptions assumed, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(situation);
        Design built = SituationRun.With(LaterParts.Without(design), situation);
        (Moment moment, CardWeather weather) = Situations.CellOf(built, situation);
        CardCellSearch search = new(new SituationModel(built, assumed), new CardSituation(moment, weather, OccursWhen: "", situation), situation, cancellation);
        CardCell cell = search.Find();
        return new SituationAdvice(
            cell,
            [
                .. built.Openings.Select((opening, index) => new AdvisedOpening(
                    opening.Id,
                    search.Chosen[index].Position,
                    search.Chosen[index].FanSpeed,
                    search.Chosen[index] != OpeningSetting.Of(opening))),
            ],
            search.Tried);
    }
}
