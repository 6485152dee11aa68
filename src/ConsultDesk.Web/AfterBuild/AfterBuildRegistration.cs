using ConsultDesk.Records;

namespace ConsultDesk.Web.AfterBuild;

/// <summary>What comes after a plan: photos of what was built in.</summary>
internal static class AfterBuildRegistration
{
    public static void MapAfterBuild(this IEndpointRouteBuilder app) =>
        app.MapGet("/installations/photo/{photoId:guid}", async (Guid photoId, HttpContext context, InstallationBook book, CancellationToken cancellation) =>
            await book.Photo(SignedIn.From(context.User)!, photoId, cancellation) is { } jpeg ? Results.File(jpeg, "image/jpeg") : Results.NotFound());
}
