using ConsultDesk.Testing;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace ConsultDesk.Records.Tests;

/// <summary>What clients write to a plan by its link, and what is answered.</summary>
public sealed class PlanReplyTests(TestStores stores) : IClassFixture<TestStores>
{
    public static TheoryData<StoreKind> Both => TestStores.Both;

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_question_waits_on_the_desk_until_it_is_answered_and_the_client_reads_the_answer(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (plan, token) = await Published(desk);
        var replies = Replies(desk);

        Assert.True(await replies.Add(token, new(ReplyKind.Question, "Air", " Zoë ", "Why two?\nנועה <b>")));

        var waiting = Assert.Single(await replies.Waiting(desk.Ben));
        Assert.Equal((plan, 1, "Heron", "Runa Quill", ReplyKind.Question), (waiting.PlanId, waiting.Number, waiting.VanName, waiting.ClientName, waiting.Kind));
        var asked = Assert.Single(await replies.Of(desk.Ben, plan));
        Assert.Equal(("Zoë", "Why two?\nנועה <b>", "Air"), (asked.Name, asked.Text, asked.Section));
        await replies.Answer(desk.Ben, asked.Id, asked.Version, "One in, one out.");
        Assert.Empty(await replies.Waiting(desk.Ada));
        Assert.Equal("One in, one out.", Assert.Single((await replies.OfLink(token))!).Answer);
        await Assert.ThrowsAsync<RecordChangedException>(() => replies.Answer(desk.Ada, asked.Id, asked.Version, "Late"));
    }

    [Theory]
    [MemberData(nameof(Both))]
    public async Task A_plan_is_accepted_once_with_a_name_and_stays_as_it_was(StoreKind kind)
    {
        await using var desk = await stores.Desk(kind);
        var (plan, token) = await Published(desk);
        var replies = Replies(desk);
        var before = await desk.Plans.Plan(desk.Ada, plan);

        await Refused("Name", () => replies.Add(token, new(ReplyKind.Accepted, null, " ", null)));
        Assert.True(await replies.Add(token, new(ReplyKind.Accepted, null, "Runa Quill", null)));
        await Refused("Name", () => replies.Add(token, new(ReplyKind.Accepted, null, "Runa Quill", null)));

        Assert.Equal((ReplyKind.Accepted, "Runa Quill"), Assert.Single(await replies.Of(desk.Ada, plan)) is var line ? (line.Kind, line.Name) : default);
        Assert.Equal(before, await desk.Plans.Plan(desk.Ada, plan));
    }

    [Fact]
    public async Task A_link_that_does_not_work_takes_nothing_and_another_firm_sees_nothing()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var (plan, token) = await Published(desk);
        var replies = Replies(desk);
        await replies.Add(token, new(ReplyKind.Comment, null, "Runa", "Thanks"));
        var line = (await replies.Of(desk.Ada, plan))[0];

        Assert.False(await replies.Add(token[..^1] + (token[^1] == 'A' ? 'B' : 'A'), new(ReplyKind.Comment, null, "Runa", "Thanks")));
        Assert.Null(await replies.OfLink("x"));
        Assert.Empty(await replies.Of(desk.Stranger, plan));
        Assert.Empty(await replies.Waiting(desk.Stranger));
        await Assert.ThrowsAsync<RecordNotFoundException>(() => replies.Answer(desk.Stranger, line.Id, line.Version, "x"));
        var link = (await desk.Plans.PlansOf(desk.Ada, (await desk.Plans.Plan(desk.Ada, plan))!.VanId)).Single(p => p.Id == plan).Links[0];
        await desk.Plans.RevokeLink(desk.Ada, link.Id);
        Assert.False(await replies.Add(token, new(ReplyKind.Comment, null, "Runa", "Thanks")));
    }

    [Fact]
    public async Task What_does_not_fit_is_refused_at_its_field_and_a_plan_takes_only_so_many()
    {
        await using var desk = await stores.Desk(StoreKind.Sqlite);
        var (_, token) = await Published(desk);
        var replies = Replies(desk);
        await Refused("Text", () => replies.Add(token, new(ReplyKind.Question, null, "Runa", " ")));
        await Refused("Text", () => replies.Add(token, new(ReplyKind.Question, null, "Runa", new string('x', PlanReplies.LongestText + 1))));
        await Refused("Kind", () => replies.Add(token, new((ReplyKind)9, null, "Runa", "x")));
        for (var number = 0; number < PlanReplies.Most; number++)
        {
            Assert.True(await replies.Add(token, new(ReplyKind.Comment, null, "Runa", "x")));
        }

        await Refused("Text", () => replies.Add(token, new(ReplyKind.Comment, null, "Runa", "x")));
    }

    private static async Task Refused(string field, Func<Task> act) =>
        Assert.Contains((await Assert.ThrowsAsync<InvalidInputException>(act)).Errors, error => error.Field == field && error.Message.Length > 0);

    private static async Task<(Guid PlanId, string Token)> Published(TestDesk desk)
    {
        var (_, _, option) = await desk.AddVan();
        var loaded = (await desk.Options.Load(desk.Ada, option))!;
        var plan = await desk.Plans.Publish(desk.Ada, option, loaded.Version, _ => new PlanText("{}", 1, "m"));
        return (plan.PlanId, plan.Link.Token);
    }

    private static PlanReplies Replies(TestDesk desk) => desk.App.GetRequiredService<PlanReplies>();
}
