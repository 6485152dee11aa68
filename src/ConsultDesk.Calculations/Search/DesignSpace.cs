using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>
/// Every design that is looked at: one choice on each axis, less what rules remove. A candidate is kept as its choices; its design is made when it is asked
/// for, always the same. docs/method/search.md.
/// </summary>
public sealed class DesignSpace
{
    private readonly long[] _codes;

    internal DesignSpace(Design start, ImmutableArray<SpaceAxis> axes, SpaceSize size, long[] codes, ImmutableArray<double> moneyNow)
    {
        Start = start;
        Axes = axes;
        Size = size;
        MoneyNow = moneyNow;
        _codes = codes;
    }

    /// <summary>The van as it stands.</summary>
    public Design Start { get; }

    /// <summary>What there is to choose, only axes with more than one choice left.</summary>
    public ImmutableArray<SpaceAxis> Axes { get; }

    /// <summary>How large it is.</summary>
    public SpaceSize Size { get; }

    /// <summary>Candidates, numbered from 0; 0 when a rule emptied it.</summary>
    public int Count => _codes.Length;

    /// <summary>What each rule removed, in the order of the table; rules that removed nothing are left out.</summary>
    public required ImmutableArray<RemovedByRule> Removed { get; init; }

    /// <summary>What is worth knowing about it, in plain words: no heaters in the price book, no free roof, a budget of zero.</summary>
    public required ImmutableArray<string> Notes { get; init; }

    /// <summary>Why it is empty; null when it is not.</summary>
    public EmptiedSpace? Emptied { get; init; }

    /// <summary>Money to spend now of each candidate, found without making its design.</summary>
    internal ImmutableArray<double> MoneyNow { get; }

    /// <summary>The choice of a candidate on each axis.</summary>
    public ImmutableArray<int> Choices(int candidate)
    {
        int[] choices = new int[Axes.Length];
        long rest = _codes[candidate];
        for (int axis = Axes.Length - 1; axis >= 0; axis--)
        {
            choices[axis] = (int)(rest % Axes[axis].Choices.Length);
            rest /= Axes[axis].Choices.Length;
        }

        return [.. choices];
    }

    /// <summary>The candidate with these choices; null when a rule removed it.</summary>
    public int? Find(IReadOnlyList<int> choices)
    {
        ArgumentNullException.ThrowIfNull(choices);
        long code = 0;
        for (int axis = 0; axis < Axes.Length; axis++)
        {
            code = (code * Axes[axis].Choices.Length) + choices[axis];
        }

        int found = Array.BinarySearch(_codes, code);
        return found < 0 ? null : found;
    }

    /// <summary>The design of a candidate.</summary>
    public Design Design(int candidate) => Design(Choices(candidate));

    /// <summary>What a candidate does to the van as it stands, a line for each choice; empty for the van as it stands.</summary>
    public ImmutableArray<string> Words(int candidate) =>
    [
        .. Choices(candidate).Select((choice, axis) => Axes[axis].Choices[choice]).Where(choice => !choice.IsAsItStands).Select(choice => choice.Words),
    ];

    /// <summary>Axes on which two candidates differ.</summary>
    public int Differences(int candidate, int other) => Choices(candidate).Zip(Choices(other)).Count(pair => pair.First != pair.Second);

    internal Design Design(ImmutableArray<int> choices)
    {
        Design design = Start;
        for (int axis = 0; axis < choices.Length; axis++)
        {
            design = Axes[axis].Choices[choices[axis]].Apply(design);
        }

        return design;
    }
}
