using System.Globalization;
using ConsultDesk.Records;
using ConsultDesk.Web.Letters;
using ConsultDesk.Web.Shell;
using Microsoft.AspNetCore.Components;
using MudBlazor;

namespace ConsultDesk.Web.Consults;

/// <summary>The consults about one van with their private notes, its agenda, its follow-ups and what was declined.</summary>
public sealed partial class ConsultsPage(
    VanBook vans, ClientBook clients, ConsultBook book, Firms firms, ThisBrowser browser, TimeProvider time, NavigationManager navigation, IDialogService dialogs)
{
    private Van? _van;
    private Client? _client;
    private IReadOnlyList<Consult> _consults = [];
    private bool _planning;
    private Guid? _changing;
    private string? _trouble;
    private bool _busy;

    /// <summary>The van.</summary>
    [Parameter]
    public Guid VanId { get; set; }

    /// <summary>True when the address asks for a new consult.</summary>
    [SupplyParameterFromQuery(Name = "plan")]
    private bool Plan { get; set; }

    [CascadingParameter]
    private SignedIn Who { get; set; } = default!;

    private ConsultBook Book => book;

    private ThisBrowser Browser => browser;

    public void Dispose() => browser.Changed -= Refresh;

    protected override void OnInitialized() => browser.Changed += Refresh;

    protected override async Task OnParametersSetAsync()
    {
        if (_van?.Id == VanId)
        {
            return;
        }

        var van = await vans.Van(Who, VanId);
        var client = van is null ? null : await clients.Client(Who, van.ClientId);
        if (van is null || client is null)
        {
            navigation.NotFound();
            return;
        }

        _consults = await book.Of(Who, VanId);
        (_van, _client, _planning) = (van, client, Plan);
    }

    private void Refresh() => _ = InvokeAsync(StateHasChanged);

    private string StateOf(Consult consult) => consult.HeldAt is not null ? "held"
        : consult.StartsAt.AddMinutes(consult.Minutes) < time.GetUtcNow().UtcDateTime ? "passed, not marked as held"
        : "planned";

    /// <summary>The time on the client's clock, where it is another than ours.</summary>
    private string ClientsTime(Consult consult)
    {
        var zone = ConsultBook.Zone(consult.TimeZone);
        if (zone is null || zone.GetUtcOffset(consult.StartsAt) == browser.Zone.GetUtcOffset(consult.StartsAt))
        {
            return "";
        }

        var theirs = TimeZoneInfo.ConvertTimeFromUtc(consult.StartsAt, zone);
        return $"· {theirs.ToString("ddd HH:mm", CultureInfo.InvariantCulture)} for the client ({consult.TimeZone.Replace('_', ' ')})";
    }

    private async Task AddAsync(ConsultInput input)
    {
        await book.Add(Who, VanId, input);
        _planning = false;
        _consults = await book.Of(Who, VanId);
    }

    private void Change(Consult consult) => (_changing, _planning) = (_changing == consult.Id ? null : consult.Id, false);

    private async Task ChangeAsync(Consult consult, ConsultInput input)
    {
        // Notes typed meanwhile change the version, not the time: only another time, or other points, are a collision.
        var now = await book.Consult(Who, consult.Id) ?? throw new RecordNotFoundException("consult", consult.Id);
        if ((now.StartsAt, now.Minutes, now.TimeZone) != (consult.StartsAt, consult.Minutes, consult.TimeZone)
            || (input.Agenda is not null && now.Agenda != consult.Agenda))
        {
            _consults = await book.Of(Who, VanId);
            throw new RecordChangedException("consult", consult.Id);
        }

        await book.Change(Who, consult.Id, now.Version, input);
        _changing = null;
        _consults = await book.Of(Who, VanId);
    }

    private async Task<Letter> InviteAsync(Guid consultId, Addressee to)
    {
        // As it is stored now: it may have been moved since the page was opened.
        var consult = await book.Consult(Who, consultId) ?? throw new RecordNotFoundException("consult", consultId);
        var entry = Invitation.Write(consult, _van!.Name, await firms.Mine(Who), time.GetUtcNow().UtcDateTime);
        return LetterWords.Consult(consult, _van.Name, to, Who.Name, entry);
    }

    private async Task RemoveAsync(Consult consult)
    {
        var sure = await dialogs.ShowMessageBoxAsync(
            "Remove this consult?",
            "Its private notes go with it. This cannot be undone. Decisions and follow-ups stay.",
            yesText: "Remove",
            cancelText: "Keep");
        if (sure == true)
        {
            await ActAsync(consult, version => book.Remove(Who, consult.Id, version));
        }
    }

    private async Task ActAsync(Consult consult, Func<Guid, Task> act)
    {
        _trouble = null;
        _busy = true;
        try
        {
            // The version changes with every save of the notes below; what is done here does not depend on their words.
            var now = await book.Consult(Who, consult.Id) ?? throw new RecordNotFoundException("consult", consult.Id);
            await act(now.Version);
        }
        catch (Exception told) when (told is RecordChangedException or RecordNotFoundException)
        {
            _trouble = told.Message + " This is how it stands now.";
        }
        finally
        {
            _busy = false;
        }

        _consults = await book.Of(Who, VanId);
    }
}
