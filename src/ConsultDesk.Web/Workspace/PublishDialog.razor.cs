using System.Globalization;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Records;
using ConsultDesk.Reports.Pdf;
using ConsultDesk.Web.Plans;
using Microsoft.AspNetCore.Components;
using MudBlazor;

namespace ConsultDesk.Web.Workspace;

/// <summary>What the consultant decided when publishing.</summary>
/// <param name="LinkLife">How long the link works.</param>
/// <param name="OtherId">The option set beside it, or null.</param>
/// <param name="DangerReason">Why it is published although a danger stands; null when none does.</param>
public sealed record PublishChoice(TimeSpan LinkLife, Guid? OtherId, string? DangerReason);

/// <summary>Publishes a plan from the option on the screen.</summary>
public sealed partial class PublishDialog
{
    private static readonly int[] Lives = [14, 30, 90, 180, 365];

    private readonly string _id = Ids.Next();
    private PublishedPlan? _published;
    private PlanPreview? _preview;
    private string? _other;
    private int _days = (int)Records.Plans.UsualLinkLife.TotalDays;
    private string _reason = "";
    private string? _error;
    private string? _trouble;
    private bool _busy;
    private bool _withdrawn;
    private ElementReference _reasonField;

    [CascadingParameter]
    private IMudDialogInstance Dialog { get; set; } = default!;

    /// <summary>Who publishes. A parameter: dialogs stand outside the page and its cascading values.</summary>
    [Parameter]
    public SignedIn Who { get; set; } = default!;

    /// <summary>The van.</summary>
    [Parameter]
    public Guid VanId { get; set; }

    [Parameter]
    public string ClientName { get; set; } = "";

    [Parameter]
    public string VanName { get; set; } = "";

    [Parameter]
    public string Letter { get; set; } = "";

    [Parameter]
    public string Name { get; set; } = "";

    /// <summary>All findings of the assessment that is published.</summary>
    [Parameter]
    public IReadOnlyList<Finding> AllFindings { get; set; } = [];

    /// <summary>The client's own idea, which the plan is set against; null when it is the option that is published.</summary>
    [Parameter]
    public OptionLine? Own { get; set; }

    /// <summary>What the plan is going to say first; throws what the records refuse.</summary>
    [Parameter]
    public Func<Task<PlanPreview>> Preview { get; set; } = default!;

    /// <summary>Options it can be compared with number by number.</summary>
    [Parameter]
    public IReadOnlyList<OptionLine> Others { get; set; } = [];

    /// <summary>The option it was copied from, offered first.</summary>
    [Parameter]
    public Guid? SourceId { get; set; }

    /// <summary>Address plans are read at, with a closing slash.</summary>
    [Parameter]
    public string PlanAddress { get; set; } = "";

    /// <summary>Publishes; throws what the records refuse.</summary>
    [Parameter]
    public Func<PublishChoice, Task<PublishedPlan>> Publish { get; set; } = default!;

    /// <summary>Takes a link back.</summary>
    [Parameter]
    public EventCallback<Guid> Withdraw { get; set; }

    private List<Finding> Dangers => [.. AllFindings.Where(finding => finding.Severity == Calculations.Findings.Severity.Danger)];

    private string Findings => AllFindings.Count switch
    {
        0 => "no findings",
        1 => "one finding with its numbers and remedy",
        var count => string.Create(CultureInfo.InvariantCulture, $"{count} findings with their numbers and remedies"),
    };

    private string Link => PlanAddress + _published!.Link.Token;

    /// <summary>What the fonts lack: in the plan as it was written for the preview, and in what was typed or chosen here since.</summary>
    private List<string> Unprintable(PlanPreview preview) =>
    [
        .. preview.Unprintable
            .Union(PlanPdf.Unprintable(string.Join('\n', Dangers.Count > 0 ? _reason : "", Own?.Name, Others.FirstOrDefault(other => other.Id.ToString() == _other)?.Name))),
    ];

    protected override async Task OnInitializedAsync()
    {
        _other = Others.Any(other => other.Id == SourceId) ? SourceId.ToString() : "";
        try
        {
            _preview = await Preview();
        }
        catch (Exception failed) when (failed is RecordChangedException or RecordNotFoundException or PublishRefusedException)
        {
            _trouble = failed.Message;
        }
    }

    private async Task PublishAsync()
    {
        var reason = _reason.Trim();
        _error = Dangers.Count > 0 ? DangerReason.Problem(reason) : null;
        if (_error is not null)
        {
            await _reasonField.FocusAsync();
            return;
        }

        if (_busy)
        {
            return;
        }

        _busy = true;
        _trouble = null;
        try
        {
            _published = await Publish(new PublishChoice(
                TimeSpan.FromDays(_days),
                string.IsNullOrEmpty(_other) ? null : Guid.Parse(_other),
                Dangers.Count > 0 ? reason : null));
        }
        catch (Exception failed) when (failed is RecordChangedException or RecordNotFoundException or InvalidInputException or PublishRefusedException)
        {
            _trouble = failed.Message;
        }
        finally
        {
            _busy = false;
            // The title is drawn by the dialog's frame.
            Dialog.StateHasChanged();
        }
    }

    private async Task WithdrawAsync()
    {
        _trouble = null;
        try
        {
            await Withdraw.InvokeAsync(_published!.Link.LinkId);
            _withdrawn = true;
        }
        catch (RecordNotFoundException)
        {
            _trouble = "The link was not withdrawn: it is not among the stored links. Look at the links of this plan.";
        }
    }
}

/// <summary>The option cannot be published as it stands.</summary>
public sealed class PublishRefusedException(string message) : Exception(message);
