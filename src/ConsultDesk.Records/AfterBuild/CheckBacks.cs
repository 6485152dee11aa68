using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>One report.</summary>
public sealed record CheckBackLine(Guid Id, Guid PlanId, int PlanNumber, string Name, bool FromClient, CheckBackAnswers Answers, DateTime At, DateTime? SeenAt, Guid Version);

/// <summary>A report no consultant has read.</summary>
public sealed record WaitingCheckBack(Guid Id, Guid VanId, string VanName, string ClientName, DateTime At);

/// <summary>What people report after living with a plan.</summary>
public sealed class CheckBacks(FirmContexts contexts, Plans plans, TimeProvider time)
{
    /// <summary>Most reports on one plan: whoever holds a link may write, and a table must not fill up.</summary>
    public const int Most = 20;

    /// <summary>Longest free words.</summary>
    public const int LongestText = 4000;

    /// <summary>Takes the report of whoever holds a link to a plan.</summary>
    /// <returns>False when the link opens nothing.</returns>
    /// <exception cref="InvalidInputException">A field is wrong, nothing is said, or the plan has <see cref="Most"/> reports.</exception>
    public async Task<bool> Add(string? token, string? name, CheckBackAnswers answers, CancellationToken cancellation = default)
    {
        if (await plans.FindByToken(token, cancellation) is not { } plan)
        {
            return false;
        }

        await using var db = contexts.OpenFor(plan.FirmId);
        await Store(db, null, plan.VanId, plan.PlanId, name, answers, cancellation);
        return true;
    }

    /// <summary>Takes down what was told to a consultant.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such plan.</exception>
    /// <exception cref="InvalidInputException">A field is wrong, nothing is said, or the plan has <see cref="Most"/> reports.</exception>
    public async Task TakeDown(SignedIn who, Guid planId, string? name, CheckBackAnswers answers, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var plan = await db.Plans.AsNoTracking().Where(p => p.Id == planId).Select(p => new { p.VanId }).SingleOrDefaultAsync(cancellation)
            ?? throw new RecordNotFoundException("plan", planId);
        await Store(db, who, plan.VanId, planId, name, answers, cancellation);
    }

    /// <summary>The reports about a van, the newest first.</summary>
    public async Task<IReadOnlyList<CheckBackLine>> Of(SignedIn who, Guid vanId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var rows = await (
            from check in db.CheckBacks.AsNoTracking()
            where check.VanId == vanId
            join plan in db.Plans on check.PlanId equals plan.Id
            orderby check.At descending
            select new { check, plan.Number }).ToListAsync(cancellation);
        return [.. rows.Select(row => new CheckBackLine(
            row.check.Id, row.check.PlanId, row.Number, row.check.Name, row.check.FromClient, CheckBackAnswers.Read(row.check.AnswersText), row.check.At, row.check.SeenAt, row.check.Version))];
    }

    /// <summary>Reports nobody of the firm has read, the longest waiting first.</summary>
    public async Task<IReadOnlyList<WaitingCheckBack>> Waiting(SignedIn who, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await (
                from check in db.CheckBacks.AsNoTracking()
                where check.SeenAt == null
                join van in db.Vans on check.VanId equals van.Id
                join client in db.Clients on van.ClientId equals client.Id
                orderby check.At
                select new WaitingCheckBack(check.Id, van.Id, van.Name, client.Name, check.At))
            .ToListAsync(cancellation);
    }

    /// <summary>Marks a report as read.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such report.</exception>
    /// <exception cref="RecordChangedException">A colleague was faster.</exception>
    public async Task MarkRead(SignedIn who, Guid id, Guid loadedVersion, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var check = await db.CheckBacks.SingleOrDefaultAsync(c => c.Id == id, cancellation) ?? throw new RecordNotFoundException("report", id);
        check.SeenAt ??= time.UtcNow();
        db.Note(who, "check-back.read", "check-back", id, time.UtcNow());
        await db.SaveOver(check, loadedVersion, "report", id, cancellation);
    }

    /// <summary>Checks what is reported, whether it was typed here or comes in a file.</summary>
    internal static void Check(CheckBackAnswers answers, FieldChecks check)
    {
        check.That(answers.WetMornings is null or (>= 0 and <= 10), nameof(answers.WetMornings), "Expected 0 to 10 mornings.");
        check.That(answers.Fuel is null or (> 0 and <= CheckBackAnswers.MostFuel), nameof(answers.Fuel), FormattableString.Invariant($"Expected a number above 0, up to {CheckBackAnswers.MostFuel}."));
        check.That(Enum.IsDefined(answers.FuelUnit), nameof(answers.FuelUnit), "Expected a unit of the list.");
        check.That(answers.Where.Length <= TextLimits.Line, nameof(answers.Where), FormattableString.Invariant($"Expected at most {TextLimits.Line} characters."));
        check.That(answers.Words.Length <= LongestText, nameof(answers.Words), FormattableString.Invariant($"Expected at most {LongestText} characters."));
        check.That(!answers.IsEmpty, nameof(answers.Words), "Expected an answer to at least one question.");
    }

    private async Task Store(DeskContext db, SignedIn? who, Guid vanId, Guid planId, string? name, CheckBackAnswers answers, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(answers);
        var now = time.UtcNow();
        var check = new FieldChecks();
        var cleaned = answers with
        {
            Where = check.Optional(nameof(answers.Where), answers.Where, TextLimits.Line) ?? "",
            Words = check.Optional(nameof(answers.Words), answers.Words, LongestText, lines: true) ?? "",
        };
        Check(cleaned, check);
        var signed = check.Text("Name", name, TextLimits.Name);
        check.That(await db.CheckBacks.CountAsync(c => c.PlanId == planId, cancellation) < Most, nameof(answers.Words), FormattableString.Invariant($"This plan has {Most} reports already. Write to your consultant directly."));
        check.ThrowIfAny();
        var report = new CheckBack
        {
            VanId = vanId,
            PlanId = planId,
            Name = signed,
            FromClient = who is null,
            AnswersText = cleaned.Write(),
            Format = CheckBackAnswers.CurrentFormat,
            At = now,
            SeenAt = who is null ? null : now,
        };
        db.CheckBacks.Add(report);
        db.Note(who, "check-back.added", "check-back", report.Id, now);
        await db.SaveChangesAsync(cancellation);
    }
}
