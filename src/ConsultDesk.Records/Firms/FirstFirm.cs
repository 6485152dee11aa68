using System.Data;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;

namespace ConsultDesk.Records;

/// <summary>What is entered about the owner's account.</summary>
public sealed record OwnerInput(string? OwnerName, string? Email, string? Password);

/// <summary>There is a firm already: the first start is over.</summary>
public sealed class FirmExistsException(Exception? inner = null) : Exception("This desk has its firm already.", inner);

/// <summary>
/// Founds the first firm of a database together with its owner's account: both or neither, and never a second one.
/// Scoped, because it shares the context of Identity's user store.
/// </summary>
public sealed class FirstFirm(DeskContext db, UserManager<DeskUser> users, TimeProvider time)
{
    /// <summary>All that is wrong with what was entered; empty when it can be founded.</summary>
    public async Task<IReadOnlyList<FieldError>> Problems(FirmInput input, OwnerInput owner) => (await Read(input, owner)).Check.Errors;

    /// <summary>Founds the firm and makes the account.</summary>
    /// <returns>The owner.</returns>
    /// <exception cref="InvalidInputException">Fields are wrong; all of them are named.</exception>
    /// <exception cref="FirmExistsException">There is a firm, perhaps founded at this very moment.</exception>
    public async Task<DeskUser> Found(FirmInput input, OwnerInput owner, CancellationToken cancellation = default)
    {
        var (firm, user, check) = await Read(input, owner);
        check.ThrowIfAny();
        try
        {
            // On SQLite this takes the write lock at once; PostgreSQL refuses the second of two that read "no firm".
            await using var transaction = await db.Database.BeginTransactionAsync(IsolationLevel.Serializable, cancellation);
            if (await db.Firms.IgnoreQueryFilters([DeskContext.FirmFilter]).AnyAsync(cancellation))
            {
                throw new FirmExistsException();
            }

            db.FirmId = firm.Id;
            db.Firms.Add(firm);
            db.Note(null, "firm.founded", "firm", firm.Id, time.UtcNow());
            var made = await users.CreateAsync(user, owner.Password!);
            if (!made.Succeeded)
            {
                throw new InvalidOperationException("The account was refused: " + string.Join(" ", made.Errors.Select(e => e.Code)));
            }

            await transaction.CommitAsync(cancellation);
            return user;
        }
        catch (Exception e) when (Saving.WasSlower(e))
        {
            throw new FirmExistsException(e);
        }
    }

    private async Task<(Firm Firm, DeskUser User, FieldChecks Check)> Read(FirmInput input, OwnerInput owner)
    {
        ArgumentNullException.ThrowIfNull(owner);
        var firm = new Firm { Id = Guid.CreateVersion7(time.GetUtcNow()), Name = "", BrandColour = "", ContactLine = "", Currency = "", Units = default };
        var check = new FieldChecks();
        var user = new DeskUser
        {
            FirmId = firm.Id,
            DisplayName = check.Text(nameof(owner.OwnerName), owner.OwnerName, TextLimits.Name),
            Email = check.Text(nameof(owner.Email), owner.Email, TextLimits.Email),
            Role = DeskRole.Owner,
        };
        user.UserName = user.Email;
        Firms.Take(firm, input, check);
        foreach (var problem in await AccountRules.Refusals(users, user, owner.Password ?? ""))
        {
            check.That(false, problem.Field, problem.Message);
        }

        return (firm, user, check);
    }
}
