using ConsultDesk.Records;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Web.Consultancy;

/// <summary>
/// The units the pages of this connection are shown in: the user's own, the firm's when the user has none, or those of the
/// client whose page is open. Stored values are SI whatever is shown.
/// </summary>
public sealed class UnitsInUse(UnitBook book)
{
    private SignedIn? _who;
    private DisplayUnits _firm = DisplayUnits.Metric;

    /// <summary>After something was chosen; raised on the connection's own dispatcher.</summary>
    public event Action? Changed;

    /// <summary>What pages are shown in.</summary>
    public DisplayUnits Now => ShowsClients && Client is not null ? Clients ?? _firm : Mine ?? _firm;

    /// <summary>The user's own units; null for the firm's.</summary>
    public DisplayUnits? Mine { get; private set; }

    /// <summary>Id and name of the client whose page is open; null on other pages.</summary>
    public (Guid Id, string Name)? Client { get; private set; }

    /// <summary>That client's units; null for the firm's.</summary>
    public DisplayUnits? Clients { get; private set; }

    /// <summary>True while pages about a client are shown in the client's units.</summary>
    public bool ShowsClients { get; private set; }

    /// <summary>The firm's units.</summary>
    public DisplayUnits OfFirm => _firm;

    /// <summary>Why stored units cannot be read and others are shown; null when they can.</summary>
    public string? Trouble { get; private set; }

    /// <summary>Reads the user's units; the firm's stand in for what nobody chose.</summary>
    public async Task ReadAsync(SignedIn who, Firm firm)
    {
        ArgumentNullException.ThrowIfNull(firm);
        (_who, Trouble) = (who, null);
        // Every page would go down with a unit of a later version, the one that mends it too.
        _firm = Readable("the firm", firm.DisplayUnits, FirmUnits.Preset(firm.Units));
        var mine = await book.Mine(who);
        Mine = Readable("you", () => FirmUnits.Of(mine), null);
        Changed?.Invoke();
    }

    /// <summary>A page about a client was opened.</summary>
    public async Task OpenAsync(Guid clientId, string name)
    {
        if (Client?.Id != clientId)
        {
            var theirs = _who is null ? null : await book.OfClient(_who, clientId);
            Clients = Readable(name, () => FirmUnits.Of(theirs), null);
        }

        Client = (clientId, name);
        Changed?.Invoke();
    }

    /// <summary>It was left.</summary>
    public void Leave()
    {
        (Client, Clients) = (null, null);
        Changed?.Invoke();
    }

    /// <summary>Shows pages about the client in the client's units, or again in the user's.</summary>
    public void ShowClients(bool on)
    {
        ShowsClients = on;
        Changed?.Invoke();
    }

    /// <summary>Keeps the user's units; null goes back to the firm's.</summary>
    public async Task ChooseMineAsync(DisplayUnits? units)
    {
        await book.SetMine(_who!, FirmUnits.Choice(units));
        Mine = units;
        Changed?.Invoke();
    }

    /// <summary>Keeps the open client's units; null goes back to the firm's.</summary>
    /// <exception cref="RecordNotFoundException">The client is gone.</exception>
    public async Task ChooseClientsAsync(DisplayUnits? units)
    {
        await book.SetOfClient(_who!, Client!.Value.Id, FirmUnits.Choice(units));
        Clients = units;
        Changed?.Invoke();
    }

    private T Readable<T>(string whose, Func<T> read, T instead)
    {
        try
        {
            return read();
        }
        catch (FormatException e)
        {
            Trouble = $"The units chosen for {whose} cannot be read, so others are shown; choose them anew. {e.Message}";
            return instead;
        }
    }
}
