using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using Microsoft.AspNetCore.Components;

namespace ConsultDesk.Web.Desk;

/// <summary>The working list: vans by last touch, plans and clients, narrowed as one types.</summary>
public sealed partial class DeskPage(DeskList desk, ClientBook clients) : IDisposable
{
    private const int Shown = 30;
    private const int PlansShown = 6;

    private readonly CancellationTokenSource _left = new();
    private string _search = "";
    private int _searches;
    private bool _nothingYet;
    private IReadOnlyList<DeskVan>? _vans;
    private IReadOnlyList<DeskPlan> _plans = [];
    private IReadOnlyList<ClientLine> _clients = [];

    [CascadingParameter]
    private SignedIn Who { get; set; } = default!;

    public void Dispose()
    {
        _left.Cancel();
        _left.Dispose();
    }

    protected override async Task OnInitializedAsync()
    {
        _plans = await desk.Plans(Who, PlansShown, cancellation: _left.Token);
        await FindAsync();
        _nothingYet = _vans is [] && _clients is [];
    }

    private async Task SearchAsync(ChangeEventArgs input)
    {
        _search = input.Value?.ToString() ?? "";
        await FindAsync();
    }

    private async Task FindAsync()
    {
        var mine = ++_searches;
        var vans = await desk.Vans(Who, _search, _left.Token);
        var found = await clients.Clients(Who, _search, _left.Token);
        // A slow answer to an earlier letter must not replace a later one.
        if (mine == _searches)
        {
            (_vans, _clients) = (vans, found);
        }
    }

    private static string BodyName(string key) => BodyClasses.All.FirstOrDefault(b => b.Key == key)?.Name ?? key;
}
