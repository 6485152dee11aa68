using System.Security.Cryptography;
using System.Text;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Testing;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>Published plans and the links that open them.</summary>
public sealed class PlanTests(TestStores stores) : IClassFixture<TestStores>
{
    public static TheoryData<StoreKind> Both => TestStores.Both;

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_published_plan_opens_by_its_link_with_the_text_it_was_published_with(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, vanId, optionId) = await desk.AddVan();
        var version = (await desk.Options.Load(desk.Ada, optionId))!.Version;
        var text = "{\"title\":\"תוכנית ▲ \u0000\"," + new string(' ', 200_000) + "}";
        text = text.Replace("\0", "\\u0000", StringComparison.Ordinal);

        var plan = await desk.Plans.Publish(desk.Ada, optionId, version, heading =>
        {
            Assert.Equal(1, heading.Number);
            return new PlanText(text, 3, "method 1");
        });

        var opened = (await desk.Plans.FindByToken(plan.Link.Token))!;
        Assert.Equal((plan.PlanId, vanId, 1, 3, "method 1", text), (opened.PlanId, opened.VanId, opened.Number, opened.SnapshotFormat, opened.MethodVersion, opened.SnapshotText));
        Assert.Equal(plan.PublishedAt, opened.PublishedAt);
        Assert.Equal(opened, await desk.Plans.Plan(desk.Ben, plan.PlanId));
        Assert.Equal(desk.Time.Now.UtcDateTime + Plans.UsualLinkLife, plan.Link.ExpiresAt, TimeSpan.FromMicroseconds(1));

        // The option goes on living; the plan does not follow it.
        await desk.Clients.ChangeClient(desk.Ada, (await desk.Vans.Van(desk.Ada, vanId))!.ClientId, (await desk.Clients.Client(desk.Ada, (await desk.Vans.Van(desk.Ada, vanId))!.ClientId))!.Version, new ClientInput("Renamed"));
        Assert.Equal(opened, await desk.Plans.FindByToken(plan.Link.Token));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Revisions_are_numbered_within_the_van_also_when_published_at_once(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, vanId, optionId) = await desk.AddVan();
        var version = (await desk.Options.Load(desk.Ada, optionId))!.Version;
        await desk.Plans.Publish(desk.Ada, optionId, version, _ => new PlanText("{}", 1, "m"));
        await Task.WhenAll(Enumerable.Range(0, 3).Select(_ => Task.Run(() =>
            desk.Plans.Publish(desk.Ben, optionId, version, h => new PlanText($"{{\"number\":{h.Number}}}", 1, "m")))));

        var plans = await desk.Plans.PlansOf(desk.Ada, vanId);
        Assert.Equal([4, 3, 2, 1], plans.Select(p => p.Number));
        Assert.Equal(["Ben Tarn", "Ben Tarn", "Ben Tarn", "Ada Moor"], plans.Select(p => p.PublishedBy));
        foreach (var plan in plans.Take(3))
        {
            Assert.Equal($"{{\"number\":{plan.Number}}}", (await desk.Plans.Plan(desk.Ada, plan.Id))!.SnapshotText);
        }
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task What_was_changed_since_it_was_assessed_is_not_published(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, vanId, optionId) = await desk.AddVan();
        var stale = (await desk.Options.Load(desk.Ada, optionId))!.Version;
        await desk.Options.Rename(desk.Ben, optionId, stale, "Changed");
        await Assert.ThrowsAsync<RecordChangedException>(() => desk.Plans.Publish(desk.Ada, optionId, stale, _ => new PlanText("{}", 1, "m")));
        Assert.Empty(await desk.Plans.PlansOf(desk.Ada, vanId));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task While_a_danger_stands_nothing_is_published_without_a_reason(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, vanId, optionId) = await desk.AddVan();
        var unflued = SampleDesign.Van() with { Heater = SampleDesign.Van().Heater with { Kind = HeaterKind.UnfluedGas } };
        var saved = Assert.IsType<Saved>(await desk.Options.Save(desk.Ada, optionId, (await desk.Options.Load(desk.Ada, optionId))!.Version, unflued, "Their own heater"));

        // Whatever the caller's snapshot says: the stored design is asked.
        foreach (var reason in new[] { null, "", "  ", "because", "aaaaaaaaaaaaaaa" })
        {
            var e = await Assert.ThrowsAsync<InvalidInputException>(() => desk.Plans.Publish(desk.Ada, optionId, saved.Version, _ => new PlanText("{}", 1, "m"), reason));
            Assert.Equal("DangerReason", Assert.Single(e.Errors).Field);
        }

        Assert.Empty(await desk.Plans.PlansOf(desk.Ada, vanId));
        await desk.Plans.Publish(desk.Ada, optionId, saved.Version, _ => new PlanText("{}", 1, "m"), "They were told and want to see it in writing.");
        Assert.Single(await desk.Plans.PlansOf(desk.Ada, vanId));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_token_has_256_random_bits_and_only_its_SHA_256_is_stored(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var plan = await Published(desk);
        Assert.Matches("^[A-Za-z0-9_-]{43}$", plan.Link.Token);
        Assert.NotEqual(plan.Link.Token, (await desk.Plans.AddLink(desk.Ada, plan.PlanId)).Token);

        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        var link = await db.PlanLinks.SingleAsync(l => l.Id == plan.Link.LinkId);
        Assert.Equal(SHA256.HashData(Encoding.UTF8.GetBytes(plan.Link.Token)), link.TokenSha256);

        // In no column of any table, whatever is added later.
        await db.Database.OpenConnectionAsync();
        foreach (var table in db.Model.GetEntityTypes().Select(e => e.GetTableName()).OfType<string>().Distinct())
        {
            await using var command = db.Database.GetDbConnection().CreateCommand();
            command.CommandText = $"SELECT * FROM \"{table}\"";
            await using var rows = await command.ExecuteReaderAsync();
            while (await rows.ReadAsync())
            {
                for (var column = 0; column < rows.FieldCount; column++)
                {
                    Assert.DoesNotContain(plan.Link.Token, rows.GetValue(column) is byte[] bytes ? Encoding.Latin1.GetString(bytes) : $"{rows.GetValue(column)}", StringComparison.Ordinal);
                }
            }
        }
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_link_ends_when_it_expires(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var plan = await Published(desk, TimeSpan.FromDays(10));
        desk.Time.Now += TimeSpan.FromDays(10) - TimeSpan.FromSeconds(1);
        Assert.NotNull(await desk.Plans.FindByToken(plan.Link.Token));
        desk.Time.Now += TimeSpan.FromSeconds(1);
        Assert.Null(await desk.Plans.FindByToken(plan.Link.Token));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_revoked_link_opens_nothing_and_the_other_links_go_on(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var plan = await Published(desk);
        var second = await desk.Plans.AddLink(desk.Ben, plan.PlanId, TimeSpan.FromDays(1));
        await desk.Plans.RevokeLink(desk.Ada, plan.Link.LinkId);
        await desk.Plans.RevokeLink(desk.Ada, plan.Link.LinkId);
        Assert.Null(await desk.Plans.FindByToken(plan.Link.Token));
        Assert.NotNull(await desk.Plans.FindByToken(second.Token));
        Assert.Single(await desk.Audit.Of(desk.Ada, plan.Link.LinkId), a => a.Action == "link.revoked");
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task An_unknown_or_malformed_token_opens_nothing(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var token = (await Published(desk)).Link.Token;
        var other = token[0] == 'A' ? "B" + token[1..] : "A" + token[1..];
        foreach (var wrong in new[] { null, "", "x", other, token + "=", token[..^1], token.ToUpperInvariant(), new string('\0', 43), new string('A', 100_000) })
        {
            Assert.Null(await desk.Plans.FindByToken(wrong));
        }

        Assert.NotNull(await desk.Plans.FindByToken(token));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task The_last_use_of_a_link_is_noted_about_once_a_minute(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var plan = await Published(desk);
        var vanId = (await desk.Plans.Plan(desk.Ada, plan.PlanId))!.VanId;
        Assert.Null(await LastUse());
        desk.Time.Now += TimeSpan.FromHours(1);
        await desk.Plans.FindByToken(plan.Link.Token);
        var first = await LastUse();
        Assert.Equal(desk.Time.Now.UtcDateTime, first!.Value, TimeSpan.FromMicroseconds(1));
        desk.Time.Now += TimeSpan.FromSeconds(20);
        await desk.Plans.FindByToken(plan.Link.Token);
        Assert.Equal(first, await LastUse());
        desk.Time.Now += TimeSpan.FromSeconds(50);
        await desk.Plans.FindByToken(plan.Link.Token);
        Assert.True(await LastUse() > first);

        async Task<DateTime?> LastUse() => Assert.Single(Assert.Single(await desk.Plans.PlansOf(desk.Ada, vanId)).Links).LastUsedAt;
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_plan_whose_stored_text_was_changed_behind_our_back_is_not_shown(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var plan = await Published(desk);
        await using (var db = desk.Contexts.OpenFor(desk.Ada.FirmId))
        {
            Assert.Equal(1, await db.Database.ExecuteSqlAsync($"UPDATE \"Plans\" SET \"SnapshotText\" = 'forged' WHERE \"Id\" = {plan.PlanId}"));
        }

        await Assert.ThrowsAsync<PlanDamagedException>(() => desk.Plans.FindByToken(plan.Link.Token));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_plan_whose_settings_for_tonight_were_changed_is_not_shown_and_one_of_before_their_hash_is(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (_, _, optionId) = await desk.AddVan();
        var version = (await desk.Options.Load(desk.Ada, optionId))!.Version;
        var plan = await desk.Plans.Publish(desk.Ada, optionId, version, _ => new PlanText("{}", 1, "m", "tonight"));
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);

        // SHA-256 of the seven letters, by sha256sum of GNU coreutils.
        Assert.Equal("2769fc20451b51737baa457ef96532b84370d3664150af08b3f310f30448921f", (await db.Plans.AsNoTracking().SingleAsync(p => p.Id == plan.PlanId)).TonightSha256);
        await Change($"UPDATE \"Plans\" SET \"TonightText\" = 'forged' WHERE \"Id\" = {plan.PlanId}");
        await Assert.ThrowsAsync<PlanDamagedException>(() => desk.Plans.FindByToken(plan.Link.Token));
        await Change($"UPDATE \"Plans\" SET \"TonightText\" = NULL WHERE \"Id\" = {plan.PlanId}");
        await Assert.ThrowsAsync<PlanDamagedException>(() => desk.Plans.Plan(desk.Ada, plan.PlanId));
        await Change($"UPDATE \"Plans\" SET \"TonightText\" = 'of before', \"TonightSha256\" = NULL WHERE \"Id\" = {plan.PlanId}");
        Assert.Equal("of before", (await desk.Plans.FindByToken(plan.Link.Token))!.TonightText);

        async Task Change(FormattableString sql) => Assert.Equal(1, await db.Database.ExecuteSqlAsync(sql));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(731)]
    public async Task A_link_that_never_works_or_never_ends_is_refused(int days)
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var (_, vanId, optionId) = await desk.AddVan();
        var version = (await desk.Options.Load(desk.Ada, optionId))!.Version;
        await Assert.ThrowsAsync<InvalidInputException>(() => desk.Plans.Publish(desk.Ada, optionId, version, _ => new PlanText("{}", 1, "m"), linkLife: TimeSpan.FromDays(days)));
        Assert.Empty(await desk.Plans.PlansOf(desk.Ada, vanId));
    }

    private static async Task<PublishedPlan> Published(TestDesk desk, TimeSpan? life = null)
    {
        var (_, _, optionId) = await desk.AddVan();
        var version = (await desk.Options.Load(desk.Ada, optionId))!.Version;
        return await desk.Plans.Publish(desk.Ada, optionId, version, _ => new PlanText("{}", 1, "m"), linkLife: life);
    }
}
