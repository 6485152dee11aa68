using ConsultDesk.Records;
using ConsultDesk.Web.Shell;

namespace ConsultDesk.Web.Intake;

/// <summary>The questionnaire of a client, and the photos of it.</summary>
internal static class IntakeRegistration
{
    public static void AddIntake(this IServiceCollection services) => services.AddSingleton<IntakePhotos>();

    public static void MapIntake(this IEndpointRouteBuilder app)
    {
        app.MapGet(SecurityHeaders.IntakePath + "/{token}/photo/{photoId:guid}", async (string token, Guid photoId, IntakeDoor door, CancellationToken cancellation) =>
                await door.Photo(token, photoId, cancellation) is { } jpeg ? Results.File(jpeg, "image/jpeg") : Results.NotFound())
            .AllowAnonymous()
            .RequireRateLimiting(RequestLimits.Intake);

        app.MapGet("/intakes/photo/{photoId:guid}", async (Guid photoId, HttpContext context, Intakes intakes, CancellationToken cancellation) =>
            await intakes.Photo(SignedIn.From(context.User)!, photoId, cancellation) is { } jpeg ? Results.File(jpeg, "image/jpeg") : Results.NotFound());
    }
}
