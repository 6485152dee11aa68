namespace ConsultDesk.Web.Shell;

/// <summary>
/// The path of a plan is the secret that opens it. The categories of the framework that write paths, or put them in
/// the scope of other lines, are silenced whatever the log is set to; a test reads everything at the lowest level.
/// </summary>
internal static class QuietPaths
{
    private static readonly string[] Categories =
    [
        "Microsoft.AspNetCore.Hosting.Diagnostics",
        "Microsoft.AspNetCore.Routing.Matching.DfaMatcher",
        "Microsoft.AspNetCore.Components.Routing.Router",
        "Microsoft.AspNetCore.HttpsPolicy.HttpsRedirectionMiddleware",
    ];

    public static void KeepPathsOutOfTheLog(this IServiceCollection services) => services.PostConfigure<LoggerFilterOptions>(static filter =>
    {
        // A rule for one provider beats a rule for all, so each provider that has rules gets one.
        foreach (var provider in filter.Rules.Select(rule => rule.ProviderName).Append(null).Distinct().ToList())
        {
            foreach (var category in Categories)
            {
                filter.Rules.Add(new LoggerFilterRule(provider, category, LogLevel.None, filter: null));
            }
        }
    });
}
