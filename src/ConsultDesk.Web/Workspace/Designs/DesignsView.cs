using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Reports.Figures;

namespace ConsultDesk.Web.Workspace.Designs;

/// <summary>What the part shows of a search, worked out once for the result and what hides, not with each of its renders.</summary>
/// <param name="found">What was found.</param>
/// <param name="hidesPrices">True while money hides.</param>
internal sealed class DesignsView(KeptSearch found, bool hidesPrices)
{
    private readonly SearchResult _result = found.Result;
    private ((int One, int Other) Of, DataTable Table, string Turn)? _pair;
    private (Objective Upwards, Figure Figure)? _figure;
    private DataTable? _all;
    private DataTable? _rules;
    private ImmutableArray<string> _choices;
    private SearchAnswer? _driest;
    private SearchAnswer? _inBudget;

    /// <summary>True when it still is what is to be shown.</summary>
    public bool Is(KeptSearch other, bool hides) => ReferenceEquals(found, other) && hides == hidesPrices;

    /// <summary>What may go up: all that is neither across nor hidden.</summary>
    public IEnumerable<ObjectiveFacts> Upwards => Objectives.All.Where(facts => facts.Objective != Across && !IsHidden(facts.Objective));

    /// <summary>All numbers of the front.</summary>
    public DataTable All => _all ??= TradeOffFigure.Table(_result.Front, _result.Named, _result.Start, _result.Currency, Shown, _result.Worlds);

    /// <summary>What rules took away.</summary>
    public DataTable Rules => _rules ??= new DataTable
    {
        Caption = "What rules took away",
        Heads = ["Taken away", "Choices", "Combinations", "Why", "To have it looked at"],
        NumberColumns = [1, 2],
        Rows = [.. found.Space!.Removed.Select(removed => ImmutableArray.Create(
            removed.Rule.Title, Whole(removed.Choices), Whole(removed.Combinations), removed.Rule.Reason, removed.Rule.Relax))],
    };

    /// <summary>How large the space is.</summary>
    public string Size => found.Space is not { } space ? "" : string.Create(
        CultureInfo.InvariantCulture,
        $"{space.Axes} things to choose. All that the book and the van offer would make {ObjectiveWords.Count(space.Size.Listed)} combinations; the choices that were kept make {Whole(space.Size.Combined)}, of which rules left {Whole(space.Size.Candidates)}. {Whole(found.Years)} were calculated over the year.");

    /// <summary>The designs for a list to choose from: what each is made of helps more than its number.</summary>
    public ImmutableArray<string> Choices => _choices.IsDefault ? _choices = [.. Enumerable.Range(0, _result.Front.Length).Select(Choice)] : _choices;

    /// <summary>The cheapest that never fogs.</summary>
    public string Driest => (_driest ??= SearchAnswers.CheapestThatNeverFogs(_result)).Sentence;

    /// <summary>The best within the budget; null without one.</summary>
    public string? InBudget => found.Wishes?.BudgetNow is { } budget ? (_inBudget ??= SearchAnswers.BestUnder(_result, budget)).Sentence : null;

    /// <summary>What the next hundred buys from a design, as far as it is known.</summary>
    public string NextHundred(int at) => SearchAnswers.NextHundredFound(_result, _result.Front[at], other => Title(other)).Sentence;

    private Objective Across => hidesPrices ? Objective.Parts : Objective.MoneyNow;

    private Objective[] Shown => [.. Enum.GetValues<Objective>().Where(objective => !IsHidden(objective))];

    /// <summary>The drawing.</summary>
    /// <param name="upwards">What goes up; wet hours where that lies across or hides.</param>
    public Figure Drawing(Objective upwards)
    {
        if (upwards == Across || IsHidden(upwards))
        {
            upwards = Objective.WetHours;
        }

        if (_figure is not { } drawn || drawn.Upwards != upwards)
        {
            _figure = drawn = (upwards, TradeOffFigure.Of(_result.Front, _result.Named, _result.Start, Across, upwards, _result.Currency));
        }

        return drawn.Figure;
    }

    /// <summary>Numbers of two designs, then the choices in which they differ, and what would turn their order; an empty text where nothing is said of it.</summary>
    public (DataTable Table, string Turn) Pair(int one, int other)
    {
        if (_pair is not { } known || known.Of != (one, other))
        {
            _pair = known = ((one, other), TableOf(one, other), _result.Weights.IsEmpty || hidesPrices ? "" : TurnOf(_result.Front[one], _result.Front[other]));
        }

        return (known.Table, known.Turn);
    }

    /// <summary>The main numbers of a design.</summary>
    public static string InShort(ObjectiveNumbers numbers, string? currency) => string.Join(", ", new[] { Objective.MoneyNow, Objective.WetHours, Objective.ColdHours, Objective.HotHours }
        .Where(objective => objective != Objective.MoneyNow || currency is not null)
        .Select(objective => $"{ObjectiveWords.Name(objective)} {ObjectiveWords.Value(objective, numbers[objective], currency ?? "")}")) + ".";

    /// <summary>How sure it is that a design stays on the front.</summary>
    public static string Sure(FrontMember member, int worlds) => string.Create(
        CultureInfo.InvariantCulture,
        $"{(member.ChanceWithin(worlds) is { } within ? $"Still unbeaten by the others here in {Math.Round(member.ChanceOnFront!.Value * worlds):0} of {worlds} worlds in which habits, leakage, weather and prices differ: a chance between {100 * within.Low:0} and {100 * within.High:0} %" : "Its chance in other worlds was not asked")}{(member.Ties.IsEmpty ? "" : $"; {member.Ties.Length} more {(member.Ties.Length == 1 ? "design is" : "designs are")} as good: a tie")}.");

    /// <summary>A count, thousands apart.</summary>
    public static string Whole(long count) => ObjectiveWords.Count(count);

    private bool IsHidden(Objective objective) => hidesPrices && objective is Objective.MoneyNow or Objective.MoneyAYear;

    private string Title(FrontMember member) => TradeOffFigure.NameOf(_result.Front, _result.Named, _result.Front.IndexOf(member));

    private string Choice(int at)
    {
        const int Most = 70;
        var member = _result.Front[at];
        // What few others do comes first: what nearly all do tells none from another.
        var words = member.Words.OrderBy(word => _result.Front.Count(other => other.Words.Contains(word)));
        var text = member.Words.IsEmpty ? Title(member) : $"{Title(member)}: {string.Join("; ", words)}";
        return text.Length <= Most ? text : text[..Most].TrimEnd() + "…";
    }

    private DataTable TableOf(int first, int second)
    {
        var (one, other) = (_result.Front[first], _result.Front[second]);
        var words = one.Words.Except(other.Words).Select(word => (Here: word, There: "")).Concat(other.Words.Except(one.Words).Select(word => (Here: "", There: word)));
        return new DataTable
        {
            Caption = "Two designs side by side",
            Heads = ["", Title(one), Title(other)],
            NumberColumns = [],
            Rows =
            [
                .. Shown.Select(objective => ImmutableArray.Create(
                    Objectives.Of(objective).Name, Value(objective, one.Numbers[objective]), Value(objective, other.Numbers[objective]))),
                .. words.Select(pair => ImmutableArray.Create("Only here", pair.Here.Length == 0 ? DataTable.Nothing : pair.Here, pair.There.Length == 0 ? DataTable.Nothing : pair.There)),
            ],
        };
    }

    private string TurnOf(FrontMember one, FrontMember other)
    {
        var (better, worse) = one.Score <= other.Score ? (one, other) : (other, one);
        var turns = SearchAnswers.ToBeat(_result, better, worse)
            .Select(turn => (Turn: turn, From: Of(turn, turn.From), To: Of(turn, turn.To)))
            // Weights are shares of one: what would need more than all of it does not turn the order.
            .Where(turn => turn.From != turn.To && !(turn.Turn.OfWeight && turn.Turn.To > 1))
            .Take(3)
            .Select(turn => turn.Turn.OfWeight
                ? $"{ObjectiveWords.Name(turn.Turn.Objective)} weighs {turn.To} instead of {turn.From}"
                : $"its {ObjectiveWords.Name(turn.Turn.Objective)} goes from {turn.From} to {turn.To}")
            .ToList();
        return turns.Count == 0
            ? "By the client's order neither is ahead of the other by what can be told apart."
            : $"By the client's order “{Title(better)}” is ahead. “{Title(worse)}” draws level when one of these changes and all else stays: {string.Join("; ", turns)}.";

        string Of(Turn turn, double value) => turn.OfWeight ? value.ToString("0 %", CultureInfo.InvariantCulture) : Value(turn.Objective, value);
    }

    private string Value(Objective objective, double value) => ObjectiveWords.Value(objective, value, _result.Currency);
}
