using System.Net;
using Xunit;

namespace ConsultDesk.Web.Tests.Shell;

public sealed class AssetTests(DeskApp app) : IClassFixture<DeskApp>
{
    [Fact]
    public async Task Every_style_sheet_script_and_picture_of_a_live_page_arrives_with_something_in_it()
    {
        using var consultant = await app.ConsultantAsync();

        var fetched = await FetchAllAsync(consultant, "/");

        Assert.Contains(fetched, path => path.StartsWith("/_framework/blazor.web.", StringComparison.Ordinal));
        Assert.Contains(fetched, path => path.StartsWith("/_content/MudBlazor/MudBlazor.min.", StringComparison.Ordinal) && path.EndsWith(".js", StringComparison.Ordinal));
        Assert.Contains(fetched, path => path.StartsWith("/_content/MudBlazor/MudBlazor.min.", StringComparison.Ordinal) && path.EndsWith(".css", StringComparison.Ordinal));
        Assert.Contains(fetched, path => path.StartsWith("/css/desk.", StringComparison.Ordinal));
        Assert.Contains(fetched, path => path.StartsWith("/scripts/desk.", StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_sign_in_page_needs_one_style_sheet_and_the_small_script_of_passkeys_alone()
    {
        using var stranger = app.Visitor();

        var fetched = await FetchAllAsync(stranger, "/sign-in");

        Assert.Contains(fetched, path => path.StartsWith("/css/desk.", StringComparison.Ordinal));
        Assert.StartsWith("/scripts/passkeys.", Assert.Single(fetched, path => path.EndsWith(".js", StringComparison.Ordinal)), StringComparison.Ordinal);
    }

    /// <summary>Fetches what a browser would fetch for a page, and fails on an empty or missing one.</summary>
    internal static async Task<IReadOnlyList<string>> FetchAllAsync(HttpClient visitor, string address)
    {
        var page = await DeskApp.PageAsync(visitor, address);
        var paths = page.QuerySelectorAll("link[rel=stylesheet], link[rel=icon]").Select(e => e.GetAttribute("href"))
            .Concat(page.QuerySelectorAll("script, img").Select(e => e.GetAttribute("src")))
            .OfType<string>().Distinct().ToList();
        Assert.NotEmpty(paths);
        foreach (var path in paths)
        {
            Assert.StartsWith("/", path, StringComparison.Ordinal);
            var answer = await visitor.GetAsync(path, TestContext.Current.CancellationToken);
            Assert.True(answer.StatusCode == HttpStatusCode.OK, $"{path} answered {answer.StatusCode}.");
            var body = await answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken);
            Assert.True(body.Length > 100, $"{path} holds {body.Length} bytes.");
        }

        return paths;
    }
}
