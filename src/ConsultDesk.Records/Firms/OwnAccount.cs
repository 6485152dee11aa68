namespace ConsultDesk.Records;

/// <summary>What an account changes about itself.</summary>
public sealed class OwnAccount(DeskContext db, TimeProvider time)
{
    /// <summary>Changes an account and keeps the act's line in the audit, both or neither.</summary>
    /// <param name="user">The account.</param>
    /// <param name="act">What it does.</param>
    /// <param name="change">Does it, by Identity's stores of the same scope; throws when it is refused.</param>
    /// <param name="cancellation">Stops before it is kept.</param>
    public async Task Change(DeskUser user, AccountAct act, Func<Task> change, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(user);
        ArgumentNullException.ThrowIfNull(change);
        // Identity saves as often as it likes: only the transaction makes one act of it.
        await using var transaction = await db.Database.BeginTransactionAsync(cancellation);
        await change();
        db.FirmId = user.FirmId;
        db.Note(new(user.FirmId, user.Id, user.DisplayName, user.Role), AuditTrail.ActionOf(act), "user", user.Id, time.UtcNow());
        await db.SaveChangesAsync(cancellation);
        await transaction.CommitAsync(cancellation);
    }
}
