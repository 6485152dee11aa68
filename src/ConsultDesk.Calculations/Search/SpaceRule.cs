using System.Collections.Immutable;
using System.Numerics;

namespace ConsultDesk.Calculations.Search;

/// <summary>A rule that removes what no consultant would propose; one row of <c>space-rules.csv</c>.</summary>
/// <param name="Key">Stable key, kebab-case.</param>
/// <param name="Title">What is removed, in a few words.</param>
/// <param name="Reason">Why, in plain words.</param>
/// <param name="Relax">What to do when it removed too much.</param>
public sealed record SpaceRule(string Key, string Title, string Reason, string Relax)
{
    /// <summary>All rules, in the order in which they are asked.</summary>
    public static ImmutableArray<SpaceRule> All { get; } =
        [.. EmbeddedTable.Rows("Search.space-rules.csv", columns: 4).Select(row => new SpaceRule(row[0], row[1], row[2], row[3]))];

    /// <summary>The rule with this key.</summary>
    /// <exception cref="ArgumentException">There is no such rule.</exception>
    public static SpaceRule Get(string key) => All.FirstOrDefault(rule => rule.Key == key)
        ?? throw new ArgumentException($"There is no rule '{key}' in space-rules.csv.", nameof(key));
}

/// <summary>What one rule removed.</summary>
/// <param name="Rule">The rule.</param>
/// <param name="Choices">Single choices it removed before anything was combined.</param>
/// <param name="Combinations">Combinations it removed, of those the remaining choices make. A combination is counted by the first rule it breaks.</param>
/// <param name="Examples">Some of the choices, in words.</param>
public sealed record RemovedByRule(SpaceRule Rule, int Choices, long Combinations, ImmutableArray<string> Examples);

/// <summary>Why a space holds no design at all.</summary>
/// <param name="Rules">The rule that emptied it, or several that contradict each other: without them designs are left.</param>
/// <param name="LeftWithout">Designs that would be left without them.</param>
/// <param name="Message">What happened and what to relax, in plain words.</param>
public sealed record EmptiedSpace(ImmutableArray<SpaceRule> Rules, long LeftWithout, string Message);

/// <summary>One choice on an axis.</summary>
/// <param name="Key">Stable key, unique on its axis; empty for "as it stands".</param>
/// <param name="Words">The choice in words.</param>
/// <param name="Apply">Makes it of a design; gives back the same design where nothing is left to change.</param>
public sealed record SpaceChoice(string Key, string Words, Func<Vehicle.Design, Vehicle.Design> Apply)
{
    /// <summary>True for leaving this axis as the design has it.</summary>
    public bool IsAsItStands => Key.Length == 0;

    /// <summary>True when it puts a new opening into the body or moves or changes one.</summary>
    internal bool Places { get; init; }
}

/// <summary>One thing to choose: exactly one of its choices is taken, the first is always the design as it stands.</summary>
/// <param name="Key">Stable key.</param>
/// <param name="Name">What is chosen, in words.</param>
/// <param name="Choices">The choices that are left, at least one.</param>
/// <param name="Listed">Choices before any rule, "as it stands" among them.</param>
public sealed record SpaceAxis(string Key, string Name, ImmutableArray<SpaceChoice> Choices, int Listed);

/// <summary>How large the space is before and after its rules.</summary>
/// <param name="Listed">Combinations of everything the price book and the van offer.</param>
/// <param name="Combined">Combinations of the choices that were kept.</param>
/// <param name="Candidates">Those of them no rule removed.</param>
public sealed record SpaceSize(BigInteger Listed, long Combined, int Candidates);
