using ConsultDesk.Records;
using ConsultDesk.Web.Shell;
using Microsoft.AspNetCore.Components;

namespace ConsultDesk.Web.Clients;

/// <summary>Another van of a known client.</summary>
public sealed partial class NewVanPage(ClientBook clients, VanBook vans, NavigationManager navigation)
{
    private readonly NewVanForm _form = new();
    private readonly FormFields _fields = new();
    private Client? _client;
    private bool _saving;

    [Parameter]
    public Guid ClientId { get; set; }

    [CascadingParameter]
    private SignedIn Who { get; set; } = default!;

    protected override async Task OnInitializedAsync()
    {
        _client = await clients.Client(Who, ClientId);
        if (_client is null)
        {
            navigation.NotFound();
        }
    }

    private async Task CreateAsync()
    {
        if (_saving)
        {
            return;
        }

        _fields.Show(_form.Errors(withClient: false));
        if (_fields.Wrong > 0)
        {
            await _fields.FocusFirstWrongAsync();
            return;
        }

        // Once the workspace opens, a second press would add a second van; after any fault it is the way to try again.
        _saving = true;
        var opens = false;
        try
        {
            var added = await vans.AddVan(Who, ClientId, _form.Van(), NewVanForm.OptionName, _form.OptionA());
            navigation.NavigateTo($"vans/{added.VanId}");
            opens = true;
        }
        catch (InvalidInputException refused)
        {
            _fields.Show(refused.Errors.Select(e => KeyValuePair.Create(e.Field == nameof(VanInput.Name) ? nameof(NewVanForm.VanName) : e.Field, e.Message)));
            await _fields.FocusFirstWrongAsync();
        }
        catch (RecordNotFoundException)
        {
            navigation.NotFound();
        }
        finally
        {
            _saving = opens;
        }
    }
}
