using ConsultDesk.Calculations.Vehicle;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>One option in a list.</summary>
public sealed record OptionLine(Guid Id, string Letter, string Name, DateTime UpdatedAt, string UpdatedBy, string? MethodVersion, Guid? CopiedFrom);

/// <summary>An option opened for editing. <paramref name="Version"/> is handed back when it is saved.</summary>
public sealed record LoadedOption(Guid Id, Guid VanId, string Letter, string Name, Design Design, Guid Version, DateTime UpdatedAt);

/// <summary>One step of an option's history.</summary>
public sealed record OptionHistoryLine(Guid RevisionId, DateTime SavedAt, string SavedBy, string Label);

/// <summary>How a save ended.</summary>
public abstract record SaveResult;

/// <summary>Committed.</summary>
/// <param name="Version">Version to hand back with the next save.</param>
/// <param name="At">When, UTC.</param>
public sealed record Saved(Guid Version, DateTime At) : SaveResult;

/// <summary>Somebody else saved since the option was loaded. Nothing was written.</summary>
/// <param name="Who">Display name of who saved.</param>
/// <param name="At">When they did, UTC.</param>
/// <param name="Theirs">Their design; <see cref="DesignJson.Differences"/> tells what they changed.</param>
/// <param name="TheirVersion">Version to hand back in order to write over theirs.</param>
public sealed record SaveConflict(string Who, DateTime At, Design Theirs, Guid TheirVersion) : SaveResult;

/// <summary>The options of the firm's vans.</summary>
public sealed class VanOptions(FirmContexts contexts, TimeProvider time)
{
    /// <summary>The options of one van in the order they were made.</summary>
    public async Task<IReadOnlyList<OptionLine>> OptionsOf(SignedIn who, Guid vanId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var options = await db.Options.AsNoTracking().Where(o => o.VanId == vanId)
            .Select(o => new { o.Id, o.Letter, o.Name, o.UpdatedAt, o.UpdatedBy, o.MethodVersion, o.CopiedFrom })
            .ToListAsync(cancellation);
        var names = await db.NamesOf(options.Select(o => o.UpdatedBy), cancellation);
        return [.. options.OrderBy(o => o.Letter.Length).ThenBy(o => o.Letter, StringComparer.Ordinal).Select(o => new OptionLine(
            o.Id, o.Letter, o.Name, o.UpdatedAt, names.GetValueOrDefault(o.UpdatedBy, UserNames.Gone), o.MethodVersion, o.CopiedFrom))];
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
    /// is not written again.
    /// </summary>
    /// <param name="who">Who saves.</param>
    /// <param name="optionId">The option.</param>
    /// <param name="loadedVersion">Version the edit started from: of the load or of the last save.</param>
    /// <param name="design">The design to store.</param>
    /// <param name="label">What was done, for the history; 1 to 500 characters.</param>
    /// <param name="methodVersion">Version of the calculation method that assessed this design, if it did.</param>
    /// <param name="cancellation">Stops waiting; the save may still have happened.</param>
    /// <returns><see cref="Saved"/> after the commit, or <see cref="SaveConflict"/>.</returns>
    /// <exception cref="RecordNotFoundException">The firm has no such option.</exception>
    public async Task<SaveResult> Save(
        SignedIn who, Guid optionId, Guid loadedVersion, Design design, string label, string? methodVersion = null, CancellationToken cancellation = default)
    {
        var check = new FieldChecks();
        label = check.Text(nameof(label), label, TextLimits.Line);
        methodVersion = check.Optional(nameof(methodVersion), methodVersion, TextLimits.Key);
        check.ThrowIfAny();
        var text = DesignJson.Write(design);

        await using var db = contexts.OpenFor(who.FirmId);
        var option = await Existing(db, optionId, cancellation);
        if (option.Version != loadedVersion)
        {
            return await Conflict(db, option, cancellation);
        }

        if (option.DesignText == text && (methodVersion is null || option.MethodVersion == methodVersion))
        {
            return new Saved(option.Version, option.UpdatedAt);
        }

        var now = time.UtcNow();
        option.DesignText = text;
        option.DesignFormat = DesignJson.CurrentFormat;
        option.MethodVersion = methodVersion;
        option.UpdatedAt = now;
        option.UpdatedBy = who.UserId;
        db.OptionRevisions.Add(Revision(option, label, now, who.UserId));
        db.Note(who, "option.saved", "option", optionId, now);
        try
        {
            await db.SaveChangesAsync(cancellation);
        }
        catch (DbUpdateConcurrencyException)
        {
            // Between the read above and the write somebody else was faster.
            await using var fresh = contexts.OpenFor(who.FirmId);
            return await Conflict(fresh, await Existing(fresh, optionId, cancellation), cancellation);
        }

        return new Saved(option.Version, now);
    }

    /// <summary>Copies a stored option under the van's next letter.</summary>
    /// <exception cref="InvalidInputException">The name is wrong.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such option.</exception>
    public Task<LoadedOption> Copy(SignedIn who, Guid optionId, string name, CancellationToken cancellation = default) =>
        AddCopy(who, optionId, name, design: null, cancellation);

    /// <summary>Stores a design as a new option beside the one it came from: "keep mine" after a conflict, or a remedy tried on a copy.</summary>
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
            var copy = Add(db, who, source.VanId, NextLetter(taken), name, design ?? DesignJson.Read(source.DesignText), optionId, time.UtcNow());
            await db.SaveChangesAsync(cancellation);
            return Loaded(copy);
        });

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
        new(option.Id, option.VanId, option.Letter, option.Name, DesignJson.Read(option.DesignText), option.Version, option.UpdatedAt);

    private static async Task<SaveConflict> Conflict(DeskContext db, VanOption theirs, CancellationToken cancellation)
    {
        var names = await db.NamesOf([theirs.UpdatedBy], cancellation);
        return new(
            names.GetValueOrDefault(theirs.UpdatedBy, UserNames.Gone), theirs.UpdatedAt, DesignJson.Read(theirs.DesignText), theirs.Version);
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
