using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>Rows of one kind.</summary>
internal sealed record KindRows(string Kind, Type Type, IReadOnlyList<FirmRow> Rows);

/// <summary>Everything that is kept of one client, parents before children. What is handed over and what is erased is this list.</summary>
internal static class ClientRows
{
    /// <summary>The kinds, parents before children. A test holds them against the tables that lead to a client.</summary>
    public static readonly IReadOnlyList<(string Kind, Type Type)> Kinds =
    [
        ("client", typeof(Client)), ("vans", typeof(Van)), ("wishes", typeof(VanWishes)), ("weatherFiles", typeof(WeatherFile)), ("options", typeof(VanOption)),
        ("chosenOptions", typeof(ChosenOption)), ("optionRevisions", typeof(OptionRevision)), ("searches", typeof(OptionSearch)), ("consults", typeof(Consult)), ("decisions", typeof(Decision)),
        ("declinedAdvice", typeof(DeclinedAdvice)), ("followUps", typeof(FollowUp)), ("intakes", typeof(Intake)), ("intakePhotos", typeof(IntakePhoto)),
        ("plans", typeof(Plan)), ("planLinks", typeof(PlanLink)), ("planReplies", typeof(PlanReply)), ("installations", typeof(Installation)),
        ("installationPhotos", typeof(InstallationPhoto)), ("checkBacks", typeof(CheckBack)),
    ];

    /// <summary>True for what is handed over: not the links to plans, which are this desk's, nor searches, which can be worked out again.</summary>
    public static bool IsHandedOver(Type kind) => kind != typeof(PlanLink) && kind != typeof(OptionSearch);

    /// <summary>The rows of a client, untracked; photos and hours of weather without their bytes, which are read one at a time, searches without what they found.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such client.</exception>
    public static async Task<IReadOnlyList<KindRows>> Load(DeskContext db, Guid clientId, CancellationToken cancellation)
    {
        var client = await db.Clients.AsNoTracking().SingleOrDefaultAsync(c => c.Id == clientId, cancellation) ?? throw new RecordNotFoundException("client", clientId);
        List<KindRows> all = [new("client", typeof(Client), [client])];
        async Task<List<Guid>> Add<T>(string kind, IQueryable<T> rows)
            where T : FirmRow
        {
            var found = await rows.AsNoTracking().OrderBy(row => row.Id).ToListAsync(cancellation);
            all.Add(new(kind, typeof(T), found));
            return [.. found.Select(row => row.Id)];
        }

        var vans = await Add("vans", db.Vans.Where(v => v.ClientId == clientId));
        await Add("wishes", db.Wishes.Where(w => vans.Contains(w.VanId)));
        await Add("weatherFiles", db.WeatherFiles.Where(w => vans.Contains(w.VanId)).Select(w => new WeatherFile
        { Id = w.Id, FirmId = w.FirmId, VanId = w.VanId, Sha256 = w.Sha256, FileName = w.FileName, AddedAt = w.AddedAt, Hours = Array.Empty<byte>() }));
        var options = await Add("options", db.Options.Where(o => vans.Contains(o.VanId)));
        await Add("chosenOptions", db.ChosenOptions.Where(c => vans.Contains(c.VanId)));
        await Add("optionRevisions", db.OptionRevisions.Where(r => options.Contains(r.OptionId)));
        await Add("searches", db.Searches.Where(s => vans.Contains(s.VanId)).Select(s => new OptionSearch
        { Id = s.Id, FirmId = s.FirmId, VanId = s.VanId, OptionId = s.OptionId, Fingerprint = s.Fingerprint, Found = Array.Empty<byte>() }));
        await Add("consults", db.Consults.Where(c => vans.Contains(c.VanId)));
        await Add("decisions", db.Decisions.Where(d => vans.Contains(d.VanId)));
        await Add("declinedAdvice", db.DeclinedAdvice.Where(a => vans.Contains(a.VanId)));
        await Add("followUps", db.FollowUps.Where(f => vans.Contains(f.VanId)));
        var intakes = await Add("intakes", db.Intakes.Where(i => vans.Contains(i.VanId)));
        await Add("intakePhotos", db.IntakePhotos.Where(p => intakes.Contains(p.IntakeId)).Select(p => new IntakePhoto
        { Id = p.Id, FirmId = p.FirmId, IntakeId = p.IntakeId, Subject = p.Subject, Width = p.Width, Height = p.Height, AddedAt = p.AddedAt, Jpeg = Array.Empty<byte>() }));
        var plans = await Add("plans", db.Plans.Where(p => vans.Contains(p.VanId)));
        await Add("planLinks", db.PlanLinks.Where(l => plans.Contains(l.PlanId)));
        await Add("planReplies", db.PlanReplies.Where(r => plans.Contains(r.PlanId)));
        var installations = await Add("installations", db.Installations.Where(i => vans.Contains(i.VanId)));
        await Add("installationPhotos", db.InstallationPhotos.Where(p => installations.Contains(p.InstallationId)).Select(p => new InstallationPhoto
        { Id = p.Id, FirmId = p.FirmId, InstallationId = p.InstallationId, Width = p.Width, Height = p.Height, AddedAt = p.AddedAt, Jpeg = Array.Empty<byte>() }));
        await Add("checkBacks", db.CheckBacks.Where(c => vans.Contains(c.VanId)));
        return all;
    }

    /// <summary>The bytes of a photo or of a weather file.</summary>
    public static async Task<byte[]?> Bytes(DeskContext db, FirmRow row, CancellationToken cancellation) => row switch
    {
        IntakePhoto => await db.IntakePhotos.Where(p => p.Id == row.Id).Select(p => p.Jpeg).SingleOrDefaultAsync(cancellation),
        InstallationPhoto => await db.InstallationPhotos.Where(p => p.Id == row.Id).Select(p => p.Jpeg).SingleOrDefaultAsync(cancellation),
        WeatherFile => await db.WeatherFiles.Where(w => w.Id == row.Id).Select(w => w.Hours).SingleOrDefaultAsync(cancellation),
        _ => null,
    };
}
