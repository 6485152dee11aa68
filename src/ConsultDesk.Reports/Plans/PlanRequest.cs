using System.Collections.Immutable;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Reports.Plans;

/// <summary>What a plan is made from.</summary>
public sealed record PlanRequest
{
    /// <summary>Who advises.</summary>
    public required FirmBrand Firm { get; init; }

    /// <summary>Who is advised.</summary>
    public required string ClientName { get; init; }

    /// <summary>The van's name.</summary>
    public required string VanName { get; init; }

    /// <summary>Letter and name of the option, for example <c>B, second vent at the bed</c>.</summary>
    public required string OptionName { get; init; }

    /// <summary>Revision, from 1.</summary>
    public required int Revision { get; init; }

    /// <summary>When it is published, UTC.</summary>
    public required DateTime PublishedAt { get; init; }

    /// <summary>The design that is published.</summary>
    public required Design Design { get; init; }

    /// <summary>The design as it is stored.</summary>
    public required string DesignText { get; init; }

    /// <summary>What was calculated for it.</summary>
    public required Assessment Assessment { get; init; }

    /// <summary>Units the reader gets.</summary>
    public required DisplayUnits Units { get; init; }

    /// <summary>Why it is published although a danger stands, in the consultant's words; null when none does.</summary>
    public string? DangerReason { get; init; }

    /// <summary>Another option to set beside it, or null.</summary>
    public ComparedOption? Other { get; init; }

    /// <summary>Every option of the van, in their order; empty to say nothing of them.</summary>
    public ImmutableArray<ConsideredOption> Considered { get; init; } = [];

    /// <summary>What a search of all designs found; null to say nothing of one.</summary>
    public SearchedDesigns? Searched { get; init; }

    /// <summary>The firm's logo, or null.</summary>
    public PlanPicture? Logo { get; init; }

    /// <summary>What the client wants; null when nobody asked.</summary>
    public Wishes? Wishes { get; init; }

    /// <summary>What the option costs; null without prices.</summary>
    public PlanCost? Cost { get; init; }

    /// <summary>The client's own idea, or null when it is not set against the option.</summary>
    public OwnIdea? Own { get; init; }

    /// <summary>What was decided, in the order of the agenda.</summary>
    public ImmutableArray<PlanDecision> Decisions { get; init; } = [];

    /// <summary>What the client declined.</summary>
    public ImmutableArray<PlanDeclined> Declined { get; init; } = [];

    /// <summary>The revision before this one, or null.</summary>
    public PlanBefore? Before { get; init; }

    /// <summary>What <see cref="ThingsToDo.Pick"/> found, where it was looked for beforehand; null to look for it while composing.</summary>
    public PickedThings? Things { get; init; }
}

/// <summary>The things to do.</summary>
/// <param name="Shown">Those that are shown, in the order they are done.</param>
/// <param name="More">True when there are more.</param>
public sealed record PickedThings(ImmutableArray<PlanThing> Shown, bool More);

/// <summary>A search of all designs that stands in a plan.</summary>
/// <param name="Found">What was found.</param>
/// <param name="FoundAt">When, UTC.</param>
/// <param name="Chosen">What the plan's own design comes to in the same numbers; null when that is not known.</param>
public sealed record SearchedDesigns(KeptSearch Found, DateTime FoundAt, ObjectiveNumbers? Chosen);

/// <summary>What an option costs.</summary>
/// <param name="Sheet">Every part with its price.</param>
/// <param name="Currency">Currency of the prices, ISO 4217.</param>
/// <param name="BrokenWishes">Wishes the option breaks, in words.</param>
/// <param name="PriceOf">Prices a changed design with the same book: what a remedy costs.</param>
public sealed record PlanCost(CostSheet Sheet, string Currency, ImmutableArray<string> BrokenWishes, Func<Design, CostSheet> PriceOf)
{
    /// <summary>The firm's tax on sales.</summary>
    public Tax Tax { get; init; } = Tax.None;

    /// <summary>The book, for what fuel, gas and electricity cost; null where nothing of it is known.</summary>
    public PriceBook? Book { get; init; }
}

/// <summary>An option that was weighed.</summary>
/// <param name="Name">Letter and name.</param>
/// <param name="Reason">Why there is this option, or why it was left; empty when nobody said.</param>
/// <param name="IsPublished">True for the one the plan is for.</param>
/// <param name="WetMornings">Wet mornings of its year; null when it was not calculated.</param>
/// <param name="Price">What it adds to buy now, in the plan's currency; null without prices.</param>
public sealed record ConsideredOption(string Name, string Reason, bool IsPublished, int? WetMornings, decimal? Price);

/// <summary>The client's own idea, which is always option A.</summary>
/// <param name="Name">Letter and name.</param>
/// <param name="Design">Its design.</param>
/// <param name="Assessment">What was calculated for it.</param>
/// <param name="Cost">What it costs; null without prices.</param>
/// <param name="IsPublished">True when the plan is for this very option.</param>
/// <param name="Differences">What differs in the design, a line each, in words; may be empty.</param>
public sealed record OwnIdea(string Name, Design Design, Assessment Assessment, PlanCost? Cost, bool IsPublished, ImmutableArray<string> Differences);

/// <summary>A point that was decided.</summary>
/// <param name="Point">Point of the agenda.</param>
/// <param name="What">What was decided.</param>
/// <param name="Why">Why; may be empty.</param>
/// <param name="Who">Who decided; may be empty.</param>
public sealed record PlanDecision(string Point, string What, string Why, string Who);

/// <summary>Advice the client declined.</summary>
/// <param name="FindingCode">Code of the finding it came from; null for advice of another kind.</param>
/// <param name="Advice">What was advised.</param>
/// <param name="Why">Why it was declined; may be empty.</param>
/// <param name="Who">Who declined it; may be empty.</param>
public sealed record PlanDeclined(string? FindingCode, string Advice, string Why, string Who);

/// <summary>The revision before.</summary>
/// <param name="Revision">Its number.</param>
/// <param name="PublishedAt">When it was published, UTC.</param>
/// <param name="OptionName">Letter and name of its option.</param>
/// <param name="Changes">What differs in the design since, a line each, in words.</param>
/// <param name="Headline">Its numbers, as <see cref="PlanSnapshot.Headline"/> has them; empty for a plan of an older format.</param>
public sealed record PlanBefore(int Revision, DateTime PublishedAt, string OptionName, ImmutableArray<string> Changes, ImmutableArray<PlanNumber> Headline)
{
    /// <summary>Names of the parts it had to buy; null where it listed none.</summary>
    public ImmutableArray<string>? Parts { get; init; }

    /// <summary>What its things to do were; null where it had none.</summary>
    public ImmutableArray<string>? Things { get; init; }

    /// <summary>What a published plan gives the next revision to be told apart by.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="changes">What differs in the design since, a line each, in words.</param>
    public static PlanBefore Of(PlanSnapshot plan, ImmutableArray<string> changes)
    {
        ArgumentNullException.ThrowIfNull(plan);
        var blocks = plan.Sections.SelectMany(section => section.Blocks).ToList();
        var parts = plan.Sections.Where(section => section.Id == PlanComposer.Parts).SelectMany(section => section.Blocks).OfType<TableBlock>().ToList();
        var things = blocks.OfType<ThingsBlock>().SelectMany(block => block.Things).Select(thing => thing.What).ToImmutableArray();

        // The headline was a block of the first section before it was kept apart.
        var headline = plan.Headline.IsEmpty
            ? plan.Sections.Take(1).SelectMany(section => section.Blocks).OfType<NumbersBlock>().SelectMany(block => block.Numbers).ToImmutableArray()
            : plan.Headline;
        return new PlanBefore(plan.Revision, plan.PublishedAt, plan.OptionName, changes, headline)
        {
            Parts = parts.Count == 0 ? null : [.. parts.SelectMany(block => block.Table.Rows).Select(row => row[0]).Where(name => !PartsList.IsTotal(name))],
            Things = things,
        };
    }
}

/// <summary>An option set beside the one that is published.</summary>
/// <param name="Name">Letter and name.</param>
/// <param name="Design">Its design.</param>
/// <param name="Assessment">What was calculated for it.</param>
/// <param name="Differences">What differs in the design, a line each, in words; may be empty.</param>
public sealed record ComparedOption(string Name, Design Design, Assessment Assessment, ImmutableArray<string> Differences);
