using System.Net;
using System.Net.Http.Headers;
using AngleSharp.Html.Dom;
using ConsultDesk.Records;
using ConsultDesk.Web.Intake;
using ConsultDesk.Web.Tests.Shell;
using Microsoft.Extensions.DependencyInjection;
using SkiaSharp;
using Xunit;

namespace ConsultDesk.Web.Tests.Intake;

/// <summary>The questionnaire as a client fills it in: plain forms over HTTP, as a browser without scripts sends them.</summary>
public sealed class IntakePageTests(DeskApp app) : IClassFixture<DeskApp>
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private IntakeDoor Door => app.Services.GetRequiredService<IntakeDoor>();

    [Fact]
    public async Task Every_step_is_a_plain_form_that_saves_what_was_typed_and_leads_to_the_next()
    {
        var token = await SentAsync();
        using var client = app.Visitor();
        var first = await DeskApp.PageAsync(client, $"/intake/{token}");
        Assert.Equal($"/intake/{token}/van", first.QuerySelector("a.button-main")!.GetAttribute("href"));

        for (var number = 0; number < Questionnaire.Steps.Length - 1; number++)
        {
            var step = Questionnaire.Steps[number];
            var page = await DeskApp.PageAsync(client, $"/intake/{token}/{step.Key}");
            Assert.Empty(page.QuerySelectorAll("script"));
            Assert.Empty(page.QuerySelectorAll("[style]"));
            Assert.Single(page.QuerySelectorAll("h1"));
            foreach (var control in page.QuerySelectorAll(".intake input:not([type=hidden]), .intake select, .intake textarea"))
            {
                Assert.True(control.Closest("label") is not null || page.QuerySelector($"label[for='{control.Id}']") is not null, $"{step.Key}: {control.OuterHtml} has no label.");
            }

            var answer = await PostAsync(client, page, $"/intake/{token}/{step.Key}", "next", Sample(step));
            Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
            Assert.EndsWith($"/intake/{token}/{Questionnaire.Steps[number + 1].Key}", answer.Headers.Location!.ToString(), StringComparison.Ordinal);
        }

        var answers = (await Door.Open(token, Cancel))!.Answers;
        Assert.Equal(("5.4", "2", "Tromsø, Norway", "self workshop"), (answers["length"], answers["sleepers"], answers["stay-1.place"], answers["builder"]));
        var last = await DeskApp.PageAsync(client, $"/intake/{token}/send");
        Assert.Contains("Tromsø, Norway", last.Body!.TextContent, StringComparison.Ordinal);

        // Without consent it is not sent.
        var refused = await DeskApp.ParseAsync(await PostAsync(client, last, $"/intake/{token}/send", "send", []));
        Assert.Equal(2, refused.QuerySelectorAll(".field-error").Length);
        Assert.Null((await Door.Open(token, Cancel))!.SubmittedAt);
        var sent = await PostAsync(client, last, $"/intake/{token}/send", "send", [new("consent-data", "yes"), new("consent-advice", "yes")]);
        Assert.EndsWith($"/intake/{token}", sent.Headers.Location!.ToString(), StringComparison.Ordinal);
        Assert.Contains("Thank you", (await DeskApp.PageAsync(client, $"/intake/{token}/van")).QuerySelector("h1")!.TextContent, StringComparison.Ordinal);
        Assert.Null((await DeskApp.PageAsync(client, $"/intake/{token}/van")).QuerySelector("form"));
    }

    [Fact]
    public async Task A_wrong_answer_is_said_at_its_field_stays_as_typed_and_is_there_again_on_another_device()
    {
        var token = await SentAsync();
        using var client = app.Visitor();
        var page = await DeskApp.PageAsync(client, $"/intake/{token}/van");

        var answer = await DeskApp.ParseAsync(await PostAsync(client, page, $"/intake/{token}/van", "next", [new("sizes-in", "in"), new("length", "12 ells"), new("width", "9"), new("height", "")]));

        Assert.StartsWith("Expected a number from 78.74 to 354.33 in", answer.QuerySelector("#length-error")!.TextContent, StringComparison.Ordinal);
        Assert.Equal("Expected a number from 47.24 to 98.43 in, got 9.", answer.QuerySelector("#width-error")!.TextContent);
        Assert.Null(answer.QuerySelector("#height-error"));
        using var other = app.Visitor();
        var again = await DeskApp.PageAsync(other, $"/intake/{token}/van");
        Assert.Equal("12 ells", DeskApp.Value(again, "length"));
        Assert.NotNull(again.QuerySelector("#length-error"));
        var send = await DeskApp.PageAsync(other, $"/intake/{token}/send");
        var refused = await DeskApp.ParseAsync(await PostAsync(other, send, $"/intake/{token}/send", "send", [new("consent-data", "yes"), new("consent-advice", "yes")]));
        Assert.Contains("Not sent yet: an answer needs another look on Your van.", refused.Body!.TextContent, StringComparison.Ordinal);
        Assert.Null((await Door.Open(token, Cancel))!.SubmittedAt);
    }

    [Fact]
    public async Task Markup_and_a_name_from_right_to_left_are_text()
    {
        var token = await SentAsync();
        using var client = app.Visitor();
        const string Nasty = "</textarea><script>alert(1)</script> محمد";
        var step = $"/intake/{token}/build";
        await PostAsync(client, await DeskApp.PageAsync(client, step), step, "next", [new("bothers", Nasty)]);

        foreach (var path in new[] { step, $"/intake/{token}/send" })
        {
            var page = await DeskApp.PageAsync(client, path);
            Assert.Empty(page.QuerySelectorAll("script"));
            Assert.Contains(Nasty, page.Body!.TextContent, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task A_link_that_does_not_work_is_a_plain_404_and_tells_nothing()
    {
        var token = await SentAsync();
        using var client = app.Visitor();
        foreach (var path in new[] { "/intake/x", $"/intake/{token[..^1]}", $"/intake/{token}/nowhere", $"/intake/{token}x/van" })
        {
            var answer = await client.GetAsync(path, Cancel);
            Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
            Assert.DoesNotContain("Fernhollow", await answer.Content.ReadAsStringAsync(Cancel), StringComparison.Ordinal);
        }

        var good = await client.GetAsync($"/intake/{token}", Cancel);
        Assert.Equal("no-referrer", good.Headers.GetValues("Referrer-Policy").Single());
        Assert.Contains("script-src 'none'", good.Headers.GetValues("Content-Security-Policy").Single(), StringComparison.Ordinal);
        Assert.True(good.Headers.CacheControl!.NoStore);
        Assert.DoesNotContain(app.Log.Lines, line => line.Contains(token, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_form_without_its_token_against_forgery_is_refused()
    {
        var token = await SentAsync();
        using var client = app.Visitor();

        var answer = await client.PostAsync($"/intake/{token}/people", new FormUrlEncodedContent([new("_handler", "intake"), new("sleepers", "6"), new("go", "next")]), Cancel);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Empty((await Door.Open(token, Cancel))!.Answers);
    }

    [Fact]
    public async Task Photos_are_encoded_anew_and_each_that_does_not_fit_is_named_with_what_was_expected()
    {
        var token = await SentAsync();
        using var client = app.Visitor();
        var path = $"/intake/{token}/photos";
        var page = await DeskApp.PageAsync(client, path);
        byte[] secret = [.. "GPS 69.6492 N 18.9553 E"u8];
        var files = new (string Name, byte[] Bytes)[]
        {
            ("ribs.jpg", [.. Picture(SKEncodedImageFormat.Jpeg, 3000, 1500), .. secret]),
            ("roof.png", Picture(SKEncodedImageFormat.Png, 300, 200)),
            ("floor.webp", Picture(SKEncodedImageFormat.Webp, 200, 300)),
            ("phone.heic", [0, 0, 0, 24, .. "ftypheic"u8, .. new byte[40]]),
            ("drawing.svg", [.. "<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>"u8]),
            ("broken.jpg", Picture(SKEncodedImageFormat.Jpeg, 400, 300)[..900]),
            ("big.jpg", new byte[IntakePhotos.LargestFile + 1]),
            ("empty.jpg", []),
        };

        var answer = await DeskApp.ParseAsync(await client.PostAsync(path, Form(page, files), Cancel));

        var errors = answer.QuerySelectorAll("#photos-error .field-error").Select(error => error.TextContent).ToList();
        Assert.Equal(["phone.heic", "drawing.svg", "broken.jpg", "big.jpg", "empty.jpg"], errors.Select(error => error.Split(':')[0]));
        Assert.Contains("HEIC", errors[0], StringComparison.Ordinal);
        Assert.Contains("10.0 MB", errors[3], StringComparison.Ordinal);
        var photos = (await Door.Open(token, Cancel))!.Photos;
        Assert.Equal([(2000, 1000), (300, 200), (200, 300)], photos.Select(photo => (photo.Width, photo.Height)));
        foreach (var photo in photos)
        {
            var kept = await client.GetAsync($"/intake/{token}/photo/{photo.Id}", Cancel);
            var bytes = await kept.Content.ReadAsByteArrayAsync(Cancel);
            Assert.Equal("image/jpeg", kept.Content.Headers.ContentType!.MediaType);
            Assert.True(bytes.AsSpan().IndexOf(secret) < 0, "What lay behind the picture was kept.");
        }

        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync($"/intake/{token}x/photo/{photos[0].Id}", Cancel)).StatusCode);
        using var nobody = app.Visitor();
        Assert.NotEqual(HttpStatusCode.OK, (await nobody.GetAsync($"/intakes/photo/{photos[0].Id}", Cancel)).StatusCode);
        var after = await DeskApp.PageAsync(client, path);
        Assert.Equal(HttpStatusCode.Redirect, (await PostAsync(client, after, path, "", [new("remove", photos[0].Id.ToString())])).StatusCode);
        Assert.Equal(2, (await Door.Open(token, Cancel))!.Photos.Count);
    }

    private static byte[] Picture(SKEncodedImageFormat format, int width, int height)
    {
        using var bitmap = new SKBitmap(width, height);
        using (var canvas = new SKCanvas(bitmap))
        {
            canvas.Clear(SKColors.CadetBlue);
            using var paint = new SKPaint { Color = SKColors.Sienna };
            canvas.DrawCircle(width / 2f, height / 2f, height / 3f, paint);
        }

        using var data = bitmap.Encode(format, 90);
        return data.ToArray();
    }

    private static MultipartFormDataContent Form(IHtmlDocument page, IEnumerable<(string Name, byte[] Bytes)> files)
    {
        var form = new MultipartFormDataContent
        {
            { new StringContent(DeskApp.Value(page, "_handler")), "_handler" },
            { new StringContent(DeskApp.Value(page, "__RequestVerificationToken")), "__RequestVerificationToken" },
            { new StringContent("ribs"), "subject" },
            { new StringContent("stay"), "go" },
        };
        foreach (var (name, bytes) in files)
        {
            var file = new ByteArrayContent(bytes);
            file.Headers.ContentType = new MediaTypeHeaderValue("application/octet-stream");
            form.Add(file, "photos", name);
        }

        return form;
    }

    private static Task<HttpResponseMessage> PostAsync(HttpClient client, IHtmlDocument page, string path, string go, IEnumerable<KeyValuePair<string, string>> answers) =>
        client.PostAsync(path, new FormUrlEncodedContent([
            new("_handler", DeskApp.Value(page, "_handler")), new("__RequestVerificationToken", DeskApp.Value(page, "__RequestVerificationToken")), new("go", go), .. answers]), Cancel);

    private static IEnumerable<KeyValuePair<string, string>> Sample(Step step) => step.Key switch
    {
        "van" => [new("body-class", "long-high"), new("sizes-in", "m"), new("length", "5.4"), new("measured", "measured"), new("steel", "light-rust")],
        "people" => [new("sleepers", "2"), new("animals", "1"), new("presence", "all-day")],
        "route" => [new("stay-1.place", "Tromsø, Norway"), new("stay-1.from", "1"), new("stay-1.to", "12")],
        "build" => [new("builder", "self"), new("builder", "workshop"), new("bothers", "Wet windows\nsince October")],
        _ => [],
    };

    private async Task<string> SentAsync()
    {
        var who = await app.DemoConsultantAsync();
        var van = (await app.Services.GetRequiredService<DeskList>().Vans(who, cancellation: Cancel))[0];
        return (await app.Services.GetRequiredService<Intakes>().Send(who, van.Id, cancellation: Cancel)).Token;
    }
}
