using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>What a client sends from the page of a plan.</summary>
public sealed record ReplyInput(ReplyKind Kind, string? Section, string? Name, string? Text);

/// <summary>One reply in a list.</summary>
public sealed record ReplyLine(Guid Id, ReplyKind Kind, string Section, string Name, string Text, DateTime At, string? Answer, DateTime? SeenAt, Guid Version);

/// <summary>A reply that no consultant has seen.</summary>
public sealed record WaitingReply(Guid Id, Guid PlanId, int Number, string VanName, string ClientName, ReplyKind Kind, DateTime At);

/// <summary>What clients write to their plans and what is answered.</summary>
public sealed class PlanReplies(FirmContexts contexts, Plans plans, TimeProvider time)
{
    /// <summary>Most replies of one plan: whoever holds a link may write, and a table must not fill up.</summary>
    public const int Most = 100;

    /// <summary>Longest text of a reply or an answer.</summary>
    public const int LongestText = 4000;

    /// <summary>Adds a reply for whoever holds a link to a plan.</summary>
    /// <param name="token">Token of the link.</param>
    /// <param name="input">What was written.</param>
    /// <param name="cancellation">Stops waiting.</param>
    /// <returns>False when the link opens nothing.</returns>
    /// <exception cref="InvalidInputException">A field is wrong, the plan was accepted already, or it has <see cref="Most"/> replies.</exception>
    public async Task<bool> Add(string? token, ReplyInput input, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(input);
        if (await plans.FindByToken(token, cancellation) is not { } plan)
        {
            return false;
        }

        var check = new FieldChecks();
        var reply = new PlanReply
        {
            PlanId = plan.PlanId,
            Kind = input.Kind,
            Section = check.Optional(nameof(input.Section), input.Section, TextLimits.Line) ?? "",
            Name = check.Text(nameof(input.Name), input.Name, TextLimits.Name),
            Text = check.Optional(nameof(input.Text), input.Text, LongestText, lines: true) ?? "",
            At = time.UtcNow(),
        };
        check.That(Enum.IsDefined(input.Kind), nameof(input.Kind), "Expected a comment, a question or an acceptance.");
        check.That(input.Kind == ReplyKind.Accepted || reply.Text.Length > 0, nameof(input.Text), FormattableString.Invariant($"Expected a text of 1 to {LongestText} characters."));
        await using var db = contexts.OpenFor(plan.FirmId);
        check.That(await db.PlanReplies.CountAsync(r => r.PlanId == plan.PlanId, cancellation) < Most, nameof(input.Text), FormattableString.Invariant($"This plan has {Most} replies already. Write to your consultant directly."));
        check.That(
            input.Kind != ReplyKind.Accepted || !await db.PlanReplies.AnyAsync(r => r.PlanId == plan.PlanId && r.Kind == ReplyKind.Accepted, cancellation),
            nameof(input.Name), "This plan was accepted already.");
        check.ThrowIfAny();
        db.PlanReplies.Add(reply);
        await db.SaveChangesAsync(cancellation);
        return true;
    }

    /// <summary>The replies to the plan a link opens, the oldest first; null when it opens nothing.</summary>
    public async Task<IReadOnlyList<ReplyLine>?> OfLink(string? token, CancellationToken cancellation = default)
    {
        if (await plans.FindByToken(token, cancellation) is not { } plan)
        {
            return null;
        }

        await using var db = contexts.OpenFor(plan.FirmId);
        return await Lines(db, plan.PlanId, cancellation);
    }

    /// <summary>The replies to a plan of the firm, the oldest first.</summary>
    public async Task<IReadOnlyList<ReplyLine>> Of(SignedIn who, Guid planId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await Lines(db, planId, cancellation);
    }

    /// <summary>Replies no consultant has seen, the longest waiting first.</summary>
    public async Task<IReadOnlyList<WaitingReply>> Waiting(SignedIn who, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await (
                from reply in db.PlanReplies.AsNoTracking()
                where reply.SeenAt == null
                join plan in db.Plans on reply.PlanId equals plan.Id
                join van in db.Vans on plan.VanId equals van.Id
                join client in db.Clients on van.ClientId equals client.Id
                orderby reply.At
                select new WaitingReply(reply.Id, plan.Id, plan.Number, van.Name, client.Name, reply.Kind, reply.At))
            .ToListAsync(cancellation);
    }

    /// <summary>Answers a reply, or marks it as seen without an answer.</summary>
    /// <param name="who">Who answers.</param>
    /// <param name="replyId">The reply.</param>
    /// <param name="loadedVersion">Version it was read with.</param>
    /// <param name="answer">The answer; blank for none.</param>
    /// <param name="cancellation">Stops waiting.</param>
    /// <exception cref="RecordNotFoundException">The firm has no such reply.</exception>
    /// <exception cref="RecordChangedException">A colleague was faster.</exception>
    /// <exception cref="InvalidInputException">The answer is too long.</exception>
    public async Task Answer(SignedIn who, Guid replyId, Guid loadedVersion, string? answer, CancellationToken cancellation = default)
    {
        var check = new FieldChecks();
        var text = check.Optional(nameof(answer), answer, LongestText, lines: true);
        check.ThrowIfAny();
        await using var db = contexts.OpenFor(who.FirmId);
        var reply = await db.PlanReplies.SingleOrDefaultAsync(r => r.Id == replyId, cancellation) ?? throw new RecordNotFoundException("reply", replyId);
        (reply.Answer, reply.SeenAt) = (text, time.UtcNow());
        db.Note(who, "reply.answered", "reply", replyId, reply.SeenAt.Value);
        await db.SaveOver(reply, loadedVersion, "reply", replyId, cancellation);
    }

    private static async Task<IReadOnlyList<ReplyLine>> Lines(DeskContext db, Guid planId, CancellationToken cancellation) =>
        await db.PlanReplies.AsNoTracking().Where(r => r.PlanId == planId).OrderBy(r => r.At)
            .Select(r => new ReplyLine(r.Id, r.Kind, r.Section, r.Name, r.Text, r.At, r.Answer, r.SeenAt, r.Version)).ToListAsync(cancellation);
}
