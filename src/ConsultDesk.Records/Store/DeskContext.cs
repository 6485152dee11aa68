using Microsoft.AspNetCore.DataProtection.EntityFrameworkCore;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Identity.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;

namespace ConsultDesk.Records;

/// <summary>
/// The database. Opened for one firm by <see cref="FirmContexts.OpenFor"/> it sees and writes only that firm's
/// rows; opened for nobody it sees none of them. Users are the exception: sign-in happens before the firm is known.
/// </summary>
public sealed class DeskContext(DbContextOptions<DeskContext> options)
    : IdentityDbContext<DeskUser, IdentityRole<Guid>, Guid>(options), IDataProtectionKeyContext
{
    /// <summary>Name of the query filter that keeps firms apart.</summary>
    public const string FirmFilter = "Firm";

    /// <summary>The firm this context was opened for; empty for nobody.</summary>
    public Guid FirmId { get; internal set; }

    /// <summary>Set while a client is erased: the one case in which plans and history go.</summary>
    internal bool Erasing { get; set; }

    public DbSet<Firm> Firms => Set<Firm>();

    public DbSet<Client> Clients => Set<Client>();

    public DbSet<Van> Vans => Set<Van>();

    public DbSet<VanOption> Options => Set<VanOption>();

    public DbSet<ChosenOption> ChosenOptions => Set<ChosenOption>();

    public DbSet<OptionRevision> OptionRevisions => Set<OptionRevision>();

    public DbSet<OptionSearch> Searches => Set<OptionSearch>();

    public DbSet<Plan> Plans => Set<Plan>();

    public DbSet<PlanLink> PlanLinks => Set<PlanLink>();

    public DbSet<PlanReply> PlanReplies => Set<PlanReply>();

    public DbSet<Consult> Consults => Set<Consult>();

    public DbSet<Decision> Decisions => Set<Decision>();

    public DbSet<DeclinedAdvice> DeclinedAdvice => Set<DeclinedAdvice>();

    public DbSet<FollowUp> FollowUps => Set<FollowUp>();

    public DbSet<VanWishes> Wishes => Set<VanWishes>();

    public DbSet<FirmPriceBook> PriceBooks => Set<FirmPriceBook>();

    public DbSet<FirmLogo> Logos => Set<FirmLogo>();

    public DbSet<Intake> Intakes => Set<Intake>();

    public DbSet<IntakePhoto> IntakePhotos => Set<IntakePhoto>();

    public DbSet<WeatherFile> WeatherFiles => Set<WeatherFile>();

    public DbSet<AgendaTemplate> AgendaTemplates => Set<AgendaTemplate>();

    public DbSet<OwnSituation> OwnSituations => Set<OwnSituation>();

    public DbSet<PastPrices> PastPrices => Set<PastPrices>();

    public DbSet<Installation> Installations => Set<Installation>();

    public DbSet<InstallationPhoto> InstallationPhotos => Set<InstallationPhoto>();

    public DbSet<CheckBack> CheckBacks => Set<CheckBack>();

    public DbSet<ErasureReceipt> ErasureReceipts => Set<ErasureReceipt>();

    public DbSet<FirmInvitation> Invitations => Set<FirmInvitation>();

    public DbSet<AuditRow> Audit => Set<AuditRow>();

    /// <summary>Keys that sign cookies; they belong to the server, not to a firm.</summary>
    public DbSet<DataProtectionKey> DataProtectionKeys => Set<DataProtectionKey>();

    protected override void OnConfiguring(DbContextOptionsBuilder optionsBuilder) =>
        optionsBuilder.AddInterceptors(DeskRules.Instance);

    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder)
    {
        base.ConfigureConventions(configurationBuilder);
        configurationBuilder.Properties<DateTime>().HaveConversion<UtcTime>();
    }

    protected override void OnModelCreating(ModelBuilder builder)
    {
        base.OnModelCreating(builder);

        builder.Entity<DeskUser>(user =>
        {
            user.Property(u => u.DisplayName).HasMaxLength(TextLimits.Name);
            user.Property(u => u.Units).HasConversion<string>().HasMaxLength(20);
            user.Property(u => u.UnitChoices).HasMaxLength(TextLimits.Line).HasDefaultValue("");
            user.Property(u => u.Role).HasConversion<string>().HasMaxLength(20);
            user.HasOne<Firm>().WithMany().HasForeignKey(u => u.FirmId).OnDelete(DeleteBehavior.Restrict);
        });

        builder.Entity<Firm>(firm =>
        {
            firm.Property(f => f.Name).HasMaxLength(TextLimits.Name);
            firm.Property(f => f.BrandColour).HasMaxLength(7);
            firm.Property(f => f.ContactLine).HasMaxLength(TextLimits.Line);
            firm.Property(f => f.Currency).HasMaxLength(3);
            firm.Property(f => f.Units).HasConversion<string>().HasMaxLength(20);
            firm.Property(f => f.UnitChoices).HasMaxLength(TextLimits.Line).HasDefaultValue("");
            firm.Property(f => f.Paper).HasConversion<string>().HasMaxLength(20).HasDefaultValue(PaperSize.A4);
            firm.Property(f => f.Email).HasMaxLength(TextLimits.Email).HasDefaultValue("");
            firm.Property(f => f.Terms).HasMaxLength(TextLimits.Notes).HasDefaultValue("");
            firm.Property(f => f.TaxName).HasMaxLength(TextLimits.Key).HasDefaultValue("");
            // The class starts with true, and false is a value: without the sentinel false would be stored as the default.
            firm.Property(f => f.PricesIncludeTax).HasDefaultValue(true).HasSentinel(true);
            firm.Property(f => f.Version).IsConcurrencyToken();
            firm.HasQueryFilter(FirmFilter, f => f.Id == FirmId);
        });

        builder.Entity<Client>(client =>
        {
            client.Property(c => c.Name).HasMaxLength(TextLimits.Name);
            client.Property(c => c.SearchName).HasMaxLength(TextLimits.Name * 2);
            client.Property(c => c.Email).HasMaxLength(TextLimits.Email);
            client.Property(c => c.Country).HasMaxLength(2);
            client.Property(c => c.Units).HasConversion<string>().HasMaxLength(20);
            client.Property(c => c.UnitChoices).HasMaxLength(TextLimits.Line).HasDefaultValue("");
            client.Property(c => c.Notes).HasMaxLength(TextLimits.Notes);
            client.HasIndex(c => new { c.FirmId, c.SearchName });
        });

        builder.Entity<Van>(van =>
        {
            van.Property(v => v.Name).HasMaxLength(TextLimits.Name);
            van.Property(v => v.BodyClass).HasMaxLength(TextLimits.Key);
            van.Property(v => v.Layout).HasMaxLength(TextLimits.Key);
            van.HasOne<Client>().WithMany().HasForeignKey(v => v.ClientId).OnDelete(DeleteBehavior.Restrict);
            // Every question asks for a firm and a client; of two indexes SQLite would take the firm's.
            van.HasIndex(v => new { v.FirmId, v.ClientId });
        });

        builder.Entity<VanOption>(option =>
        {
            option.Property(o => o.Letter).HasMaxLength(4);
            option.Property(o => o.Name).HasMaxLength(TextLimits.Name);
            option.Property(o => o.Reason).HasMaxLength(TextLimits.Line).HasDefaultValue("");
            option.Property(o => o.MethodVersion).HasMaxLength(TextLimits.Key);
            option.HasOne<Van>().WithMany().HasForeignKey(o => o.VanId).OnDelete(DeleteBehavior.Restrict);
            option.HasIndex(o => new { o.VanId, o.Letter }).IsUnique();
            // For the desk's lists: without them each row is read with its whole design.
            option.HasIndex(o => new { o.FirmId, o.VanId, o.UpdatedAt });
            option.HasIndex(o => new { o.FirmId, o.UpdatedAt });
        });

        builder.Entity<ChosenOption>(choice =>
        {
            choice.HasOne<Van>().WithMany().HasForeignKey(c => c.VanId).OnDelete(DeleteBehavior.Restrict);
            choice.HasOne<VanOption>().WithMany().HasForeignKey(c => c.OptionId).OnDelete(DeleteBehavior.Restrict);
            choice.HasIndex(c => c.VanId).IsUnique();
        });

        builder.Entity<OptionRevision>(revision =>
        {
            revision.Property(r => r.Label).HasMaxLength(TextLimits.Line);
            revision.HasOne<VanOption>().WithMany().HasForeignKey(r => r.OptionId).OnDelete(DeleteBehavior.Restrict);
            revision.HasIndex(r => new { r.OptionId, r.SavedAt });
        });

        builder.Entity<OptionSearch>(search =>
        {
            search.Property(s => s.State).HasConversion<string>().HasMaxLength(20);
            search.Property(s => s.Fingerprint).HasMaxLength(64);
            search.HasOne<Van>().WithMany().HasForeignKey(s => s.VanId).OnDelete(DeleteBehavior.Restrict);
            search.HasOne<VanOption>().WithMany().HasForeignKey(s => s.OptionId).OnDelete(DeleteBehavior.Restrict);
            search.HasIndex(s => s.OptionId).IsUnique();
        });

        builder.Entity<Plan>(plan =>
        {
            plan.Property(p => p.OptionLetter).HasMaxLength(4);
            plan.Property(p => p.OptionName).HasMaxLength(TextLimits.Name);
            plan.Property(p => p.SnapshotSha256).HasMaxLength(64);
            plan.Property(p => p.TonightSha256).HasMaxLength(64);
            plan.Property(p => p.MethodVersion).HasMaxLength(TextLimits.Key);
            plan.HasOne<Van>().WithMany().HasForeignKey(p => p.VanId).OnDelete(DeleteBehavior.Restrict);
            plan.HasOne<VanOption>().WithMany().HasForeignKey(p => p.OptionId).OnDelete(DeleteBehavior.Restrict);
            plan.HasIndex(p => new { p.VanId, p.Number }).IsUnique();
            plan.HasIndex(p => new { p.FirmId, p.VanId, p.PublishedAt });
            plan.HasIndex(p => new { p.FirmId, p.PublishedAt });
        });

        builder.Entity<PlanLink>(link =>
        {
            link.Property(l => l.TokenSha256).HasMaxLength(32);
            link.HasOne<Plan>().WithMany().HasForeignKey(l => l.PlanId).OnDelete(DeleteBehavior.Restrict);
            link.HasIndex(l => l.TokenSha256).IsUnique();
        });

        builder.Entity<PlanReply>(reply =>
        {
            reply.Property(r => r.Kind).HasConversion<string>().HasMaxLength(20);
            reply.Property(r => r.Section).HasMaxLength(TextLimits.Line);
            reply.Property(r => r.Name).HasMaxLength(TextLimits.Name);
            reply.Property(r => r.Text).HasMaxLength(Records.PlanReplies.LongestText);
            reply.Property(r => r.Answer).HasMaxLength(Records.PlanReplies.LongestText);
            reply.HasOne<Plan>().WithMany().HasForeignKey(r => r.PlanId).OnDelete(DeleteBehavior.Restrict);
            reply.HasIndex(r => new { r.FirmId, r.SeenAt });
        });

        builder.Entity<Consult>(consult =>
        {
            consult.Property(c => c.TimeZone).HasMaxLength(TextLimits.Key);
            consult.Property(c => c.PrivateNotes).HasMaxLength(TextLimits.Notes);
            consult.Property(c => c.Agenda).HasMaxLength(TextLimits.Notes).HasDefaultValue("");
            consult.HasOne<Van>().WithMany().HasForeignKey(c => c.VanId).OnDelete(DeleteBehavior.Restrict);
            consult.HasIndex(c => new { c.FirmId, c.StartsAt });
        });

        builder.Entity<Decision>(decision =>
        {
            decision.Property(d => d.Topic).HasConversion<string>().HasMaxLength(40);
            decision.Property(d => d.State).HasConversion<string>().HasMaxLength(20);
            decision.Property(d => d.What).HasMaxLength(TextLimits.Line);
            decision.Property(d => d.Why).HasMaxLength(TextLimits.Line);
            decision.Property(d => d.Who).HasMaxLength(TextLimits.Name);
            decision.HasOne<Van>().WithMany().HasForeignKey(d => d.VanId).OnDelete(DeleteBehavior.Restrict);
            decision.HasIndex(d => new { d.VanId, d.Topic }).IsUnique();
        });

        builder.Entity<DeclinedAdvice>(advice =>
        {
            advice.Property(a => a.FindingCode).HasMaxLength(TextLimits.Key);
            advice.Property(a => a.Advice).HasMaxLength(TextLimits.Line);
            advice.Property(a => a.Why).HasMaxLength(TextLimits.Line);
            advice.Property(a => a.Who).HasMaxLength(TextLimits.Name);
            advice.HasOne<Van>().WithMany().HasForeignKey(a => a.VanId).OnDelete(DeleteBehavior.Restrict);
        });

        builder.Entity<FollowUp>(followUp =>
        {
            followUp.Property(f => f.Text).HasMaxLength(TextLimits.Line);
            followUp.HasOne<Van>().WithMany().HasForeignKey(f => f.VanId).OnDelete(DeleteBehavior.Restrict);
            followUp.HasIndex(f => new { f.FirmId, f.DueOn });
        });

        builder.Entity<VanWishes>(wishes =>
        {
            wishes.HasOne<Van>().WithMany().HasForeignKey(w => w.VanId).OnDelete(DeleteBehavior.Restrict);
            wishes.HasIndex(w => w.VanId).IsUnique();
        });

        builder.Entity<WeatherFile>(file =>
        {
            file.Property(f => f.Sha256).HasMaxLength(64);
            file.Property(f => f.FileName).HasMaxLength(TextLimits.Name);
            file.HasOne<Van>().WithMany().HasForeignKey(f => f.VanId).OnDelete(DeleteBehavior.Restrict);
            file.HasIndex(f => new { f.VanId, f.Sha256 }).IsUnique();
        });

        builder.Entity<FirmPriceBook>(book => book.HasIndex(b => b.FirmId).IsUnique());

        builder.Entity<FirmLogo>(logo => logo.HasIndex(l => l.FirmId).IsUnique());

        builder.Entity<Intake>(intake =>
        {
            intake.Property(i => i.TokenSha256).HasMaxLength(32);
            intake.HasOne<Van>().WithMany().HasForeignKey(i => i.VanId).OnDelete(DeleteBehavior.Restrict);
            intake.HasIndex(i => i.TokenSha256).IsUnique();
            intake.HasIndex(i => new { i.FirmId, i.SubmittedAt });
        });

        builder.Entity<IntakePhoto>(photo =>
        {
            photo.Property(p => p.Subject).HasMaxLength(TextLimits.Key);
            photo.HasOne<Intake>().WithMany().HasForeignKey(p => p.IntakeId).OnDelete(DeleteBehavior.Restrict);
        });

        builder.Entity<AgendaTemplate>(template =>
        {
            template.Property(t => t.Name).HasMaxLength(TextLimits.Name);
            template.Property(t => t.Points).HasMaxLength(TextLimits.Notes);
            template.HasIndex(t => new { t.FirmId, t.Name }).IsUnique();
        });

        builder.Entity<OwnSituation>(situation =>
        {
            situation.Property(s => s.Name).HasMaxLength(TextLimits.Name);
            situation.Property(s => s.Falling).HasConversion<string>().HasMaxLength(20);
            situation.Property(s => s.Activity).HasConversion<string>().HasMaxLength(20);
            situation.HasIndex(s => new { s.FirmId, s.Name }).IsUnique();
        });

        builder.Entity<PastPrices>(past => past.HasIndex(p => new { p.FirmId, p.Until }));

        builder.Entity<Installation>(installation =>
        {
            installation.Property(i => i.What).HasMaxLength(TextLimits.Line);
            installation.Property(i => i.Who).HasMaxLength(TextLimits.Name);
            installation.Property(i => i.Note).HasMaxLength(TextLimits.Notes);
            installation.HasOne<Van>().WithMany().HasForeignKey(i => i.VanId).OnDelete(DeleteBehavior.Restrict);
        });

        builder.Entity<InstallationPhoto>(photo =>
            photo.HasOne<Installation>().WithMany().HasForeignKey(p => p.InstallationId).OnDelete(DeleteBehavior.Restrict));

        builder.Entity<CheckBack>(check =>
        {
            check.Property(c => c.Name).HasMaxLength(TextLimits.Name);
            check.HasOne<Van>().WithMany().HasForeignKey(c => c.VanId).OnDelete(DeleteBehavior.Restrict);
            check.HasOne<Plan>().WithMany().HasForeignKey(c => c.PlanId).OnDelete(DeleteBehavior.Restrict);
            check.HasIndex(c => new { c.FirmId, c.SeenAt });
        });

        builder.Entity<ErasureReceipt>(receipt => receipt.HasIndex(r => new { r.FirmId, r.At }));

        builder.Entity<FirmInvitation>(invitation =>
        {
            invitation.Property(i => i.TokenSha256).HasMaxLength(32);
            invitation.Property(i => i.Role).HasConversion<string>().HasMaxLength(20);
            invitation.Property(i => i.ForWhom).HasMaxLength(TextLimits.Name);
            invitation.HasIndex(i => i.TokenSha256).IsUnique();
        });

        builder.Entity<AuditRow>(row =>
        {
            row.Property(r => r.Action).HasMaxLength(TextLimits.Key);
            row.Property(r => r.EntityKind).HasMaxLength(TextLimits.Key);
            row.HasIndex(r => new { r.FirmId, r.At });
            row.HasIndex(r => r.EntityId);
        });

        OfOneFirm<Client>(builder);
        OfOneFirm<Van>(builder);
        OfOneFirm<VanOption>(builder);
        OfOneFirm<ChosenOption>(builder);
        OfOneFirm<OptionRevision>(builder);
        OfOneFirm<OptionSearch>(builder);
        OfOneFirm<Plan>(builder);
        OfOneFirm<PlanLink>(builder);
        OfOneFirm<PlanReply>(builder);
        OfOneFirm<Consult>(builder);
        OfOneFirm<Decision>(builder);
        OfOneFirm<DeclinedAdvice>(builder);
        OfOneFirm<FollowUp>(builder);
        OfOneFirm<VanWishes>(builder);
        OfOneFirm<FirmPriceBook>(builder);
        OfOneFirm<FirmLogo>(builder);
        OfOneFirm<Intake>(builder);
        OfOneFirm<IntakePhoto>(builder);
        OfOneFirm<WeatherFile>(builder);
        OfOneFirm<AgendaTemplate>(builder);
        OfOneFirm<OwnSituation>(builder);
        OfOneFirm<PastPrices>(builder);
        OfOneFirm<Installation>(builder);
        OfOneFirm<InstallationPhoto>(builder);
        OfOneFirm<CheckBack>(builder);
        OfOneFirm<ErasureReceipt>(builder);
        OfOneFirm<FirmInvitation>(builder);
        OfOneFirm<AuditRow>(builder);
    }

    private void OfOneFirm<T>(ModelBuilder builder)
        where T : FirmRow
    {
        var entity = builder.Entity<T>();
        entity.HasQueryFilter(FirmFilter, row => row.FirmId == FirmId);
        entity.HasOne<Firm>().WithMany().HasForeignKey(row => row.FirmId).OnDelete(DeleteBehavior.Restrict);
        if (typeof(IVersioned).IsAssignableFrom(typeof(T)))
        {
            entity.Property(nameof(IVersioned.Version)).IsConcurrencyToken();
        }
    }

    /// <summary>PostgreSQL demands UTC and SQLite forgets the kind: all times are UTC, going in and coming out.</summary>
    private sealed class UtcTime() : ValueConverter<DateTime, DateTime>(
        time => MustBeUtc(time), time => DateTime.SpecifyKind(time, DateTimeKind.Utc))
    {
        private static DateTime MustBeUtc(DateTime time) => time.Kind == DateTimeKind.Utc
            ? time
            : throw new ArgumentException($"Expected a time in UTC, got {time:O} of kind {time.Kind}.");
    }
}
