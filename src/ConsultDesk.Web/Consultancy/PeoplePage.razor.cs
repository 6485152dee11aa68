using ConsultDesk.Records;
using ConsultDesk.Web.Account;
using ConsultDesk.Web.Shell;
using Microsoft.AspNetCore.Components;
using MudBlazor;

namespace ConsultDesk.Web.Consultancy;

/// <summary>The people of the firm: who they are, what they may do, and the links by which others join. For owners.</summary>
public sealed partial class PeoplePage(People people, ThisBrowser browser, NavigationManager navigation, IDialogService dialogs) : IDisposable
{
    private readonly FormFields _fields = new();
    private IReadOnlyList<PersonLine>? _people;
    private IReadOnlyList<InvitationLine> _open = [];
    private SentInvitation? _made;
    private bool _backIn;
    private string _for = "";
    private string? _forWhom;
    private DeskRole _role = DeskRole.Consultant;
    private string? _trouble;
    private bool _busy;

    [CascadingParameter]
    private SignedIn Who { get; set; } = default!;

    private ThisBrowser Browser => browser;

    private string Link => navigation.BaseUri.TrimEnd('/') + SecurityHeaders.JoinPath + "/" + _made!.Token;

    public void Dispose() => browser.Changed -= Refresh;

    protected override Task OnInitializedAsync()
    {
        browser.Changed += Refresh;
        return ActAsync(() => Task.CompletedTask);
    }

    private void Refresh() => _ = InvokeAsync(StateHasChanged);

    private static string Means(PersonLine person) => (person.HasAuthenticator, person.Passkeys) switch
    {
        (false, 0) => "password alone",
        (true, 0) => "password and code",
        (false, var keys) => When.Count(keys, "passkey") + ", or password alone",
        (true, var keys) => When.Count(keys, "passkey") + ", or password and code",
    };

    private Task InviteAsync() => ActAsync(async () =>
    {
        var name = _forWhom;
        (_made, _backIn, _for) = (await people.Invite(Who, name, _role), false, name!.Trim());
        _forWhom = null;
        _fields.Show([]);
    });

    private async Task LetBackInAsync(PersonLine person)
    {
        if (await AskAsync(
            $"A link back in for {person.Name}?",
            "For somebody who lost password, phone or passkey. When the link is used they set a new password, and passkeys, authenticator and recovery codes of the account are taken away. Until then nothing changes.",
            "Make the link"))
        {
            await ActAsync(async () => (_made, _backIn, _for) = (await people.LetBackIn(Who, person.Id), true, person.Name));
        }
    }

    private Task WithdrawAsync(InvitationLine invitation) => ActAsync(async () =>
    {
        await people.Withdraw(Who, invitation.Id);
        _made = _made?.InvitationId == invitation.Id ? null : _made;
    });

    private Task ChangeRoleAsync(PersonLine person) =>
        ActAsync(() => people.ChangeRole(Who, person.Id, person.Role == DeskRole.Owner ? DeskRole.Consultant : DeskRole.Owner));

    private async Task TakeAccessAsync(PersonLine person)
    {
        if (await AskAsync(
            $"Take {person.Name}'s access away?",
            $"Pages they have open close within {Interval}, and they cannot sign in again. What they did stays, with their name. Access can be given back.",
            "Take it away"))
        {
            await ActAsync(() => people.TakeAccess(Who, person.Id));
        }
    }

    private Task GiveAccessAsync(PersonLine person) => ActAsync(() => people.GiveAccess(Who, person.Id));

    private static string Interval => RevalidatingSignIn.Interval == TimeSpan.FromMinutes(1) ? "a minute" : $"{(int)RevalidatingSignIn.Interval.TotalMinutes} minutes";

    private async Task<bool> AskAsync(string head, string text, string yes) => await dialogs.ShowMessageBoxAsync(head, text, yesText: yes, cancelText: "Keep it as it is") == true;

    private async Task ActAsync(Func<Task> act)
    {
        if (_busy)
        {
            return;
        }

        (_busy, _trouble) = (true, null);
        try
        {
            await act();
        }
        catch (LastOwnerException)
        {
            _trouble = "This is the firm's last owner. Make somebody else an owner first.";
        }
        catch (InvalidInputException refused)
        {
            _fields.Show(refused.Errors.Select(e => KeyValuePair.Create(e.Field, e.Message)));
            await _fields.FocusFirstWrongAsync();
        }
        catch (RecordNotFoundException)
        {
            _trouble = "An owner changed this at the same moment; the list is read anew.";
        }
        catch (RecordChangedException)
        {
            _trouble = "That link was used at this moment.";
        }
        catch (NotAllowedException)
        {
            // Their own role went at this moment: the page ends with its sign-in.
            (_people, _open, _made, _trouble) = (null, [], null, "You are not an owner of this firm any more.");
            return;
        }
        finally
        {
            _busy = false;
        }

        try
        {
            (_people, _open) = (await people.PeopleOf(Who), await people.OpenInvitations(Who));
        }
        catch (NotAllowedException)
        {
            (_people, _open, _made, _trouble) = (null, [], null, "You are not an owner of this firm any more.");
        }
    }
}
