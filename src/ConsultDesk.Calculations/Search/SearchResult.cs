using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>What a search does just now.</summary>
public enum SearchStage
{
    /// <summary>Lists and counts the space.</summary>
    Counting,

    /// <summary>Looks at every candidate in situations, and at those that can still win in some weeks.</summary>
    Screening,

    /// <summary>Calculates the years of those that can still win.</summary>
    Racing,

    /// <summary>Compares the members of the front in other worlds.</summary>
    Comparing,

    /// <summary>Finished.</summary>
    Done,
}

/// <summary>How a search ended.</summary>
public enum SearchEnd
{
    /// <summary>It did all it was to do.</summary>
    Finished,

    /// <summary>It was cancelled: what was found by then stands.</summary>
    Cancelled,

    /// <summary>It broke off: what was published last stands.</summary>
    Failed,

    /// <summary>The program was ended while it was at work: what was published last stands.</summary>
    Interrupted,
}

/// <summary>How far a search has come. Immutable; handed on after each piece of work.</summary>
public sealed record SearchProgress
{
    /// <summary>What it does just now.</summary>
    public required SearchStage Stage { get; init; }

    /// <summary>The space; null while it is counted.</summary>
    public DesignSpace? Space { get; init; }

    /// <summary>Candidates looked at in situations.</summary>
    public int Screened { get; init; }

    /// <summary>Candidates looked at in some weeks.</summary>
    public int InWeeks { get; init; }

    /// <summary>Years calculated in the race.</summary>
    public int Years { get; init; }

    /// <summary>Years the race may take at most.</summary>
    public int MostYears { get; init; }

    /// <summary>Years calculated in other worlds, of <see cref="MostCompared"/>.</summary>
    public int Compared { get; init; }

    /// <summary>Years in other worlds there will be.</summary>
    public int MostCompared { get; init; }

    /// <summary>Other worlds there will be.</summary>
    public int MostWorlds { get; init; }

    /// <summary>What was found, from when the race is over: it stands however far the comparison in other worlds has come. Null before.</summary>
    public SearchResult? Found { get; init; }

    /// <summary>Share of the bounded work that is done, 0 to 1; it never falls.</summary>
    public double Share { get; init; }

    /// <summary>The front of what is known so far, the best by the client's order first.</summary>
    public ImmutableArray<FrontMember> Front { get; init; } = [];

    /// <summary>The van as it stands; null until its year is calculated.</summary>
    public ObjectiveNumbers? Start { get; init; }

    /// <summary>The best so far by the client's order; null before there is one.</summary>
    public FrontMember? Best => Front.IsDefaultOrEmpty ? null : Front[0];
}

/// <summary>A design of the trade-off front: nothing that was calculated beats it.</summary>
public sealed record FrontMember
{
    /// <summary>Its number in the space.</summary>
    public required int Candidate { get; init; }

    /// <summary>What it does to the van as it stands, a line for each choice; empty for the van as it stands.</summary>
    public required ImmutableArray<string> Words { get; init; }

    /// <summary>What it comes to.</summary>
    public required ObjectiveNumbers Numbers { get; init; }

    /// <summary>Candidates that were calculated and are in the same boxes: a tie.</summary>
    public required ImmutableArray<int> Ties { get; init; }

    /// <summary>Rank among the members by the client's order, 0 the best and 1 the worst it could be; less is better.</summary>
    public required double Score { get; init; }

    /// <summary>Chance that it is still on the front when habits, leakage, weather and prices vary, 0 to 1; null when it was not compared.</summary>
    public double? ChanceOnFront { get; init; }

    /// <summary>
    /// The range its chance lies in with 90 % confidence, each end with 95 % (Clopper and Pearson 1934): the fewer worlds, the wider. Null when it was not compared.
    /// </summary>
    /// <param name="worlds">Worlds it was compared in.</param>
    public (double Low, double High)? ChanceWithin(int worlds)
    {
        if (ChanceOnFront is not double chance || worlds < 1)
        {
            return null;
        }

        int stayed = (int)Math.Round(chance * worlds);
        return (1 - Search.Race.UpperLimit(worlds - stayed, worlds), Search.Race.UpperLimit(stayed, worlds));
    }

    /// <summary>10 and 90 % of each objective over the worlds, in the order of <see cref="Objective"/>; empty when it was not compared.</summary>
    public ImmutableArray<(double Low, double High)> Bands { get; init; } = [];
}

/// <summary>One of the few designs a search ends in.</summary>
/// <param name="Member">The design.</param>
/// <param name="Name">Its name in plain words.</param>
/// <param name="Sentence">What it is good for, what it costs, what it gives up.</param>
/// <param name="HardlyThoughtOf">True for the one that lies farthest from the others and from the van as it stands.</param>
public sealed record NamedDesign(FrontMember Member, string Name, string Sentence, bool HardlyThoughtOf);

/// <summary>What a search found.</summary>
public sealed record SearchResult
{
    /// <summary>How it ended.</summary>
    public required SearchEnd End { get; init; }

    /// <summary>What it is worth in plain words: finished, or broken off with what stands; or why there is nothing.</summary>
    public required string Message { get; init; }

    /// <summary>The currency of its money, as it stands behind amounts in sentences; empty for none.</summary>
    public string Currency { get; init; } = "";

    /// <summary>The space; null when it was broken off before it was counted.</summary>
    public DesignSpace? Space { get; init; }

    /// <summary>The van as it stands; null when it was broken off before.</summary>
    public ObjectiveNumbers? Start { get; init; }

    /// <summary>The trade-off front, the best by the client's order first.</summary>
    public ImmutableArray<FrontMember> Front { get; init; } = [];

    /// <summary>At most five of them with names.</summary>
    public ImmutableArray<NamedDesign> Named { get; init; } = [];

    /// <summary>Weight of each objective by the client's order, in the order of <see cref="Objective"/>; they sum to 1.</summary>
    public ImmutableArray<double> Weights { get; init; } = [];

    /// <summary>How the race went; null when it was broken off.</summary>
    public RaceReport? Race { get; init; }

    /// <summary>Numbers of every candidate whose year was calculated.</summary>
    public ImmutableSortedDictionary<int, ObjectiveNumbers> Calculated { get; init; } = ImmutableSortedDictionary<int, ObjectiveNumbers>.Empty;

    /// <summary>Candidates rules removed when their design was made: a danger it would bring, or three parts that do not find room together.</summary>
    public ImmutableArray<RemovedByRule> RemovedLate { get; init; } = [];

    /// <summary>Worlds the front was compared in; 0 when it was not.</summary>
    public int Worlds { get; init; }

    /// <summary>The design of a member.</summary>
    /// <exception cref="InvalidOperationException">There is no space.</exception>
    public Design Design(FrontMember member)
    {
        ArgumentNullException.ThrowIfNull(member);
        return (Space ?? throw new InvalidOperationException("The search was broken off before its space was counted.")).Design(member.Candidate);
    }

    /// <summary>What is left of a search that broke off: the front it published last, marked as such.</summary>
    /// <param name="last">What it published last; null when it published nothing.</param>
    /// <param name="end">How it ended.</param>
    public static SearchResult Unfinished(SearchProgress? last, SearchEnd end)
    {
        string how = end switch
        {
            SearchEnd.Cancelled => "The search was cancelled",
            SearchEnd.Interrupted => "The program was ended while it searched,",
            _ => "The search broke off",
        };
        if (last?.Found is SearchResult found)
        {
            // The race had come to its end: only what is said of chances rests on less.
            string chances = found.Worlds == 0
                ? $"{how} before the designs were compared in other worlds: no chances are known."
                : FormattableString.Invariant($"{how} when {found.Worlds} of {last.MostWorlds} other worlds had been compared: chances rest on those.");
            return found with { End = end == SearchEnd.Failed ? SearchEnd.Failed : SearchEnd.Finished, Message = $"{found.Message} {chances}" };
        }

        return new SearchResult
        {
            End = end,
            Message = last is null or { Front: { IsDefaultOrEmpty: true } }
                ? $"{how} before anything was found."
                : $"{how} when {Coverage.SoFar(last)} What it had found by then stands; better ones may be missing.",
            Space = last?.Space,
            Start = last?.Start,
            Front = last?.Front ?? [],
        };
    }
}
