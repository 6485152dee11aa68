using System.Globalization;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Records;
using ConsultDesk.Reports.Units;
using Microsoft.AspNetCore.Components;

namespace ConsultDesk.Web.Workspace.Night;

/// <summary>One night of an option, or of two side by side, from before supper to breakfast.</summary>
public sealed partial class NightPage : IDisposable
{
    private readonly CancellationTokenSource _gone = new();
    private Van? _van;
    private IReadOnlyList<OptionLine> _options = [];
    private IReadOnlyList<NightSide> _sides = [];
    private string? _problem;
    private string _date = "";
    private int _asked;

    [Inject]
    private VanBook Vans { get; set; } = default!;

    [Inject]
    private VanOptions Options { get; set; } = default!;

    [Inject]
    private WeatherFiles WeatherFiles { get; set; } = default!;

    [Inject]
    private ComputeQueue Queue { get; set; } = default!;

    [Inject]
    private NavigationManager Navigation { get; set; } = default!;

    [CascadingParameter]
    private SignedIn Who { get; set; } = default!;

    [CascadingParameter]
    private DisplayUnits Units { get; set; } = default!;

    /// <summary>The van.</summary>
    [Parameter]
    public Guid VanId { get; set; }

    /// <summary>The option whose weather is played.</summary>
    [Parameter]
    public Guid OptionId { get; set; }

    /// <summary>Id of the option beside it; null for none.</summary>
    [SupplyParameterFromQuery(Name = "with")]
    private Guid? With { get; set; }

    /// <summary>Which night; the coldest when it is left out or unknown.</summary>
    [SupplyParameterFromQuery(Name = "night")]
    private string? Night { get; set; }

    private NightChoice Choice => Enum.TryParse<NightChoice>(Night, ignoreCase: true, out var choice) && Enum.IsDefined(choice) ? choice : NightChoice.Coldest;

    private Guid? Beside => With is { } id && id != OptionId && _options.Any(option => option.Id == id) ? id : null;

    public void Dispose()
    {
        _gone.Cancel();
        _gone.Dispose();
    }

    protected override async Task OnParametersSetAsync()
    {
        // The last address wins when another is chosen while one is calculated.
        var asked = ++_asked;
        (_problem, _sides) = (null, []);
        _van = await Vans.Van(Who, VanId);
        if (_van is null)
        {
            Navigation.NotFound();
            return;
        }

        _options = await Options.OptionsOf(Who, VanId);
        try
        {
            var loaded = new List<LoadedOption>();
            foreach (var id in Beside is { } beside ? new[] { OptionId, beside } : [OptionId])
            {
                if (await Options.Load(Who, id) is not { } option || option.VanId != VanId)
                {
                    Navigation.NotFound();
                    return;
                }

                loaded.Add(option);
            }

            var hours = await WeatherFiles.Hours(Who, VanId);
            var choice = Choice;
            var (day, nights) = await Queue.RunAsync(this, Urgency.Soon, cancellation => Play(loaded, hours, choice, cancellation), _gone.Token);
            if (asked == _asked)
            {
                _date = new DateOnly(2023, 1, 1).AddDays(day).ToString("d MMMM", CultureInfo.InvariantCulture);
                _sides = nights;
            }
        }
        catch (OperationCanceledException) when (_gone.IsCancellationRequested)
        {
            // Nobody looks any more.
        }
        catch (Exception failed) when (failed is DesignTextException or Calculations.CalculationFailedException or ArgumentException)
        {
            _problem = "This night cannot be played: " + failed.Message;
        }
    }

    // Both options stand in the weather of the first, or the eye would compare weathers.
    private static (int Day, IReadOnlyList<NightSide> Sides) Play(
        List<LoadedOption> options, WeatherHours hours, NightChoice choice, CancellationToken cancellation)
    {
        var weather = YearWeather.Of(options[0].Design, hours: hours);
        var day = PlayedNight.DayOf(weather, choice);
        return (day, [.. options.Select(option => new NightSide(option.Letter, option.Name, option.Design, PlayedNight.Of(option.Design, weather, day, cancellation)))]);
    }

    private void GoTo(Guid? beside, string? night) => Navigation.NavigateTo(
        $"vans/{VanId}/options/{OptionId}/night?night={Uri.EscapeDataString(night ?? nameof(NightChoice.Coldest))}" + (beside is { } id ? $"&with={id}" : ""));
}
