using Bunit;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Records;
using ConsultDesk.Reports.Pdf;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Web.Plans;
using ConsultDesk.Web.Workspace;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using MudBlazor;
using MudBlazor.Services;
using UnitsNet;
using Xunit;
using Severity = ConsultDesk.Calculations.Findings.Severity;

namespace ConsultDesk.Web.Tests.Workspace;

public sealed class PublishDialogTests : IAsyncDisposable
{
    private static readonly Finding Danger = new()
    {
        Code = "flame",
        Severity = Severity.Danger,
        Title = "A flame burns cabin air",
        Explanation = "Because.",
        Evidence = [new Evidence("Oxygen left", Ratio.FromPercent(20))],
        Remedy = "Open it.",
    };

    private readonly BunitContext _page = new();
    private readonly IRenderedComponent<MudDialogProvider> _dialogs;
    private readonly List<PublishChoice> _published = [];
    private readonly List<Guid> _withdrawn = [];
    private readonly Guid _linkId = Guid.NewGuid();
    private Func<Guid, Task> _withdraw;
    private PlanPreview _preview = new([], [], [], null);

    public PublishDialogTests()
    {
        _withdraw = id =>
        {
            _withdrawn.Add(id);
            return Task.CompletedTask;
        };
        _page.JSInterop.Mode = JSRuntimeMode.Loose;
        _page.Services.AddMudServices();
        _page.Services.AddSingleton(new ConsultDesk.Web.Shell.ThisBrowser(TimeProvider.System));
        // Without a mail server; LetterTests send.
        _page.Services.AddSingleton(new ConsultDesk.Web.Letters.Correspondence(null!, null!, null!, null!));
        _dialogs = _page.Render<MudDialogProvider>();
    }

    public ValueTask DisposeAsync() => _page.DisposeAsync();

    private async Task OpenAsync(params Finding[] findings)
    {
        var service = _page.Services.GetRequiredService<IDialogService>();
        await _dialogs.InvokeAsync(() => service.ShowAsync<PublishDialog>("Publish", new DialogParameters<PublishDialog>
        {
            { d => d.ClientName, "Ines & Taavi" },
            { d => d.VanName, "Mossback" },
            { d => d.Letter, "B" },
            { d => d.Name, "Two vents" },
            { d => d.AllFindings, findings },
            { d => d.PlanAddress, "https://desk.example.org/plan/" },
            { d => d.Withdraw, EventCallback.Factory.Create<Guid>(this, id => _withdraw(id)) },
            { d => d.Preview, () => Task.FromResult(_preview) },
            { d => d.Publish, choice =>
                {
                    _published.Add(choice);
                    var at = new DateTime(2031, 2, 3, 20, 0, 0, DateTimeKind.Utc);
                    return Task.FromResult(new PublishedPlan(Guid.NewGuid(), 3, at, new NewPlanLink(_linkId, "token", at.AddDays(180))));
                }
            },
        }));
    }

    private void Press(string text) => _dialogs.FindAll("button").First(button => button.TextContent.Trim() == text).Click();

    [Fact]
    public async Task A_standing_danger_is_published_only_with_a_typed_reason()
    {
        await OpenAsync(Danger);
        Assert.Contains("A flame burns cabin air", _dialogs.Find(".danger-box").TextContent, StringComparison.Ordinal);

        Press("Publish");
        Assert.Empty(_published);
        Assert.Contains("Expected a reason", _dialogs.Find(".field-error").TextContent, StringComparison.Ordinal);

        _dialogs.Find("textarea").Input("  The client fits the vents first.  ");
        Press("Publish");
        Assert.Equal("The client fits the vents first.", Assert.Single(_published).DangerReason);
    }

    [Fact]
    public async Task Without_a_danger_no_reason_is_asked_for()
    {
        await OpenAsync();
        Assert.Empty(_dialogs.FindAll("textarea"));

        Press("Publish");

        Assert.Equal(new PublishChoice(TimeSpan.FromDays(180), null, null), Assert.Single(_published));
    }

    [Fact]
    public async Task It_says_what_is_published_before_and_shows_the_link_once_after()
    {
        await OpenAsync();
        Assert.Contains("Ines & Taavi", _dialogs.Find(".pairs").TextContent, StringComparison.Ordinal);
        Assert.Empty(_dialogs.FindAll("input[name=plan-link]"));

        Press("Publish");

        Assert.Equal("https://desk.example.org/plan/token", _dialogs.Find("input[name=plan-link]").GetAttribute("value"));
        Assert.Contains(_dialogs.FindAll("a"), a => a.GetAttribute("href") == "https://desk.example.org/plan/token/pdf");
        Assert.Contains("Plan 3 is published", _dialogs.Find(".dialog-title").TextContent, StringComparison.Ordinal);
        Assert.Contains("2 Aug 2031", _dialogs.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public async Task It_shows_first_what_the_plan_says_first_and_reminds_of_open_points_without_holding_it_back()
    {
        _preview = new(
            [new PlanThing("Fit the roof fan.", "Air.", "A body shop", "560\u00A0EUR", "Before the walls close")],
            ["Heat source", "Budget and looks"],
            ["no gas (Gas cooker)"],
            1);
        await OpenAsync();

        var preview = _dialogs.Find(".publish-preview");
        foreach (var part in new[] { "Fit the roof fan.", "A body shop", "560\u00A0EUR", "Before the walls close" })
        {
            Assert.Contains(part, preview.QuerySelector("ol li")!.TextContent, StringComparison.Ordinal);
        }

        Assert.Contains("what changed since revision 1", preview.TextContent, StringComparison.Ordinal);
        Assert.Contains("Heat source; Budget and looks", preview.QuerySelector(".publish-open")!.TextContent, StringComparison.Ordinal);
        Assert.Contains("no gas (Gas cooker)", preview.TextContent, StringComparison.Ordinal);

        Press("Publish");
        Assert.Single(_published);
    }

    [Fact]
    public async Task Names_in_Greek_and_Cyrillic_print_and_what_the_fonts_lack_is_named_before_anything_is_published()
    {
        _preview = Preview("Ελένη Παπαδοπούλου", "Анна Черновская", "Łukasz Ødegård");
        await OpenAsync();
        Assert.DoesNotContain("The PDF cannot print", _dialogs.Markup, StringComparison.Ordinal);

        _preview = Preview("陳大文", "سارة", "Ana");
        await OpenAsync(Danger);
        var notice = _dialogs.FindAll(".publish-open")[^1];
        Assert.Equal("The PDF cannot print:", notice.QuerySelector("b")!.TextContent);
        Assert.Equal("ا ة ر س 大 文 陳", notice.QuerySelector("bdi")!.TextContent);
        Assert.Contains("code point in brackets", notice.TextContent, StringComparison.Ordinal);

        // What is typed here is printed too.
        _dialogs.FindAll("textarea")[^1].Input("She said: 好.");
        Assert.Equal("ا ة ر س 大 文 陳 好", _dialogs.FindAll(".publish-open bdi")[^1].TextContent);
        Assert.Empty(_published);

        static PlanPreview Preview(string client, string van, string firm) => new([], [], [], null)
        {
            Unprintable = PlanPdf.Unprintable(new PlanSnapshot
            {
                Format = PlanSnapshotJson.Format,
                Firm = new FirmBrand(firm, "#2f6f62", ""),
                ClientName = client,
                VanName = van,
                OptionName = "B",
                Revision = 1,
                PublishedAt = DateTime.UnixEpoch,
                MethodVersion = "m",
                DesignText = "{}",
                Sections = [],
            }),
        };
    }

    [Fact]
    public async Task The_link_can_be_withdrawn_at_once()
    {
        await OpenAsync();
        Press("Publish");

        Press("Withdraw the link");

        Assert.Equal([_linkId], _withdrawn);
        Assert.Contains("The link is withdrawn.", _dialogs.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_link_that_cannot_be_withdrawn_is_not_called_withdrawn()
    {
        _withdraw = id => throw new RecordNotFoundException("link", id);
        await OpenAsync();
        Press("Publish");

        Press("Withdraw the link");

        Assert.Contains("was not withdrawn", _dialogs.Find("[role=alert]").TextContent, StringComparison.Ordinal);
        Assert.DoesNotContain("The link is withdrawn.", _dialogs.Markup, StringComparison.Ordinal);
    }
}
