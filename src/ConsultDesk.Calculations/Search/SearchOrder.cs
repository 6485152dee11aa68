using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>What is searched, and for whom.</summary>
public sealed record SearchOrder
{
    /// <summary>A valid design: the van as it stands. What is fitted or owned stays as it is.</summary>
    public required Design Design { get; init; }

    /// <summary>The firm's prices: everything that can be added comes from here.</summary>
    public required PriceBook Book { get; init; }

    /// <summary>What the client wants; null when not recorded. A budget and what must not be there remove designs, the order of what matters gives the weights.</summary>
    public Wishes? Wishes { get; init; }

    /// <summary>Hours of the weather files that places of the design name; where they are missing the months are used.</summary>
    public WeatherHours Hours { get; init; } = WeatherHours.None;

    /// <summary>Objectives the trade-off counts; the others are reported and not compared.</summary>
    public ImmutableArray<Objective> Counted { get; init; } = [.. Enum.GetValues<Objective>()];

    /// <summary>The currency of the book, as it stands behind amounts in sentences; empty for none.</summary>
    public string Currency { get; init; } = "";

    /// <summary>Seed of every draw. The same order with the same seed gives the same answer on any number of cores.</summary>
    public int Seed { get; init; } = 1;

    /// <summary>How much work may be done.</summary>
    public SearchEffort Effort { get; init; } = new();
}

/// <summary>Bounds of the work of one search. Defaults are our judgement.</summary>
public sealed record SearchEffort
{
    /// <summary>Combinations that may be made of what is kept on the axes; choices much like others are merged until there are no more, 1 to 1,000,000.</summary>
    public int MostCombinations { get; init; } = 60_000;

    /// <summary>
    /// True to keep one choice of each kind of heater, insulation and cover the van does not have, whatever stands in for it; false to merge them by what the
    /// situations see of them alone.
    /// </summary>
    public bool KeepsFamilies { get; init; } = true;

    /// <summary>Years that may be calculated in the race, those of the drawn samples included, 1 or more.</summary>
    public int MostYears { get; init; } = 1440;

    /// <summary>A space of no more candidates than <see cref="MostYears"/> is calculated whole; false to race all the same.</summary>
    public bool CalculatesSmallSpacesWhole { get; init; } = true;

    /// <summary>True for a look in some weeks between situations and years. Their time is better spent on years: docs/method/search.md.</summary>
    public bool LooksAtWeeks { get; init; }

    /// <summary>Years calculated between two looks at who can still win, 1 or more.</summary>
    public int YearsARound { get; init; } = 96;

    /// <summary>Candidates drawn at random, whose years measure how far the quick estimates lie off, 1 or more.</summary>
    public int Drawn { get; init; } = 24;

    /// <summary>Dropped candidates drawn at random at the end and calculated all the same: how often a drop was wrong, 0 or more.</summary>
    public int Audited { get; init; } = 60;

    /// <summary>Worlds in which the members of the front are compared again, 0 for none.</summary>
    public int Worlds { get; init; } = 64;

    /// <summary>Members of the front that are compared in other worlds; those nearest to the client's order of what matters first.</summary>
    public int MostCompared { get; init; } = 200;

    /// <summary>Calculations at the same time, 1 or more.</summary>
    public int Threads { get; init; } = 1;

    /// <summary>Refuses bounds nobody can work within.</summary>
    /// <exception cref="ArgumentOutOfRangeException">One is out of its range.</exception>
    internal void Check()
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(MostCombinations, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(MostCombinations, 1_000_000);
        ArgumentOutOfRangeException.ThrowIfLessThan(MostYears, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(YearsARound, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(Drawn, 1);
        ArgumentOutOfRangeException.ThrowIfNegative(Audited);
        ArgumentOutOfRangeException.ThrowIfNegative(Worlds);
        ArgumentOutOfRangeException.ThrowIfLessThan(MostCompared, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(Threads, 1);
    }
}
