using ConsultDesk.Calculations.Climate;
using ConsultDesk.Records;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Web.Intake;
using ConsultDesk.Web.Plans;
using ConsultDesk.Web.Shell;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;
using MudBlazor;

namespace ConsultDesk.Web.AfterBuild;

/// <summary>What happened with a van, what was built into it, and what was reported after living with it.</summary>
public sealed partial class TimelinePage(
    VanBook vans,
    ClientBook clients,
    Timeline timeline,
    InstallationBook book,
    CheckBacks reports,
    FollowUps followUps,
    Records.Plans plans,
    IntakePhotos photos,
    ThisBrowser browser,
    NavigationManager navigation,
    IDialogService dialogs) : IDisposable
{
    private Van? _van;
    private Client? _client;
    private IReadOnlyList<TimelineEvent> _events = [];
    private IReadOnlyList<IGrouping<DateOnly, TimelineEvent>> _days = [];
    private IReadOnlyList<InstallationLine> _installations = [];
    private List<(CheckBackLine Report, WinterComparison? Comparison)> _reports = [];
    private IReadOnlyList<string> _parts = [];
    private PlanLine? _lastPlan;
    private DateOnly? _proposed;
    private string _proposedWhy = "";
    private bool _southern;
    private bool _adding;
    private Guid? _changing;
    private (Guid Id, string Text)? _photoError;
    private string? _trouble;
    private bool _busy;

    /// <summary>The van.</summary>
    [Parameter]
    public Guid VanId { get; set; }

    [CascadingParameter]
    private SignedIn Who { get; set; } = default!;

    private ThisBrowser Browser => browser;

    private CheckBacks Reports => reports;

    private string NextStep => _lastPlan is null ? "Next: publish a plan from the workspace, so that the client can read and accept it."
        : !_events.Any(item => item.Kind == TimelineKind.Accepted) ? "Next: the client reads the plan and accepts it with the link."
        : _installations.Count == 0 ? "Next: add what is built in, with its day and photos."
        : _reports.Count == 0 ? "Next: ask how it went after the first winter."
        : "";

    /// <inheritdoc/>
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

        (_van, _client, _adding, _changing) = (van, client, false, null);
        await ReadAsync();
    }

    private void Refresh() => _ = InvokeAsync(() =>
    {
        Group();
        StateHasChanged();
    });

    private async Task ReadAsync()
    {
        _events = await timeline.Of(Who, VanId);
        _installations = await book.Of(Who, VanId);
        _lastPlan = (await plans.PlansOf(Who, VanId)) is [var last, ..] ? last : null;
        var snapshots = new Dictionary<Guid, PlanSnapshot?>();
        List<(CheckBackLine, WinterComparison?)> compared = [];
        foreach (var report in await reports.Of(Who, VanId))
        {
            if (!snapshots.TryGetValue(report.PlanId, out var plan))
            {
                snapshots.Add(report.PlanId, plan = await SnapshotAsync(report.PlanId));
            }

            compared.Add((report, plan is null ? null : WinterComparison.Of(plan, report.Answers)));
        }

        _reports = compared;
        var newest = _lastPlan is null ? null : await SnapshotAsync(_lastPlan.Id);
        _parts = newest is null ? [] : [.. PartsOf(newest)];
        _southern = newest is not null && IsSouthern(newest);
        Group();
    }

    // A damaged or newer plan hides nothing else of the page.
    private async Task<PlanSnapshot?> SnapshotAsync(Guid planId)
    {
        try
        {
            return await plans.Plan(Who, planId) is { } opened ? PlanPress.Read(opened) : null;
        }
        catch (Exception unreadable) when (unreadable is PlanDamagedException or System.Text.Json.JsonException or NotSupportedException)
        {
            return null;
        }
    }

    private void Group()
    {
        _days = [.. _events
            .OrderByDescending(DayOf).ThenByDescending(item => item.At ?? DateTime.MinValue)
            .GroupBy(DayOf)];
        var asked = _events.Any(item => item.Kind is TimelineKind.FollowUpDue or TimelineKind.FollowUpDone && item.Name == Records.FollowUps.AfterFirstWinter);
        var cause = _events.Where(item => item.Kind is TimelineKind.Accepted or TimelineKind.Installed).OrderBy(DayOf).LastOrDefault();
        _proposed = asked || cause is null ? null : FirstWinter.CheckBackOn(DayOf(cause), _southern);
        _proposedWhy = cause?.Kind == TimelineKind.Accepted ? FormattableString.Invariant($"Plan {cause.Number} was accepted.") : "Something was built in.";
    }

    private DateOnly DayOf(TimelineEvent item) => item.Day ?? DateOnly.FromDateTime(browser.Local(item.At!.Value));

    private static IEnumerable<string> PartsOf(PlanSnapshot plan) => plan.Sections
        .Where(section => section.Id == PlanComposer.Parts)
        .SelectMany(section => section.Blocks).OfType<TableBlock>()
        .Where(block => block.Table.Rows.Length > 0 && block.Table.Heads.Length > 1)
        .Take(1)
        .SelectMany(block => block.Table.Rows).Select(row => row[0]).Where(part => part.Length is > 0 and <= TextLimits.Line && !part.StartsWith("Total", StringComparison.Ordinal)).Distinct();

    private static bool IsSouthern(PlanSnapshot plan)
    {
        try
        {
            var design = DesignJson.Read(plan.DesignText);
            return DesignPlaces.Contains(design, design.Stop.PlaceKey) && DesignPlaces.Get(design, design.Stop.PlaceKey).Latitude.Degrees < 0;
        }
        catch (DesignTextException)
        {
            return false;
        }
    }

    private async Task AddAsync(InstallationInput input)
    {
        await book.Add(Who, VanId, input);
        _adding = false;
        await ReadAsync();
    }

    private async Task ChangeAsync(InstallationLine line, InstallationInput input)
    {
        await book.Change(Who, line.Id, line.Version, input);
        _changing = null;
        await ReadAsync();
    }

    private async Task RemoveAsync(InstallationLine line)
    {
        var sure = await dialogs.ShowMessageBoxAsync("Remove this?", "Its photos go with it. This cannot be undone.", yesText: "Remove", cancelText: "Keep");
        if (sure == true)
        {
            await ActAsync(() => book.Remove(Who, line.Id, line.Version));
        }
    }

    private Task RemovePhotoAsync(InstallationPhotoLine photo) => ActAsync(() => book.RemovePhoto(Who, photo.Id));

    private async Task AddPhotosAsync(InstallationLine line, InputFileChangeEventArgs chosen)
    {
        _photoError = null;
        _busy = true;
        try
        {
            foreach (var file in chosen.GetMultipleFiles(InstallationBook.MostPhotos))
            {
                if (file.Size > IntakePhotos.LargestFile)
                {
                    _photoError = (line.Id, $"{file.Name} is too large. Expected {IntakePhotos.Accepted}.");
                    continue;
                }

                using var bytes = new MemoryStream();
                await using (var stream = file.OpenReadStream(IntakePhotos.LargestFile))
                {
                    await stream.CopyToAsync(bytes);
                }

                var (photo, error) = await photos.ReadAsync(Who.FirmId, bytes.ToArray(), CancellationToken.None);
                if (photo is null)
                {
                    _photoError = (line.Id, $"{file.Name}: {error}");
                    continue;
                }

                await book.AddPhoto(Who, line.Id, photo.Jpeg, photo.Width, photo.Height);
            }
        }
        catch (InvalidOperationException)
        {
            _photoError = (line.Id, FormattableString.Invariant($"Expected at most {InstallationBook.MostPhotos} photos at once."));
        }
        catch (IOException)
        {
            _photoError = (line.Id, "The photo did not arrive whole. Choose it again.");
        }
        catch (Exception refused) when (refused is InvalidInputException or RecordNotFoundException)
        {
            _photoError = (line.Id, refused.Message);
        }
        finally
        {
            _busy = false;
        }

        await ReadAsync();
    }

    private Task FollowUpAsync() => _proposed is { } day ? ActAsync(() => followUps.Add(Who, VanId, new(day, Records.FollowUps.AfterFirstWinter))) : Task.CompletedTask;

    private async Task ActAsync(Func<Task> act)
    {
        _trouble = null;
        _busy = true;
        try
        {
            await act();
        }
        catch (Exception told) when (told is RecordChangedException or RecordNotFoundException or InvalidInputException)
        {
            _trouble = told.Message + " This is how it stands now.";
        }
        finally
        {
            _busy = false;
        }

        await ReadAsync();
    }

    private RenderFragment Event(TimelineEvent item) => builder =>
    {
        var (before, link, name) = item.Kind switch
        {
            TimelineKind.VanAdded => ("The van was added", null, ""),
            TimelineKind.IntakeSent => ("Questions sent to the client", null, ""),
            TimelineKind.IntakeSubmitted => ("The client answered the questions", $"vans/{VanId}/intakes/{item.Id}", ""),
            TimelineKind.IntakeRead => ("The answers were read", $"vans/{VanId}/intakes/{item.Id}", ""),
            TimelineKind.ConsultPlanned => ("Consult planned", $"vans/{VanId}/consults", ""),
            TimelineKind.ConsultHeld => ("Consult held", $"vans/{VanId}/consults", ""),
            TimelineKind.OptionMade => ("Option made: ", $"vans/{VanId}/options/{item.Id}", item.Name),
            TimelineKind.OptionChosen => ("Option chosen: ", null, item.Name),
            TimelineKind.PlanPublished => (FormattableString.Invariant($"Plan {item.Number} published: "), $"plans/{item.PlanId}", item.Name),
            TimelineKind.PlanOpened => (FormattableString.Invariant($"Plan {item.Number} last opened by its link"), $"plans/{item.PlanId}", ""),
            TimelineKind.Asked => (FormattableString.Invariant($"Question on plan {item.Number} by "), $"plans/{item.PlanId}", item.Name),
            TimelineKind.Commented => (FormattableString.Invariant($"Comment on plan {item.Number} by "), $"plans/{item.PlanId}", item.Name),
            TimelineKind.Answered => (FormattableString.Invariant($"Answered on plan {item.Number}: "), $"plans/{item.PlanId}", item.Name),
            TimelineKind.Accepted => (FormattableString.Invariant($"Plan {item.Number} accepted by "), $"plans/{item.PlanId}", item.Name),
            TimelineKind.Installed => ("Built in: ", $"vans/{VanId}/timeline#built-{item.Id}", item.Name),
            TimelineKind.Reported => (FormattableString.Invariant($"How it went with plan {item.Number}, told by "), $"vans/{VanId}/timeline#report-{item.Id}", item.Name),
            TimelineKind.FollowUpDue => ("Come back to: ", $"vans/{VanId}/consults", item.Name),
            TimelineKind.FollowUpDone => ("Done: ", $"vans/{VanId}/consults", item.Name),
            _ => throw new InvalidOperationException($"There are no words for {item.Kind}."),
        };
        if (link is null)
        {
            builder.AddContent(0, before);
        }
        else
        {
            builder.OpenElement(1, "a");
            builder.AddAttribute(2, "href", link);
            builder.AddContent(3, before);
        }

        builder.OpenElement(4, "bdi");
        builder.AddContent(5, name);
        builder.CloseElement();
        if (link is not null)
        {
            builder.CloseElement();
        }
    };
}
