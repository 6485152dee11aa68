namespace ConsultDesk.Web.Workspace;

/// <summary>Adds the workspace to an app.</summary>
public static class WorkspaceRegistration
{
    /// <summary>Registers what all circuits share: the queue calculations wait in and the results worth keeping.</summary>
    public static IServiceCollection AddWorkspace(this IServiceCollection services)
    {
        services.AddSingleton<ComputeQueue>(_ => new ComputeQueue());
        services.AddSingleton<AssessmentCache>();
        services.AddSingleton<Designs.DesignSearches>();
        return services;
    }
}
