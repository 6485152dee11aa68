using Bunit;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Consults;
using ConsultDesk.Web.Shell;
using ConsultDesk.Web.Tests.Shell;
using ConsultDesk.Web.Tests.Workspace;
using ConsultDesk.Web.Workspace;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using UnitsNet;
using Xunit;
using TestContext = Xunit.TestContext;

namespace ConsultDesk.Web.Tests.Consults;

/// <summary>Agenda, notes, follow-ups and declined findings as two people work on them.</summary>
public sealed class ConsultPanelTests(DeskApp app) : IClassFixture<DeskApp>
{
    private static readonly DateTime When = new(2026, 3, 9, 12, 0, 0, DateTimeKind.Utc);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private ConsultBook Consults => app.Services.GetRequiredService<ConsultBook>();

    private DecisionBook Decisions => app.Services.GetRequiredService<DecisionBook>();

    [Fact]
    public async Task Notes_save_themselves_a_moment_after_the_last_letter_and_say_when()
    {
        var (who, van) = await VanAsync();
        var consult = await ConsultAsync(who, van);
        await using var context = Context(who, out var time);
        var field = context.Render<NotesField>(p => p.Add(f => f.Consult, consult));

        await field.Find("textarea").InputAsync(new ChangeEventArgs { Value = "Talks over her." });
        Assert.Equal("Saving…", field.Find(".save-state").TextContent);
        Assert.Equal("", (await Consults.Consult(who, consult.Id, Cancel))!.PrivateNotes);
        time.Advance(NotesField.Quiet.TotalMilliseconds);

        field.WaitForAssertion(() => Assert.Matches(@"^Saved \d\d:\d\d:\d\d$", field.Find(".save-state").TextContent));
        Assert.Equal("Talks over her.", (await Consults.Consult(who, consult.Id, Cancel))!.PrivateNotes);
    }

    [Fact]
    public async Task Notes_typed_just_before_the_page_goes_are_stored()
    {
        var (who, van) = await VanAsync();
        var consult = await ConsultAsync(who, van);
        await using (var context = Context(who, out _))
        {
            var field = context.Render<NotesField>(p => p.Add(f => f.Consult, consult));
            await field.Find("textarea").InputAsync(new ChangeEventArgs { Value = "The last words" });
            await context.DisposeComponentsAsync();
        }

        Assert.Equal("The last words", (await Consults.Consult(who, consult.Id, Cancel))!.PrivateNotes);
    }

    [Fact]
    public async Task The_second_of_two_writers_of_notes_is_told_and_can_keep_both()
    {
        var (who, van) = await VanAsync();
        var consult = await ConsultAsync(who, van);
        await using var context = Context(who, out var time);
        var field = context.Render<NotesField>(p => p.Add(f => f.Consult, consult));
        await Consults.SaveNotes(who, consult.Id, consult.Version, "Theirs", Cancel);

        await field.Find("textarea").InputAsync(new ChangeEventArgs { Value = "Mine" });
        time.Advance(NotesField.Quiet.TotalMilliseconds);

        field.WaitForAssertion(() => Assert.Contains("changed these notes at", field.Find("[role=alert]").TextContent, StringComparison.Ordinal));
        Assert.Equal("Theirs", field.Find(".notice .pre").TextContent);
        Assert.Equal("Mine", field.Find("textarea").GetAttribute("value"));
        Assert.Equal("Theirs", (await Consults.Consult(who, consult.Id, Cancel))!.PrivateNotes);
        await field.FindAll(".notice button").Single(b => b.TextContent == "Keep both").ClickAsync(new());
        Assert.Equal("Theirs\n\nMine", (await Consults.Consult(who, consult.Id, Cancel))!.PrivateNotes);
        Assert.Empty(field.FindAll("[role=alert]"));
    }

    [Fact]
    public async Task A_consult_moved_by_a_colleague_does_not_stand_in_the_way_of_its_notes()
    {
        var (who, van) = await VanAsync();
        var consult = await ConsultAsync(who, van);
        await using var context = Context(who, out var time);
        var field = context.Render<NotesField>(p => p.Add(f => f.Consult, consult));
        await Consults.MarkHeld(who, consult.Id, consult.Version, Cancel);

        await field.Find("textarea").InputAsync(new ChangeEventArgs { Value = "Mine" });
        time.Advance(NotesField.Quiet.TotalMilliseconds);

        field.WaitForAssertion(() => Assert.StartsWith("Saved", field.Find(".save-state").TextContent, StringComparison.Ordinal));
        var stored = (await Consults.Consult(who, consult.Id, Cancel))!;
        Assert.Equal("Mine", stored.PrivateNotes);
        Assert.NotNull(stored.HeldAt);
    }

    [Fact]
    public async Task Notes_that_are_too_long_are_refused_with_the_limit_and_stay_on_the_screen()
    {
        var (who, van) = await VanAsync();
        var consult = await ConsultAsync(who, van);
        await using var context = Context(who, out var time);
        var field = context.Render<NotesField>(p => p.Add(f => f.Consult, consult));
        var text = new string('n', TextLimits.Notes + 1);

        await field.Find("textarea").InputAsync(new ChangeEventArgs { Value = text });
        time.Advance(NotesField.Quiet.TotalMilliseconds);

        field.WaitForAssertion(() => Assert.Contains("Expected at most 20000 characters", field.Find("[role=alert]").TextContent, StringComparison.Ordinal));
        Assert.Equal(text, field.Find("textarea").GetAttribute("value"));
        Assert.Equal("", (await Consults.Consult(who, consult.Id, Cancel))!.PrivateNotes);
    }

    [Fact]
    public async Task While_the_screen_is_shared_or_before_the_browser_has_said_so_no_note_is_on_the_page()
    {
        var (who, van) = await VanAsync();
        var consult = await ConsultAsync(who, van);
        await Consults.SaveNotes(who, consult.Id, consult.Version, "MARKER-9471", Cancel);
        consult = (await Consults.Consult(who, consult.Id, Cancel))!;
        await using var context = Context(who, out _, told: false);
        var field = context.Render<NotesField>(p => p.Add(f => f.Consult, consult));
        var browser = context.Services.GetRequiredService<ThisBrowser>();

        Assert.DoesNotContain("MARKER-9471", field.Markup, StringComparison.Ordinal);
        await field.InvokeAsync(() => browser.Tell("Europe/Oslo", sharing: false));
        field.WaitForAssertion(() => Assert.Equal("MARKER-9471", field.Find("textarea").GetAttribute("value")));
        await field.InvokeAsync(() => browser.Share(true));
        field.WaitForAssertion(() => Assert.DoesNotContain("MARKER-9471", field.Markup, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_point_is_stored_when_its_field_is_left_and_declining_asks_for_what_why_and_who()
    {
        var (who, van) = await VanAsync();
        await using var context = Context(who, out _);
        var list = context.Render<AgendaList>(p => p.Add(l => l.VanId, van));
        Assert.Equal(Enum.GetValues<DecisionTopic>().Select(Agenda.Title), list.FindAll(".point-title").Select(t => t.TextContent));

        await Head(list, DecisionTopic.HeatSource).ClickAsync(new());
        await Change(list, "what", "A room-sealed air heater");
        await Choose(list, DecisionState.Declined);
        Assert.Equal(2, list.FindAll(".point .field-error").Count(e => e.TextContent.Length > 0));
        Assert.Equal(DecisionState.Open, (await PointAsync(who, van)).State);
        await Change(list, "why", "No fuel smell");
        await Change(list, "who", "Runa");

        var stored = await PointAsync(who, van);
        Assert.Equal((DecisionState.Declined, "A room-sealed air heater", "No fuel smell", "Runa"), (stored.State, stored.What, stored.Why, stored.Who));
        Assert.Equal("Declined", Head(list, DecisionTopic.HeatSource).QuerySelector(".tag")!.TextContent);
        Assert.Matches(@"Saved \d\d:\d\d:\d\d", list.Find(".point-body .save-state").TextContent);
        Assert.Contains("0 decided, 1 declined", list.Find("p").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_second_of_two_people_on_a_point_is_told_and_neither_is_lost()
    {
        var (who, van) = await VanAsync();
        await using var context = Context(who, out _);
        var list = context.Render<AgendaList>(p => p.Add(l => l.VanId, van));
        await Decisions.Save(who, van, DecisionTopic.HeatSource, null, new(DecisionState.Decided, "Theirs"), Cancel);

        await Head(list, DecisionTopic.HeatSource).ClickAsync(new());
        await Change(list, "what", "Mine");

        Assert.Contains("Theirs", list.Find("[role=alert]").TextContent, StringComparison.Ordinal);
        Assert.Equal("Mine", list.Find("textarea[name=what]").GetAttribute("value"));
        Assert.Equal("Theirs", (await PointAsync(who, van)).What);
        await list.FindAll("[role=alert] button").Single(b => b.TextContent == "Write mine over theirs").ClickAsync(new());
        Assert.Equal((DecisionState.Open, "Mine"), (await PointAsync(who, van)) is var now ? (now.State, now.What) : default);
        Assert.Empty(list.FindAll("[role=alert]"));
    }

    [Fact]
    public async Task A_point_names_the_findings_that_belong_to_it_and_opens_its_inputs()
    {
        var (who, van) = await VanAsync();
        await using var context = Context(who, out _);
        var opened = "";
        var list = context.Render<AgendaList>(p => p
            .Add(l => l.VanId, van)
            .Add(l => l.Findings, [Finding("heater-too-big", Severity.Advice), Finding("heater-too-small", Severity.Warning), Finding("wet-skin", Severity.Warning)])
            .Add(l => l.OnInputs, anchor => opened = anchor));

        Assert.Equal(["Warning: Title of heater-too-small", "Advice: Title of heater-too-big"], list.FindAll("[data-topic=HeatSource] .point-findings li").Select(l => l.TextContent));
        Assert.Equal("Warning: Title of wet-skin", list.Find("[data-topic=SteelAndWalls] .point-findings li").TextContent);
        await list.Find("[data-topic=HeatSource] .point-inputs button").ClickAsync(new());
        Assert.Equal("heater", opened);
    }

    [Fact]
    public async Task Every_group_of_inputs_that_the_agenda_opens_is_in_the_form()
    {
        var (who, _) = await VanAsync();
        await using var context = Context(who, out _);
        var groups = new InputGroups();
        context.RenderTree.Add<CascadingValue<InputGroups>>(p => p.Add(v => v.Value, groups));
        context.RenderTree.Add<CascadingValue<OptionEditor>>(p => p.Add(v => v.Value, new OptionEditor(Samples.Design())));
        context.RenderTree.Add<CascadingValue<DisplayUnits>>(p => p.Add(v => v.Value, DisplayUnits.Metric));
        var form = context.Render<InputsPanel>(p => p.Add(f => f.Design, Samples.Design()));

        // The wishes stand above the form, in the same pane.
        foreach (var inputs in Enum.GetValues<DecisionTopic>().SelectMany(Agenda.Inputs).Where(inputs => inputs.Anchor != "wishes"))
        {
            Assert.True(await form.InvokeAsync(() => groups.Open(inputs.Anchor)), $"The form has no group '{inputs.Anchor}'.");
        }

        Assert.False(groups.Open("no-such-group"));
    }

    [Fact]
    public async Task A_danger_can_be_declined_with_why_and_who_and_stays_a_danger()
    {
        var (who, _) = await VanAsync();
        await using var context = Context(who, out _);
        DeclinedInput? sent = null;
        IReadOnlyList<FieldError> answer = [new("Why", "Expected a text of 1 to 500 characters.")];
        Task<IReadOnlyList<FieldError>> Decline(DeclinedInput input)
        {
            sent = input;
            return Task.FromResult(answer);
        }

        var danger = Finding("unflued-flame-asleep", Severity.Danger);
        var box = context.Render<CascadingValue<DisplayUnits>>(p => p.Add(v => v.Value, DisplayUnits.Metric)
            .AddChildContent<CascadingValue<DeclinedBoard>>(b => b.Add(v => v.Value, new DeclinedBoard([], Decline, _ => Task.CompletedTask))
                .AddChildContent<DangerBox>(d => d.Add(x => x.Findings, [danger]))));

        await box.FindAll("button").Single(b => b.TextContent == "Decline…").ClickAsync(new());
        await box.Find("form").SubmitAsync();
        Assert.Equal("Expected a text of 1 to 500 characters.", box.FindAll(".field-bad .field-error").Single().TextContent);
        Assert.Equal(("unflued-flame-asleep", danger.Remedy), (sent!.FindingCode, sent.Advice));
        await box.Find("input[name=Why]").ChangeAsync(new ChangeEventArgs { Value = "It was a present" });
        await box.Find("input[name=Who]").ChangeAsync(new ChangeEventArgs { Value = "Runa" });
        answer = [];
        await box.Find("form").SubmitAsync();
        Assert.Equal(("It was a present", "Runa"), (sent.Why, sent.Who));

        var row = new DeclinedAdvice { FindingCode = danger.Code, Advice = danger.Remedy, Why = "It was a present", Who = "Runa" };
        var declined = context.Render<CascadingValue<DisplayUnits>>(p => p.Add(v => v.Value, DisplayUnits.Metric)
            .AddChildContent<CascadingValue<DeclinedBoard>>(b => b.Add(v => v.Value, new DeclinedBoard([row], Decline, _ => Task.CompletedTask))
                .AddChildContent<DangerBox>(d => d.Add(x => x.Findings, [danger]))));
        Assert.Equal("Danger", declined.Find(".finding-danger .severity").TextContent);
        Assert.Contains("Declined by Runa: It was a present It stays a danger.", declined.Find(".declined p").TextContent, StringComparison.Ordinal);
        Assert.Empty(declined.FindAll("form"));
    }

    [Fact]
    public async Task A_follow_up_is_added_ticked_and_reopened_and_a_wrong_one_keeps_what_was_typed()
    {
        var (who, van) = await VanAsync();
        await using var context = Context(who, out _);
        var list = context.Render<FollowUpList>(p => p.Add(l => l.VanId, van));

        await list.Find("#Text").ChangeAsync(new ChangeEventArgs { Value = "Ask for photographs" });
        await list.Find("form").SubmitAsync();
        Assert.Contains("Expected a day", list.Find("#DueOn-error").TextContent, StringComparison.Ordinal);
        Assert.Equal("Ask for photographs", list.Find("#Text").GetAttribute("value"));
        await list.Find("#DueOn").ChangeAsync(new ChangeEventArgs { Value = "2026-03-08" });
        await list.Find("form").SubmitAsync();

        Assert.Equal("overdue by 1 day", list.Find(".follow-ups .small").TextContent);
        await list.Find(".follow-ups input").ChangeAsync(new ChangeEventArgs { Value = true });
        Assert.StartsWith("done", list.Find(".follow-ups .small").TextContent, StringComparison.Ordinal);
        await list.Find(".follow-ups input").ChangeAsync(new ChangeEventArgs { Value = false });
        Assert.Equal("overdue by 1 day", list.Find(".follow-ups .small").TextContent);
    }

    [Fact]
    public async Task A_planned_consult_shuts_the_form_and_stands_on_the_page_and_a_wrong_one_keeps_what_was_typed()
    {
        var (who, van) = await VanAsync();
        await using var context = Context(who, out _);
        var page = Page(context, van);
        await page.FindAll("button").Single(b => b.TextContent == "Plan a consult").ClickAsync(new());

        await page.Find("#Minutes").ChangeAsync(new ChangeEventArgs { Value = "45" });
        await page.Find("form[aria-label='Plan a consult']").SubmitAsync();
        Assert.Contains("Expected a day of the years", page.Find("#Day-error").TextContent, StringComparison.Ordinal);
        Assert.Equal("45", page.Find("#Minutes").GetAttribute("value"));
        await page.Find("#Day").ChangeAsync(new ChangeEventArgs { Value = "2026-03-12" });
        await page.Find("#Time").ChangeAsync(new ChangeEventArgs { Value = "16:30" });
        await page.Find("form[aria-label='Plan a consult']").SubmitAsync();

        Assert.Empty(page.FindAll("form[aria-label='Plan a consult']"));
        Assert.Contains("45 min", page.Find("article.consult").TextContent, StringComparison.Ordinal);
        var stored = Assert.Single(await Consults.Of(who, van, Cancel));
        Assert.Equal((new DateTime(2026, 3, 12, 16, 30, 0, DateTimeKind.Utc), 45), (stored.StartsAt, stored.Minutes));
    }

    [Fact]
    public async Task A_template_chosen_while_planning_becomes_the_consults_own_points_which_stand_first_and_are_ticked()
    {
        var (who, van) = await VanAsync();
        await app.Services.GetRequiredService<AgendaTemplates>().Add(who, new("First call", "Rust spots\nWho builds?"), Cancel);
        await using var context = Context(who, out _);
        var page = Page(context, van);
        await page.FindAll("button").Single(b => b.TextContent == "Plan a consult").ClickAsync(new());
        await page.Find("#Agenda").ChangeAsync(new ChangeEventArgs { Value = "Ask about the dog" });
        var template = page.FindAll("#agenda-template option").Single(option => option.TextContent == "First call").GetAttribute("value");
        await page.Find("#agenda-template").ChangeAsync(new ChangeEventArgs { Value = template });
        Assert.Equal("Ask about the dog\nRust spots\nWho builds?", page.Find("#Agenda").GetAttribute("value"));
        await page.Find("#Day").ChangeAsync(new ChangeEventArgs { Value = "2026-03-12" });
        await page.Find("#Time").ChangeAsync(new ChangeEventArgs { Value = "16:30" });
        await page.Find("form[aria-label='Plan a consult']").SubmitAsync();

        var panel = context.Render<AgendaPanel>(p => p.Add(a => a.VanId, van));
        panel.WaitForElement(".own-points");
        Assert.Equal(["Ask about the dog", "Rust spots", "Who builds?"], panel.FindAll(".own-points li").Select(li => li.TextContent.Trim()));
        Assert.True(panel.Markup.IndexOf("own-points", StringComparison.Ordinal) < panel.Markup.IndexOf("class=\"agenda\"", StringComparison.Ordinal));
        await panel.FindAll(".own-points input")[1].ChangeAsync(new ChangeEventArgs { Value = true });
        Assert.Equal("Ask about the dog\n✓ Rust spots\nWho builds?", Assert.Single(await Consults.Of(who, van, Cancel)).Agenda);
    }

    [Fact]
    public async Task A_template_is_made_changed_and_deleted_on_its_page_and_a_taken_name_is_said()
    {
        var (who, _) = await VanAsync();
        await using var context = Context(who, out _);
        context.JSInterop.Mode = JSRuntimeMode.Loose;
        var page = context.Render<AgendaTemplatesPage>();
        await New("First call", "One");
        await New("First call", "Two");
        Assert.Contains("no other template has", page.Find("#Name-error").TextContent, StringComparison.Ordinal);
        await page.Find("#Name").ChangeAsync(new ChangeEventArgs { Value = "Second call" });
        await page.Find("form").SubmitAsync();
        Assert.Equal(["First call", "Second call"], page.FindAll("h2").Select(h => h.TextContent));

        await page.FindAll("button").First(b => b.TextContent == "Change…").ClickAsync(new());
        await page.Find("#Points").ChangeAsync(new ChangeEventArgs { Value = "One\nand a half" });
        await page.Find("form").SubmitAsync();
        Assert.Equal(["One", "and a half"], page.FindAll("section")[0].QuerySelectorAll("li").Select(li => li.TextContent));
        await page.FindAll("button").First(b => b.TextContent == "Delete…").ClickAsync(new());
        await page.FindAll("button").Single(b => b.TextContent == "Delete it").ClickAsync(new());
        Assert.Equal(["Second call"], page.FindAll("h2").Select(h => h.TextContent));

        async Task New(string name, string points)
        {
            await page.FindAll("button").Single(b => b.TextContent == "New template").ClickAsync(new());
            await page.Find("#Name").ChangeAsync(new ChangeEventArgs { Value = name });
            await page.Find("#Points").ChangeAsync(new ChangeEventArgs { Value = points });
            await page.Find("form").SubmitAsync();
        }
    }

    [Fact]
    public async Task A_consult_that_is_moved_shows_its_new_length_at_once()
    {
        var (who, van) = await VanAsync();
        await ConsultAsync(who, van);
        await using var context = Context(who, out _);
        var page = Page(context, van);
        await page.FindAll("button").Single(b => b.TextContent == "Change…").ClickAsync(new());
        await page.Find("#Minutes").ChangeAsync(new ChangeEventArgs { Value = "90" });
        await page.Find("form[aria-label='Change the consult']").SubmitAsync();

        Assert.Empty(page.FindAll("form[aria-label='Change the consult']"));
        Assert.Contains("90 min", page.Find("article.consult").TextContent, StringComparison.Ordinal);
    }

    private IRenderedComponent<ConsultsPage> Page(BunitContext context, Guid van)
    {
        context.JSInterop.Mode = JSRuntimeMode.Loose;
        context.Services.AddSingleton(app.Services.GetRequiredService<VanBook>());
        context.Services.AddSingleton(app.Services.GetRequiredService<Firms>());
        context.Services.AddSingleton(app.Services.GetRequiredService<ConsultDesk.Web.Letters.Correspondence>());
        context.Services.AddSingleton(app.Services.GetRequiredService<ClientBook>());
        context.Services.AddSingleton(app.Services.GetRequiredService<DeclinedAdviceBook>());
        context.Services.AddSingleton<MudBlazor.IDialogService>(new MudBlazor.DialogService());
        var page = context.Render<ConsultsPage>(p => p.Add(c => c.VanId, van));
        page.WaitForElement("#consults-head");
        return page;
    }

    private static AngleSharp.Dom.IElement Head(IRenderedComponent<AgendaList> list, DecisionTopic topic) => list.Find($"[data-topic={topic}] .point-head button");

    private static Task Change(IRenderedComponent<AgendaList> list, string name, string value) =>
        list.Find($"[data-topic=HeatSource] [name={name}]").ChangeAsync(new ChangeEventArgs { Value = value });

    private static Task Choose(IRenderedComponent<AgendaList> list, DecisionState state) =>
        list.Find($"[data-topic=HeatSource] input[value={state}]").ChangeAsync(new ChangeEventArgs { Value = state.ToString() });

    private async Task<DecisionPoint> PointAsync(SignedIn who, Guid van) =>
        (await Decisions.Of(who, van, Cancel)).Single(point => point.Topic == DecisionTopic.HeatSource);

    private static Finding Finding(string code, Severity severity) => new()
    {
        Code = code,
        Severity = severity,
        Title = "Title of " + code,
        Explanation = "Because.",
        Evidence = [new Evidence("Flow reached", VolumeFlow.FromCubicMetersPerHour(80))],
        Remedy = "Open it.",
    };

    private async Task<Consult> ConsultAsync(SignedIn who, Guid van)
    {
        var id = await Consults.Add(who, van, new(DateOnly.FromDateTime(When), new TimeOnly(18, 0), 60, "UTC"), Cancel);
        return (await Consults.Consult(who, id, Cancel))!;
    }

    [Fact]
    public async Task The_timer_tells_the_time_used_against_the_points_settled()
    {
        var (who, van) = await VanAsync();
        var consult = await ConsultAsync(who, van);
        await using var context = Context(who, out var time);
        var timer = context.Render<CallTimer>(p => p.Add(t => t.Consult, consult).Add(t => t.Points, 12).Add(t => t.Settled, 2));
        await timer.Find("button").ClickAsync(new());
        Assert.NotNull((await Consults.Consult(who, consult.Id, Cancel))!.BegunAt);
        Assert.Equal(consult.Version, (await Consults.Consult(who, consult.Id, Cancel))!.Version);

        (consult.BegunAt, consult.Minutes) = (time.Now.UtcDateTime, 60);
        time.Advance(TimeSpan.FromMinutes(20).TotalMilliseconds);
        timer.WaitForAssertion(() => Assert.Contains("20 of 60 min", timer.Find("[role=timer]").TextContent, StringComparison.Ordinal));
        Assert.Contains("2 of 12 points settled", timer.Find("[role=timer]").TextContent, StringComparison.Ordinal);
        Assert.Contains("at an even pace 4 by now", timer.Find("[role=timer]").TextContent, StringComparison.Ordinal);

        time.Advance(TimeSpan.FromMinutes(45).TotalMilliseconds);
        timer.WaitForAssertion(() => Assert.Contains("65 of 60 min, 5 over", timer.Find("[role=timer]").TextContent, StringComparison.Ordinal));
        await timer.Find("button").ClickAsync(new());
        Assert.Null((await Consults.Consult(who, consult.Id, Cancel))!.BegunAt);
    }

    [Fact]
    public async Task The_summary_reads_out_what_was_settled_and_what_is_open_and_nothing_private()
    {
        var (who, van) = await VanAsync();
        var consult = await ConsultAsync(who, van);
        await Consults.SaveNotes(who, consult.Id, consult.Version, "MARKER-9471", Cancel);
        consult = (await Consults.Consult(who, consult.Id, Cancel))!;
        consult.Agenda = ConsultAgenda.Write([new AgendaLine("Ask for the colour", false), new AgendaLine("Done already", true)]);
        await app.Services.GetRequiredService<FollowUps>().Add(who, van, new(new DateOnly(2030, 1, 2), "Send the drawings"), Cancel);
        List<DecisionPoint> points =
        [
            new(DecisionTopic.HeatSource, DecisionState.Decided, "A room-sealed air heater", "dry heat", "Runa", null, null),
            new(DecisionTopic.AirInRain, DecisionState.Declined, "A hooded vent", "", "", null, null),
            new(DecisionTopic.CabGlass, DecisionState.Open, "", "", "", null, null),
        ];
        await using var context = Context(who, out _);
        var summary = context.Render<CallSummary>(p => p.Add(s => s.VanId, van).Add(s => s.Points, points).Add(s => s.Consult, consult));
        await summary.Find("details").TriggerEventAsync("ontoggle", EventArgs.Empty);

        List<string> Lines(int part) => [.. summary.FindAll("ul")[part].QuerySelectorAll("li").Select(line => line.TextContent)];
        Assert.Equal(["Heat source: A room-sealed air heater – dry heat (Runa)"], Lines(0));
        Assert.Equal(["Air in and out in rain: A hooded vent"], Lines(1));
        Assert.Equal(["Cab glass and covers", "Ask for the colour"], Lines(2));
        Assert.StartsWith("Send the drawings (", Assert.Single(Lines(3)), StringComparison.Ordinal);
        Assert.DoesNotContain("MARKER-9471", summary.Markup, StringComparison.Ordinal);
    }

    private async Task<(SignedIn Who, Guid Van)> VanAsync()
    {
        var firm = await app.Services.GetRequiredService<Firms>().Found(new("Panels", "#334455", null, "EUR", UnitPreset.Metric), Cancel);
        var who = new SignedIn(firm, Guid.NewGuid(), "Ash", DeskRole.Owner);
        var client = await app.Services.GetRequiredService<ClientBook>().AddClient(who, new("Runa Quill"), Cancel);
        var van = await app.Services.GetRequiredService<VanBook>().AddVan(
            who, client, new("Heron", "long-high", "rear-platform-bed"), "Own idea", Presets.Build("long-high", Layout.RearPlatformBed), Cancel);
        return (who, van.VanId);
    }

    private BunitContext Context(SignedIn who, out ManualTime time, bool told = true)
    {
        var context = new BunitContext();
        time = new ManualTime();
        time.Advance((When - time.Now.UtcDateTime).TotalMilliseconds);
        var browser = new ThisBrowser(time);
        if (told)
        {
            browser.Tell("UTC", sharing: false);
        }

        context.Services.AddSingleton(browser);
        context.Services.AddSingleton<TimeProvider>(time);
        context.Services.AddSingleton(Consults);
        context.Services.AddSingleton(app.Services.GetRequiredService<AgendaTemplates>());
        context.Services.AddSingleton(Decisions);
        context.Services.AddSingleton(app.Services.GetRequiredService<FollowUps>());
        context.RenderTree.Add<CascadingValue<SignedIn>>(p => p.Add(v => v.Value, who));
        return context;
    }
}
