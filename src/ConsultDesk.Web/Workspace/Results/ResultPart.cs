namespace ConsultDesk.Web.Workspace.Results;

/// <summary>A part of the results pane, one of which shows at a time below the dangers.</summary>
public enum ResultPart
{
    /// <summary>Scores, main numbers and findings.</summary>
    Overview,

    /// <summary>The steady night in all its numbers.</summary>
    Night,

    /// <summary>Named sets of weather and use.</summary>
    Situations,

    /// <summary>Condensation and air through the year.</summary>
    Year,

    /// <summary>Walls, roof, floor and mattress.</summary>
    Walls,

    /// <summary>The heater, its fuel and current.</summary>
    Heat,

    /// <summary>How to run the van.</summary>
    Card,

    /// <summary>What it still costs, and the wishes it breaks.</summary>
    Cost,

    /// <summary>What single change helps most.</summary>
    Helps,

    /// <summary>What is worth asking next, and how sure the findings are.</summary>
    Ask,

    /// <summary>Every sensible design, and those nothing beats.</summary>
    Designs,
}

/// <summary>What the screen knows of the parts.</summary>
public static class ResultParts
{
    /// <summary>All parts in the order of their buttons.</summary>
    public static IReadOnlyList<ResultPart> All { get; } = Enum.GetValues<ResultPart>();

    /// <summary>True for a part with tables or a strip that need room: the pane gets it from the drawing.</summary>
    public static bool IsWide(ResultPart part) => part is not (ResultPart.Overview or ResultPart.Night);

    /// <summary>The button's word, and the part's name in the browser's memory.</summary>
    public static string Name(ResultPart part) => part.ToString();

    /// <summary>The part of that name; the overview when there is none.</summary>
    public static ResultPart Named(string? name) =>
        Enum.TryParse<ResultPart>(name, out var part) && Enum.IsDefined(part) ? part : ResultPart.Overview;
}
