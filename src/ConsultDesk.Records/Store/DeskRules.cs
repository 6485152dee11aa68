using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Diagnostics;

namespace ConsultDesk.Records;

/// <summary>
/// What holds for every save, whichever command makes it: rows are written only by the firm they belong to,
/// history is never rewritten, and every changed row gets a new version.
/// </summary>
internal sealed class DeskRules : SaveChangesInterceptor
{
    public static readonly DeskRules Instance = new();

    public override InterceptionResult<int> SavingChanges(DbContextEventData eventData, InterceptionResult<int> result)
    {
        Apply(eventData.Context);
        return result;
    }

    public override ValueTask<InterceptionResult<int>> SavingChangesAsync(
        DbContextEventData eventData, InterceptionResult<int> result, CancellationToken cancellationToken = default)
    {
        Apply(eventData.Context);
        return ValueTask.FromResult(result);
    }

    private static void Apply(DbContext? context)
    {
        if (context is not DeskContext desk)
        {
            return;
        }

        foreach (var entry in desk.ChangeTracker.Entries())
        {
            if (entry.State is not (EntityState.Added or EntityState.Modified or EntityState.Deleted))
            {
                continue;
            }

            if (entry.Entity is FirmRow row)
            {
                if (entry.State == EntityState.Added && row.FirmId == Guid.Empty)
                {
                    row.FirmId = desk.FirmId;
                }

                // The value read from the store counts too, so that a row cannot be moved to another firm.
                var stored = (Guid)entry.Property(nameof(FirmRow.FirmId)).OriginalValue!;
                if (desk.FirmId == Guid.Empty || row.FirmId != desk.FirmId || (entry.State != EntityState.Added && stored != desk.FirmId))
                {
                    throw new InvalidOperationException(
                        $"A {entry.Metadata.ClrType.Name} of firm {row.FirmId} cannot be written by a context opened for firm {desk.FirmId}.");
                }
            }

            var appendOnly = entry.Entity is Plan or OptionRevision or AuditRow or PastPrices or ErasureReceipt;
            var erased = desk.Erasing && entry.State == EntityState.Deleted && entry.Entity is not (AuditRow or ErasureReceipt);
            if (appendOnly && entry.State != EntityState.Added && !erased)
            {
                throw new InvalidOperationException($"A {entry.Metadata.ClrType.Name} is written once and never changed.");
            }

            if (entry.Entity is IVersioned versioned && entry.State != EntityState.Deleted)
            {
                versioned.Version = Guid.NewGuid();
            }
        }
    }
}
