using Microsoft.Playwright;
using Xunit;

namespace ConsultDesk.Browser.Tests;

public sealed class SignInTests(Desks desks)
{
    [Theory]
    [InlineData(Store.Sqlite)]
    [InlineData(Store.Postgres)]
    public async Task The_printed_sign_in_opens_the_desk(Store store)
    {
        var desk = await desks.On(store);
        await using var window = await desk.Consultant();

        await window.Page.GotoAsync("/");

        await Assertions.Expect(window.Page).ToHaveTitleAsync(new System.Text.RegularExpressions.Regex("Desk"));
        await Assertions.Expect(window.Page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToBeVisibleAsync();
        window.AssertSilent();
    }

    [Theory]
    [InlineData(Store.Sqlite)]
    [InlineData(Store.Postgres)]
    public async Task A_first_start_says_its_address_its_sign_in_and_where_the_data_is_and_nothing_else(Store store)
    {
        await using var process = await DeskProcess.StartDemo(store, TestContext.Current.CancellationToken);

        Assert.Collection(
            process.Log.Split('\n', StringSplitOptions.RemoveEmptyEntries),
            line => Assert.StartsWith("Address", line, StringComparison.Ordinal),
            line => Assert.StartsWith("Demo sign-in", line, StringComparison.Ordinal),
            line => Assert.StartsWith("Data", line, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_wrong_password_is_refused_without_saying_which_of_the_two_was_wrong()
    {
        var desk = await desks.On(Store.Sqlite);
        await using var window = await desk.Stranger();

        await window.Page.GotoAsync("/clients");
        await SignInPage.SignIn(window.Page, desk.Process.Email, "not the password");

        await Assertions.Expect(window.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("do not go together");
        await Assertions.Expect(window.Page.GetByLabel("E-mail address")).ToHaveValueAsync(desk.Process.Email);
        window.AssertSilent();
    }
}
