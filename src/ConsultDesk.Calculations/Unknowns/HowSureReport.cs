using System.Collections.Immutable;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;

namespace ConsultDesk.Calculations.Unknowns;

/// <summary>How sure an assessment is, from moving each unknown alone to its low and its high end.</summary>
public sealed record HowSureReport
{
    /// <summary>How much was calculated for each end: the night, or the year as well. Findings that need the year are only in the latter.</summary>
    public required AssessmentDepth Depth { get; init; }

    /// <summary>Headline numbers of each situation with their bands.</summary>
    public required ImmutableArray<SituationBands> Situations { get; init; }

    /// <summary>Headline numbers of the steady night and of the coldest night with their bands.</summary>
    public required ImmutableArray<HeadlineBand> Night { get; init; }

    /// <summary>Findings that are made, the gravest first, then those an unknown could bring.</summary>
    public required ImmutableArray<FindingSureness> Findings { get; init; }

    /// <summary>The unknowns, what is most worth asking first. Those that cannot be answered stand in their place too.</summary>
    public required ImmutableArray<UnknownEffect> Unknowns { get; init; }

    /// <summary>Times the van was calculated: once as it stands, and once for each end and each value between that was looked at.</summary>
    public required int Calculations { get; init; }

    /// <summary>The unknowns somebody can be asked about and whose answer could change something, in their order: what to ask next.</summary>
    public IEnumerable<UnknownEffect> WorthAsking => Unknowns.Where(effect => effect.Unknown.CanBeAnswered && effect.Unknown.Question.Length > 0 && effect.Worth > 0);
}

/// <summary>A situation's headline numbers with their bands.</summary>
/// <param name="Situation">The situation as the likely design has it.</param>
/// <param name="Numbers">Outdoor air, water condensed, wet glass and metal, humidity, carbon dioxide, room, heater, age of the air at the bed.</param>
public sealed record SituationBands(Situation Situation, ImmutableArray<HeadlineBand> Numbers);

/// <summary>How sure one finding is.</summary>
public sealed record FindingSureness
{
    /// <summary>Code of its rule.</summary>
    public required string Code { get; init; }

    /// <summary>Its title, with likely values where it is made then.</summary>
    public required string Title { get; init; }

    /// <summary>How much it weighs with likely values; null when it is not made then.</summary>
    public required Severity? Severity { get; init; }

    /// <summary>
    /// Key of the unknown that matters most for it: the one most likely to turn it, or else the one that moves its first number furthest; null when none
    /// does either.
    /// </summary>
    public required string? MattersMost { get; init; }

    /// <summary>Its first number with the band all unknowns leave it in; null when it is not made with likely values or the number is not among its own at an end.</summary>
    public required HeadlineBand? Evidence { get; init; }

    /// <summary>Unknowns that turn it, the likeliest first; empty for a finding that stands whatever is true.</summary>
    public required ImmutableArray<FindingTurn> Turns { get; init; }
}

/// <summary>
/// A finding that comes, goes, weighs otherwise or asks for something else when an unknown is moved; the last when it weighs the same at both ends.
/// </summary>
/// <param name="Code">Code of the finding's rule.</param>
/// <param name="Unknown">Key of the unknown.</param>
/// <param name="Likely">How much it weighs with likely values; null when it is not made.</param>
/// <param name="AtLow">How much it weighs at the low end; null when it is not made there.</param>
/// <param name="AtHigh">How much it weighs at the high end; null when it is not made there.</param>
/// <param name="Chance">Chance that the truth lies where it is another than with likely values, 0 to 1.</param>
public sealed record FindingTurn(string Code, string Unknown, Severity? Likely, Severity? AtLow, Severity? AtHigh, double Chance);

/// <summary>What not knowing one thing does.</summary>
public sealed record UnknownEffect
{
    /// <summary>The unknown.</summary>
    public required Unknown Unknown { get; init; }

    /// <summary>Findings it turns, the gravest first.</summary>
    public required ImmutableArray<FindingTurn> Turns { get; init; }

    /// <summary>Chance that the best of the remedies is another one than with likely values, 0 to 1; 0 without remedies.</summary>
    public required double RemedyTurns { get; init; }

    /// <summary>Chance that an answer changes the recommendation: a finding above a note comes, goes, weighs otherwise or asks for something else, or another remedy is the best, 0 to 1.</summary>
    public required double Chance { get; init; }

    /// <summary>
    /// Expected loss an answer avoids: the chance of each turn times the loss of acting on the wrong one (losses.csv). Ranked by. The expected
    /// value of perfect information about this unknown alone.
    /// </summary>
    public required double Worth { get; init; }

    /// <summary>Ends at which the van could not be calculated; nothing is known of those, and they count as changing nothing.</summary>
    public required ImmutableArray<string> NotCalculated { get; init; }
}
