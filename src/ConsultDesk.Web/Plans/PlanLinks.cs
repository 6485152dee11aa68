using ConsultDesk.Records;
using ConsultDesk.Web.Shell;

namespace ConsultDesk.Web.Plans;

/// <summary>What the state of a plan's links means, in words.</summary>
internal static class PlanLinks
{
    /// <summary>True when the link opens the plan now.</summary>
    public static bool Works(this PlanLinkLine link, DateTime nowUtc) => link.RevokedAt is null && link.ExpiresAt > nowUtc;

    /// <summary>State of one link.</summary>
    public static string State(this PlanLinkLine link, DateTime nowUtc) => link switch
    {
        { RevokedAt: { } at } => $"withdrawn {When.Date(at)}",
        _ when link.ExpiresAt <= nowUtc => $"expired {When.Date(link.ExpiresAt)}",
        _ => $"works until {When.Date(link.ExpiresAt)}",
    };

    /// <summary>All links of a plan in one line.</summary>
    public static string InWords(IReadOnlyList<PlanLinkLine> links, DateTime nowUtc)
    {
        var working = links.Count(l => l.Works(nowUtc));
        var opened = links.Max(l => l.LastUsedAt);
        return (working == 0 ? "no link works" : When.Count(working, "working link")) + (opened is { } at ? $", opened {When.Ago(at, nowUtc)}" : ", not opened yet");
    }
}
