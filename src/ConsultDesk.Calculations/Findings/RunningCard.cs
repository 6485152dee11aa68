using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings;

/// <summary>
/// How to run the van: moments a person recognises by weather, each with at most three instructions found by search over
/// this option's openings and fans.
/// </summary>
/// <param name="Cells">Every cell that can occur on the itinerary.</param>
public sealed record RunningCard(ImmutableArray<CardCell> Cells)
{
    /// <summary>Cells left out because their weather never occurs on the itinerary.</summary>
    public ImmutableArray<CardGap> LeftOut { get; init; } = [];

    /// <summary>Every danger of the option. No instruction takes one away.</summary>
    public ImmutableArray<CardDanger> Dangers { get; init; } = [];
}

/// <summary>A cell that is left out.</summary>
/// <param name="Moment">Row.</param>
/// <param name="Weather">Column.</param>
/// <param name="OccursWhen">When it would count as occurring, in words.</param>
public sealed record CardGap(Moment Moment, CardWeather Weather, string OccursWhen);

/// <summary>A danger of the option, as its finding puts it.</summary>
/// <param name="Code">Key of the rule.</param>
/// <param name="Title">The danger in one line.</param>
/// <param name="Remedy">What to do about it.</param>
public sealed record CardDanger(string Code, string Title, string Remedy);

/// <summary>A moment a person recognises: the rows of the card.</summary>
public enum Moment
{
    /// <summary>Cooking.</summary>
    Cooking,

    /// <summary>Going to bed.</summary>
    GoingToBed,

    /// <summary>Morning.</summary>
    Morning,

    /// <summary>Driving off.</summary>
    DrivingOff,

    /// <summary>Leaving it locked.</summary>
    LeavingItLocked,
}

/// <summary>The columns of the card.</summary>
public enum CardWeather
{
    /// <summary>Rain.</summary>
    Rain,

    /// <summary>Damp and mild.</summary>
    Damp,

    /// <summary>Frost.</summary>
    Frost,

    /// <summary>Heat.</summary>
    Heat,

    /// <summary>Snow on the roof.</summary>
    Snow,
}

/// <summary>One cell of the card.</summary>
public sealed record CardCell
{
    /// <summary>Row.</summary>
    public required Moment Moment { get; init; }

    /// <summary>Column.</summary>
    public required CardWeather Weather { get; init; }

    /// <summary>What the cell wants, for example <c>carry the steam out</c>.</summary>
    public required string Aim { get; init; }

    /// <summary>What the aim is measured by.</summary>
    public required string Measure { get; init; }

    /// <summary>At most three; empty when everything stays as it is.</summary>
    public required ImmutableArray<CardInstruction> Instructions { get; init; }

    /// <summary>The measure with the instructions followed; lower is better.</summary>
    public required IQuantity WithCard { get; init; }

    /// <summary>The measure with everything shut that can be.</summary>
    public required IQuantity AllShut { get; init; }

    /// <summary>The measure with everything open that may be.</summary>
    public required IQuantity AllOpen { get; init; }

    /// <summary>What the situation comes to with the instructions followed; null when nothing was run for it.</summary>
    public SituationResult? Outcome { get; init; }

    /// <summary>Caution that belongs here; empty when there is none.</summary>
    public string Caution { get; init; } = "";
}

/// <summary>
/// One instruction: an opening and how to set it. What no instruction names stays as the design has it, unless an
/// instruction speaks of everything else; fixed openings stay full in any case.
/// </summary>
/// <param name="OpeningId">The opening; empty when it speaks of everything no other instruction names.</param>
/// <param name="Name">Name the client would use, or what is meant by everything else.</param>
/// <param name="Position">How far to open it.</param>
/// <param name="FanSpeed">Speed of its fan as a share of full speed, null without a fan or when it stays off.</param>
public sealed record CardInstruction(string OpeningId, string Name, Position Position, double? FanSpeed);
