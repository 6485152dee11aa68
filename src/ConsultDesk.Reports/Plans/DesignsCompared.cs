using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Reports.Figures;

namespace ConsultDesk.Reports.Plans;

/// <summary>What a search of all designs found, as it stands in a plan: one sentence, the drawing with the plan's own design in it, and the few named designs.</summary>
/// <param name="found">What was found.</param>
/// <param name="foundAt">When, UTC.</param>
/// <param name="chosen">What the plan's own design comes to in the same numbers; null when that is not known.</param>
/// <param name="priced">False for a plan without prices: then nothing of money is said.</param>
public sealed class DesignsCompared(KeptSearch found, DateTime foundAt, ObjectiveNumbers? chosen, bool priced)
{
    // As many as fit beside the drawing.
    private static readonly ImmutableArray<Objective> InTable = [Objective.MoneyNow, Objective.WetHours, Objective.ColdHours];

    private readonly SearchResult _result = found.Result;

    private Objective Across => priced ? Objective.MoneyNow : Objective.ColdHours;

    /// <summary>The blocks; none when nothing was found.</summary>
    public IEnumerable<PlanBlock> Blocks()
    {
        if (_result.Front.IsEmpty)
        {
            yield break;
        }

        yield return new ParagraphBlock(Sentence());
        yield return new FigureBlock(Light(TradeOffFigure.Of(_result.Front, _result.Named, _result.Start, Across, Objective.WetHours, _result.Currency, chosen)) with { Table = Table() }, WithTable: true);
        if (!_result.Named.IsEmpty)
        {
            yield return new PairsBlock([.. _result.Named.Select((named, place) => new PlanNumber(
                string.Create(CultureInfo.InvariantCulture, $"{place + 1}, {named.Name}"), TradeOffFigure.What(named.Member)))]);
        }

        yield return new ParagraphBlock(string.Create(
            CultureInfo.InvariantCulture,
            $"Compared on {foundAt:d MMMM yyyy} with the inputs{(priced ? " and prices" : "")} of that day. {MayMiss()}Results are estimates; gas, wiring and cutting the body are work for licensed trades and follow local codes."));
    }

    /// <summary>What was compared, and where the plan's own design stands: only what is known.</summary>
    public string Sentence()
    {
        // Where not every design was calculated, one that was not may be better: nothing better was found, which is less than that there is nothing.
        var looked = found.Space is { } space && !found.Whole && found.Years < space.Size.Candidates
            ? $"Of {Count(space.Size.Candidates)} designs looked at, {Count(found.Years)} were calculated over a whole year"
            : $"{Count(Math.Max(found.Years, _result.Front.Length))} designs were calculated over a whole year";
        if (_result.End != SearchEnd.Finished)
        {
            looked += ", and the search did not come to its end";
        }

        if (chosen is null)
        {
            return $"{looked}; the drawing shows those that nothing beats.";
        }

        var what = priced ? "costs no more" : "is no colder";
        var better = Known().Where(other => Whole(Across, other) <= Whole(Across, chosen) && Whole(Objective.WetHours, other) < Whole(Objective.WetHours, chosen)).ToList();
        if (better.Count == 0)
        {
            return found.Whole
                ? $"{looked}: none {what} and is drier than the one of this plan."
                : $"{looked}; none was found that {what} and is drier than the one of this plan.";
        }

        var best = better.MinBy(other => other[Objective.WetHours])!;
        var first = priced
            ? $"costs {Value(Across, best)} now against {Value(Across, chosen)} and is"
            : $"is too cold for {Value(Across, best)} a year against {Value(Across, chosen)} and";
        var them = better.Count == 1 ? $"one of them {what} and is drier" : $"{Count(better.Count)} of them {(priced ? "cost no more" : "are no colder")} and are drier";
        return $"{looked}; {them} than the one of this plan: the driest {first} "
            + $"wet for {Value(Objective.WetHours, best)} a year against {Value(Objective.WetHours, chosen)}{AheadOf(best)}.";
    }

    private string MayMiss() => !found.MayMiss ? ""
        : !found.Whole ? "Not every design was calculated over the year, so one that nothing beats may be missing. "
        : "Choices much like others were left out before they were combined, so a design that nothing beats may be missing. ";

    // What the plan's own design has instead, counted in what a client would tell apart.
    private string AheadOf(ObjectiveNumbers other)
    {
        var ahead = Objectives.All
            .Where(facts => priced || facts.Objective is not (Objective.MoneyNow or Objective.MoneyAYear))
            .Select(facts => (facts.Objective, Boxes: facts.InBoxes(other[facts.Objective]) - facts.InBoxes(chosen![facts.Objective])))
            .Where(at => at.Boxes >= 1)
            .OrderByDescending(at => at.Boxes)
            .Select(at => $"{ScoreFigure.Lower(TradeOffFigure.WithUnit(at.Objective, _result.Currency))} ({ObjectiveWords.Number(at.Objective, chosen![at.Objective])} against {ObjectiveWords.Number(at.Objective, other[at.Objective])})")
            .Take(2)
            .ToList();
        return ahead.Count == 0 ? "" : $"; this one is ahead in {string.Join(" and ", ahead)}";
    }

    // Numbers of every design that was calculated; of a search that broke off only those of the front are kept.
    private IEnumerable<ObjectiveNumbers> Known() => _result.Calculated.Count > 0 ? _result.Calculated.Values : _result.Front.Select(member => member.Numbers);

    private DataTable Table()
    {
        var shown = InTable.Where(objective => priced || objective is not (Objective.MoneyNow or Objective.MoneyAYear)).ToList();
        return new DataTable
        {
            Caption = "The designs that have a name",
            Heads = ["Design", .. shown.Select(objective => TradeOffFigure.WithUnit(objective, _result.Currency))],
            NumberColumns = [.. Enumerable.Range(1, shown.Count)],
            Rows =
            [
                .. chosen is null ? [] : new[] { Row("This plan", chosen) },
                .. _result.Start is { } start ? new[] { Row("As it stood", start) } : [],
                .. _result.Named.Select((named, place) => Row(string.Create(CultureInfo.InvariantCulture, $"{place + 1}, {named.Name}"), named.Member.Numbers)),
            ],
        };

        ImmutableArray<string> Row(string name, ObjectiveNumbers numbers) => [name, .. shown.Select(objective => ObjectiveWords.Number(objective, numbers[objective]))];
    }

    // Nothing is pointed at in a plan, and fifty dots with their numbers would be a third of its page.
    private static Figure Light(Figure figure) => figure with { Elements = [.. figure.Elements.Select(element => element with { Hint = null, Subject = null })] };

    private string Value(Objective objective, ObjectiveNumbers numbers) => ObjectiveWords.Value(objective, numbers[objective], _result.Currency);

    // To the whole number, as the reader sees it: sums of prices differ behind the point.
    private static double Whole(Objective objective, ObjectiveNumbers numbers) => Math.Round(numbers[objective], MidpointRounding.AwayFromZero);

    private static string Count(int count) => ObjectiveWords.Number(Objective.Parts, count);
}
