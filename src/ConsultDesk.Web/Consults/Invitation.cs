using System.Text;
using ConsultDesk.Records;
using Ical.Net;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Serialization;

namespace ConsultDesk.Web.Consults;

/// <summary>A consult as a calendar entry (iCalendar, RFC 5545) that the consultant sends to the client.</summary>
public static class Invitation
{
    /// <summary>Address of the entry of a consult.</summary>
    public static string AddressOf(Guid consultId) => $"/consults/{consultId}.ics";

    /// <summary>The entry. It holds nothing of the private notes.</summary>
    /// <param name="consult">The consult.</param>
    /// <param name="vanName">What the van is called.</param>
    /// <param name="firm">The firm that invites.</param>
    /// <param name="nowUtc">When the entry is written, UTC.</param>
    public static string Write(Consult consult, string vanName, Firm firm, DateTime nowUtc)
    {
        ArgumentNullException.ThrowIfNull(consult);
        ArgumentNullException.ThrowIfNull(firm);
        var calendar = new Calendar { Method = "PUBLISH", ProductId = "-//ConsultDesk//Consults//EN" };
        calendar.Events.Add(new CalendarEvent
        {
            // The same entry again, with a later stamp, replaces the one in the client's calendar.
            Uid = $"{consult.Id}@consultdesk",
            DtStamp = new CalDateTime(nowUtc, CalDateTime.UtcTzId),
            // In universal time every calendar shows it in the time of whoever reads it, also after rules of summer time change.
            Start = new CalDateTime(consult.StartsAt, CalDateTime.UtcTzId),
            End = new CalDateTime(consult.StartsAt.AddMinutes(consult.Minutes), CalDateTime.UtcTzId),
            Summary = $"Consult about {vanName}",
            Description = $"With {firm.Name}{(firm.ContactLine.Length > 0 ? ", " + firm.ContactLine : "")}",
        });
        return new CalendarSerializer().SerializeToString(calendar)!;
    }

    /// <summary>Answers with the entry of a consult of the signed-in user's firm.</summary>
    public static void MapInvitations(this IEndpointRouteBuilder app) =>
        app.MapGet("/consults/{consultId:guid}.ics", async (Guid consultId, HttpContext context, ConsultBook book, VanBook vans, Firms firms, TimeProvider time, CancellationToken cancellation) =>
        {
            var who = SignedIn.From(context.User)!;
            if (await book.Consult(who, consultId, cancellation) is not { } consult || await vans.Van(who, consult.VanId, cancellation) is not { } van)
            {
                return Results.NotFound();
            }

            var text = Write(consult, van.Name, await firms.Mine(who, cancellation), time.GetUtcNow().UtcDateTime);
            return Results.File(Encoding.UTF8.GetBytes(text), "text/calendar; charset=utf-8", "consult.ics");
        });
}
