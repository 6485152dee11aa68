using System.Data.Common;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

internal static class Saving
{
    /// <summary>Saves, but only over the version the caller had loaded.</summary>
    /// <exception cref="RecordChangedException">The row has another version, or is gone.</exception>
    public static async Task SaveOver(
        this DeskContext db, IVersioned row, Guid loadedVersion, string kind, Guid id, CancellationToken cancellation)
    {
        db.Entry(row).Property(nameof(IVersioned.Version)).OriginalValue = loadedVersion;
        try
        {
            await db.SaveChangesAsync(cancellation);
        }
        catch (DbUpdateConcurrencyException e)
        {
            throw new RecordChangedException(kind, id, e);
        }
    }

    /// <summary>Saves what the store refuses to the second of two who were at it together: the first row of its kind, an erasure.</summary>
    /// <exception cref="RecordChangedException">Somebody else was faster.</exception>
    public static Task SaveUnlessSlower(this DeskContext db, string kind, Guid id, CancellationToken cancellation) =>
        RefusedAs(e => new RecordChangedException(kind, id, e), () => db.SaveChangesAsync(cancellation));

    /// <summary>
    /// Saves, or throws what the caller makes of the store's refusal: of a row that another one excludes, or that is gone. That the store cannot
    /// work at all leaves as it is.
    /// </summary>
    public static async Task RefusedAs(Func<DbUpdateException, Exception> refused, Func<Task> save)
    {
        try
        {
            await save();
        }
        catch (DbUpdateException e) when (StoreFault.Of(e) is null)
        {
            throw refused(e);
        }
    }

    /// <exception cref="RecordNotFoundException">The firm has no such van.</exception>
    public static async Task MustHaveVan(this DeskContext db, Guid vanId, CancellationToken cancellation)
    {
        if (!await db.Vans.AnyAsync(v => v.Id == vanId, cancellation))
        {
            throw new RecordNotFoundException("van", vanId);
        }
    }

    /// <summary>True when the store refused one of two transactions that were at it together: 40001 is "serialization failure" of the SQL standard.</summary>
    public static bool WasSlower(Exception? e) => e is not null && (e is DbException { SqlState: "40001" } || WasSlower(e.InnerException));

    /// <summary>
    /// Repeats an act that takes the next letter or number of a van, when somebody else took it in between, or that
    /// closes or opens an option somebody else just saved: the store refuses the second writer, and the next try sees
    /// what the first one wrote.
    /// </summary>
    public static async Task<T> TakingTheNext<T>(Func<Task<T>> act)
    {
        const int Tries = 5;
        for (var attempt = 1; ; attempt++)
        {
            try
            {
                return await act();
            }
            catch (DbUpdateException e) when (attempt < Tries && StoreFault.Of(e) is null)
            {
                // Any other fault than the taken letter repeats itself and leaves on the last try. A store that cannot write is
                // said at once: five waits for somebody's lock would be half a minute.
            }
        }
    }
}
