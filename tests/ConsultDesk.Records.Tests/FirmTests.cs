using ConsultDesk.Testing;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>The firm's logo, its unit choices, and the founding of the first firm.</summary>
public sealed class FirmTests(TestStores stores) : IClassFixture<TestStores>
{
    // The signature of PNG (ISO/IEC 15948, 5.2) and something behind it.
    private static readonly byte[] Png = [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, 1, 2, 3];

    public static TheoryData<StoreKind> Both => TestStores.Both;

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_logo_is_kept_replaced_and_removed_over_the_version_that_was_seen(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var logos = desk.App.GetRequiredService<FirmLogos>();
        Assert.Null(await logos.Logo(desk.Ada));
        desk.Time.Now += TimeSpan.FromSeconds(1);

        var first = await logos.Save(desk.Ada, null, Png, 120, 40);
        var kept = (await logos.Logo(desk.Ben))!;
        Assert.Equal((first, 120, 40), (kept.Version, kept.Width, kept.Height));
        Assert.Equal(Png, kept.Png);

        byte[] other = [.. Png, 4];
        var second = await logos.Save(desk.Ada, first, other, 60, 40);
        await Assert.ThrowsAsync<RecordChangedException>(() => logos.Save(desk.Ada, first, Png, 1, 1));
        await Assert.ThrowsAsync<RecordChangedException>(() => logos.Save(desk.Ada, null, Png, 1, 1));
        await Assert.ThrowsAsync<RecordChangedException>(() => logos.Remove(desk.Ada, first));
        Assert.Equal(other, (await logos.Logo(desk.Ada))!.Png);

        desk.Time.Now += TimeSpan.FromSeconds(1);
        await logos.Remove(desk.Ada, second);
        Assert.Null(await logos.Logo(desk.Ada));
        await Assert.ThrowsAsync<RecordChangedException>(() => logos.Remove(desk.Ada, second));
        await Assert.ThrowsAsync<RecordChangedException>(() => logos.Save(desk.Ada, second, Png, 1, 1));
        Assert.Equal(["logo.removed", "logo.changed", "logo.changed"], (await desk.Audit.Latest(desk.Ada, 3)).Select(a => a.Action));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_logo_is_changed_by_an_owner_and_seen_by_the_own_firm_only(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var logos = desk.App.GetRequiredService<FirmLogos>();
        await Assert.ThrowsAsync<NotAllowedException>(() => logos.Save(desk.Ben, null, Png, 1, 1));
        var version = await logos.Save(desk.Ada, null, Png, 1, 1);

        await Assert.ThrowsAsync<NotAllowedException>(() => logos.Remove(desk.Ben, version));
        Assert.Null(await logos.Logo(desk.Stranger));
        await logos.Save(desk.Stranger, null, Png, 2, 2);
        Assert.Equal(1, (await logos.Logo(desk.Ben))!.Width);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Two_first_logos_at_the_same_time_end_as_one(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var logos = desk.App.GetRequiredService<FirmLogos>();

        var tries = await Task.WhenAll(Enumerable.Range(0, 6).Select(i => Task.Run(async () =>
        {
            try
            {
                await logos.Save(desk.Ada, null, Png, i + 1, 1);
                return true;
            }
            catch (RecordChangedException)
            {
                return false;
            }
        })));

        Assert.Single(tries, kept => kept);
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        Assert.Equal(1, await db.Logos.CountAsync());
    }

    [Fact]
    public async Task What_is_no_picture_is_not_kept()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var logos = desk.App.GetRequiredService<FirmLogos>();

        await Refused([0xFF, 0xD8, 0xFF], 10, 10, "PNG");
        await Refused(Png, 0, 10, "width");
        await Refused([.. Png, .. new byte[FirmLogos.LargestBytes]], 10, 10, "5 MB");

        async Task Refused(byte[] bytes, int width, int height, string expected)
        {
            var refused = await Assert.ThrowsAsync<InvalidInputException>(() => logos.Save(desk.Ada, null, bytes, width, height));
            Assert.Contains(expected, Assert.Single(refused.Errors).Message, StringComparison.Ordinal);
        }
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Unit_choices_are_kept_with_the_firm(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var firm = await desk.Firms.Mine(desk.Ada);
        Assert.Equal("", firm.UnitChoices);

        await desk.Firms.Change(desk.Ada, firm.Version, new FirmInput("F", "#112233", null, "NOK", UnitPreset.Metric, "air-flow=cfm"));

        Assert.Equal("air-flow=cfm", (await desk.Firms.Mine(desk.Ben)).UnitChoices);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Paper_answer_address_terms_and_tax_are_kept_with_the_firm(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var firm = await desk.Firms.Mine(desk.Ada);
        Assert.Equal((PaperSize.A4, "", "", "", 0d, true), Kept(firm));

        var input = new FirmInput("F", "#112233", null, "NOK", UnitPreset.Metric)
        {
            Paper = PaperSize.Letter,
            AnswerAddress = " hello@fell.example ",
            Terms = "Advice, not a certificate.\n\nVår ansvar er begrenset.",
            TaxName = "MVA",
            TaxPercent = 25,
            PricesIncludeTax = false,
        };
        var version = await desk.Firms.Change(desk.Ada, firm.Version, input);
        Assert.Equal((PaperSize.Letter, "hello@fell.example", "Advice, not a certificate.\n\nVår ansvar er begrenset.", "MVA", 25d, false), Kept(await desk.Firms.Mine(desk.Ben)));

        await desk.Firms.Change(desk.Ada, version, input with { PricesIncludeTax = true, Paper = PaperSize.A4, AnswerAddress = " ", Terms = null, TaxName = null, TaxPercent = 0 });
        Assert.Equal((PaperSize.A4, "", "", "", 0d, true), Kept(await desk.Firms.Mine(desk.Ben)));

        static (PaperSize, string, string, string, double, bool) Kept(Firm f) => (f.Paper, f.Email, f.Terms, f.TaxName, f.TaxPercent, f.PricesIncludeTax);
    }

    [Fact]
    public async Task Answer_address_terms_and_tax_that_are_wrong_are_named_with_what_is_expected()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var firm = await desk.Firms.Mine(desk.Ada);
        var good = new FirmInput("F", "#112233", null, "NOK", UnitPreset.Metric);

        await Refused(good with { AnswerAddress = "hello at fell" }, "AnswerAddress", "name@example.org");
        await Refused(good with { AnswerAddress = "a@fell.example\r\nBcc: b@fell.example" }, "AnswerAddress", "name@example.org");
        await Refused(good with { AnswerAddress = "a@fell.example,b@fell.example" }, "AnswerAddress", "name@example.org");
        await Refused(good with { Terms = new string('t', 20_001) }, "Terms", "at most 20000 characters, got 20001");
        await Refused(good with { TaxName = "VAT", TaxPercent = 50.1 }, "TaxPercent", "0 to 50 per cent");
        await Refused(good with { TaxName = "VAT", TaxPercent = -1 }, "TaxPercent", "0 to 50 per cent");
        await Refused(good with { TaxName = "VAT", TaxPercent = double.NaN }, "TaxPercent", "0 to 50 per cent");
        await Refused(good with { TaxPercent = 20 }, "TaxName", "because a rate is given");
        await Refused(good with { Paper = (PaperSize)7 }, "Paper", "A4 or Letter");
        Assert.Equal(firm.Version, (await desk.Firms.Mine(desk.Ada)).Version);

        async Task Refused(FirmInput input, string field, string expected)
        {
            var refused = await Assert.ThrowsAsync<InvalidInputException>(() => desk.Firms.Change(desk.Ada, firm.Version, input));
            Assert.Contains(refused.Errors, error => error.Field == field && error.Message.Contains(expected, StringComparison.Ordinal));
        }
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task The_first_firm_is_founded_with_its_owner_and_no_second_one(StoreKind kind)
    {
        await using var app = await Empty(kind);
        var first = await Found(app, new OwnerInput("Ada Moor", " ada@fell.example ", "twelve and more"));

        Assert.Equal(("Ada Moor", "ada@fell.example", DeskRole.Owner), (first.DisplayName, first.Email, first.Role));
        await Assert.ThrowsAsync<FirmExistsException>(() => Found(app, new OwnerInput("Ben Tarn", "ben@fell.example", "twelve and more")));
        await using var db = await app.GetRequiredService<IDbContextFactory<DeskContext>>().CreateDbContextAsync();
        Assert.Equal(first.FirmId, (await db.Firms.IgnoreQueryFilters().SingleAsync()).Id);
        Assert.Equal(first.Id, (await db.Users.SingleAsync()).Id);
        var owner = new SignedIn(first.FirmId, first.Id, first.DisplayName, first.Role);
        Assert.Equal("Fell Van Advice", (await app.GetRequiredService<Firms>().Mine(owner)).Name);
        await using var scope = app.CreateAsyncScope();
        var users = scope.ServiceProvider.GetRequiredService<UserManager<DeskUser>>();
        Assert.True(await users.CheckPasswordAsync((await users.FindByEmailAsync("ADA@fell.example"))!, "twelve and more"));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Of_many_first_firms_founded_at_the_same_time_one_is(StoreKind kind)
    {
        await using var app = await Empty(kind);

        var tries = await Task.WhenAll(Enumerable.Range(0, 6).Select(i => Task.Run(async () =>
        {
            try
            {
                await Found(app, new OwnerInput("Ada Moor", FormattableString.Invariant($"ada{i}@fell.example"), "twelve and more"));
                return true;
            }
            catch (FirmExistsException)
            {
                return false;
            }
        })));

        Assert.Single(tries, founded => founded);
        await using var db = await app.GetRequiredService<IDbContextFactory<DeskContext>>().CreateDbContextAsync();
        Assert.Equal(1, await db.Firms.IgnoreQueryFilters().CountAsync());
        Assert.Equal(1, await db.Users.CountAsync());
    }

    [Fact]
    public async Task All_that_is_wrong_with_a_first_firm_is_said_at_once_and_nothing_is_made()
    {
        await using var app = await Empty(StoreKind.Sqlite);

        var refused = await Assert.ThrowsAsync<InvalidInputException>(() => Found(
            app, new OwnerInput(" ", "ada", "short"), new FirmInput("", "green", null, "euro", UnitPreset.Metric)));

        Assert.Equal(
            ["BrandColour", "Currency", "Email", "Name", "OwnerName", "Password"],
            refused.Errors.Select(e => e.Field).Distinct().Order(StringComparer.Ordinal));
        Assert.True(await app.GetRequiredService<Firms>().NoneYet());
    }

    private static async Task<DeskUser> Found(ServiceProvider app, OwnerInput owner, FirmInput? firm = null)
    {
        await using var scope = app.CreateAsyncScope();
        return await scope.ServiceProvider.GetRequiredService<FirstFirm>()
            .Found(firm ?? new FirmInput("Fell Van Advice", "#1f6f5c", null, "EUR", UnitPreset.Metric), owner);
    }

    private async Task<ServiceProvider> Empty(StoreKind kind)
    {
        var app = TestDesk.Services(kind, await stores.Empty(kind), TimeProvider.System);
        await DeskStore.Migrate(app.GetRequiredService<IDbContextFactory<DeskContext>>());
        // Identity's rules as the app sets them: length counts, forced symbols do not.
        await using var scope = app.CreateAsyncScope();
        var rules = scope.ServiceProvider.GetRequiredService<UserManager<DeskUser>>().Options.Password;
        (rules.RequireDigit, rules.RequireLowercase, rules.RequireUppercase, rules.RequireNonAlphanumeric) = (false, false, false, false);
        return app;
    }
}
