using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings;

/// <summary>How much a finding weighs, the gravest first.</summary>
public enum Severity
{
    /// <summary>Can kill or injure. Stands outside all scores and cannot be hidden.</summary>
    Danger,

    /// <summary>Will damage the van or health.</summary>
    Warning,

    /// <summary>Could be better.</summary>
    Advice,

    /// <summary>Worth knowing.</summary>
    Note,
}

/// <summary>One conclusion, the numbers that prove it, and what to do about it.</summary>
public sealed record Finding
{
    /// <summary>Stable key of the rule, kebab-case, unique within an assessment.</summary>
    public required string Code { get; init; }

    /// <summary>How much it weighs.</summary>
    public required Severity Severity { get; init; }

    /// <summary>The conclusion in one line.</summary>
    public required string Title { get; init; }

    /// <summary>Why, in at most three plain sentences without numbers that stand in <see cref="Evidence"/>.</summary>
    public required string Explanation { get; init; }

    /// <summary>The numbers that prove it, at least one.</summary>
    public required ImmutableArray<Evidence> Evidence { get; init; }

    /// <summary>What to do, in words, at least for danger, warning and advice.</summary>
    public required string Remedy { get; init; }

    /// <summary>What <see cref="Apply"/> does where the remedy leaves a choice, in one sentence; empty otherwise.</summary>
    public string TriedAs { get; init; } = "";

    /// <summary>The remedy as a change to a copy of the design, or null when it is not a change of the design.</summary>
    public Func<Design, Design>? Apply { get; init; }
}

/// <summary>One number behind a finding.</summary>
/// <param name="Label">What the number is.</param>
/// <param name="Value">The number with its unit; a share is a <see cref="Ratio"/>, a count a <see cref="Scalar"/>.</param>
public sealed record Evidence(string Label, IQuantity Value);
