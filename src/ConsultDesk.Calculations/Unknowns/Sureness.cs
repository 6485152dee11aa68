using System.Collections.Immutable;
using ConsultDesk.Calculations.Findings;
using UnitsNet;

namespace ConsultDesk.Calculations.Unknowns;

/// <summary>
/// How sure an assessment is when everything nobody measured varies at once within its range: where the main numbers lie in eight of ten samples, and in how many
/// each finding holds. docs/method/bands.md.
/// </summary>
public sealed record Sureness
{
    /// <summary>Samples that were drawn.</summary>
    public required int Samples { get; init; }

    /// <summary>Samples that could be calculated: what every share below is of.</summary>
    public int Calculated => Samples - NotCalculated.Length;

    /// <summary>Why each of the others could not be calculated.</summary>
    public required ImmutableArray<string> NotCalculated { get; init; }

    /// <summary>The main numbers that there are with likely values.</summary>
    public required ImmutableArray<SureNumber> Numbers { get; init; }

    /// <summary>The findings that are made with likely values, the gravest first.</summary>
    public required ImmutableArray<SureFinding> Findings { get; init; }

    /// <summary>Findings the likely values do not show that hold in a share worth telling (<c>sampling.csv</c>), the gravest first, then the likeliest.</summary>
    public required ImmutableArray<SureFinding> Hidden { get; init; }

    /// <summary>What was varied, in words, in the order the design lists it.</summary>
    public required ImmutableArray<string> Varied { get; init; }

    /// <summary>True when condensation carries what a real year differs from one made from monthly means.</summary>
    public required bool MadeYear { get; init; }

    /// <summary>The number with this key; null when there is none.</summary>
    public SureNumber? Number(string key) => Numbers.FirstOrDefault(number => number.Key == key);

    /// <summary>The finding of this rule among those made with likely values; null when there is none.</summary>
    public SureFinding? Finding(string code) => Findings.FirstOrDefault(finding => finding.Code == code);
}

/// <summary>A main number through the samples. The likely value need not lie between the ends: what is not known may pull one way.</summary>
/// <param name="Key">Stable key, that of the number on the screen.</param>
/// <param name="Label">What it is.</param>
/// <param name="Likely">With likely values.</param>
/// <param name="Low">One in ten lies below.</param>
/// <param name="Middle">Half lie below.</param>
/// <param name="High">One in ten lies above.</param>
/// <param name="Of">Samples that have this number: no fuel is burnt where the heater may be electric.</param>
/// <param name="MovedMostBy">What hangs together with it most, in words; empty when nothing does enough to be told from chance.</param>
public sealed record SureNumber(string Key, string Label, IQuantity Likely, IQuantity Low, IQuantity Middle, IQuantity High, int Of, string MovedMostBy);

/// <summary>A finding through the samples.</summary>
/// <param name="Code">Code of its rule.</param>
/// <param name="Title">Its title with likely values, or in the first sample it holds in.</param>
/// <param name="Severity">How much it weighs there.</param>
/// <param name="Holds">Samples in which it is made and weighs as much or more.</param>
/// <param name="Of">Samples calculated.</param>
/// <param name="Least">Low end of the share it holds in were there samples without end, 95 %, 0 to 1.</param>
/// <param name="Most">High end of it.</param>
/// <param name="TurnsMostBy">What hangs together with it most, in words; empty when nothing does enough to be told from chance.</param>
public sealed record SureFinding(string Code, string Title, Severity Severity, int Holds, int Of, double Least, double Most, string TurnsMostBy);
