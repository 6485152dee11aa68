using System.Collections.Immutable;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>The size of a space and what its rules took away, without the space itself.</summary>
/// <param name="Axes">Things there are to choose.</param>
/// <param name="Size">How large it is.</param>
/// <param name="Removed">What rules removed, late ones last.</param>
/// <param name="Notes">What is worth knowing about it, in plain words; empty where the message of the result says why it is empty.</param>
public sealed record KeptSpace(int Axes, SpaceSize Size, ImmutableArray<RemovedByRule> Removed, ImmutableArray<string> Notes);

/// <summary>What is kept of a search when its space is let go: all that is shown of it, and the designs of its front.</summary>
public sealed record KeptSearch
{
    /// <summary>The van as it stood when it was asked.</summary>
    public required Design Asked { get; init; }

    /// <summary>What the client wanted then; null when nothing was recorded.</summary>
    public Wishes? Wishes { get; init; }

    /// <summary>What was found, without its space.</summary>
    public required SearchResult Result { get; init; }

    /// <summary>The space in numbers; null when it was broken off before it was counted.</summary>
    public KeptSpace? Space { get; init; }

    /// <summary>Candidates whose year was calculated.</summary>
    public int Years { get; init; }

    /// <summary>True when every candidate's year was calculated: nothing of the space can be better than its front.</summary>
    public bool Whole { get; init; }

    /// <summary>Why it broke off, in plain words; null when it did not.</summary>
    public string? Failure { get; init; }

    /// <summary>The designs of the front, in its order.</summary>
    public required ImmutableArray<Design> Designs { get; init; }

    /// <summary>The design of a member of the front.</summary>
    /// <exception cref="ArgumentException">It is no member.</exception>
    public Design Design(FrontMember member)
    {
        ArgumentNullException.ThrowIfNull(member);
        for (int at = 0; at < Result.Front.Length; at++)
        {
            if (Result.Front[at].Candidate == member.Candidate)
            {
                return Designs[at];
            }
        }

        throw new ArgumentException($"Design {member.Candidate} is not on the front.", nameof(member));
    }

    /// <summary>What any design of the van comes to in the numbers that were compared.</summary>
    /// <param name="design">The design.</param>
    /// <param name="year">Its year as it was assessed, without what comes later and with what is likely.</param>
    /// <param name="book">Prices.</param>
    public ObjectiveNumbers NumbersOf(Design design, YearAssessment year, PriceBook book)
    {
        ArgumentNullException.ThrowIfNull(design);
        return YearNumbers.Of(
            LaterParts.Without(design), year, book, (double)Costing.Of(design, book).Now, Screen.Parts(design, book), Screen.GlassAndMetalM2(LaterParts.Without(Asked)));
    }

    /// <summary>True where a design nothing beats may be missing: not every year was calculated, or choices were left out before they were combined.</summary>
    public bool MayMiss => !Whole || MergedChoices > 0;

    /// <summary>Choices that were left out for being much like others.</summary>
    public int MergedChoices => Space?.Removed.FirstOrDefault(removed => removed.Rule.Key == "alike")?.Choices ?? 0;

    /// <summary>The same with more known of the chances of its front.</summary>
    /// <exception cref="ArgumentException">It is another front.</exception>
    public KeptSearch With(SearchResult later)
    {
        ArgumentNullException.ThrowIfNull(later);
        return later.Front.Select(member => member.Candidate).SequenceEqual(Result.Front.Select(member => member.Candidate))
            ? this with { Result = later with { Space = null, Race = null } }
            : throw new ArgumentException("Expected the same front.", nameof(later));
    }

    /// <summary>What is kept of a result.</summary>
    /// <param name="order">What was asked.</param>
    /// <param name="result">What was found.</param>
    /// <param name="years">Candidates whose year was calculated, of a search that broke off; those of the race otherwise.</param>
    public static KeptSearch Of(SearchOrder order, SearchResult result, int years = 0)
    {
        ArgumentNullException.ThrowIfNull(order);
        ArgumentNullException.ThrowIfNull(result);
        return new KeptSearch
        {
            Asked = order.Design,
            Wishes = order.Wishes,
            Result = result with { Space = null, Race = null },
            Space = result.Space is DesignSpace space
                ? new KeptSpace(space.Axes.Length, space.Size, [.. space.Removed, .. result.RemovedLate], space.Emptied is null ? space.Notes : [])
                : null,
            Years = result.Race?.Years ?? years,
            Whole = result.Race?.Exhaustive ?? false,
            Designs = [.. result.Front.Select(result.Design)],
        };
    }
}
