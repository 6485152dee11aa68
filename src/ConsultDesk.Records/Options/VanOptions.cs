using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>One option in a list.</summary>
public sealed record OptionLine(
    Guid Id, string Letter, string Name, DateTime UpdatedAt, string UpdatedBy, string? MethodVersion, Guid? CopiedFrom, OptionChoice Choice = OptionChoice.None,
    DateTime? KeptAt = null, string Reason = "");

/// <summary>How an option stands to what the van is going to be built as.</summary>
public enum OptionChoice
{
    /// <summary>Not chosen.</summary>
    None,

    /// <summary>Chosen as it stands.</summary>
    Chosen,

    /// <summary>Chosen, and changed since.</summary>
    ChangedSince,

    /// <summary>Chosen as it stands, but last judged by an older method of calculation: a danger may stand that it did not know.</summary>
    OlderMethod,
}

/// <summary>The chosen option of a van.</summary>
/// <param name="OptionId">The option.</param>
/// <param name="ChosenAt">When it was chosen, UTC.</param>
/// <param name="ChosenBy">Display name of who chose it.</param>
/// <param name="Design">The design as it was chosen; <see cref="DesignJson.Differences"/> tells what changed since.</param>
/// <param name="Choice">Whether the option still is what was chosen.</param>
public sealed record ChosenLine(Guid OptionId, DateTime ChosenAt, string ChosenBy, Design Design, OptionChoice Choice);

/// <summary>
/// An option opened for editing. <paramref name="Version"/> is handed back when it is saved; one with
/// <paramref name="KeptAt"/> is closed and takes no save.
/// </summary>
public sealed record LoadedOption(Guid Id, Guid VanId, string Letter, string Name, Design Design, Guid Version, DateTime UpdatedAt, DateTime? KeptAt = null);

/// <summary>One step of an option's history.</summary>
public sealed record OptionHistoryLine(Guid RevisionId, DateTime SavedAt, string SavedBy, string Label);

/// <summary>How a save ended.</summary>
public abstract record SaveResult;

/// <summary>Committed.</summary>
/// <param name="Version">Version to hand back with the next save.</param>
/// <param name="At">When, UTC.</param>
/// <param name="ChoiceTakenBack">True when the option was the chosen one and no longer is, because the design just saved is not free of danger.</param>
public sealed record Saved(Guid Version, DateTime At, bool ChoiceTakenBack = false) : SaveResult;

/// <summary>Somebody else saved since the option was loaded. Nothing was written.</summary>
/// <param name="Who">Display name of who saved.</param>
/// <param name="At">When they did, UTC.</param>
/// <param name="Theirs">Their design; <see cref="DesignJson.Differences"/> tells what they changed.</param>
/// <param name="TheirVersion">Version to hand back in order to write over theirs.</param>
public sealed record SaveConflict(string Who, DateTime At, Design Theirs, Guid TheirVersion) : SaveResult;

/// <summary>
/// The option is the client's own idea and was closed when another was copied from it. Nothing was written; the way on is
/// a copy, or <see cref="VanOptions.Reopen"/> when it was recorded wrongly.
/// </summary>
/// <param name="KeptAt">When it was closed, UTC.</param>
/// <param name="Kept">The design as it is kept.</param>
/// <param name="Version">Version of what is kept.</param>
public sealed record OptionKept(DateTime KeptAt, Design Kept, Guid Version) : SaveResult;

/// <summary>The options of the firm's vans.</summary>
public sealed class VanOptions(FirmContexts contexts, TimeProvider time)
{
    /// <summary>Letter of a van's first option: the client's own idea, which is kept as it is once another is copied from it.</summary>
    public const string FirstLetter = "A";

    /// <summary>The options of one van in the order they were made.</summary>
    public async Task<IReadOnlyList<OptionLine>> OptionsOf(SignedIn who, Guid vanId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var options = await db.Options.AsNoTracking().Where(o => o.VanId == vanId)
            .Select(o => new { o.Id, o.Letter, o.Name, o.UpdatedAt, o.UpdatedBy, o.MethodVersion, o.CopiedFrom, o.KeptAt, o.Reason })
            .ToListAsync(cancellation);
        var names = await db.NamesOf(options.Select(o => o.UpdatedBy), cancellation);
        var chosen = await Chosen(db, vanId, cancellation);
        return [.. options.OrderBy(o => o.Letter.Length).ThenBy(o => o.Letter, StringComparer.Ordinal).Select(o => new OptionLine(
            o.Id, o.Letter, o.Name, o.UpdatedAt, names.GetValueOrDefault(o.UpdatedBy, UserNames.Gone), o.MethodVersion, o.CopiedFrom,
            chosen?.OptionId == o.Id ? chosen.Choice : OptionChoice.None, o.KeptAt, o.Reason))];
    }

    /// <summary>Opens an option; null when the firm has none with this id.</summary>
    /// <exception cref="NewerDesignFormatException">Saved by a newer release; it is left untouched.</exception>
    /// <exception cref="DesignTextException">The stored text is damaged.</exception>
    public async Task<LoadedOption?> Load(SignedIn who, Guid optionId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await db.Options.AsNoTracking().SingleOrDefaultAsync(o => o.Id == optionId, cancellation) is { } option ? Loaded(option) : null;
    }

    /// <summary>
    /// Saves a design over the version that was loaded, with one step of history. A design equal to the stored one
    /// is not written again. When the option is the van's chosen one and the design is not free of danger, the choice is
    /// taken back with the same commit.
    /// </summary>
    /// <param name="who">Who saves.</param>
    /// <param name="optionId">The option.</param>
    /// <param name="loadedVersion">Version the edit started from: of the load or of the last save.</param>
    /// <param name="design">The design to store.</param>
    /// <param name="label">What was done, for the history; 1 to 500 characters.</param>
    /// <param name="cancellation">Stops waiting; the save may still have happened.</param>
    /// <returns><see cref="Saved"/> after the commit, <see cref="SaveConflict"/>, or <see cref="OptionKept"/>.</returns>
    /// <exception cref="RecordNotFoundException">The firm has no such option.</exception>
    public async Task<SaveResult> Save(
        SignedIn who, Guid optionId, Guid loadedVersion, Design design, string label, CancellationToken cancellation = default)
    {
        var check = new FieldChecks();
        label = check.Text(nameof(label), label, TextLimits.Line);
        check.ThrowIfAny();
        var text = DesignJson.Write(design);

        await using var db = contexts.OpenFor(who.FirmId);
        var option = await Existing(db, optionId, cancellation);
        if (option.KeptAt is { } keptAt && option.DesignText != text)
        {
            return new OptionKept(keptAt, DesignJson.Read(option.DesignText), option.Version);
        }

        // What is stored already is in nobody's way, whoever stored it: a name given or an option closed since changed no design.
        if (option.DesignText == text)
        {
            return new Saved(option.Version, option.UpdatedAt);
        }

        if (option.Version != loadedVersion)
        {
            return await Conflict(db, option, cancellation);
        }

        // A step of the history is never older than the one before it, also after the machine's clock was moved back.
        var clock = time.UtcNow();
        var now = clock >= option.UpdatedAt ? clock : option.UpdatedAt.AddMicroseconds(1);
        option.DesignText = text;
        option.DesignFormat = DesignJson.CurrentFormat;
        option.MethodVersion = Assessor.MethodVersion;
        option.UpdatedAt = now;
        option.UpdatedBy = who.UserId;
        db.OptionRevisions.Add(Revision(option, label, now, who.UserId));
        db.Note(who, "option.saved", "option", optionId, now);
        var choice = await db.ChosenOptions.SingleOrDefaultAsync(c => c.OptionId == optionId, cancellation);
        var takenBack = choice is not null && !StandingDangers.Excluded(design, cancellation);
        if (takenBack)
        {
            db.Remove(choice!);
            db.Note(who, "option.choice-taken-back", "option", optionId, now);
        }

        try
        {
            await db.SaveChangesAsync(cancellation);
        }
        catch (DbUpdateConcurrencyException)
        {
            // Between the read above and the write somebody else was faster.
            await using var fresh = contexts.OpenFor(who.FirmId);
            var stored = await Existing(fresh, optionId, cancellation);
            return stored.KeptAt is { } since
                ? new OptionKept(since, DesignJson.Read(stored.DesignText), stored.Version)
                : await Conflict(fresh, stored, cancellation);
        }

        return new Saved(option.Version, now, takenBack);
    }

    /// <summary>
    /// Marks an option as what the van is going to be built as, in place of any other. The stored design is assessed
    /// here: while a danger stands in it, it cannot be chosen.
    /// </summary>
    /// <param name="who">Who chooses.</param>
    /// <param name="optionId">The option.</param>
    /// <param name="seenVersion">Version of the option that was on the screen: nothing unseen is chosen.</param>
    /// <param name="cancellation">Stops waiting.</param>
    /// <returns>The new version; an edit of the design goes on from it.</returns>
    /// <exception cref="RecordNotFoundException">The firm has no such option.</exception>
    /// <exception cref="RecordChangedException">The option has another version now.</exception>
    /// <exception cref="OptionInDangerException">A danger stands.</exception>
    /// <exception cref="ArgumentException">The design is wrong and cannot be assessed; the message names the fields.</exception>
    /// <exception cref="ConsultDesk.Calculations.CalculationFailedException">It could not be calculated, so no danger could be excluded.</exception>
    public Task<Guid> MarkChosen(SignedIn who, Guid optionId, Guid seenVersion, CancellationToken cancellation = default) =>
        Saving.TakingTheNext(async () =>
        {
            await using var db = contexts.OpenFor(who.FirmId);
            var option = await Existing(db, optionId, cancellation);
            if (option.Version != seenVersion)
            {
                throw new RecordChangedException("option", optionId);
            }

            if (StandingDangers.Of(DesignJson.Read(option.DesignText), cancellation) is { Count: > 0 } dangers)
            {
                throw new OptionInDangerException(dangers);
            }

            var now = time.UtcNow();
            var before = await db.ChosenOptions.SingleOrDefaultAsync(c => c.VanId == option.VanId, cancellation);
            if (before is not null && before.OptionId != optionId)
            {
                db.Note(who, "option.choice-taken-back", "option", before.OptionId, now);
            }

            var choice = before ?? db.ChosenOptions.Add(new ChosenOption { VanId = option.VanId, DesignText = "" }).Entity;
            (choice.OptionId, choice.DesignText, choice.DesignFormat) = (optionId, option.DesignText, option.DesignFormat);
            (choice.ChosenAt, choice.ChosenBy) = (now, who.UserId);
            db.Note(who, "option.chosen", "option", optionId, now);
            option.MethodVersion = Assessor.MethodVersion;
            // Saved over the version that was judged: an edit in between, which could bring a danger, refuses the choice.
            db.Entry(option).Property(o => o.Version).IsModified = true;
            await db.SaveOver(option, seenVersion, "option", optionId, cancellation);
            return option.Version;
        });

    /// <summary>Takes the choice of a van back; changes nothing when none was made.</summary>
    public async Task TakeBackChoice(SignedIn who, Guid vanId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        if (await db.ChosenOptions.SingleOrDefaultAsync(c => c.VanId == vanId, cancellation) is not { } choice)
        {
            return;
        }

        db.Remove(choice);
        db.Note(who, "option.choice-taken-back", "option", choice.OptionId, time.UtcNow());
        await db.SaveChangesAsync(cancellation);
    }

    /// <summary>The chosen option of a van; null when none was chosen, or the firm has no such van.</summary>
    public async Task<ChosenLine?> ChosenOf(SignedIn who, Guid vanId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await Chosen(db, vanId, cancellation);
    }

    /// <summary>
    /// Opens the client's own idea for changes again, because it was recorded wrongly. It is closed again by the next copy
    /// made of it, or by <see cref="Keep"/>. An option that is open stays as it is.
    /// </summary>
    /// <returns>The version an edit of the design goes on from.</returns>
    /// <exception cref="RecordNotFoundException">The firm has no such option.</exception>
    public Task<Guid> Reopen(SignedIn who, Guid optionId, CancellationToken cancellation = default) =>
        Saving.TakingTheNext(async () =>
        {
            await using var db = contexts.OpenFor(who.FirmId);
            var option = await Existing(db, optionId, cancellation);
            if (option.KeptAt is not null)
            {
                option.KeptAt = null;
                db.Note(who, "option.reopened", "option", optionId, time.UtcNow());
                await db.SaveChangesAsync(cancellation);
            }

            return option.Version;
        });

    /// <summary>Closes the client's own idea for changes. One that is closed stays as it is.</summary>
    /// <returns>The version of what is kept.</returns>
    /// <exception cref="InvalidInputException">It is another option than the van's first.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such option.</exception>
    public Task<Guid> Keep(SignedIn who, Guid optionId, CancellationToken cancellation = default) =>
        Saving.TakingTheNext(async () =>
        {
            await using var db = contexts.OpenFor(who.FirmId);
            var option = await Existing(db, optionId, cancellation);
            if (!IsClientsOwn(option))
            {
                throw new InvalidInputException([new("Option", $"Option {option.Letter} stays open. Expected option {FirstLetter}, the client's own idea.")]);
            }

            Close(db, who, option, time.UtcNow());
            await db.SaveChangesAsync(cancellation);
            return option.Version;
        });

    /// <summary>Copies a stored option under the van's next letter. The client's own idea is closed for changes by the first copy of it.</summary>
    /// <exception cref="InvalidInputException">The name is wrong.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such option.</exception>
    public Task<LoadedOption> Copy(SignedIn who, Guid optionId, string name, CancellationToken cancellation = default) =>
        AddCopy(who, optionId, name, design: null, cancellation);

    /// <summary>Stores a design as a new option beside the one it came from: "keep mine" after a conflict, or a remedy tried on a copy. It closes the client's own idea like any copy.</summary>
    /// <exception cref="InvalidInputException">The name is wrong.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such option.</exception>
    public Task<LoadedOption> KeepAsNew(SignedIn who, Guid optionId, string name, Design design, CancellationToken cancellation = default) =>
        AddCopy(who, optionId, name, design, cancellation);

    /// <summary>Gives an option another name.</summary>
    /// <returns>The new version; an edit of the design goes on from it.</returns>
    /// <exception cref="InvalidInputException">The name is wrong.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such option.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public async Task<Guid> Rename(SignedIn who, Guid optionId, Guid loadedVersion, string name, CancellationToken cancellation = default)
    {
        name = CheckedName(name);
        await using var db = contexts.OpenFor(who.FirmId);
        var option = await Existing(db, optionId, cancellation);
        (option.Name, option.UpdatedAt, option.UpdatedBy) = (name, time.UtcNow(), who.UserId);
        db.Note(who, "option.renamed", "option", optionId, option.UpdatedAt);
        await db.SaveOver(option, loadedVersion, "option", optionId, cancellation);
        return option.Version;
    }

    /// <summary>Notes why there is this option: what it tries, or why it was left. Of a kept option too: its design stays as it is.</summary>
    /// <param name="who">Who notes it.</param>
    /// <param name="optionId">The option.</param>
    /// <param name="loadedVersion">Version the option was loaded with.</param>
    /// <param name="reason">The reason, at most 500 characters; empty takes it away.</param>
    /// <param name="cancellation">Stops waiting.</param>
    /// <returns>The new version.</returns>
    /// <exception cref="InvalidInputException">The reason is too long or has line breaks.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such option.</exception>
    /// <exception cref="RecordChangedException">Changed since <paramref name="loadedVersion"/>.</exception>
    public async Task<Guid> GiveReason(SignedIn who, Guid optionId, Guid loadedVersion, string? reason, CancellationToken cancellation = default)
    {
        var check = new FieldChecks();
        reason = check.Optional(nameof(reason), reason, TextLimits.Line) ?? "";
        check.ThrowIfAny();
        await using var db = contexts.OpenFor(who.FirmId);
        var option = await Existing(db, optionId, cancellation);
        (option.Reason, option.UpdatedAt, option.UpdatedBy) = (reason, time.UtcNow(), who.UserId);
        db.Note(who, "option.reason-given", "option", optionId, option.UpdatedAt);
        await db.SaveOver(option, loadedVersion, "option", optionId, cancellation);
        return option.Version;
    }

    /// <summary>The steps of an option's history, newest first.</summary>
    public async Task<IReadOnlyList<OptionHistoryLine>> HistoryOf(SignedIn who, Guid optionId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var steps = await db.OptionRevisions.AsNoTracking().Where(r => r.OptionId == optionId)
            .OrderByDescending(r => r.SavedAt).ThenByDescending(r => r.Id)
            .Select(r => new { r.Id, r.SavedAt, r.SavedBy, r.Label })
            .ToListAsync(cancellation);
        var names = await db.NamesOf(steps.Select(s => s.SavedBy), cancellation);
        return [.. steps.Select(s => new OptionHistoryLine(s.Id, s.SavedAt, names.GetValueOrDefault(s.SavedBy, UserNames.Gone), s.Label))];
    }

    /// <summary>The design as it stood at one step of the history; null when the firm has none with this id.</summary>
    public async Task<Design?> DesignAt(SignedIn who, Guid revisionId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var text = await db.OptionRevisions.Where(r => r.Id == revisionId).Select(r => r.DesignText).SingleOrDefaultAsync(cancellation);
        return text is null ? null : DesignJson.Read(text);
    }

    /// <summary>Adds an option and its first step of history to what the context saves next.</summary>
    internal static VanOption Add(
        DeskContext db, SignedIn who, Guid vanId, string letter, string name, Design design, Guid? copiedFrom, DateTime now)
    {
        var option = new VanOption
        {
            VanId = vanId,
            Letter = letter,
            Name = CheckedName(name),
            DesignText = DesignJson.Write(design),
            DesignFormat = DesignJson.CurrentFormat,
            MethodVersion = Assessor.MethodVersion,
            CopiedFrom = copiedFrom,
            CreatedAt = now,
            UpdatedAt = now,
            UpdatedBy = who.UserId,
        };
        db.Options.Add(option);
        db.OptionRevisions.Add(Revision(option, copiedFrom is null ? "Created" : "Copied", now, who.UserId));
        db.Note(who, copiedFrom is null ? "option.added" : "option.copied", "option", option.Id, now);
        return option;
    }

    /// <summary>The letter after the last one: A to Z, then AA, AB, ...</summary>
    internal static string NextLetter(IEnumerable<string> taken)
    {
        var next = taken.Select(Number).DefaultIfEmpty(0).Max() + 1;
        var letters = "";
        for (; next > 0; next = (next - 1) / 26)
        {
            letters = (char)('A' + ((next - 1) % 26)) + letters;
        }

        return letters;

        static int Number(string letter) => letter.Aggregate(0, (sum, c) => (sum * 26) + (c - 'A' + 1));
    }

    private Task<LoadedOption> AddCopy(SignedIn who, Guid optionId, string name, Design? design, CancellationToken cancellation) =>
        Saving.TakingTheNext(async () =>
        {
            await using var db = contexts.OpenFor(who.FirmId);
            var source = await Existing(db, optionId, cancellation);
            var taken = await db.Options.Where(o => o.VanId == source.VanId).Select(o => o.Letter).ToListAsync(cancellation);
            var now = time.UtcNow();
            var copy = Add(db, who, source.VanId, NextLetter(taken), name, design ?? DesignJson.Read(source.DesignText), optionId, now);
            if (IsClientsOwn(source))
            {
                Close(db, who, source, now);
            }

            await db.SaveChangesAsync(cancellation);
            return Loaded(copy);
        });

    private static bool IsClientsOwn(VanOption option) => option.Letter == FirstLetter;

    private static void Close(DeskContext db, SignedIn who, VanOption option, DateTime now)
    {
        if (option.KeptAt is null)
        {
            option.KeptAt = now;
            db.Note(who, "option.kept", "option", option.Id, now);
        }
    }

    private static OptionRevision Revision(VanOption option, string label, DateTime now, Guid userId) => new()
    {
        OptionId = option.Id,
        DesignText = option.DesignText,
        DesignFormat = option.DesignFormat,
        Label = label,
        SavedAt = now,
        SavedBy = userId,
    };

    private static LoadedOption Loaded(VanOption option) =>
        new(option.Id, option.VanId, option.Letter, option.Name, DesignJson.Read(option.DesignText), option.Version, option.UpdatedAt, option.KeptAt);

    private static async Task<SaveConflict> Conflict(DeskContext db, VanOption theirs, CancellationToken cancellation)
    {
        var names = await db.NamesOf([theirs.UpdatedBy], cancellation);
        return new(
            names.GetValueOrDefault(theirs.UpdatedBy, UserNames.Gone), theirs.UpdatedAt, DesignJson.Read(theirs.DesignText), theirs.Version);
    }

    private static async Task<ChosenLine?> Chosen(DeskContext db, Guid vanId, CancellationToken cancellation)
    {
        if (await db.ChosenOptions.AsNoTracking().SingleOrDefaultAsync(c => c.VanId == vanId, cancellation) is not { } choice)
        {
            return null;
        }

        var option = await db.Options.Where(o => o.Id == choice.OptionId).Select(o => new { o.DesignText, o.MethodVersion }).SingleAsync(cancellation);
        var now = option.DesignText;
        var chosen = DesignJson.Read(choice.DesignText);
        // The same text needs no reading; texts of different formats may still be the same design.
        var same = now == choice.DesignText || DesignJson.Same(chosen, DesignJson.Read(now));
        var names = await db.NamesOf([choice.ChosenBy], cancellation);
        return new(
            choice.OptionId, choice.ChosenAt, names.GetValueOrDefault(choice.ChosenBy, UserNames.Gone), chosen,
            !same ? OptionChoice.ChangedSince : option.MethodVersion == Assessor.MethodVersion ? OptionChoice.Chosen : OptionChoice.OlderMethod);
    }

    private static async Task<VanOption> Existing(DeskContext db, Guid id, CancellationToken cancellation) =>
        await db.Options.SingleOrDefaultAsync(o => o.Id == id, cancellation) ?? throw new RecordNotFoundException("option", id);

    private static string CheckedName(string name)
    {
        var check = new FieldChecks();
        name = check.Text("Name", name, TextLimits.Name);
        check.ThrowIfAny();
        return name;
    }
}
