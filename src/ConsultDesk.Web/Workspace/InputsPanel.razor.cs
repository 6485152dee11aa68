using System.Globalization;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Clients;
using Microsoft.AspNetCore.Components;
using UnitsNet;

namespace ConsultDesk.Web.Workspace;

/// <summary>The form of one option.</summary>
public partial class InputsPanel
{
    private static readonly int[] Months = [.. Enumerable.Range(1, 12)];
    private static readonly int[] Sleepers = [.. Enumerable.Range((int)DesignLimits.Sleepers.Minimum, (int)DesignLimits.Sleepers.Maximum + 1)];
    private static readonly int[] Animals = [.. Enumerable.Range(0, (int)DesignLimits.Animals.Maximum + 1)];
    private static readonly int[] HotDrinks = [.. Enumerable.Range(0, (int)DesignLimits.HotDrinksPerDay.Maximum + 1)];
    private static readonly int[] Plants = [.. Enumerable.Range(0, (int)DesignLimits.Plants.Maximum + 1)];
    private static readonly int[] Showers = [.. Enumerable.Range(0, (int)DesignLimits.ShowersPerDay.Maximum + 1)];
    private static readonly Cover?[] Covers = [.. Enum.GetValues<Cover>().Cast<Cover?>()];

    private InputGroup? _openings;
    private InputGroup? _glass;
    private string? _addError;
    private string? _soldError;
    private string? _heaterError;
    private string? _bedError;
    private bool _onlyAssumed;
    private string? _shown;
    private bool _asked;
    private (Design?, DisplayUnits?, OptionEditor?, string?, string?) _drawn;

    [CascadingParameter]
    public required OptionEditor Editor { get; set; }

    [CascadingParameter]
    public required DisplayUnits Units { get; set; }

    /// <summary>The design being edited.</summary>
    [Parameter, EditorRequired]
    public required Design Design { get; set; }

    /// <summary>Its last assessment, for the U-values in the headings; null before the first.</summary>
    [Parameter]
    public Assessment? Assessment { get; set; }

    /// <summary>
    /// What shows the numbers is drawn first, the form in a message of its own after it: hundreds of fields change little and weigh most.
    /// </summary>
    [Parameter]
    public bool AfterNumbers { get; set; }

    protected override void OnParametersSet() => _asked = true;

    /// <summary>Its own events always; a result that changes nothing in the form, never.</summary>
    protected override bool ShouldRender()
    {
        if (!_asked)
        {
            return true;
        }

        _asked = false;
        var now = (Design, Units, Editor, Editor.ClosedBecause, string.Concat(Assessment?.Assemblies.Select(state => state.UValue.ToString(CultureInfo.InvariantCulture)) ?? []));
        var changed = _drawn != now;
        _drawn = now;
        if (changed && AfterNumbers)
        {
            _ = InvokeAsync(LaterAsync);
            return false;
        }

        return changed;
    }

    private async Task LaterAsync()
    {
        await Task.Yield();
        StateHasChanged();
    }

    private Zone? Sleeping => Design.Zones.FirstOrDefault(zone => zone.Kind == ZoneKind.Sleeping);

    private Zone? UnderBed => Design.Zones.FirstOrDefault(zone => zone.Kind == ZoneKind.UnderBed);

    private string FactsText
    {
        get
        {
            var facts = FormFacts.Of(Design);
            return string.Create(CultureInfo.InvariantCulture, $"{facts.Count(path => FactOrigins.Of(Design, path) == Origin.Assumed)} of {facts.Count} facts are only assumed");
        }
    }

    private bool HeaterFitted => HasFittedHeater(Design);

    private static bool HasFittedHeater(Design design) => design.Heater is { State: PartState.Fitted, Kind: not HeaterKind.None };

    // Groups of the openings by id, filled by the markup.
    private Dictionary<string, InputGroup> Group { get; } = [];

    private List<Opening> Others => [.. Design.Openings.Where(opening => opening.Fan is null)];

    private Cover? SharedCover =>
        Design.Glazings.Select(glazing => glazing.Pane.Cover).Distinct().Count() == 1 ? Design.Glazings[0].Pane.Cover : null;

    private IReadOnlyList<Cover?> CoversOrMixed => SharedCover is null ? [null, .. Covers] : Covers;

    private string StopSummary => string.Join(", ",
        PlaceField.ShortName(Design, Design.Stop.PlaceKey),
        Words.Month(Design.Stop.Month),
        Units.Format(Measure.Altitude, Design.Stop.Altitude));

    private string PeopleSummary => string.Create(CultureInfo.InvariantCulture,
        $"{Design.Household.Sleepers} asleep, {TradeWords.Of(Design.Household.CookingFuel).ToLowerInvariant()}");

    private string HabitsSummary
    {
        get
        {
            var household = Design.Household;
            var presence = household.Presence switch
            {
                Presence.Nights => "Nights",
                Presence.EveningsAndNights => "Evenings, nights",
                Presence.AllDay => "All day",
                _ => throw new InvalidOperationException($"No word for {household.Presence}."),
            };
            (bool There, string Text)[] habits =
            [
                (household.Animals > 0, Count(household.Animals, "animal", "animals")),
                (household.ShowersPerDay > 0, Count(household.ShowersPerDay, "shower", "showers")),
                (household.HotDrinksPerDay > 0, Count(household.HotDrinksPerDay, "hot drink", "hot drinks")),
                (household.Plants > 0, Count(household.Plants, "plant", "plants")),
                (household.WashesUpInside, "washing up"),
                (household.WetFirewoodInside, "wet firewood"),
                (household.DriesClothes, "drying"),
            ];
            return string.Join(", ", habits.Where(habit => habit.There).Select(habit => habit.Text).Prepend(presence));
        }
    }

    private string CirculationSummary => Design.CirculationFans.IsEmpty ? "none" : Count(Design.CirculationFans.Length, "fan", "fans");

    private string OpeningsSummary => Others.Count == 0 ? "none" : string.Create(CultureInfo.InvariantCulture,
        $"{Others.Count}, {Others.Count(opening => opening.Position != Position.Shut)} open");

    private string GlassSummary => SharedCover is { } cover ? Words.Of(cover) : Design.Glazings.IsEmpty ? "none" : "Different covers";

    private string HeaterSummary => Design.Heater.Kind == HeaterKind.None
        ? Words.Of(HeaterKind.None)
        : $"{Words.Of(Design.Heater.Kind)}, {Units.Format(Measure.Heat, Design.Heater.RatedOutput)}";

    private static string Whole(int number) => number.ToString(CultureInfo.InvariantCulture);

    private static string Count(int number, string one, string many) => string.Create(CultureInfo.InvariantCulture, $"{number} {(number == 1 ? one : many)}");

    private static string SummaryOf(Opening opening) => opening.Fan is { Speed: > 0 } fan
        ? string.Create(CultureInfo.InvariantCulture, $"{(fan.Direction == FanDirection.Exhaust ? "out" : "in")} at {fan.Speed * 10:0.#} of 10")
        : opening.Fan is null ? Words.Of(opening.Position) : "off, " + Words.Of(opening.Position).ToLowerInvariant();

    private string AssemblySummary(string part, LayeredAssembly assembly) =>
        Assessment?.Assemblies.FirstOrDefault(state => state.Part == part) is { } state
            ? Units.Format(state.UValue)
            : string.Create(CultureInfo.InvariantCulture, $"{assembly.Layers.Length} layers");

    private void Add(string text, Func<Design, Opening> make)
    {
        _addError = null;
        Editor.Apply($"{text.ToLowerInvariant()} added", design =>
        {
            if (NewOpenings.Place(design, make(design)) is { } added)
            {
                return added;
            }

            _addError = $"There is no free place for a {text.ToLowerInvariant()}. Make room by moving or removing another opening.";
            return design;
        });
        _openings?.Open();
    }

    private void AddSold(PriceItem item)
    {
        _soldError = null;
        var refused = Editor.Apply($"{item.Name} added", design =>
        {
            if (NewOpenings.Place(design, BookedParts.OpeningOf(design, item)) is { } added)
            {
                return added;
            }

            _soldError = $"There is no free place for: {item.Name}. Make room by moving or removing another part.";
            return design;
        });
        _soldError ??= refused.IsEmpty ? null : Words.Of(refused[0], Units);
        _openings?.Open();
    }

    // Another one in place of a fitted heater is refused like every change of it.
    private void TakeHeater(PriceItem item)
    {
        var refused = Editor.Apply("heater from the price book", design => design with
        {
            Heater = design.Heater with
            {
                Kind = PriceFacts.ChoiceOf<HeaterKind>(item, "heaterKind")!.Value,
                RatedOutput = Power.FromWatts((decimal)PriceFacts.NumberOf(item, "heatW")!.Value),
                State = HasFittedHeater(design) ? PartState.Fitted : PartState.Proposed,
                PriceKey = item.Key,
            },
        });
        _heaterError = refused.IsEmpty ? null : refused[0].Message;
    }

    private void AddBedFan()
    {
        var refused = Editor.Apply("fan under the bed", design => CirculationFans.Add(design, Sleeping!.Id, UnderBed!.Id));
        _bedError = refused.IsEmpty ? null : Words.Of(refused[0], Units);
    }

    private static Design SetGlazing(Design design, string id, Func<Glazing, Glazing> change) =>
        design with { Glazings = [.. design.Glazings.Select(glazing => glazing.Id == id ? change(glazing) : glazing)] };

    /// <summary>Opens the group of a part of the van.</summary>
    /// <returns>The anchor of the group, or null when the form has none for it.</returns>
    public string? Show(string partId)
    {
        if (Design.Glazings.Any(glazing => glazing.Id == partId) || Design.BareMetal.Any(patch => patch.Id == partId))
        {
            _glass?.Open();
            return "glass";
        }

        if (Openings.Find(Design, partId) is not { } opening)
        {
            return null;
        }

        // A group that is not there yet, because the one around it is shut, starts open when it comes.
        _shown = partId;
        if (opening.Fan is null)
        {
            _openings?.Open();
        }

        Group.GetValueOrDefault(partId)?.Open();
        return partId;
    }
}
