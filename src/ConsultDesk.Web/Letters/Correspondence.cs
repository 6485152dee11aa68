using ConsultDesk.Records;

namespace ConsultDesk.Web.Letters;

/// <summary>Whom a letter goes to, and on whose behalf.</summary>
/// <param name="ClientId">The client.</param>
/// <param name="ClientName">Their name.</param>
/// <param name="Address">Their e-mail address; null when none is kept.</param>
/// <param name="FirmName">The firm that writes.</param>
/// <param name="ContactLine">Its line of contact; may be empty.</param>
/// <param name="AnswerAddress">Where answers go; empty for none.</param>
public sealed record Addressee(Guid ClientId, string ClientName, string? Address, string FirmName, string ContactLine, string AnswerAddress);

/// <summary>What a letter is about, for the record that it was sent.</summary>
/// <param name="Kind">Kind of the row: intake, plan, consult or plan-reply.</param>
/// <param name="Id">Its id.</param>
internal readonly record struct LetterSubject(string Kind, Guid Id);

/// <summary>Letters to clients: who they go to, sending them, and the record that they went.</summary>
internal sealed class Correspondence(VanBook vans, ClientBook clients, Firms firms, AuditTrail audit, MailServer? server = null)
{
    /// <summary>True when a mail server is set up.</summary>
    public bool CanSend => server is not null;

    /// <summary>Whom a letter about a van goes to.</summary>
    /// <exception cref="RecordNotFoundException">The firm has no such van.</exception>
    public async Task<Addressee> AddresseeOf(SignedIn who, Guid vanId, CancellationToken cancellation = default)
    {
        var van = await vans.Van(who, vanId, cancellation) ?? throw new RecordNotFoundException("van", vanId);
        var client = await clients.Client(who, van.ClientId, cancellation) ?? throw new RecordNotFoundException("client", van.ClientId);
        var firm = await firms.Mine(who, cancellation);
        return new(client.Id, client.Name, client.Email, firm.Name, firm.ContactLine, firm.Email);
    }

    /// <summary>Sends a letter to the client of a van, and keeps that it went: who, when and about what, never to where or what it said.</summary>
    /// <exception cref="InvalidInputException">A field is wrong; nothing was sent.</exception>
    /// <exception cref="RecordNotFoundException">The firm has no such van.</exception>
    /// <exception cref="MailFailedException">It was not sent.</exception>
    public async Task SendAsync(SignedIn who, Guid vanId, string shownAddress, Letter letter, LetterSubject about, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(letter);
        if (letter.Problems() is { Count: > 0 } problems)
        {
            throw new InvalidInputException(problems);
        }

        var to = await AddresseeOf(who, vanId, cancellation);
        if (to.Address != shownAddress)
        {
            throw new MailFailedException("The client's address was changed meanwhile, so nothing was sent. Close the letter and open it again.");
        }

        if (server is null)
        {
            throw new MailFailedException("This desk has no mail server.");
        }

        await server.SendAsync(letter.Write(server.From, to), cancellation);
        await audit.MailSent(who, about.Kind, about.Id, cancellation);
    }
}
