using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;

namespace ConsultDesk.Records;

/// <summary>A picture encoded anew.</summary>
public sealed record EncodedAgain(byte[] Jpeg, int Width, int Height);

/// <summary>What the records cannot judge by themselves about a file that is taken over.</summary>
/// <param name="Photo">Encodes a picture anew; null when it is none, or damaged.</param>
/// <param name="PlanProblem">Why the text of a plan cannot be shown; null when it can.</param>
/// <param name="TonightProblem">Why tonight's settings of a plan cannot be shown; null when they can.</param>
public sealed record HandoverChecks(Func<byte[], CancellationToken, Task<EncodedAgain?>> Photo, Func<string, string?> PlanProblem, Func<string, string?> TonightProblem);

/// <summary>One published plan of a client.</summary>
public sealed record HandedPlan(Guid Id, string VanName, int Number);

/// <summary>One option of a client.</summary>
public sealed record HandedOption(Guid VanId, string VanName, string Letter, string Name, string Reason, string DesignText);

/// <summary>One follow-up of a client.</summary>
public sealed record HandedFollowUp(string VanName, DateOnly DueOn, string Text, DateTime? DoneAt);

/// <summary>A client as it is handed over.</summary>
/// <param name="Name">Name of the client.</param>
/// <param name="SavedAt">When, UTC.</param>
/// <param name="Json">The rows.</param>
/// <param name="Files">Names of the files of photos and weather, each with how to read it.</param>
/// <param name="Plans">The published plans.</param>
/// <param name="Options">The options, for tables people read.</param>
/// <param name="FollowUps">The follow-ups, for tables people read.</param>
/// <param name="Counts">Kinds of row and how many there are of each.</param>
public sealed record HandedClient(
    string Name,
    DateTime SavedAt,
    byte[] Json,
    IReadOnlyList<(string Name, Func<CancellationToken, Task<byte[]?>> Bytes)> Files,
    IReadOnlyList<HandedPlan> Plans,
    IReadOnlyList<HandedOption> Options,
    IReadOnlyList<HandedFollowUp> FollowUps,
    IReadOnlyList<(string Kind, int Count)> Counts);

/// <summary>A client out of this desk, and into it.</summary>
public sealed class HandingOver(FirmContexts contexts, TimeProvider time)
{
    /// <summary>Reads everything of a client to be saved in a file; that it was read is kept.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such client.</exception>
    public async Task<HandedClient> Export(SignedIn who, Guid clientId, CancellationToken cancellation = default)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        var now = time.UtcNow();
        var all = await ClientRows.Load(db, clientId, cancellation);
        db.Note(who, "client.exported", "client", clientId, now);
        await db.SaveChangesAsync(cancellation);
        List<(string, Func<CancellationToken, Task<byte[]?>>)> files = [];
        foreach (var kind in all)
        {
            for (var i = 0; i < kind.Rows.Count; i++)
            {
                var row = kind.Rows[i];
                if (ClientJson.FileOf(kind.Kind, row, i + 1) is { } name)
                {
                    files.Add((name, stop => BytesOf(who, row, stop)));
                }
            }
        }

        List<T> Rows<T>() => [.. all.Where(kind => kind.Type == typeof(T)).SelectMany(kind => kind.Rows).Cast<T>()];
        var vans = Rows<Van>().ToDictionary(van => van.Id, van => van.Name);
        return new(
            Rows<Client>().Single().Name,
            now,
            ClientJson.Write(db.Model, all, now),
            files,
            [.. Rows<Plan>().Select(plan => new HandedPlan(plan.Id, vans[plan.VanId], plan.Number)).OrderBy(plan => plan.VanName, StringComparer.Ordinal).ThenBy(plan => plan.Number)],
            [.. Rows<VanOption>().Select(option => new HandedOption(option.VanId, vans[option.VanId], option.Letter, option.Name, option.Reason, option.DesignText)).OrderBy(option => option.VanName, StringComparer.Ordinal).ThenBy(option => option.Letter, StringComparer.Ordinal)],
            [.. Rows<FollowUp>().OrderBy(f => f.DueOn).Select(f => new HandedFollowUp(vans[f.VanId], f.DueOn, f.Text, f.DoneAt))],
            [.. all.Where(kind => ClientRows.IsHandedOver(kind.Type)).Select(kind => (kind.Kind, kind.Rows.Count))]);
    }

    /// <summary>
    /// Takes a client over out of a file: everything under new ids in one transaction, or nothing. Plans keep their text byte for byte; links are not
    /// in the file, and the links of intakes are dead.
    /// </summary>
    /// <returns>The new client's id.</returns>
    /// <exception cref="HandoverRefusedException">The file is damaged, of a newer release, or holds what this desk would not take.</exception>
    public async Task<Guid> Import(SignedIn who, HandoverZip zip, HandoverChecks checks, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(zip);
        ArgumentNullException.ThrowIfNull(checks);
        await using var db = contexts.OpenFor(who.FirmId);
        var all = ClientJson.Read(db.Model, zip.Rows);
        if (all[0].Rows.Count != 1)
        {
            throw new HandoverRefusedException("client.json is damaged: expected one client.");
        }

        var now = time.UtcNow();
        var accounts = (await db.Users.Where(user => user.FirmId == who.FirmId).Select(user => user.Id).ToListAsync(cancellation)).ToHashSet();
        Dictionary<Guid, (Type Type, Guid New)> ids = [];
        foreach (var (kind, type, rows) in all)
        {
            foreach (var (row, _) in rows)
            {
                if (!ids.TryAdd(row.Id, (type, Guid.CreateVersion7(time.GetUtcNow()))))
                {
                    throw new HandoverRefusedException($"client.json is damaged at {kind}: an id stands twice.");
                }
            }
        }

        foreach (var (kind, type, rows) in all)
        {
            var shape = db.Model.FindEntityType(type)!;
            for (var i = 0; i < rows.Count; i++)
            {
                cancellation.ThrowIfCancellationRequested();
                var (row, file) = rows[i];
                var where = FormattableString.Invariant($"{kind} {i + 1}");
                Renumber(shape, row, ids, accounts, who, where);
                await Fill(row, file, zip, checks, now, where, cancellation);
                db.Add(row);
            }
        }

        var clientId = all[0].Rows[0].Row.Id;
        db.Note(who, "client.imported", "client", clientId, now);
        await Saving.RefusedAs(
            e => new HandoverRefusedException("client.json is damaged: it holds rows that cannot stand beside each other, for example two options of one letter. Nothing was taken.", e),
            () => db.SaveChangesAsync(cancellation));

        return clientId;
    }

    private static void Renumber(IEntityType shape, FirmRow row, Dictionary<Guid, (Type Type, Guid New)> ids, HashSet<Guid> accounts, SignedIn who, string where)
    {
        var references = shape.GetForeignKeys().Where(key => key.PrincipalEntityType.ClrType != typeof(Firm)).ToDictionary(key => key.Properties[0], key => key.PrincipalEntityType.ClrType);
        foreach (var property in shape.GetProperties().Where(ClientJson.IsCarried))
        {
            if (property.PropertyInfo!.GetValue(row) is not Guid id)
            {
                continue;
            }

            if (property.IsPrimaryKey())
            {
                property.PropertyInfo.SetValue(row, ids[id].New);
            }
            else if (references.TryGetValue(property, out var parent))
            {
                property.PropertyInfo.SetValue(row, ids.TryGetValue(id, out var known) && known.Type == parent
                    ? known.New
                    : throw new HandoverRefusedException($"client.json is damaged at {where}: what it belongs to is not in the file."));
            }
            else if (ClientJson.IsAccount(property))
            {
                // Who did it has an account on the other desk, not here.
                property.PropertyInfo.SetValue(row, accounts.Contains(id) ? id : who.UserId);
            }
            else
            {
                // An option may have been copied from one that is there no more.
                property.PropertyInfo.SetValue(row, ids.TryGetValue(id, out var other) ? other.New : null);
            }
        }
    }

    private static async Task Fill(FirmRow row, string? file, HandoverZip zip, HandoverChecks checks, DateTime now, string where, CancellationToken cancellation)
    {
        HandoverRefusedException Wrong(string what, Exception? inner = null) => new($"The file is damaged at {where}: {what}", inner);
        byte[] File() => file is not null && zip.Files.TryGetValue(file, out var found) ? found : throw Wrong("its photo or weather file is not in the zip.");
        async Task<EncodedAgain> Picture() => await checks.Photo(File(), cancellation) ?? throw Wrong("its picture cannot be read.");
        try
        {
            switch (row)
            {
                case Client client:
                    client.SearchName = SearchText.Of(client.Name);
                    if (client.Name.Trim().Length == 0 || (client.Email is { } email && !EmailAddress.LooksRight(email)) || (client.Country is { } country && !country.All(char.IsAsciiLetterUpper)))
                    {
                        throw Wrong("name, e-mail address or country is none.");
                    }

                    break;
                case VanOption option:
                    option.DesignFormat = FormatOf(option.DesignText, option.DesignFormat);
                    break;
                case OptionRevision revision:
                    revision.DesignFormat = FormatOf(revision.DesignText, revision.DesignFormat);
                    break;
                case ChosenOption chosen:
                    chosen.DesignFormat = FormatOf(chosen.DesignText, chosen.DesignFormat);
                    break;
                case VanWishes wishes:
                    WishesJson.Read(wishes.WishesText);
                    break;
                case Consult consult when consult.Minutes is < ConsultBook.ShortestMinutes or > ConsultBook.LongestMinutes || ConsultBook.Zone(consult.TimeZone) is null:
                    throw Wrong("its length or time zone is none this desk knows.");
                case Intake intake:
                    IntakeAnswers.Read(intake.AnswersText);
                    // The old link was not handed over, and nobody has this one.
                    intake.TokenSha256 = LinkToken.Hash(LinkToken.New());
                    intake.RevokedAt ??= now;
                    break;
                case IntakePhoto photo:
                    (photo.Jpeg, photo.Width, photo.Height) = await Picture() is var picture ? (picture.Jpeg, picture.Width, picture.Height) : default;
                    break;
                case InstallationPhoto photo:
                    (photo.Jpeg, photo.Width, photo.Height) = await Picture() is var shown ? (shown.Jpeg, shown.Width, shown.Height) : default;
                    break;
                case WeatherFile weather:
                    weather.Hours = File();
                    var hours = StoredHours.Unpack(weather.Hours);
                    StoredHours.Read(hours);
                    if (StoredHours.Sha256(hours) != weather.Sha256)
                    {
                        throw Wrong("its weather is not what was saved: the hash differs.");
                    }

                    break;
                case Plan plan:
                    if (!CryptographicOperations.FixedTimeEquals(Encoding.ASCII.GetBytes(Plans.Sha256(plan.SnapshotText)), Encoding.UTF8.GetBytes(plan.SnapshotSha256)))
                    {
                        throw Wrong("the plan is not what was published: the hash differs.");
                    }

                    if (!Plans.IsAsPublished(plan.TonightText, plan.TonightSha256))
                    {
                        throw Wrong("tonight's settings are not what was published: the hash differs.");
                    }

                    if ((checks.PlanProblem(plan.SnapshotText) ?? (plan.TonightText is { } tonight ? checks.TonightProblem(tonight) : null)) is { } problem)
                    {
                        throw Wrong(problem);
                    }

                    break;
                case CheckBack report:
                    if (report.Format > CheckBackAnswers.CurrentFormat)
                    {
                        throw new HandoverRefusedException($"The file was saved by a newer ConsultDesk: its {where} has format {report.Format}, this desk reads up to {CheckBackAnswers.CurrentFormat}. Bring this desk up to date first.");
                    }

                    var answered = new FieldChecks();
                    CheckBacks.Check(CheckBackAnswers.Read(report.AnswersText), answered);
                    answered.ThrowIfAny();
                    break;
            }
        }
        catch (NewerDesignFormatException newer)
        {
            throw new HandoverRefusedException("The file was saved by a newer ConsultDesk: it holds a van this desk cannot read. Bring this desk up to date first.", newer);
        }
        catch (Exception damaged) when (damaged is DesignTextException or WishesTextException or IntakeTextException or InvalidDataException or FormatException or JsonException)
        {
            throw Wrong("its text cannot be read.", damaged);
        }
        catch (InvalidInputException refused)
        {
            throw Wrong(string.Join(' ', refused.Errors.Select(error => $"{error.Field}: {error.Message}")), refused);
        }

        static int FormatOf(string text, int format)
        {
            DesignJson.Read(text);
            return format;
        }
    }

    private async Task<byte[]?> BytesOf(SignedIn who, FirmRow row, CancellationToken cancellation)
    {
        await using var db = contexts.OpenFor(who.FirmId);
        return await ClientRows.Bytes(db, row, cancellation);
    }
}
