using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Web.Consultancy;
using ConsultDesk.Web.Shell;
using Microsoft.AspNetCore.Components;
using MudBlazor;

namespace ConsultDesk.Web.Clients;

/// <summary>A client with their vans, the options of each and the plans published from them.</summary>
public sealed partial class ClientPage(
    ClientBook clients, VanBook vans, VanOptions options, Records.Plans plans, NavigationManager navigation, IDialogService dialogs, ISnackbar notices, ThisBrowser browser, UnitsInUse units, AuditTrail audit)
{
    private readonly FormFields _fields = new();
    private Client? _client;
    private List<(Van Van, IReadOnlyList<OptionLine> Options, IReadOnlyList<PlanLine> Plans)> _vans = [];
    private ClientForm? _form;
    private bool _saving;
    private bool _conflict;

    [Parameter]
    public Guid ClientId { get; set; }

    [CascadingParameter]
    private SignedIn Who { get; set; } = default!;

    [Inject]
    private TimeProvider Time { get; set; } = default!;

    private ThisBrowser Browser => browser;

    public void Dispose()
    {
        browser.Changed -= Refresh;
        units.Leave();
    }

    protected override void OnInitialized() => browser.Changed += Refresh;

    protected override async Task OnParametersSetAsync()
    {
        if (_client?.Id == ClientId)
        {
            return;
        }

        _form = null;
        await ReadAsync();
    }

    private void Refresh() => _ = InvokeAsync(StateHasChanged);

    private async Task ReadAsync()
    {
        var client = await clients.Client(Who, ClientId);
        if (client is null)
        {
            navigation.NotFound();
            return;
        }

        List<(Van, IReadOnlyList<OptionLine>, IReadOnlyList<PlanLine>)> all = [];
        foreach (var van in await vans.VansOf(Who, ClientId))
        {
            all.Add((van, await options.OptionsOf(Who, van.Id), await plans.PlansOf(Who, van.Id)));
        }

        await audit.Seen(Who, "client", ClientId);
        (_client, _vans) = (client, all);
        await units.OpenAsync(ClientId, client.Name);
    }

    private async Task EditAsync()
    {
        if (_form is not null)
        {
            _form = null;
            return;
        }

        // Read anew: the page may have stood open for hours.
        await ReadAsync();
        _fields.Show([]);
        _conflict = false;
        _form = _client is null ? null : new() { Name = _client.Name, Email = _client.Email, Notes = _client.Notes };
    }

    private async Task SaveAsync()
    {
        if (_saving || _form is null || _client is null)
        {
            return;
        }

        _saving = true;
        try
        {
            await clients.ChangeClient(Who, ClientId, _client.Version, new(_form.Name ?? "", _form.Email, _client.Country, _form.Notes));
            _form = null;
            await ReadAsync();
        }
        catch (InvalidInputException refused)
        {
            _fields.Show(refused.Errors.Select(e => KeyValuePair.Create(e.Field, e.Message)));
            await _fields.FocusFirstWrongAsync();
        }
        catch (RecordChangedException)
        {
            _conflict = true;
        }
        catch (RecordNotFoundException)
        {
            navigation.NotFound();
        }
        finally
        {
            _saving = false;
        }
    }

    private async Task EraseAsync()
    {
        var sure = await dialogs.ShowMessageBoxAsync(
            "Erase this client?",
            "Their name, notes, vans, options, consults, decisions and plans go, and every link to their plans stops working. A receipt in numbers is kept. This cannot be undone; save everything of the client first if it may be wanted again.",
            yesText: "Erase everything",
            cancelText: "Keep");
        if (sure != true)
        {
            return;
        }

        try
        {
            var erased = await clients.EraseClient(Who, ClientId);
            navigation.NavigateTo($"clients/erased/{erased.ReceiptId}{(erased.FileIsClean == false ? "?remains=true" : "")}");
        }
        catch (RecordChangedException)
        {
            notices.Add("A colleague changed something of this client just now, so nothing was erased. Try again.", Severity.Warning);
        }
        catch (RecordNotFoundException)
        {
            navigation.NavigateTo("clients");
        }
    }

    private static string BodyName(string key) => BodyClasses.All.FirstOrDefault(b => b.Key == key)?.Name ?? key;

    /// <summary>What is typed about a known client.</summary>
    private sealed class ClientForm
    {
        public string? Name { get; set; }

        public string? Email { get; set; }

        public string? Notes { get; set; }
    }
}
