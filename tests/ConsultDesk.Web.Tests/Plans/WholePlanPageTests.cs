using System.Net;
using System.Text;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Web.Plans;
using ConsultDesk.Web.Tests.Shell;
using Microsoft.Extensions.DependencyInjection;
using UglyToad.PdfPig;
using Xunit;

namespace ConsultDesk.Web.Tests.Plans;

/// <summary>A plan with everything a consult records, from the records to the reader.</summary>
public sealed class WholePlanPageTests(DeskApp app) : IClassFixture<DeskApp>
{
    private const string Marker = "only for the desk 7f3a";
    private const string Reason = "The client keeps the heater until spring and was told not to sleep with it lit.";

    // A picture of one pixel, written by hand after the PNG specification (ISO/IEC 15948).
    private static readonly byte[] Png = Convert.FromBase64String("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAIAAACQd1PeAAAADElEQVR4nGOQjwoCAAFnAMxP59KzAAAAAElFTkSuQmCC");

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private T Get<T>()
        where T : notnull => app.Services.GetRequiredService<T>();

    [Fact]
    public async Task A_plan_keeps_the_prices_it_was_published_with()
    {
        var who = await app.DemoConsultantAsync();
        var van = (await Get<DeskList>().Vans(who, "Little Wren", cancellation: Cancel)).Single();
        var (option, assessment) = await AssessedAsync(who, van.Id);
        var published = await Get<PlanPress>().PublishAsync(who, new PlanMatter(option.Id, option.Version, option.Design, assessment, DangerReason: Reason), Cancel);
        using var reader = app.Visitor();
        // The words, not the page: it carries a sealed mark of the server that is another each time.
        async Task<string> Read() => (await DeskApp.PageAsync(reader, "/plan/" + published.Link.Token)).QuerySelector("main")!.TextContent;
        var before = await Read();
        var stored = (await Get<Records.Plans>().Plan(who, published.PlanId, Cancel))!.SnapshotText;
        var prices = Get<FirmPrices>();
        var book = await prices.Load(who, Cancel);
        try
        {
            var dearer = await prices.Save(who, book.Version, new([.. book.Book.Items.Select(item => item with { Price = item.Price + 1111 })]), Cancel);
            Assert.NotEqual(book.Version, dearer.Version);

            Assert.Equal(before, await Read());
            Assert.Equal(stored, (await Get<Records.Plans>().Plan(who, published.PlanId, Cancel))!.SnapshotText);
        }
        finally
        {
            await prices.Save(who, (await prices.Load(who, Cancel)).Version, book.Book, Cancel);
        }
    }

    [Fact]
    public async Task What_a_consult_records_reaches_the_reader_and_private_notes_do_not()
    {
        var who = await app.DemoConsultantAsync();
        var van = (await Get<DeskList>().Vans(who, "Snow Hare", cancellation: Cancel)).Single();
        var record = (await Get<VanBook>().Van(who, van.Id, Cancel))!;
        var client = (await Get<ClientBook>().Client(who, record.ClientId, Cancel))!;
        await Get<ClientBook>().ChangeClient(who, client.Id, client.Version, new ClientInput(client.Name, client.Email, Notes: Marker), Cancel);
        var consults = Get<ConsultBook>();
        var consultId = await consults.Add(who, van.Id, new ConsultInput(new DateOnly(2031, 3, 4), new TimeOnly(10, 0), 60, "Europe/Helsinki"), Cancel);
        var consult = (await consults.Consult(who, consultId, Cancel))!;
        Assert.IsType<NotesSaved>(await consults.SaveNotes(who, consultId, consult.Version, Marker, Cancel));
        await Get<FollowUps>().Add(who, van.Id, new FollowUpInput(new DateOnly(2031, 4, 1), Marker), Cancel);
        await Get<DecisionBook>().Save(who, van.Id, DecisionTopic.CupboardsAndBed, null, new DecisionInput(DecisionState.Decided, "A diesel air heater", "No gas aboard", "Aino"), Cancel);
        await Get<DecisionBook>().Save(who, van.Id, DecisionTopic.CookerSteam, null, new DecisionInput(DecisionState.Declined, "A hood over the cooker", "Too loud", "Pekka"), Cancel);
        await Get<DeclinedAdviceBook>().Add(who, van.Id, new DeclinedInput(null, "A second vent at the bed", "No second hole", "Aino"), Cancel);
        await Get<WishesBook>().Save(who, van.Id, (await Get<WishesBook>().Load(who, van.Id, Cancel)).Version, new Wishes { BudgetNow = 10, WontHaves = [WontHave.Gas], Looks = "pale wood" }, Cancel);

        var (option, assessment) = await AssessedAsync(who, van.Id);
        var press = Get<PlanPress>();
        var matter = new PlanMatter(option.Id, option.Version, option.Design, assessment, DangerReason: Reason);
        var preview = await press.PreviewAsync(who, matter, Cancel);
        Assert.NotEmpty(preview.Things);
        Assert.Contains("What is already fixed", preview.OpenPoints);
        Assert.DoesNotContain("Cooker steam", preview.OpenPoints);
        Assert.Contains(preview.BrokenWishes, wish => wish.StartsWith("no gas", StringComparison.Ordinal));

        var published = await press.PublishAsync(who, matter, Cancel);
        using var reader = app.Visitor();
        var page = await reader.GetByteArrayAsync("/plan/" + published.Link.Token, Cancel);
        var pdf = await reader.GetByteArrayAsync($"/plan/{published.Link.Token}/pdf", Cancel);
        var stored = (await Get<Records.Plans>().Plan(who, published.PlanId, Cancel))!;
        using var read = PdfDocument.Open(pdf);
        foreach (var text in new[] { Encoding.UTF8.GetString(page), stored.SnapshotText, string.Join(' ', read.GetPages().SelectMany(p => p.GetWords()).Select(word => word.Text)) })
        {
            foreach (var told in new[] { "A diesel air heater", "A hood over the cooker", "A second vent at the bed", "pale wood" })
            {
                Assert.Contains(told, text, StringComparison.Ordinal);
            }

            Assert.DoesNotContain(Marker, text, StringComparison.Ordinal);
        }

        Assert.Equal(-1, pdf.AsSpan().IndexOf(Encoding.UTF8.GetBytes(Marker)));
    }

    [Fact]
    public async Task A_published_plan_stays_as_it_is_and_the_next_revision_says_what_changed()
    {
        var who = await app.DemoConsultantAsync();
        var line = (await Get<DeskList>().Plans(who, 10, cancellation: Cancel)).Single(plan => plan.VanName == "The Heron");
        var first = (await Get<Records.Plans>().Plan(who, line.Id, Cancel))!;
        var options = Get<VanOptions>();
        var option = (await options.Load(who, (await options.OptionsOf(who, first.VanId, Cancel)).Single(option => option.Letter == "B").Id, Cancel))!;
        var warmer = option.Design with { Heater = option.Design.Heater with { NightSetPoint = UnitsNet.Temperature.FromDegreesCelsius(19) } };
        var saved = Assert.IsType<Saved>(await options.Save(who, option.Id, option.Version, warmer, "Warmer", cancellation: Cancel));

        var kept = (await Get<Records.Plans>().Plan(who, line.Id, Cancel))!;
        Assert.Equal(first.SnapshotText, kept.SnapshotText);

        var second = await Get<PlanPress>().PublishAsync(
            who, new(option.Id, saved.Version, warmer, Assessor.Assess(warmer, AssessmentDepth.Year, cancellation: Cancel), DangerReason: Reason), Cancel);
        Assert.Equal(first.Number + 1, second.Number);
        var snapshot = PlanPress.Read((await Get<Records.Plans>().Plan(who, second.PlanId, Cancel))!);
        var blocks = snapshot.Sections[0].Blocks;
        Assert.Contains(blocks.OfType<ParagraphBlock>(), text => text.Text.StartsWith("What changed since revision 1 of", StringComparison.Ordinal));
        var changes = blocks.OfType<ListBlock>().First().Items;
        Assert.Contains(changes, change => change.Contains("19", StringComparison.Ordinal) && change.Contains(", was 16", StringComparison.Ordinal));
        Assert.Contains(changes, change => change.StartsWith("The numbers: ", StringComparison.Ordinal));
        Assert.Equal(first.SnapshotText, (await Get<Records.Plans>().Plan(who, line.Id, Cancel))!.SnapshotText);
    }

    [Fact]
    public async Task The_plan_says_which_options_were_weighed_and_reads_in_the_clients_units()
    {
        var who = await app.DemoConsultantAsync();
        var van = (await Get<DeskList>().Vans(who, "Snow Hare", cancellation: Cancel)).Single();
        var lines = await Get<VanOptions>().OptionsOf(who, van.Id, Cancel);
        var own = (await Get<VanOptions>().Load(who, lines[0].Id, Cancel))!;
        await Get<VanOptions>().GiveReason(who, own.Id, own.Version, "Kept as the start to compare with", Cancel);
        var client = (await Get<VanBook>().Van(who, van.Id, Cancel))!.ClientId;
        await Get<UnitBook>().SetOfClient(who, client, new UnitChoice(UnitPreset.Imperial, ""), Cancel);
        try
        {
            var option = (await Get<VanOptions>().Load(who, lines[1].Id, Cancel))!;
            var assessment = Assessor.Assess(option.Design, AssessmentDepth.Year, cancellation: Cancel);
            var published = await Get<PlanPress>().PublishAsync(
                who,
                new PlanMatter(option.Id, option.Version, option.Design, assessment, DangerReason: Reason)
                {
                    Considered = [new AssessedOption(own, Assessor.Assess(own.Design, AssessmentDepth.Year, cancellation: Cancel))],
                },
                Cancel);
            var snapshot = PlanPress.Read((await Get<Records.Plans>().Plan(who, published.PlanId, Cancel))!);

            var table = Assert.Single(snapshot.Sections.Single(section => section.Id == PlanComposer.Considered).Blocks.OfType<TableBlock>()).Table;
            Assert.Equal(lines.Count, table.Rows.Length);
            Assert.Equal("Kept as the start to compare with", table.Rows[0][1]);
            Assert.Matches("^[0-9]+$", table.Rows[0][2]);
            Assert.Equal(1, table.Rows.Count(row => row[0].EndsWith("(this plan)", StringComparison.Ordinal)));
            Assert.Contains("°F", snapshot.Sections.SelectMany(section => section.Blocks).OfType<NumbersBlock>().SelectMany(block => block.Numbers).Select(number => number.Value).Aggregate(string.Concat), StringComparison.Ordinal);
        }
        finally
        {
            await Get<UnitBook>().SetOfClient(who, client, null, Cancel);
        }
    }

    [Fact]
    public async Task The_logo_is_that_of_the_day_of_publishing_and_stands_beside_the_page_not_in_it()
    {
        var who = await app.DemoConsultantAsync() with { Role = DeskRole.Owner };
        var logos = Get<FirmLogos>();
        var before = await logos.Logo(who, Cancel);
        var version = await logos.Save(who, before?.Version, Png, 1, 1, Cancel);
        var van = (await Get<DeskList>().Vans(who, "Snow Hare", cancellation: Cancel)).Single();
        var (option, assessment) = await AssessedAsync(who, van.Id);
        var published = await Get<PlanPress>().PublishAsync(who, new(option.Id, option.Version, option.Design, assessment, DangerReason: Reason), Cancel);
        byte[] other = [.. Png, 0];
        await logos.Save(who, version, other, 1, 1, Cancel);

        using var reader = app.Visitor();
        var page = await DeskApp.PageAsync(reader, "/plan/" + published.Link.Token);
        Assert.Equal($"/plan/{published.Link.Token}/logo", page.QuerySelector(".plan-firm img")!.GetAttribute("src"));
        Assert.DoesNotContain("data:image", page.Source.Text, StringComparison.Ordinal);
        var answer = await reader.GetAsync($"/plan/{published.Link.Token}/logo", Cancel);
        Assert.Equal("image/png", answer.Content.Headers.ContentType!.MediaType);
        Assert.Equal(Png, await answer.Content.ReadAsByteArrayAsync(Cancel));
        Assert.Equal(HttpStatusCode.NotFound, (await reader.GetAsync("/plan/" + new string('A', 43) + "/logo", Cancel)).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await (await app.ConsultantAsync()).GetAsync($"/plans/{Guid.NewGuid()}/logo", Cancel)).StatusCode);
    }

    [Fact]
    public async Task Things_to_do_are_a_list_that_needs_no_script_and_no_table()
    {
        var who = await app.DemoConsultantAsync();
        var line = (await Get<DeskList>().Plans(who, 10, cancellation: Cancel)).Last(plan => plan.VanName == "The Heron");
        using var consultant = await app.ConsultantAsync();

        var page = await DeskApp.PageAsync(consultant, $"/plans/{line.Id}/read");

        var section = page.GetElementById(PlanComposer.ToDo)!;
        var things = section.QuerySelectorAll("ol.plan-things > li");
        Assert.InRange(things.Length, 1, 5);
        Assert.Empty(section.QuerySelectorAll("table, svg"));
        Assert.All(things, thing => Assert.Equal(["Who", "Price"], thing.QuerySelectorAll("dt").Take(2).Select(term => term.TextContent)));
        string[] order = ["act-first", "told-and-wanted", "own-idea", "to-do"];
        Assert.Equal(order, page.QuerySelectorAll("section.plan-section").Take(4).Select(s => s.Id));
    }

    private async Task<(LoadedOption Option, Assessment Assessment)> AssessedAsync(SignedIn who, Guid vanId)
    {
        var options = Get<VanOptions>();
        var option = (await options.Load(who, (await options.OptionsOf(who, vanId, Cancel))[0].Id, Cancel))!;
        return (option, Assessor.Assess(option.Design, cancellation: Cancel));
    }
}
