using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Web.Shell;
using Microsoft.AspNetCore.Components;

namespace ConsultDesk.Web.Desk;

/// <summary>What comes next and what waits; below it vans by last touch, plans and clients, narrowed as one types.</summary>
public sealed partial class DeskPage(
    DeskList desk, ClientBook clients, ConsultBook book, FollowUps followUps, Intakes intakes, PlanReplies replies, CheckBacks reports, ThisBrowser browser, TimeProvider time) : IDisposable
{
    private const int Shown = 30;
    private const int PlansShown = 6;
    private const int ClientsShown = 8;
    private const int WaitingShown = 12;
    private const int ConsultsShown = 8;
    private const int FollowUpsShown = 12;
    private const int OptionsShown = 6;

    private readonly CancellationTokenSource _left = new();
    private string _search = "";
    private int _searches;
    private bool _nothingYet;
    private Listed<DeskVan>? _vans;
    private IReadOnlyList<DeskPlan> _plans = [];
    private Listed<ClientLine> _clients = new([], 0);
    private IReadOnlyList<ConsultLine> _consults = [];
    private IReadOnlyList<FollowUpLine> _followUps = [];
    private Listed<WaitingPlan> _waiting = new([], 0);
    private IReadOnlyList<WaitingReply> _replies = [];
    private IReadOnlyList<WaitingCheckBack> _reports = [];
    private IReadOnlyList<WaitingIntake> _intakes = [];
    private IReadOnlyList<DeskOption> _options = [];
    private string? _trouble;
    private bool _busy;

    [CascadingParameter]
    private SignedIn Who { get; set; } = default!;

    private ThisBrowser Browser => browser;

    public void Dispose()
    {
        browser.Changed -= Refresh;
        _left.Cancel();
        _left.Dispose();
    }

    protected override async Task OnInitializedAsync()
    {
        browser.Changed += Refresh;
        _consults = await book.Next(Who, ConsultsShown, _left.Token);
        _followUps = await followUps.Open(Who, FollowUpsShown, _left.Token);
        _replies = await replies.Waiting(Who, _left.Token);
        _reports = await reports.Waiting(Who, _left.Token);
        _intakes = await intakes.Waiting(Who, _left.Token);
        _waiting = await desk.Waiting(Who, WaitingShown, _left.Token);
        _options = await desk.LastTouched(Who, OptionsShown, _left.Token);
        await FindAsync();
        _nothingYet = _vans is [] && _clients is [];
    }

    // Bound, not set: letters typed while an answer is on its way are not taken out of the field again.
    private async Task SearchAsync(string? text)
    {
        _search = text ?? "";
        await FindAsync();
    }

    private async Task FindAsync()
    {
        var mine = ++_searches;
        var vans = await desk.Vans(Who, _search, Shown, _left.Token);
        var found = await clients.Clients(Who, _search, ClientsShown, _left.Token);
        var plans = await desk.Plans(Who, PlansShown, _search, _left.Token);
        // A slow answer to an earlier letter must not replace a later one.
        if (mine == _searches)
        {
            (_vans, _clients, _plans) = (vans, found, plans);
        }
    }

    private void Refresh() => _ = InvokeAsync(StateHasChanged);

    private bool IsPast(ConsultLine consult) => consult.StartsAt.AddMinutes(consult.Minutes) < time.GetUtcNow().UtcDateTime;

    private async Task DoneAsync(FollowUpLine line)
    {
        _trouble = null;
        _busy = true;
        try
        {
            await followUps.MarkDone(Who, line.Id, line.Version, _left.Token);
        }
        catch (Exception told) when (told is RecordChangedException or RecordNotFoundException)
        {
            _trouble = told.Message + " This is how it stands now.";
        }
        finally
        {
            _busy = false;
        }

        _followUps = await followUps.Open(Who, FollowUpsShown, _left.Token);
    }

    private static string BodyName(string key) => BodyClasses.All.FirstOrDefault(b => b.Key == key)?.Name ?? key;
}
