using System.Net;
using ConsultDesk.Records;
using ConsultDesk.Web.Demo;
using ConsultDesk.Web.Intake;
using ConsultDesk.Web.Tests.Account;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Routing;
using Microsoft.AspNetCore.TestHost;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Web.Tests.Shell;

/// <summary>
/// Every address the program answers, asked by everybody: nobody, a consultant and an owner of the firm, an owner of another firm with this firm's
/// numbers, and, where a link opens it, one who holds a link that ran out. The addresses come from the program itself; one that is not in the table
/// fails, and so does a line of the table that no address has.
/// </summary>
public sealed class EveryDoorTests(DeskApp desk) : IClassFixture<DeskApp>
{
    /// <summary>
    /// GET, by visitor. in: sent to the sign-in page. ok: answered. no: 403, for owners only. none: 404. gone: 404 too, said by the page. to: sent elsewhere
    /// on the desk. post: takes no GET, so only the form is tried. -: no link in it.
    /// </summary>
    private const string Table = """
        address                                                nobody consultant owner other expired
        /                                                      in     ok   ok   ok   -
        /account                                               in     ok   ok   ok   -
        /account/authenticator                                 in     ok   ok   ok   -
        /account/passkey                                       post   post post post -
        /agendas                                               in     ok   ok   ok   -
        /audit                                                 in     no   ok   ok   -
        /audit/table                                           in     no   ok   ok   -
        /brand/{hex}.css                                       ok     ok   ok   ok   -
        /clients                                               in     ok   ok   ok   -
        /clients/erased/{receiptId:guid}.txt                   in     ok   ok   none -
        /clients/erased/{ReceiptId:guid}                       in     ok   ok   ok   -
        /clients/import                                        in     ok   ok   ok   -
        /clients/new                                           in     ok   ok   ok   -
        /clients/{ClientId:guid}                               in     ok   ok   none -
        /clients/{clientId:guid}/export                        in     ok   ok   none -
        /clients/{ClientId:guid}/vans/new                      in     ok   ok   none -
        /consults/{consultId:guid}.ics                         in     ok   ok   none -
        /error                                                 ok     ok   ok   ok   -
        /firm                                                  in     ok   ok   ok   -
        /firm/logo                                             in     ok   ok   none -
        /health/live                                           ok     ok   ok   ok   -
        /health/ready                                          ok     ok   ok   ok   -
        /installations/photo/{photoId:guid}                    in     ok   ok   none -
        /intake/{Token}                                        ok     ok   ok   ok   none
        /intake/{Token}/{StepKey}                              ok     ok   ok   ok   none
        /intake/{token}/photo/{photoId:guid}                   ok     ok   ok   ok   none
        /intakes/photo/{photoId:guid}                          in     ok   ok   none -
        /join/{Token}                                          ok     ok   ok   ok   none
        /missing                                               in     ok   ok   ok   -
        /people                                                in     no   ok   ok   -
        /plan/{Token}                                          ok     ok   ok   ok   none
        /plan/{Token}/basis                                    ok     ok   ok   ok   none
        /plan/{Token}/build                                    ok     ok   ok   ok   none
        /plan/{Token}/card                                     ok     ok   ok   ok   none
        /plan/{token}/logo                                     ok     ok   ok   ok   none
        /plan/{token}/pdf                                      ok     ok   ok   ok   none
        /plan/{Token}/reply                                    ok     ok   ok   ok   none
        /plan/{Token}/report                                   ok     ok   ok   ok   none
        /plan/{token}/tonight                                  ok     ok   ok   ok   none
        /plan/{token}/tonight.html                             ok     ok   ok   ok   none
        /plans/{PlanId:guid}                                   in     ok   ok   none -
        /plans/{planId:guid}/logo                              in     ok   ok   none -
        /plans/{planId:guid}/pdf                               in     ok   ok   none -
        /plans/{PlanId:guid}/read                              in     ok   ok   none -
        /plans/{PlanId:guid}/read/basis                        in     ok   ok   none -
        /plans/{PlanId:guid}/read/build                        in     ok   ok   none -
        /plans/{PlanId:guid}/read/card                         in     ok   ok   none -
        /plans/{PlanId:guid}/report                            in     ok   ok   none -
        /plans/{planId:guid}/tonight                           in     ok   ok   none -
        /plans/{planId:guid}/tonight.html                      in     ok   ok   none -
        /prices                                                in     ok   ok   ok   -
        /prices/table                                          in     ok   ok   ok   -
        /set-up                                                none   none none none -
        /sign-in                                               ok     to   to   to   -
        /sign-in/code                                          ok     ok   ok   ok   -
        /sign-in/passkey                                       post   post post post -
        /sign-out                                              ok     ok   ok   ok   -
        /status/{Code:int}                                     ok     ok   ok   ok   -
        /vans/{VanId:guid}/consults                            in     ok   ok   none -
        /vans/{VanId:guid}/intakes/{IntakeId:guid}             in     ok   ok   none -
        /vans/{VanId:guid}/options/{OptionId:guid}/night       in     ok   ok   none -
        /vans/{VanId:guid}/timeline                            in     ok   ok   none -
        /vans/{vanId:guid}                                     in     ok   ok   none -
        /vans/{vanId:guid}/options/{optionId:guid}             in     ok   ok   none -
        """;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Every_address_lets_in_whom_the_table_says_and_no_form_is_taken_without_its_token()
    {
        await using var app = desk.WithWebHostBuilder(builder => builder.ConfigureTestServices(services => services.AddTransient<IStartupFilter, ManyAddresses>()));
        var rows = Table.Split('\n').Skip(1).Select(line => line.Split(' ', StringSplitOptions.RemoveEmptyEntries)).ToDictionary(row => row[0], row => row[1..], StringComparer.Ordinal);
        var endpoints = app.Services.GetServices<EndpointDataSource>().SelectMany(source => source.Endpoints).OfType<RouteEndpoint>().Where(IsOurs).ToList();
        var patterns = endpoints.Select(endpoint => "/" + endpoint.RoutePattern.RawText!.TrimStart('/')).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToList();
        Assert.Equal(rows.Keys.Order(StringComparer.Ordinal), patterns);

        var (live, expired) = await FillAsync(app.Services);
        var owner = await AccountPageTests.AddAsync(app.Services, DeskRole.Owner, await FirmAsync(app.Services));
        var consultant = await AccountPageTests.AddAsync(app.Services, DeskRole.Consultant, owner.Who.FirmId);
        var other = await AccountPageTests.AddAsync(app.Services, DeskRole.Owner);
        using var nobody = app.CreateClient(new() { AllowAutoRedirect = false, BaseAddress = new("http://localhost") });
        using var asConsultant = await AccountPageTests.SignedInAsync(app, consultant);
        using var asOwner = await AccountPageTests.SignedInAsync(app, owner);
        using var asOther = await AccountPageTests.SignedInAsync(app, other);
        (string Name, HttpClient Visitor, IReadOnlyDictionary<string, string> Values)[] visitors =
            [("nobody", nobody, live), ("consultant", asConsultant, live), ("owner", asOwner, live), ("other", asOther, live), ("expired", nobody, expired)];
        var surprises = new List<string>();

        foreach (var (pattern, expected) in rows)
        {
            for (var v = 0; v < visitors.Length; v++)
            {
                var (name, visitor, values) = visitors[v];
                if (expected[v] == "-")
                {
                    continue;
                }

                var address = Address(pattern, values);
                using var looked = await AskAsync(visitor, HttpMethod.Get, address);
                var got = Word(looked);
                if (expected[v] != "post" && got != expected[v])
                {
                    surprises.Add($"GET {pattern} as {name}: expected {expected[v]}, got {got} ({(int)looked.StatusCode} {looked.Headers.Location})");
                }

                using var sent = await AskAsync(visitor, HttpMethod.Post, address);
                // A watchdog may ask by any method; it sends nothing that is taken.
                if (!pattern.StartsWith("/health/", StringComparison.Ordinal) && Word(sent) is not ("in" or "no" or "none" or "post" or "token"))
                {
                    surprises.Add($"POST {pattern} as {name} without a token: got {Word(sent)} ({(int)sent.StatusCode})");
                }
            }
        }

        Assert.True(surprises.Count == 0, string.Join('\n', surprises));
    }

    /// <summary>What the framework answers itself: files, and the live connection, which has tests of its own.</summary>
    private static bool IsOurs(RouteEndpoint endpoint)
    {
        var path = endpoint.RoutePattern.RawText!.TrimStart('/');
        return !path.StartsWith('_') && path != "{**path:file}" && !endpoint.Metadata.Any(m => m.GetType().Name == "StaticAssetDescriptor");
    }

    private static async Task<HttpResponseMessage> AskAsync(HttpClient visitor, HttpMethod method, string address)
    {
        using var request = new HttpRequestMessage(method, address);
        if (method == HttpMethod.Post)
        {
            request.Content = new FormUrlEncodedContent([]);
        }

        return await visitor.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, Cancel);
    }

    private static string Word(HttpResponseMessage answer) => answer.StatusCode switch
    {
        HttpStatusCode.OK => "ok",
        HttpStatusCode.Redirect when answer.Headers.Location!.OriginalString.Contains("/sign-in", StringComparison.Ordinal) => "in",
        HttpStatusCode.Redirect => "to",
        HttpStatusCode.Forbidden => "no",
        HttpStatusCode.NotFound => "none",
        HttpStatusCode.MethodNotAllowed => "post",
        HttpStatusCode.BadRequest => "token",
        var status => ((int)status).ToString(System.Globalization.CultureInfo.InvariantCulture),
    };

    private static string Address(string pattern, IReadOnlyDictionary<string, string> values) => "/" + string.Join('/', pattern.Split('/', StringSplitOptions.RemoveEmptyEntries).Select(part =>
    {
        var open = part.IndexOf('{', StringComparison.Ordinal);
        if (open < 0)
        {
            return part;
        }

        var close = part.IndexOf('}', StringComparison.Ordinal);
        var name = part[(open + 1)..close].Split(':')[0].ToUpperInvariant();
        var key = name is "TOKEN" or "PHOTOID" ? pattern.Split('/')[1].ToUpperInvariant() + "/" + name : name;
        return part[..open] + values[key] + part[(close + 1)..];
    }));

    private static async Task<Guid> FirmAsync(IServiceProvider services)
    {
        await using var scope = services.CreateAsyncScope();
        return (await scope.ServiceProvider.GetRequiredService<DeskContext>().Users.SingleAsync(u => u.Email == DemoDesk.Email, Cancel)).FirmId;
    }

    /// <summary>A value for every name in an address, of the demo's firm; and the same with links that ran out.</summary>
    private static async Task<(Dictionary<string, string> Live, Dictionary<string, string> Expired)> FillAsync(IServiceProvider services)
    {
        var firm = await FirmAsync(services);
        await using var scope = services.CreateAsyncScope();
        var robin = await scope.ServiceProvider.GetRequiredService<DeskContext>().Users.SingleAsync(u => u.Email == DemoDesk.Email, Cancel);
        var who = new SignedIn(firm, robin.Id, robin.DisplayName, robin.Role);
        await using var db = services.GetRequiredService<FirmContexts>().OpenFor(firm);
        // The newest plan has all its sheets, tonight's settings and a logo.
        var plan = await db.Plans.Where(p => p.TonightText != null).OrderByDescending(p => p.PublishedAt).FirstAsync(Cancel);
        var van = await db.Vans.SingleAsync(v => v.Id == plan.VanId, Cancel);
        var installation = new Installation { VanId = van.Id, What = "W", Who = "", Note = "", CreatedAt = DateTime.UtcNow };
        var receipt = new ErasureReceipt { ClientId = Guid.NewGuid(), At = DateTime.UtcNow, ErasedBy = who.UserId, Gone = "client=1", Stayed = "auditRows=1" };
        db.AddRange(installation, receipt);
        await db.SaveChangesAsync(Cancel);
        var installed = new InstallationPhoto { InstallationId = installation.Id, Jpeg = [0xFF, 0xD8], AddedAt = DateTime.UtcNow };
        db.Add(installed);

        var plans = services.GetRequiredService<Records.Plans>();
        var intakes = services.GetRequiredService<Intakes>();
        var people = services.GetRequiredService<People>();
        var (planLink, oldPlanLink) = (await plans.AddLink(who, plan.Id, cancellation: Cancel), await plans.AddLink(who, plan.Id, cancellation: Cancel));
        var (intake, oldIntake) = (await intakes.Send(who, van.Id, cancellation: Cancel), await intakes.Send(who, van.Id, cancellation: Cancel));
        var (invitation, oldInvitation) = (await people.Invite(who, "A", DeskRole.Consultant, Cancel), await people.Invite(who, "B", DeskRole.Consultant, Cancel));
        var photo = new IntakePhoto { IntakeId = intake.IntakeId, Subject = "ribs", Jpeg = [0xFF, 0xD8], AddedAt = DateTime.UtcNow };
        var oldPhoto = new IntakePhoto { IntakeId = oldIntake.IntakeId, Subject = "ribs", Jpeg = [0xFF, 0xD8], AddedAt = DateTime.UtcNow };
        db.AddRange(photo, oldPhoto);
        var ago = DateTime.UtcNow.AddMinutes(-1);
        (await db.PlanLinks.SingleAsync(l => l.Id == oldPlanLink.LinkId, Cancel)).ExpiresAt = ago;
        (await db.Intakes.SingleAsync(i => i.Id == oldIntake.IntakeId, Cancel)).ExpiresAt = ago;
        (await db.Invitations.SingleAsync(i => i.Id == oldInvitation.InvitationId, Cancel)).ExpiresAt = ago;
        await db.SaveChangesAsync(Cancel);

        var live = new Dictionary<string, string>
        {
            ["CLIENTID"] = van.ClientId.ToString(),
            ["VANID"] = van.Id.ToString(),
            ["OPTIONID"] = plan.OptionId.ToString(),
            ["PLANID"] = plan.Id.ToString(),
            ["INTAKEID"] = intake.IntakeId.ToString(),
            ["CONSULTID"] = (await db.Consults.FirstAsync(Cancel)).Id.ToString(),
            ["RECEIPTID"] = receipt.Id.ToString(),
            ["HEX"] = "1f6f5c",
            ["CODE"] = "404",
            ["STEPKEY"] = Questionnaire.Steps[0].Key,
            ["INSTALLATIONS/PHOTOID"] = installed.Id.ToString(),
            ["INTAKES/PHOTOID"] = photo.Id.ToString(),
            ["INTAKE/PHOTOID"] = photo.Id.ToString(),
            ["PLAN/TOKEN"] = planLink.Token,
            ["INTAKE/TOKEN"] = intake.Token,
            ["JOIN/TOKEN"] = invitation.Token,
        };
        var expired = new Dictionary<string, string>(live)
        {
            ["INTAKE/PHOTOID"] = oldPhoto.Id.ToString(),
            ["PLAN/TOKEN"] = oldPlanLink.Token,
            ["INTAKE/TOKEN"] = oldIntake.Token,
            ["JOIN/TOKEN"] = oldInvitation.Token,
        };
        return (live, expired);
    }

    /// <summary>Each request from an address of its own: what is asked here more often than once a minute would be refused for that alone.</summary>
    private sealed class ManyAddresses : IStartupFilter
    {
        private static int _next;

        public Action<IApplicationBuilder> Configure(Action<IApplicationBuilder> next) => app =>
        {
            app.Use(static (context, go) =>
            {
                var n = Interlocked.Increment(ref _next);
                // RFC 2544 keeps 198.18.0.0/15 for tests.
                context.Connection.RemoteIpAddress = new IPAddress(new byte[] { 198, 18, (byte)(n >> 8), (byte)n });
                return go(context);
            });
            next(app);
        };
    }
}
