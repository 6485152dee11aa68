using System.IO.Compression;
using System.Net;
using System.Text;
using Bunit;
using ConsultDesk.Records;
using ConsultDesk.Web.HandingOver;
using ConsultDesk.Web.Tests.Shell;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;
using Microsoft.Extensions.DependencyInjection;
using UglyToad.PdfPig;
using Xunit;
using TestContext = Xunit.TestContext;

namespace ConsultDesk.Web.Tests.HandingOver;

/// <summary>A demo client as a file, and back into the desk of another firm.</summary>
public sealed class ClientZipTests(DeskApp app) : IClassFixture<DeskApp>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private T Get<T>()
        where T : notnull => app.Services.GetRequiredService<T>();

    [Fact]
    public async Task A_client_is_saved_with_readme_tables_and_plans_and_another_firm_takes_it_over()
    {
        var who = await app.DemoConsultantAsync();
        var client = (await Get<ClientBook>().Clients(who, "Ines", cancellation: Cancel)).Single();
        var van = (await Get<VanBook>().VansOf(who, client.Id, Cancel)).Single();
        await Get<FollowUps>().Add(who, van.Id, new(new DateOnly(2031, 4, 1), "=HYPERLINK(\"http://evil.example\")"), Cancel);
        using var consultant = await app.ConsultantAsync();
        using var stranger = app.Visitor();

        Assert.Equal(HttpStatusCode.Redirect, (await stranger.GetAsync($"/clients/{client.Id}/export", Cancel)).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await consultant.GetAsync($"/clients/{Guid.NewGuid()}/export", Cancel)).StatusCode);
        var answer = await consultant.GetAsync($"/clients/{client.Id}/export", Cancel);
        Assert.Equal("application/zip", answer.Content.Headers.ContentType!.MediaType);
        var zip = await answer.Content.ReadAsByteArrayAsync(Cancel);

        using var archive = new ZipArchive(new MemoryStream(zip));
        string Text(string name) => new StreamReader(archive.GetEntry(name)!.Open(), Encoding.UTF8).ReadToEnd();
        Assert.Contains("PRIVATE NOTES INCLUDED", Text("readme.txt"), StringComparison.Ordinal);
        Assert.Contains("\"format\": 1", Text("client.json"), StringComparison.Ordinal);
        Assert.DoesNotContain("tokenSha256", Text("client.json"), StringComparison.OrdinalIgnoreCase);
        var options = await Get<VanOptions>().OptionsOf(who, van.Id, Cancel);
        Assert.Equal(options.Count + 1, Text("options.csv").Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Length);
        Assert.Contains("Outdoor air", Text("options.csv"), StringComparison.Ordinal);
        Assert.Contains("Wet mornings in a year", Text("options.csv"), StringComparison.Ordinal);
        Assert.DoesNotContain("could not be", Text("options.csv") + Text("parts.csv"), StringComparison.Ordinal);
        Assert.Contains("\"'=HYPERLINK", Text("follow-ups.csv"), StringComparison.Ordinal);
        foreach (var table in new[] { "options.csv", "parts.csv", "follow-ups.csv" })
        {
            Assert.DoesNotMatch("(?m)(^|,)\"?[=+@]", Text(table));
        }

        var plans = await Get<Records.Plans>().PlansOf(who, van.Id, Cancel);
        var pdfs = archive.Entries.Where(entry => entry.FullName.StartsWith("plans/", StringComparison.Ordinal)).ToList();
        Assert.Equal(plans.Count, pdfs.Count);
        Assert.NotEmpty(pdfs);
        await using (var stream = pdfs[0].Open())
        {
            var bytes = new MemoryStream();
            await stream.CopyToAsync(bytes, Cancel);
            using var pdf = PdfDocument.Open(bytes.ToArray());
            Assert.True(pdf.NumberOfPages > 1);
        }

        var other = await OtherFirmAsync();
        var taken = await Get<Records.HandingOver>().Import(other, await HandoverZip.Read(new MemoryStream(zip), Cancel), HandoverRegistration.Checks, Cancel);
        var vans = await Get<VanBook>().VansOf(other, taken, Cancel);
        var theirs = await Get<Records.Plans>().PlansOf(other, vans.Single().Id, Cancel);
        Assert.Equal(plans.Count, theirs.Count);
        Assert.Equal(
            (await Get<Records.Plans>().Plan(who, plans[0].Id, Cancel))!.SnapshotText,
            (await Get<Records.Plans>().Plan(other, theirs[0].Id, Cancel))!.SnapshotText);
        Assert.Equal(options.Select(o => (o.Letter, o.Name)), (await Get<VanOptions>().OptionsOf(other, vans.Single().Id, Cancel)).Select(o => (o.Letter, o.Name)));
    }

    [Fact]
    public async Task A_file_that_is_none_is_refused_on_the_page_with_a_reason()
    {
        var other = await OtherFirmAsync();
        await using var context = Context(other);
        var page = context.Render<HandoverPage>();

        page.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromText("no zip", "client.zip"));

        page.WaitForAssertion(() => Assert.StartsWith("The file is no zip, or it is damaged.", page.Find("#handover-error").TextContent, StringComparison.Ordinal), TimeSpan.FromSeconds(20));
        Assert.Empty(await Get<ClientBook>().Clients(other, cancellation: Cancel));
    }

    [Fact]
    public async Task The_receipt_of_an_erasure_is_shown_and_saved_as_text_by_the_own_firm_only()
    {
        var who = await app.DemoConsultantAsync();
        var client = await Get<ClientBook>().AddClient(who, new("Gone Tomorrow"), Cancel);
        var erased = await Get<ClientBook>().EraseClient(who, client, Cancel);
        using var consultant = await app.ConsultantAsync();

        var text = await consultant.GetStringAsync($"/clients/erased/{erased.ReceiptId}.txt", Cancel);
        Assert.Contains(client.ToString(), text, StringComparison.Ordinal);
        Assert.Contains("1  Client with name, address and notes", text, StringComparison.Ordinal);
        Assert.Contains("This receipt", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Gone Tomorrow", text, StringComparison.Ordinal);
        await using var context = Context(who);
        var page = context.Render<ErasurePage>(p => p.Add(e => e.ReceiptId, erased.ReceiptId));
        Assert.Contains("Client with name, address and notes", page.Markup, StringComparison.Ordinal);
        await using var strange = Context(await OtherFirmAsync());
        Assert.DoesNotContain("Client with", strange.Render<ErasurePage>(p => p.Add(e => e.ReceiptId, erased.ReceiptId)).Markup, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_kind_of_row_has_its_words_on_a_receipt() =>
        Assert.All(ClientRows.Kinds.Select(kind => kind.Kind).Append("auditRows").Append("receipt"), kind => Assert.NotEqual(kind, ReceiptWords.Of(kind)));

    [Fact]
    public async Task A_damaged_picture_is_told_and_a_good_one_is_encoded_anew()
    {
        Assert.Null(await HandoverRegistration.Checks.Photo([1, 2, 3], Cancel));
        var png = Consultancy.LogoPictureTests.Encoded(30, 20, SkiaSharp.SKColors.Teal);
        var photo = (await HandoverRegistration.Checks.Photo(png, Cancel))!;
        Assert.Equal((30, 20), (photo.Width, photo.Height));
        Assert.Equal([0xFF, 0xD8], photo.Jpeg[..2]);
        Assert.NotNull(HandoverRegistration.Checks.PlanProblem("{}"));
    }

    private async Task<SignedIn> OtherFirmAsync() =>
        new(await Get<Firms>().Found(new("Another firm", "#334455", null, "EUR", UnitPreset.Metric), Cancel), Guid.NewGuid(), "Ash", DeskRole.Owner);

    private BunitContext Context(SignedIn who)
    {
        var context = new BunitContext();
        context.JSInterop.Mode = JSRuntimeMode.Loose;
        context.Services.AddSingleton(Get<Records.HandingOver>());
        context.Services.AddSingleton(Get<Erasures>());
        context.RenderTree.Add<CascadingValue<SignedIn>>(p => p.Add(v => v.Value, who));
        return context;
    }
}
