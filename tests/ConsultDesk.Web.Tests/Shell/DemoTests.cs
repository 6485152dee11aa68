using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Web.Tests.Shell;

public sealed class DemoTests(DeskApp app) : IClassFixture<DeskApp>
{
    [Fact]
    public async Task A_second_start_adds_nothing_and_the_sign_in_still_opens_the_desk()
    {
        var first = await CountAsync(app);
        await using var again = app.Again();

        var second = await CountAsync(again);
        using var consultant = await again.ConsultantAsync();

        Assert.Equal((3, 3, 5, 1), first);
        Assert.Equal(first, second);
        Assert.Equal(System.Net.HttpStatusCode.OK, (await consultant.GetAsync("/", TestContext.Current.CancellationToken)).StatusCode);
    }

    [Fact]
    public async Task A_cookie_of_the_first_start_is_good_after_the_second()
    {
        // The keys that sign cookies are kept in the database, not in the process.
        using var consultant = await app.ConsultantAsync();
        var cookie = await CookieAsync();
        await using var again = app.Again();
        using var later = again.CreateClient(new() { AllowAutoRedirect = false, HandleCookies = false });
        later.DefaultRequestHeaders.Add("Cookie", cookie);

        Assert.Equal(System.Net.HttpStatusCode.OK, (await later.GetAsync("/", TestContext.Current.CancellationToken)).StatusCode);

        async Task<string> CookieAsync()
        {
            using var visitor = app.Visitor();
            var answer = await DeskApp.SignInAsync(visitor, Web.Demo.DemoDesk.Email, Web.Demo.DemoDesk.Password);
            return answer.Headers.GetValues("Set-Cookie").Single(c => c.StartsWith("desk-sign-in=", StringComparison.Ordinal)).Split(';')[0];
        }
    }

    [Fact]
    public async Task Every_design_of_the_demo_can_be_calculated()
    {
        var who = await app.DemoConsultantAsync();
        var options = app.Services.GetRequiredService<VanOptions>();
        foreach (var van in await app.Services.GetRequiredService<DeskList>().Vans(who, null, cancellation: TestContext.Current.CancellationToken))
        {
            foreach (var option in await options.OptionsOf(who, van.Id, TestContext.Current.CancellationToken))
            {
                var design = (await options.Load(who, option.Id, TestContext.Current.CancellationToken))!.Design;
                Assert.Empty(DesignCheck.Errors(design));
            }
        }
    }

    private static async Task<(int Clients, int Vans, int Options, int Plans)> CountAsync(DeskApp app)
    {
        var who = await app.DemoConsultantAsync();
        var desk = app.Services.GetRequiredService<DeskList>();
        var vans = await desk.Vans(who, null, cancellation: TestContext.Current.CancellationToken);
        return (
            (await app.Services.GetRequiredService<ClientBook>().Clients(who, null, cancellation: TestContext.Current.CancellationToken)).Count,
            vans.Count,
            vans.Sum(v => v.Options),
            (await desk.Plans(who, 100, cancellation: TestContext.Current.CancellationToken)).Count);
    }
}
