using System.Collections.Immutable;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>What a client will not have.</summary>
public enum WontHave
{
    /// <summary>No second hole in the roof.</summary>
    SecondRoofHole,

    /// <summary>No window that the van does not have yet.</summary>
    AddedWindow,

    /// <summary>Nothing that shows from outside that it is lived in.</summary>
    VisibleOutside,

    /// <summary>No gas aboard.</summary>
    Gas,

    /// <summary>No hole through the floor.</summary>
    FloorHole,

    /// <summary>No fan that runs by night.</summary>
    FanAtNight,
}

/// <summary>What a client wants most of a van, to be put into an order.</summary>
public enum Priority
{
    /// <summary>Dry glass, walls and bedding.</summary>
    Dry,

    /// <summary>Warm in winter.</summary>
    Warm,

    /// <summary>Bearable on hot nights.</summary>
    Cool,

    /// <summary>Little money.</summary>
    Cheap,

    /// <summary>Little to fit, run and mend.</summary>
    Simple,

    /// <summary>How it looks. Recorded and shown, never scored.</summary>
    Looks,
}

/// <summary>What the client wants. Recorded and shown; an option that breaks a wish says so. Never scored.</summary>
public sealed record Wishes
{
    /// <summary>Money to spend now, in the firm's currency; null when not said.</summary>
    public decimal? BudgetNow { get; init; }

    /// <summary>Money to spend later, in the firm's currency; null when not said.</summary>
    public decimal? BudgetLater { get; init; }

    /// <summary>What must be there, in the client's words, a line each.</summary>
    public ImmutableArray<string> MustHaves { get; init; } = [];

    /// <summary>What must not be there, as far as it can be checked.</summary>
    public ImmutableArray<WontHave> WontHaves { get; init; } = [];

    /// <summary>What else must not be there, in the client's words, a line each.</summary>
    public ImmutableArray<string> OtherWontHaves { get; init; } = [];

    /// <summary>Loudest fan the client sleeps beside, dB(A) at 1 m, 20 to 80; null when not said.</summary>
    public double? LoudestAtBedDba { get; init; }

    /// <summary>What matters most first, each at most once; empty when not said.</summary>
    public ImmutableArray<Priority> Order { get; init; } = [];

    /// <summary>How it should look, in the client's words.</summary>
    public string Looks { get; init; } = "";
}
