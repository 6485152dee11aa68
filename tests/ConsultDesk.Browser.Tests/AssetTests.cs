using System.Collections.Concurrent;
using Microsoft.Playwright;
using Xunit;

namespace ConsultDesk.Browser.Tests;

/// <summary>Every style, script, image and font arrives, from the desk itself and with something in it.</summary>
public sealed class AssetTests(Desks desks)
{
    [Fact]
    public async Task Every_asset_of_the_desk_run_from_source_has_a_body() => await AssertAssets(await desks.On(Store.Sqlite));

    [Fact]
    public async Task Every_asset_of_the_published_desk_has_a_body() => await AssertAssets(await desks.Published());

    private static async Task AssertAssets(Desk desk)
    {
        await using var window = await desk.Stranger();
        var responses = new ConcurrentQueue<IResponse>();
        window.Page.Response += (_, response) => responses.Enqueue(response);

        await window.Page.GotoAsync("/");
        await SignInPage.SignIn(window.Page, desk.Process.Email, desk.Process.Password);
        await window.Page.GetByRole(AriaRole.Navigation).First.WaitForAsync();
        await window.Page.WaitForLoadStateAsync(LoadState.NetworkIdle);

        var kinds = new HashSet<string>();
        foreach (var response in responses.Where(r => r.Request.ResourceType is "stylesheet" or "script" or "image" or "font").DistinctBy(r => r.Url))
        {
            Assert.StartsWith(desk.Process.Address.ToString(), response.Url, StringComparison.Ordinal);
            // Asked for again: the browser drops the bodies of a page it has left.
            var again = await window.Page.Context.APIRequest.GetAsync(response.Url);
            Assert.Equal(200, again.Status);
            Assert.True((await again.BodyAsync()).Length > 0, $"{response.Url} came with an empty body.");
            kinds.Add(response.Request.ResourceType);
        }

        Assert.Superset(new HashSet<string> { "stylesheet", "script", "image" }, kinds);
        window.AssertSilent();
    }
}
