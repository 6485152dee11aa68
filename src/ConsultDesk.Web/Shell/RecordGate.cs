using ConsultDesk.Records;

namespace ConsultDesk.Web.Shell;

/// <summary>
/// Answers 404 to an address that names a client, van or plan the firm does not have, before the live page is sent.
/// The page itself could only say so in words, with 200.
/// </summary>
internal static class RecordGate
{
    public static IApplicationBuilder UseRecordGate(this IApplicationBuilder app) => app.Use(static async (context, next) =>
    {
        if (SignedIn.From(context.User) is { } who && Named(context.Request.RouteValues) is var (kind, id)
            && !await context.RequestServices.GetRequiredService<DeskList>().Has(who, kind, id, context.RequestAborted))
        {
            context.Response.StatusCode = StatusCodes.Status404NotFound;
            return;
        }

        await next(context);
    });

    private static (DeskRecord Kind, Guid Id)? Named(RouteValueDictionary route)
    {
        (string Parameter, DeskRecord Kind)[] names = [("ClientId", DeskRecord.Client), ("VanId", DeskRecord.Van), ("PlanId", DeskRecord.Plan)];
        foreach (var (parameter, kind) in names)
        {
            if (Guid.TryParse(route[parameter]?.ToString(), out var id))
            {
                return (kind, id);
            }
        }

        return null;
    }
}
