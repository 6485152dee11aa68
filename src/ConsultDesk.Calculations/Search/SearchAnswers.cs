using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>An answer to a question asked of a finished search.</summary>
/// <param name="Candidate">The design; null when there is none.</param>
/// <param name="Numbers">What it comes to; null when there is none.</param>
/// <param name="Sentence">The answer in plain words, also where there is none.</param>
public sealed record SearchAnswer(int? Candidate, ObjectiveNumbers? Numbers, string Sentence);

/// <summary>What would have to change for one design to draw level with another: one thing, all else as it is.</summary>
/// <param name="Objective">What changes.</param>
/// <param name="OfWeight">True for the weight of the objective, false for the number itself.</param>
/// <param name="From">What it is.</param>
/// <param name="To">What it would have to be for a draw; beyond it the design is ahead.</param>
/// <param name="Sentence">The same in plain words.</param>
public sealed record Turn(Objective Objective, bool OfWeight, double From, double To, string Sentence);

/// <summary>Questions asked of a search: answered from the years it calculated, without calculating anew, but for the next hundred.</summary>
public static class SearchAnswers
{
    // Hours below which no glass and no metal was wet: less than a hundredth of the area for an hour is rounding.
    private const double NeverHours = 0.01;

    private const double Hundred = 100;

    /// <summary>The cheapest design whose glass and metal is not wet in a single hour of the year; the driest where there is none.</summary>
    public static SearchAnswer CheapestThatNeverFogs(SearchResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        (int Candidate, ObjectiveNumbers Numbers)[] dry =
        [
            .. Known(result).Where(known => known.Numbers[Objective.WetHours] < NeverHours).OrderBy(known => known.Numbers[Objective.MoneyNow]).ThenBy(known => known.Candidate),
        ];
        if (dry.Length > 0)
        {
            return new SearchAnswer(dry[0].Candidate, dry[0].Numbers, FormattableString.Invariant(
                $"It costs {Money(dry[0].Numbers[Objective.MoneyNow], result.Currency)} now: the cheapest of {dry.Length} calculated designs without one wet hour in the year."));
        }

        (int Candidate, ObjectiveNumbers Numbers)[] least = [.. Known(result).OrderBy(known => known.Numbers[Objective.WetHours]).ThenBy(known => known.Numbers[Objective.MoneyNow]).ThenBy(known => known.Candidate)];
        return least.Length == 0
            ? new SearchAnswer(null, null, "No design was calculated.")
            : new SearchAnswer(null, null, FormattableString.Invariant(
                $"None of the calculated designs stays dry all year. The driest is wet for {ObjectiveWords.Number(Objective.WetHours, least[0].Numbers[Objective.WetHours])} hours and costs {Money(least[0].Numbers[Objective.MoneyNow], result.Currency)} now."));
    }

    /// <summary>The best member of the front by the client's order that costs no more now than a budget.</summary>
    public static SearchAnswer BestUnder(SearchResult result, decimal budget)
    {
        ArgumentNullException.ThrowIfNull(result);
        FrontMember? best = result.Front.FirstOrDefault(member => member.Numbers[Objective.MoneyNow] <= (double)budget);
        if (best is not null)
        {
            return new SearchAnswer(best.Candidate, best.Numbers, FormattableString.Invariant($"It costs {ObjectiveWords.Number(Objective.MoneyNow, best.Numbers[Objective.MoneyNow])} of {Money((double)budget, result.Currency)}: the best by the client's order that does not cost more."));
        }

        return result.Front.IsEmpty
            ? new SearchAnswer(null, null, "No design was calculated.")
            : new SearchAnswer(null, null, FormattableString.Invariant(
                $"Nothing on the front costs {Money((double)budget, result.Currency)} or less: the cheapest costs {Money(result.Front.Min(member => member.Numbers[Objective.MoneyNow]), result.Currency)}."));
    }

    /// <summary>
    /// What would have to change for one member to draw level with another, one thing at a time: its own number in an objective, or the weight of an objective. Exact,
    /// because scores are sums of weight times number over range; ranges are those of the front. The smallest change first, as a share of what it is.
    /// </summary>
    /// <param name="result">A finished search.</param>
    /// <param name="better">The member that is ahead.</param>
    /// <param name="other">The member that would have to draw level.</param>
    /// <returns>The ways; empty when it is ahead already. Ways that would need a number or a weight below 0 are left out.</returns>
    public static ImmutableArray<Turn> ToBeat(SearchResult result, FrontMember better, FrontMember other)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(better);
        ArgumentNullException.ThrowIfNull(other);
        LinearScores scores = new([.. result.Front.Select(member => member.Numbers)], result.Weights);
        double behind = scores.Of(other.Numbers) - scores.Of(better.Numbers);
        if (behind <= 0)
        {
            return [];
        }

        List<Turn> turns = [];
        foreach (ObjectiveFacts facts in Objectives.All)
        {
            int k = (int)facts.Objective;
            double weight = scores.Weight(k);
            double range = scores.Range(k);
            string name = facts.Name;
            double now = other.Numbers[facts.Objective];
            if (weight > 0 && range > 0 && now - (behind * range / weight) is var needed and >= 0)
            {
                turns.Add(new Turn(facts.Objective, false, now, needed, string.Create(CultureInfo.InvariantCulture, $"{name}: {now:0.##} would have to fall to {needed:0.##} {facts.Unit}")));
            }

            double ahead = scores.Share(better.Numbers, k) - scores.Share(other.Numbers, k);
            if (ahead != 0 && weight + (behind / ahead) is var level and >= 0)
            {
                turns.Add(new Turn(facts.Objective, true, weight, level, string.Create(
                    CultureInfo.InvariantCulture, $"{name} would have to weigh {level:0.00} instead of {weight:0.00}, all other weights as they are")));
            }
        }

        return [.. turns.OrderBy(turn => Math.Abs(turn.To - turn.From) / Math.Max(1e-9, Math.Abs(turn.From))).ThenBy(turn => turn.Objective).ThenBy(turn => turn.OfWeight)];
    }

    /// <summary>
    /// The next hundred: which single change of a design buys most, in wet hours for the money. It calculates anew, from any design: a member, or one the user
    /// changed. Definition: docs/method/what-helps.md.
    /// </summary>
    /// <exception cref="CalculationFailedException">The design itself does not balance in a situation.</exception>
    public static WhatHelps NextHundred(SearchOrder order, Design design, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(order);
        return HelpSearch.Of(design, order.Hours, order.Book, order.Wishes, progress: null, cancellation);
    }

    /// <summary>What is dry of the front for up to a hundred more now than a member: another whole design, not one change.</summary>
    /// <param name="result">A search.</param>
    /// <param name="from">The member that is asked from.</param>
    /// <param name="nameOf">The name of a member.</param>
    public static SearchAnswer NextHundredFound(SearchResult result, FrontMember from, Func<FrontMember, string> nameOf)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(from);
        ArgumentNullException.ThrowIfNull(nameOf);
        double money = from.Numbers[Objective.MoneyNow];
        // Boxes, so that a gain nobody would notice is not sold.
        FrontMember? next = result.Front
            .Where(other => other.Numbers[Objective.MoneyNow] <= money + Hundred && InBoxes(from) - InBoxes(other) >= 1)
            .OrderBy(other => other.Numbers[Objective.WetHours]).ThenBy(other => other.Numbers[Objective.MoneyNow]).ThenBy(other => other.Candidate)
            .FirstOrDefault();
        return next is null
            ? new SearchAnswer(null, null, $"From “{nameOf(from)}”: none of the designs here that costs up to {Money(Hundred, result.Currency)} more is drier by what could be told apart.")
            : new SearchAnswer(next.Candidate, next.Numbers, $"From “{nameOf(from)}”: for up to {Money(Hundred, result.Currency)} more the driest here is “{nameOf(next)}”, wet for {Wet(next)} hours instead of {Wet(from)}; "
                + $"it costs {Money(next.Numbers[Objective.MoneyNow], result.Currency)} now instead of {Money(money, result.Currency)}.");

        static double InBoxes(FrontMember member) => Objectives.Of(Objective.WetHours).InBoxes(member.Numbers[Objective.WetHours]);

        static string Wet(FrontMember member) => ObjectiveWords.Number(Objective.WetHours, member.Numbers[Objective.WetHours]);
    }

    private static string Money(double amount, string currency) => ObjectiveWords.Value(Objective.MoneyNow, amount, currency);

    private static IEnumerable<(int Candidate, ObjectiveNumbers Numbers)> Known(SearchResult result) => result.Calculated.Count > 0
        ? result.Calculated.Select(pair => (pair.Key, pair.Value))
        : result.Front.Select(member => (member.Candidate, member.Numbers));
}
