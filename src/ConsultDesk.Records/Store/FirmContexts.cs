using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>Opens contexts for one firm. Each question or act opens its own, short-lived.</summary>
public sealed class FirmContexts(IDbContextFactory<DeskContext> contexts)
{
    /// <summary>A context that sees and writes only the rows of this firm. The caller disposes it.</summary>
    /// <exception cref="ArgumentException">The id is empty.</exception>
    public DeskContext OpenFor(Guid firmId)
    {
        if (firmId == Guid.Empty)
        {
            throw new ArgumentException("Expected the id of a firm.", nameof(firmId));
        }

        var db = contexts.CreateDbContext();
        db.FirmId = firmId;
        return db;
    }

    /// <summary>A context that sees no firm's rows. For the questions asked before the firm is known.</summary>
    internal DeskContext OpenForNobody() => contexts.CreateDbContext();
}
