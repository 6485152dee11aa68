using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>What happened with a van.</summary>
public enum TimelineKind
{
    /// <summary>The van was added.</summary>
    VanAdded,

    /// <summary>A link to the questions was made for the client.</summary>
    IntakeSent,

    /// <summary>The client sent the answers.</summary>
    IntakeSubmitted,

    /// <summary>A consultant went through the answers.</summary>
    IntakeRead,

    /// <summary>A consult that is to come, or was never marked as held.</summary>
    ConsultPlanned,

    /// <summary>A consult that was held.</summary>
    ConsultHeld,

    /// <summary>An option was made.</summary>
    OptionMade,

    /// <summary>The option the client takes was chosen.</summary>
    OptionChosen,

    /// <summary>A plan was published.</summary>
    PlanPublished,

    /// <summary>A link of a plan was opened for the last time so far.</summary>
    PlanOpened,

    /// <summary>The client asked.</summary>
    Asked,

    /// <summary>The client commented.</summary>
    Commented,

    /// <summary>A consultant answered.</summary>
    Answered,

    /// <summary>The client accepted a plan.</summary>
    Accepted,

    /// <summary>Something was built in.</summary>
    Installed,

    /// <summary>How living with it went was reported.</summary>
    Reported,

    /// <summary>A follow-up that is open.</summary>
    FollowUpDue,

    /// <summary>A follow-up that was done.</summary>
    FollowUpDone,
}

/// <summary>One event.</summary>
/// <param name="Kind">What happened.</param>
/// <param name="At">When, UTC; null for what has a day only.</param>
/// <param name="Day">The day of what has a day only; null otherwise.</param>
/// <param name="Id">The row it comes from.</param>
/// <param name="Name">Name of what it is about; may be empty.</param>
/// <param name="Number">Number of the plan it is about; 0 for none.</param>
/// <param name="PlanId">The plan it is about, or null.</param>
public sealed record TimelineEvent(TimelineKind Kind, DateTime? At, DateOnly? Day, Guid Id, string Name = "", int Number = 0, Guid? PlanId = null);

/// <summary>What happened with a van, read from the rows that say so: nothing is stored twice.</summary>
public sealed class Timeline(FirmContexts contexts)
{
    /// <summary>The events of a van in no order that matters; the reader's calendar says which day each falls on.</summary>
    public async Task<IReadOnlyList<TimelineEvent>> Of(SignedIn who, Guid vanId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        List<TimelineEvent> events =
        [
            .. (await db.Vans.AsNoTracking().Where(v => v.Id == vanId).Select(v => new { v.Id, v.Name, v.CreatedAt }).ToListAsync(cancellation))
                .Select(v => new TimelineEvent(TimelineKind.VanAdded, v.CreatedAt, null, v.Id, v.Name)),
        ];
        foreach (var intake in await db.Intakes.AsNoTracking().Where(i => i.VanId == vanId).Select(i => new { i.Id, i.CreatedAt, i.SubmittedAt, i.ReviewedAt }).ToListAsync(cancellation))
        {
            events.Add(new(TimelineKind.IntakeSent, intake.CreatedAt, null, intake.Id));
            Add(TimelineKind.IntakeSubmitted, intake.SubmittedAt, intake.Id);
            Add(TimelineKind.IntakeRead, intake.ReviewedAt, intake.Id);
        }

        events.AddRange((await db.Consults.AsNoTracking().Where(c => c.VanId == vanId).Select(c => new { c.Id, c.StartsAt, c.HeldAt }).ToListAsync(cancellation))
            .Select(c => new TimelineEvent(c.HeldAt is null ? TimelineKind.ConsultPlanned : TimelineKind.ConsultHeld, c.StartsAt, null, c.Id)));
        events.AddRange((await db.Options.AsNoTracking().Where(o => o.VanId == vanId).Select(o => new { o.Id, o.Letter, o.Name, o.CreatedAt }).ToListAsync(cancellation))
            .Select(o => new TimelineEvent(TimelineKind.OptionMade, o.CreatedAt, null, o.Id, $"{o.Letter} · {o.Name}")));
        events.AddRange((await (
                from chosen in db.ChosenOptions.AsNoTracking()
                where chosen.VanId == vanId
                join option in db.Options on chosen.OptionId equals option.Id
                select new { chosen.Id, option.Letter, option.Name, chosen.ChosenAt }).ToListAsync(cancellation))
            .Select(c => new TimelineEvent(TimelineKind.OptionChosen, c.ChosenAt, null, c.Id, $"{c.Letter} · {c.Name}")));
        var plans = await db.Plans.AsNoTracking().Where(p => p.VanId == vanId).Select(p => new { p.Id, p.Number, p.OptionLetter, p.OptionName, p.PublishedAt }).ToListAsync(cancellation);
        var ids = plans.Select(p => p.Id).ToList();
        var opened = (await db.PlanLinks.AsNoTracking().Where(l => ids.Contains(l.PlanId) && l.LastUsedAt != null).Select(l => new { l.PlanId, l.LastUsedAt }).ToListAsync(cancellation)).ToLookup(l => l.PlanId, l => l.LastUsedAt);
        foreach (var plan in plans)
        {
            events.Add(new(TimelineKind.PlanPublished, plan.PublishedAt, null, plan.Id, $"{plan.OptionLetter} · {plan.OptionName}", plan.Number, plan.Id));
            if (opened[plan.Id].Max() is { } last)
            {
                events.Add(new(TimelineKind.PlanOpened, last, null, plan.Id, "", plan.Number, plan.Id));
            }
        }

        var numbers = plans.ToDictionary(p => p.Id, p => p.Number);
        foreach (var reply in await db.PlanReplies.AsNoTracking().Where(r => ids.Contains(r.PlanId)).Select(r => new { r.Id, r.PlanId, r.Kind, r.Name, r.At, r.Answer, r.SeenAt }).ToListAsync(cancellation))
        {
            var kind = reply.Kind switch { ReplyKind.Question => TimelineKind.Asked, ReplyKind.Accepted => TimelineKind.Accepted, _ => TimelineKind.Commented };
            events.Add(new(kind, reply.At, null, reply.Id, reply.Name, numbers[reply.PlanId], reply.PlanId));
            if (reply is { Answer: not null, SeenAt: { } answered })
            {
                events.Add(new(TimelineKind.Answered, answered, null, reply.Id, reply.Name, numbers[reply.PlanId], reply.PlanId));
            }
        }

        events.AddRange((await db.Installations.AsNoTracking().Where(i => i.VanId == vanId).Select(i => new { i.Id, i.What, i.DoneOn }).ToListAsync(cancellation))
            .Select(i => new TimelineEvent(TimelineKind.Installed, null, i.DoneOn, i.Id, i.What)));
        events.AddRange((await db.CheckBacks.AsNoTracking().Where(c => c.VanId == vanId).Select(c => new { c.Id, c.Name, c.At, c.PlanId }).ToListAsync(cancellation))
            .Select(c => new TimelineEvent(TimelineKind.Reported, c.At, null, c.Id, c.Name, numbers.GetValueOrDefault(c.PlanId), c.PlanId)));
        foreach (var followUp in await db.FollowUps.AsNoTracking().Where(f => f.VanId == vanId).Select(f => new { f.Id, f.Text, f.DueOn, f.DoneAt }).ToListAsync(cancellation))
        {
            events.Add(followUp.DoneAt is { } done
                ? new(TimelineKind.FollowUpDone, done, null, followUp.Id, followUp.Text)
                : new(TimelineKind.FollowUpDue, null, followUp.DueOn, followUp.Id, followUp.Text));
        }

        return events;

        void Add(TimelineKind kind, DateTime? at, Guid id)
        {
            if (at is { } when)
            {
                events.Add(new(kind, when, null, id));
            }
        }
    }
}
