using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Shell;
using ConsultDesk.Web.Workspace;
using Microsoft.AspNetCore.Components;

namespace ConsultDesk.Web.Intake;

/// <summary>The consultant takes a client's answers over, each or all, into an option and the wishes.</summary>
public sealed partial class IntakeReview(
    Intakes intakes, VanBook vans, ClientBook clients, VanOptions options, WishesBook wishesBook, Firms firms, NavigationManager navigation)
{
    private readonly HashSet<string> _taken = new(StringComparer.Ordinal);
    private Van? _van;
    private Client? _client;
    private OpenedIntake? _intake;
    private IReadOnlyList<OptionLine> _options = [];
    private LoadedOption? _option;
    private LoadedWishes? _wishes;
    private IReadOnlyList<Proposal> _proposals = [];
    private string _currency = "";
    private Guid _optionId;
    private string _letter = "";
    private string? _trouble;
    private string? _done;
    private bool _busy;

    [Parameter]
    public Guid VanId { get; set; }

    [Parameter]
    public Guid IntakeId { get; set; }

    [CascadingParameter]
    private SignedIn Who { get; set; } = default!;

    [CascadingParameter]
    private DisplayUnits Units { get; set; } = DisplayUnits.Metric;

    [Inject]
    private AuditTrail Audit { get; set; } = default!;

    protected override async Task OnInitializedAsync()
    {
        _van = await vans.Van(Who, VanId);
        _intake = await intakes.Open(Who, VanId, IntakeId);
        if (_van is null || _intake is null)
        {
            navigation.NotFound();
            return;
        }

        await Audit.Seen(Who, "intake", IntakeId);
        _client = await clients.Client(Who, _van.ClientId);
        var firm = await firms.Mine(Who);
        _currency = firm.Currency;
        _options = await options.OptionsOf(Who, VanId);
        // The client's own idea while it is open, else what was worked on last.
        var start = _options.FirstOrDefault(option => option.KeptAt is null && option.Letter == VanOptions.FirstLetter)
            ?? _options.Where(option => option.KeptAt is null).MaxBy(option => option.UpdatedAt) ?? _options[0];
        await ChooseAsync(start.Id);
    }

    private bool Open(Proposal proposal) => _intake?.SubmittedAt is not null && (proposal.Change is null || _option?.KeptAt is null);

    private async Task ChooseAsync(Guid optionId)
    {
        _optionId = optionId;
        _option = await options.Load(Who, optionId);
        _letter = _option?.Letter ?? "";
        _wishes = await wishesBook.Load(Who, VanId);
        _proposals = _option is null ? [] : IntakeProposals.Of(_intake!.Answers, _option.Design, _wishes.Wishes, Units, _currency);
        _taken.Clear();
        _taken.UnionWith(_proposals.Where(proposal => proposal.CanBeTaken && Open(proposal) && !proposal.SameAsNow).Select(proposal => proposal.Key));
    }

    private void Toggle(Proposal proposal, bool taken) => _ = taken ? _taken.Add(proposal.Key) : _taken.Remove(proposal.Key);

    private async Task TakeAsync()
    {
        if (_busy || _option is null || _wishes is null)
        {
            return;
        }

        _busy = true;
        (_trouble, _done) = (null, null);
        try
        {
            var chosen = _proposals.Where(proposal => _taken.Contains(proposal.Key)).ToList();
            var design = IntakeProposals.Taken(_option.Design, chosen);
            if (Placement.Refusal(_option.Design, design) is { } stands)
            {
                _trouble = $"Nothing was taken over. {stands}";
                return;
            }

            if (DesignCheck.Errors(design) is { IsEmpty: false } errors)
            {
                _trouble = $"Nothing was taken over. {string.Join(" ", errors.Take(3).Select(error => Words.Of(error, Units)))} Leave an answer out that leads to it, or mend it in the workspace first.";
                return;
            }

            // Wishes first: should the option have been changed meanwhile, they are what they are, and the rest is asked again.
            var wishes = chosen.Aggregate(_wishes.Wishes, (all, proposal) => proposal.Wish is { } wish ? wish(all) : all);
            if (chosen.Any(proposal => proposal.Wish is not null))
            {
                await wishesBook.Save(Who, VanId, _wishes.Version, wishes);
            }

            if (chosen.Any(proposal => proposal.Change is not null) && await options.Save(Who, _optionId, _option.Version, design, "answers of the intake") is not Saved)
            {
                await ChooseAsync(_optionId);
                _trouble = "The option was changed by somebody else meanwhile. It was read again; look at the answers once more.";
                return;
            }

            await intakes.MarkReviewed(Who, IntakeId);
            _intake = await intakes.Open(Who, VanId, IntakeId);
            var count = chosen.Count;
            await ChooseAsync(_optionId);
            _done = $"{When.Count(count, "answer")} taken over into option {_letter} and the wishes.";
        }
        catch (RecordChangedException changed)
        {
            await ChooseAsync(_optionId);
            _trouble = changed.Message + " It was read again; look at the answers once more.";
        }
        catch (InvalidInputException refused)
        {
            _trouble = $"Nothing was taken over. {string.Join(" ", refused.Errors.Select(error => $"{error.Field}: {error.Message}"))}";
        }
        catch (RecordNotFoundException)
        {
            navigation.NotFound();
        }
        finally
        {
            _busy = false;
        }
    }

    private async Task ReviewedAsync()
    {
        _busy = true;
        try
        {
            await intakes.MarkReviewed(Who, IntakeId);
            _intake = await intakes.Open(Who, VanId, IntakeId);
        }
        catch (RecordChangedException)
        {
            _intake = await intakes.Open(Who, VanId, IntakeId);
        }
        finally
        {
            _busy = false;
        }
    }
}
