using ConsultDesk.Testing;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>Who works at a firm: roles, invitations, and access taken away.</summary>
public sealed class PeopleTests(TestStores stores) : IClassFixture<TestStores>
{
    // Identity's own rules, which these services have, want one of each kind.
    private const string Password = "Wet wool by the stove 1!";

    public static TheoryData<StoreKind> Both => TestStores.Both;

    [Theory]
    [MemberData(nameof(Both))]
    public async Task An_invitation_founds_one_account_in_its_firm_and_works_once(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var people = desk.App.GetRequiredService<People>();
        desk.Time.Now += TimeSpan.FromSeconds(1);
        var sent = await people.Invite(desk.Ada, " Dora ", DeskRole.Consultant);
        Assert.Equal(desk.Time.Now.UtcDateTime + People.LinkLife, sent.ExpiresAt, TimeSpan.FromMicroseconds(1));
        Assert.Equal("Dora", Assert.Single(await people.OpenInvitations(desk.Ada)).ForWhom);

        await With(desk, async door =>
        {
            var opened = (await door.Open(sent.Token))!;
            Assert.Equal(("Fjord & Fell Van Advice", DeskRole.Consultant, null), (opened.FirmName, opened.Role, opened.Email));
            var refused = await Assert.ThrowsAsync<InvalidInputException>(() => door.Accept(sent.Token, new("", "dora", "short")));
            Assert.Equal(["OwnerName", "Email", "Password"], refused.Errors.Select(e => e.Field).Distinct());
        });
        var address = $"{Guid.NewGuid():N}@desk.example";
        await With(desk, async door =>
        {
            var dora = (await door.Accept(sent.Token, new("Dora Holt", address, Password)))!;
            Assert.Equal((desk.Ada.FirmId, DeskRole.Consultant, "Dora Holt"), (dora.FirmId, dora.Role, dora.DisplayName));
        });
        await With(desk, async door =>
        {
            Assert.Null(await door.Open(sent.Token));
            Assert.Null(await door.Accept(sent.Token, new("Second", "second@desk.example", Password)));
        });

        var line = Assert.Single(await people.PeopleOf(desk.Ada), person => person.Email == address);
        Assert.Equal(("Dora Holt", DeskRole.Consultant, null, null), (line.Name, line.Role, line.LeftAt, line.SignedInAt));
        Assert.Empty(await people.OpenInvitations(desk.Ada));
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        var row = await db.Invitations.SingleAsync();
        Assert.Equal("", row.ForWhom);
        Assert.Equal(32, row.TokenSha256.Length);
        Assert.Equal(["user.joined", "invitation.sent"], (await desk.Audit.Latest(desk.Ada, 2)).Select(a => a.Action).Order(StringComparer.Ordinal).Reverse());
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_link_that_is_withdrawn_expired_cut_or_invented_opens_nothing(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var people = desk.App.GetRequiredService<People>();
        var withdrawn = await people.Invite(desk.Ada, "A", DeskRole.Owner);
        await people.Withdraw(desk.Ada, withdrawn.InvitationId);
        await people.Withdraw(desk.Ada, withdrawn.InvitationId);
        var expiring = await people.Invite(desk.Ada, "B", DeskRole.Owner);
        await With(desk, async door => Assert.NotNull(await door.Open(expiring.Token)));
        desk.Time.Now += People.LinkLife;

        foreach (var token in new[] { withdrawn.Token, expiring.Token, expiring.Token[..^1], new string('a', 43), "", null })
        {
            await With(desk, async door =>
            {
                Assert.Null(await door.Open(token));
                Assert.Null(await door.Accept(token, new("X", "x@desk.example", Password)));
            });
        }
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Of_many_who_use_one_invitation_at_once_one_gets_an_account(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var sent = await desk.App.GetRequiredService<People>().Invite(desk.Ada, "Race", DeskRole.Consultant);

        var made = await Task.WhenAll(Enumerable.Range(0, 4).Select(i => Task.Run(async () =>
        {
            await using var scope = desk.App.CreateAsyncScope();
            return await scope.ServiceProvider.GetRequiredService<InvitationDoor>().Accept(sent.Token, new("R", $"{Guid.NewGuid():N}@desk.example", Password)) is not null;
        })));

        Assert.Single(made, m => m);
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_link_back_in_sets_a_new_password_and_takes_the_second_step_away(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var people = desk.App.GetRequiredService<People>();
        string stamp;
        await using (var scope = desk.App.CreateAsyncScope())
        {
            var users = scope.ServiceProvider.GetRequiredService<UserManager<DeskUser>>();
            var ben = (await users.FindByIdAsync(desk.Ben.UserId.ToString()))!;
            await users.ResetAuthenticatorKeyAsync(ben);
            await users.SetTwoFactorEnabledAsync(ben, true);
            await users.GenerateNewTwoFactorRecoveryCodesAsync(ben, 3);
            await users.AddOrUpdatePasskeyAsync(ben, new([1, 2], [3], DateTimeOffset.UnixEpoch, 0, [], true, false, false, [4], [5]));
            stamp = ben.SecurityStamp!;
        }

        Assert.Equal((true, 1), (await people.PeopleOf(desk.Ada)).Single(p => p.Id == desk.Ben.UserId) is var before ? (before.HasAuthenticator, before.Passkeys) : default);
        var sent = await people.LetBackIn(desk.Ada, desk.Ben.UserId);
        await With(desk, async door =>
        {
            Assert.NotNull((await door.Open(sent.Token))!.Email);
            Assert.Equal(desk.Ben.UserId, (await door.Accept(sent.Token, new(null, null, Password)))!.Id);
        });

        await using (var scope = desk.App.CreateAsyncScope())
        {
            var users = scope.ServiceProvider.GetRequiredService<UserManager<DeskUser>>();
            var ben = (await users.FindByIdAsync(desk.Ben.UserId.ToString()))!;
            Assert.True(await users.CheckPasswordAsync(ben, Password));
            Assert.False(ben.TwoFactorEnabled);
            Assert.NotEqual(stamp, ben.SecurityStamp);
            Assert.Empty(await users.GetPasskeysAsync(ben));
            Assert.Null(await users.GetAuthenticatorKeyAsync(ben));
        }

        await Assert.ThrowsAsync<RecordNotFoundException>(() => people.LetBackIn(desk.Stranger, desk.Ben.UserId));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task Access_taken_away_ends_the_sign_ins_and_withdraws_the_links_and_can_be_given_back(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var people = desk.App.GetRequiredService<People>();
        var back = await people.LetBackIn(desk.Ada, desk.Ben.UserId);
        var stamp = await Stamp(desk, desk.Ben.UserId);

        // Later than whatever else is written: lines of one moment have no order.
        desk.Time.Now += TimeSpan.FromSeconds(1);
        await people.TakeAccess(desk.Ada, desk.Ben.UserId);

        Assert.NotEqual(stamp, await Stamp(desk, desk.Ben.UserId));
        Assert.NotNull((await people.PeopleOf(desk.Ada)).Single(p => p.Id == desk.Ben.UserId).LeftAt);
        await With(desk, async door => Assert.Null(await door.Open(back.Token)));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => people.LetBackIn(desk.Ada, desk.Ben.UserId));
        // The name stays beside what was done.
        Assert.Equal("Ada Moor", (await desk.Audit.Latest(desk.Ada, 1))[0].Who);
        desk.Time.Now += TimeSpan.FromSeconds(1);
        await people.GiveAccess(desk.Ada, desk.Ben.UserId);
        Assert.Null((await people.PeopleOf(desk.Ada)).Single(p => p.Id == desk.Ben.UserId).LeftAt);
        Assert.Equal(["user.access-given", "user.access-taken"], (await desk.Audit.Of(desk.Ada, desk.Ben.UserId)).Select(a => a.Action).Reverse());
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task The_last_owner_stays_and_of_two_who_take_each_others_role_at_once_one_stays(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var people = desk.App.GetRequiredService<People>();
        await Assert.ThrowsAsync<LastOwnerException>(() => people.ChangeRole(desk.Ada, desk.Ada.UserId, DeskRole.Consultant));
        await Assert.ThrowsAsync<LastOwnerException>(() => people.TakeAccess(desk.Ada, desk.Ada.UserId));

        await people.ChangeRole(desk.Ada, desk.Ben.UserId, DeskRole.Owner);
        var ben = desk.Ben with { Role = DeskRole.Owner };
        var ends = await Task.WhenAll(
            Task.Run(() => End(() => people.ChangeRole(desk.Ada, ben.UserId, DeskRole.Consultant))),
            Task.Run(() => End(() => people.ChangeRole(ben, desk.Ada.UserId, DeskRole.Consultant))));

        // The slower one is no owner any more when it looks again.
        Assert.Equal([null, typeof(NotAllowedException)], ends.OrderBy(e => e is not null));
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        Assert.Equal(1, await db.Users.CountAsync(u => u.FirmId == desk.Ada.FirmId && u.Role == DeskRole.Owner));

        static async Task<Type?> End(Func<Task> act)
        {
            try
            {
                await act();
                return null;
            }
            catch (Exception e) when (e is NotAllowedException or LastOwnerException)
            {
                return e.GetType();
            }
        }
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task People_are_the_owners_of_their_own_firm_alone(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var people = desk.App.GetRequiredService<People>();
        var sent = await people.Invite(desk.Ada, "A", DeskRole.Consultant);
        Assert.DoesNotContain(await people.PeopleOf(desk.Stranger), p => p.Id == desk.Ada.UserId);
        Assert.Empty(await people.OpenInvitations(desk.Stranger));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => people.Withdraw(desk.Stranger, sent.InvitationId));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => people.ChangeRole(desk.Stranger, desk.Ben.UserId, DeskRole.Owner));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => people.TakeAccess(desk.Stranger, desk.Ben.UserId));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => people.GiveAccess(desk.Stranger, desk.Ben.UserId));

        // A consultant, and one whose sign-in still says owner.
        foreach (var who in new[] { desk.Ben, desk.Ben with { Role = DeskRole.Owner } })
        {
            await Assert.ThrowsAsync<NotAllowedException>(() => people.PeopleOf(who));
            await Assert.ThrowsAsync<NotAllowedException>(() => people.OpenInvitations(who));
            await Assert.ThrowsAsync<NotAllowedException>(() => people.Invite(who, "X", DeskRole.Owner));
            await Assert.ThrowsAsync<NotAllowedException>(() => people.LetBackIn(who, desk.Ada.UserId));
            await Assert.ThrowsAsync<NotAllowedException>(() => people.Withdraw(who, sent.InvitationId));
            await Assert.ThrowsAsync<NotAllowedException>(() => people.ChangeRole(who, who.UserId, DeskRole.Owner));
            await Assert.ThrowsAsync<NotAllowedException>(() => people.TakeAccess(who, desk.Ada.UserId));
            await Assert.ThrowsAsync<NotAllowedException>(() => people.GiveAccess(who, desk.Ada.UserId));
        }

        await Assert.ThrowsAsync<NotAllowedException>(() => desk.Audit.Entries(desk.Ben, new(), 0, 1));
        await Assert.ThrowsAsync<NotAllowedException>(() => desk.Audit.Count(desk.Ben, new()));
        await Assert.ThrowsAsync<NotAllowedException>(() => desk.Clients.EraseClient(desk.Ben, Guid.NewGuid()));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task The_audit_is_asked_by_person_kind_and_day_and_names_what_still_exists(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (client, van, option) = await desk.AddVan();
        desk.Time.Now += TimeSpan.FromDays(1);
        await desk.Audit.Seen(desk.Ben, "client", client);
        await desk.Audit.Seen(desk.Ben, "client", client);
        desk.Time.Now += AuditTrail.SameLook;
        await desk.Audit.Seen(desk.Ben, "client", client);
        desk.Time.Now += TimeSpan.FromSeconds(1);
        await desk.Audit.Exported(desk.Ben, "prices", desk.Ben.FirmId);

        var bens = await desk.Audit.Entries(desk.Ada, new(desk.Ben.UserId), 0, 10);
        Assert.Equal(["prices.exported", "client.seen", "client.seen"], bens.Select(e => e.Action));
        Assert.Equal(["Runa Quill", "Runa Quill"], bens.Skip(1).Select(e => e.About));
        Assert.Equal(3, await desk.Audit.Count(desk.Ada, new(desk.Ben.UserId)));
        Assert.Single(await desk.Audit.Entries(desk.Ada, new(desk.Ben.UserId), 1, 1));
        var options = Assert.Single(await desk.Audit.Entries(desk.Ada, new(Kinds: ["option"]), 0, 10));
        Assert.Equal((option, "Heron, option A"), (options.EntityId, options.About));
        var today = desk.Time.Now.UtcDateTime.Date;
        Assert.Equal(3, await desk.Audit.Count(desk.Ada, new(From: DateTime.SpecifyKind(today, DateTimeKind.Utc))));
        Assert.DoesNotContain(await desk.Audit.Entries(desk.Ada, new(Until: DateTime.SpecifyKind(today, DateTimeKind.Utc)), 0, 100), e => e.Who == "Ben Tarn");
        Assert.DoesNotContain(await desk.Audit.Entries(desk.Stranger, new(), 0, 100), e => e.EntityId == van);

        await desk.Clients.EraseClient(desk.Ada, client);
        Assert.All(await desk.Audit.Entries(desk.Ada, new(Kinds: ["client", "van", "option"]), 0, 100), e => Assert.Null(e.About));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task The_authenticators_key_and_the_recovery_codes_do_not_lie_open_in_the_store(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        await using var scope = desk.App.CreateAsyncScope();
        var users = scope.ServiceProvider.GetRequiredService<UserManager<DeskUser>>();
        var ben = (await users.FindByIdAsync(desk.Ben.UserId.ToString()))!;
        await users.ResetAuthenticatorKeyAsync(ben);
        var codes = (await users.GenerateNewTwoFactorRecoveryCodesAsync(ben, 4))!.ToList();
        var key = (await users.GetAuthenticatorKeyAsync(ben))!;
        Assert.Equal(4, await users.CountRecoveryCodesAsync(ben));
        Assert.True((await users.RedeemTwoFactorRecoveryCodeAsync(ben, codes[2])).Succeeded);
        Assert.False((await users.RedeemTwoFactorRecoveryCodeAsync(ben, codes[2])).Succeeded);
        Assert.Equal(3, await users.CountRecoveryCodesAsync(ben));

        await using var db = desk.Contexts.OpenFor(desk.Ben.FirmId);
        var stored = await db.UserTokens.Where(t => t.UserId == desk.Ben.UserId).Select(t => t.Value).ToListAsync();
        Assert.Equal(2, stored.Count);
        foreach (var value in stored)
        {
            Assert.DoesNotContain(key, value, StringComparison.OrdinalIgnoreCase);
            Assert.All(codes, code => Assert.DoesNotContain(code, value, StringComparison.OrdinalIgnoreCase));
        }
    }

    private static async Task With(TestDesk desk, Func<InvitationDoor, Task> act)
    {
        // Each request has a context of its own.
        await using var scope = desk.App.CreateAsyncScope();
        await act(scope.ServiceProvider.GetRequiredService<InvitationDoor>());
    }

    private static async Task<string?> Stamp(TestDesk desk, Guid user)
    {
        await using var db = desk.Contexts.OpenFor(desk.Ada.FirmId);
        return await db.Users.Where(u => u.Id == user).Select(u => u.SecurityStamp).SingleAsync();
    }
}
