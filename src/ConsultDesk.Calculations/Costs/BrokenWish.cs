using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Costs;

/// <summary>Which kind of wish an option breaks.</summary>
public enum BrokenWishKind
{
    /// <summary>What is proposed costs more than the budget of now.</summary>
    BudgetNow,

    /// <summary>What comes later costs more than the budget of later.</summary>
    BudgetLater,

    /// <summary>Something is there that the client will not have.</summary>
    WontHave,

    /// <summary>A fan beside the bed is louder by night than the client sleeps with.</summary>
    NoiseAtBed,
}

/// <summary>A wish an option breaks, with the numbers or parts that prove it. Words are made of it where units and currency are known.</summary>
/// <param name="Kind">Which kind of wish.</param>
public sealed record BrokenWish(BrokenWishKind Kind)
{
    /// <summary>What the client will not have; set for that kind.</summary>
    public WontHave? WontHave { get; init; }

    /// <summary>Money above the budget; set for a budget.</summary>
    public decimal? Over { get; init; }

    /// <summary>Sound of the loudest fan at its speed by night, dB(A) at 1 m; set for noise.</summary>
    public double? SoundDba { get; init; }

    /// <summary>Names of the parts that break it; empty for a budget.</summary>
    public ImmutableArray<string> Parts { get; init; } = [];
}
