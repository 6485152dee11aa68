using ConsultDesk.Records;
using Microsoft.AspNetCore.Components;
using MudBlazor;

namespace ConsultDesk.Web.Plans;

/// <summary>A published plan and the links that open it.</summary>
public sealed partial class PlanLinksPage(
    Records.Plans plans, PlanReplies replies, VanBook vans, ClientBook clients, TimeProvider time, NavigationManager navigation, IDialogService dialogs)
{
    private static readonly int[] Lives = [14, 30, 90, 180, 365];

    private int _days = (int)Records.Plans.UsualLinkLife.TotalDays;
    private PlanLine? _line;
    private Van? _van;
    private Client? _client;
    private NewPlanLink? _made;
    private readonly Dictionary<Guid, string> _answers = [];
    private IReadOnlyList<ReplyLine> _replies = [];
    private string? _trouble;
    private bool _busy;

    [Parameter]
    public Guid PlanId { get; set; }

    [CascadingParameter]
    private SignedIn Who { get; set; } = default!;

    private string Link => $"{navigation.BaseUri}plan/{_made!.Token}";

    private DateTime Now => time.GetUtcNow().UtcDateTime;

    protected override async Task OnParametersSetAsync()
    {
        _made = null;
        await ReadAsync();
    }

    private async Task ReadAsync()
    {
        var plan = await plans.Plan(Who, PlanId);
        var van = plan is null ? null : await vans.Van(Who, plan.VanId);
        var client = van is null ? null : await clients.Client(Who, van.ClientId);
        if (van is null || client is null)
        {
            navigation.NotFound();
            return;
        }

        var all = await plans.PlansOf(Who, van.Id);
        (_van, _client, _line) = (van, client, all.Single(p => p.Id == PlanId));
        await ReadRepliesAsync();
    }

    private async Task ReadRepliesAsync()
    {
        _replies = await replies.Of(Who, PlanId);
        foreach (var reply in _replies)
        {
            _answers.TryAdd(reply.Id, reply.Answer ?? "");
        }
    }

    private async Task AnswerAsync(ReplyLine reply)
    {
        _busy = true;
        _trouble = null;
        try
        {
            await replies.Answer(Who, reply.Id, reply.Version, _answers[reply.Id]);
        }
        catch (RecordChangedException)
        {
            _trouble = "A colleague answered meanwhile. Their answer stands above your words; yours are still in the field.";
        }
        catch (InvalidInputException refused)
        {
            _trouble = refused.Errors[0].Message;
        }
        catch (RecordNotFoundException)
        {
            navigation.NotFound();
            return;
        }
        finally
        {
            _busy = false;
        }

        await ReadRepliesAsync();
    }

    private async Task MakeAsync()
    {
        if (_busy)
        {
            return;
        }

        _busy = true;
        try
        {
            _made = await plans.AddLink(Who, PlanId, TimeSpan.FromDays(_days));
            await ReadAsync();
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

    private async Task WithdrawAsync(PlanLinkLine link)
    {
        var sure = await dialogs.ShowMessageBoxAsync(
            "Withdraw this link?",
            "Whoever holds it can no longer read the plan. The plan itself stays, and you can make another link.",
            yesText: "Withdraw",
            cancelText: "Keep");
        if (sure != true)
        {
            return;
        }

        try
        {
            await plans.RevokeLink(Who, link.Id);
            _made = null;
            await ReadAsync();
        }
        catch (RecordNotFoundException)
        {
            navigation.NotFound();
        }
    }
}
