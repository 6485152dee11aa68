using ConsultDesk.Records;
using ConsultDesk.Web.Shell;
using Microsoft.AspNetCore.Components;

namespace ConsultDesk.Web.Clients;

/// <summary>From a name on the line to the first assessment: one form.</summary>
public sealed partial class NewClientPage(ClientBook clients, VanBook vans, NavigationManager navigation)
{
    private readonly NewVanForm _form = new();
    private readonly FormFields _fields = new();
    private bool _saving;
    private string? _trouble;

    /// <summary>The client, once added: a second try after a fault must not add them again.</summary>
    private Guid? _clientId;

    [CascadingParameter]
    private SignedIn Who { get; set; } = default!;

    private async Task CreateAsync()
    {
        // The second click of a double click arrives while the first is being saved.
        if (_saving)
        {
            return;
        }

        _trouble = null;
        _fields.Show(_form.Errors(withClient: true));
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
            _clientId ??= await clients.AddClient(Who, _form.Client());
            var added = await vans.AddVan(Who, _clientId.Value, _form.Van(), NewVanForm.OptionName, _form.OptionA());
            navigation.NavigateTo($"vans/{added.VanId}");
            opens = true;
        }
        catch (InvalidInputException refused)
        {
            var client = _clientId is null;
            _fields.Show(refused.Errors.Select(e => KeyValuePair.Create(e.Field == nameof(ClientInput.Name) ? client ? nameof(NewVanForm.ClientName) : nameof(NewVanForm.VanName) : e.Field, e.Message)));
            await _fields.FocusFirstWrongAsync();
        }
        catch (RecordNotFoundException)
        {
            // Erased by a colleague between the two steps of an earlier try: start over with the same typed values.
            _clientId = null;
            _trouble = "The client was removed meanwhile. Press the button again to add them anew.";
        }
        finally
        {
            _saving = opens;
        }
    }
}
