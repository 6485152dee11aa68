using System.Globalization;
using ConsultDesk.Records;

namespace ConsultDesk.Web.Consultancy;

/// <summary>The lines of the audit in words, on the page and in the table.</summary>
internal static class AuditWords
{
    /// <summary>What can be asked for: a key, its words, and the kinds of row behind it.</summary>
    public static readonly (string Key, string Words, string[] Kinds)[] Groups =
    [
        ("clients", "Clients and vans", ["client", "van"]),
        ("options", "Options", ["option", "advice", "decision"]),
        ("plans", "Plans, links and replies", ["plan", "link", "reply", "plan-reply"]),
        ("intakes", "Intakes and reports after the build", ["intake", "check-back", "installation"]),
        ("consults", "Consults and follow-ups", ["consult", "follow-up"]),
        ("firm", "Firm, prices, templates", ["firm", "logo", "prices", "audit", "agenda-template", "own-situation"]),
        ("people", "People, accounts, invitations", ["user", "invitation"]),
    ];

    private static readonly Dictionary<string, string> Words = new(StringComparer.Ordinal)
    {
        ["advice.declined"] = "declined advice",
        ["advice.taken-back"] = "took a declined advice back",
        ["agenda-template.added"] = "added an agenda template",
        ["agenda-template.changed"] = "changed an agenda template",
        ["agenda-template.deleted"] = "deleted an agenda template",
        ["audit.exported"] = "took the audit out as a table",
        ["check-back.added"] = "wrote a client's report down",
        ["check-back.read"] = "read a client's report",
        ["client.added"] = "added a client",
        ["client.changed"] = "changed a client",
        ["client.erased"] = "erased a client",
        ["client.exported"] = "took a client out as a file",
        ["client.imported"] = "took a client in from a file",
        ["client.seen"] = "looked at a client",
        ["client.units"] = "changed a client's units",
        ["consult.added"] = "entered a consult",
        ["consult.changed"] = "changed a consult",
        ["consult.held"] = "ticked a consult as held",
        ["consult.not-held"] = "took the tick of a consult back",
        ["consult.notes-saved"] = "saved private notes",
        ["consult.point-opened"] = "opened a point of the agenda again",
        ["consult.point-ticked"] = "ticked a point of the agenda",
        ["consult.removed"] = "removed a consult",
        ["decision.decided"] = "entered a decision",
        ["decision.declined"] = "entered what was declined",
        ["decision.open"] = "opened a decision again",
        ["designs.in-plan"] = "let designs that were found stand in the plan",
        ["designs.out-of-plan"] = "took the designs that were found out of the plan",
        ["firm.changed"] = "changed the firm",
        ["firm.founded"] = "founded the firm",
        ["follow-up.added"] = "added a follow-up",
        ["follow-up.done"] = "did a follow-up",
        ["follow-up.changed"] = "changed a follow-up",
        ["follow-up.reopened"] = "opened a follow-up again",
        ["installation.added"] = "entered what was built in",
        ["installation.changed"] = "changed what was built in",
        ["installation.photo-added"] = "added a photo of what was built in",
        ["installation.photo-removed"] = "removed a photo of what was built in",
        ["installation.removed"] = "removed what was built in",
        ["intake.reviewed"] = "was through with an intake",
        ["intake.revoked"] = "withdrew an intake's link",
        ["intake.seen"] = "read an intake",
        ["intake.sent"] = "made an intake link",
        ["invitation.back-in-sent"] = "made a link back in",
        ["invitation.revoked"] = "withdrew an invitation",
        ["invitation.sent"] = "made an invitation",
        ["link.added"] = "made a link to a plan",
        ["link.revoked"] = "withdrew a link to a plan",
        ["logo.changed"] = "changed the logo",
        ["logo.removed"] = "removed the logo",
        ["mail.sent"] = "sent a letter",
        ["option.added"] = "added an option",
        ["option.choice-taken-back"] = "took the choice of an option back",
        ["option.chosen"] = "marked an option as chosen",
        ["option.copied"] = "copied an option",
        ["option.kept"] = "closed the client's own idea",
        ["option.reason-given"] = "gave a reason for an option",
        ["option.renamed"] = "renamed an option",
        ["option.reopened"] = "opened the client's own idea again",
        ["option.saved"] = "changed an option",
        ["own-situation.added"] = "added an own situation",
        ["own-situation.changed"] = "changed an own situation",
        ["own-situation.deleted"] = "deleted an own situation",
        ["plan.exported"] = "took a plan out as PDF",
        ["plan.published"] = "published a plan",
        ["plan.seen"] = "read a plan",
        ["prices.changed"] = "changed the prices",
        ["prices.dropped"] = "went back to the prices as shipped",
        ["prices.exported"] = "took the prices out as a table",
        ["prices.imported"] = "took prices in from a table",
        ["reply.answered"] = "answered a client",
        ["user.access-given"] = "gave access back",
        ["user.access-taken"] = "took access away",
        ["user.authenticator-off"] = "turned the authenticator off",
        ["user.authenticator-on"] = "turned the authenticator on",
        ["user.joined"] = "joined by invitation",
        ["user.let-back-in"] = "came back in by a link",
        ["user.locked"] = "was locked for a while after too many tries",
        ["user.passkey-added"] = "added a passkey",
        ["user.passkey-named"] = "named a passkey",
        ["user.passkey-removed"] = "removed a passkey",
        ["user.password-changed"] = "changed the password",
        ["user.recovery-code-used"] = "used a recovery code",
        ["user.recovery-codes-made"] = "made new recovery codes",
        ["user.role-changed"] = "changed a role",
        ["user.signed-in"] = "signed in",
        ["user.signed-out"] = "signed out",
        ["user.signed-out-everywhere"] = "signed out everywhere",
        ["van.added"] = "added a van",
        ["van.changed"] = "changed a van",
        ["van.seen"] = "opened a van's workspace",
        ["weather.added"] = "added a weather file",
        ["wishes.saved"] = "saved the wishes",
    };

    /// <summary>Every action there are words for.</summary>
    public static IReadOnlyCollection<string> Actions => Words.Keys;

    /// <summary>An act in words; one of another release as it is stored.</summary>
    public static string Of(string action) => Words.GetValueOrDefault(action, action);

    /// <summary>A time of the audit, which is universal time.</summary>
    public static string Time(DateTime at) => at.ToString("d MMM yyyy HH:mm:ss", CultureInfo.InvariantCulture);

    /// <summary>What was chosen on the page, as a question.</summary>
    public static AuditQuestion Question(string? who, string? what, DateOnly? from, DateOnly? until) => new(
        Guid.TryParse(who, out var user) ? user : null,
        Array.Find(Groups, group => group.Key == what).Kinds,
        from?.ToDateTime(TimeOnly.MinValue, DateTimeKind.Utc),
        until is { } day && day < DateOnly.MaxValue ? day.AddDays(1).ToDateTime(TimeOnly.MinValue, DateTimeKind.Utc) : null);

    /// <summary>A question as the end of an address.</summary>
    public static string Query(AuditQuestion question)
    {
        var what = question.Kinds is { } kinds ? Array.Find(Groups, group => ReferenceEquals(group.Kinds, kinds)).Key : null;
        (string Name, string? Value)[] parts =
        [
            ("who", question.UserId?.ToString()),
            ("what", what),
            ("from", question.From is { } from ? Day(from) : null),
            ("until", question.Until is { } until ? Day(until.AddDays(-1)) : null),
        ];
        var given = parts.Where(part => part.Value is not null).Select(part => part.Name + "=" + part.Value).ToList();
        return given.Count == 0 ? "" : "?" + string.Join('&', given);

        static string Day(DateTime at) => DateOnly.FromDateTime(at).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
    }

    /// <summary>Heads of the table that is taken away.</summary>
    public static readonly string[] Heads = ["When (UTC)", "Who", "Did what", "To what", "Kind", "Number", "Action"];

    /// <summary>One line of the table that is taken away.</summary>
    public static string[] Row(AuditEntry entry) =>
        [entry.At.ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture), entry.Who, Of(entry.Action), entry.About ?? "", entry.EntityKind, entry.EntityId.ToString(), entry.Action];
}
