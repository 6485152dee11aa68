using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>What is entered about a template. <paramref name="Points"/> as they are typed: one a line, empty lines do not count.</summary>
public sealed record AgendaTemplateInput(string? Name, string? Points);

/// <summary>The firm's agenda templates: points that are put into the agenda of a consult when it is planned.</summary>
public sealed class AgendaTemplates(FirmContexts contexts, TimeProvider time)
{
    /// <summary>The most templates a firm keeps (own limit).</summary>
    public const int Most = 50;

    /// <summary>The firm's templates, by name.</summary>
    public async Task<IReadOnlyList<AgendaTemplate>> All(SignedIn who, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await db.AgendaTemplates.AsNoTracking().OrderBy(t => t.Name).ThenBy(t => t.Id).ToListAsync(cancellation);
    }

    /// <summary>Adds a template.</summary>
    /// <returns>Its id.</returns>
    /// <exception cref="InvalidInputException">A field is wrong, or the firm has one of that name, or too many.</exception>
    public async Task<Guid> Add(SignedIn who, AgendaTemplateInput input, CancellationToken cancellation = default)
    {
        var template = new AgendaTemplate { Name = "", Points = "" };
        await using var db = contexts.OpenFor(who.FirmId);
        await Take(db, template, input, cancellation);
        if (await db.AgendaTemplates.CountAsync(cancellation) >= Most)
        {
            throw new InvalidInputException([new(nameof(input.Name), FormattableString.Invariant($"Expected at most {Most} templates; delete one first."))]);
        }

        db.AgendaTemplates.Add(template);
        db.Note(who, "agenda-template.added", "agenda-template", template.Id, time.UtcNow());
        await Saving.RefusedAs(Taken, () => db.SaveChangesAsync(cancellation));
        return template.Id;
    }

    /// <summary>Renames or rewrites a template. Consults that took its points keep theirs.</summary>
    /// <returns>The new version.</returns>
    /// <exception cref="InvalidInputException">A field is wrong, or the firm has another of that name.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such template.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public async Task<Guid> Change(SignedIn who, Guid id, Guid loadedVersion, AgendaTemplateInput input, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var template = await Existing(db, id, cancellation);
        await Take(db, template, input, cancellation);
        db.Note(who, "agenda-template.changed", "agenda-template", id, time.UtcNow());
        await Saving.RefusedAs(Taken, () => db.SaveOver(template, loadedVersion, "agenda template", id, cancellation));
        return template.Version;
    }

    /// <summary>Deletes a template. Consults that took its points keep theirs.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such template.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public async Task Delete(SignedIn who, Guid id, Guid loadedVersion, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var template = await Existing(db, id, cancellation);
        db.Remove(template);
        db.Note(who, "agenda-template.deleted", "agenda-template", id, time.UtcNow());
        await db.SaveOver(template, loadedVersion, "agenda template", id, cancellation);
    }

    private static async Task<AgendaTemplate> Existing(DeskContext db, Guid id, CancellationToken cancellation) =>
        await db.AgendaTemplates.SingleOrDefaultAsync(t => t.Id == id, cancellation) ?? throw new RecordNotFoundException("agenda template", id);

    private static async Task Take(DeskContext db, AgendaTemplate template, AgendaTemplateInput input, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(input);
        var check = new FieldChecks();
        template.Name = check.Text(nameof(input.Name), input.Name, TextLimits.Name);
        template.Points = ConsultAgenda.Write(ConsultAgenda.Read(input.Points ?? "").Select(point => point with { IsDone = false }));
        ConsultAgenda.Check(check, nameof(input.Points), template.Points);
        check.That(template.Points.Length > 0, nameof(input.Points), "Expected at least one point.");
        check.ThrowIfAny();
        if (await db.AgendaTemplates.AnyAsync(t => t.Name == template.Name && t.Id != template.Id, cancellation))
        {
            throw Taken(null);
        }
    }

    private static InvalidInputException Taken(Exception? inner) =>
        new([new(nameof(AgendaTemplateInput.Name), inner is null ? "Expected a name no other template has." : "Expected a name no other template has: a colleague just took this one.")]);
}
