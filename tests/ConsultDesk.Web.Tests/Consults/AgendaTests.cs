using System.Text.RegularExpressions;
using ConsultDesk.Records;
using ConsultDesk.Web.Consults;
using ConsultDesk.Web.Tests.Architecture;
using Xunit;

namespace ConsultDesk.Web.Tests.Consults;

/// <summary>What the points of the agenda say and what belongs to them.</summary>
public sealed partial class AgendaTests
{
    private static readonly DateTime Now = new(2026, 3, 9, 12, 0, 0, DateTimeKind.Utc);

    [Fact]
    public void Every_rule_of_the_calculation_is_talked_about_at_one_point()
    {
        var folder = Repository.At("src", "ConsultDesk.Calculations", "Findings", "Rules");
        var codes = Directory.EnumerateFiles(folder, "*.cs").SelectMany(file => CodeText().Matches(File.ReadAllText(file)).Select(match => match.Groups[1].Value)).Distinct().ToList();

        Assert.True(codes.Count > 35, $"Only {codes.Count} codes were found in {folder}.");
        Assert.Equal([], codes.Where(code => Agenda.TopicOf(code) is null));
        Assert.Null(Agenda.TopicOf("no-such-rule"));
    }

    [Fact]
    public void Every_point_has_a_name_a_question_and_inputs_of_its_own()
    {
        var topics = Enum.GetValues<DecisionTopic>();

        Assert.Equal(12, topics.Select(Agenda.Title).Distinct().Count());
        Assert.Equal(12, topics.Select(Agenda.Question).Distinct().Count());
        Assert.All(topics, topic => Assert.EndsWith("?", Agenda.Question(topic), StringComparison.Ordinal));
    }

    [Fact]
    public void The_current_consult_is_the_nearest_that_was_not_held_and_else_the_last_one_held()
    {
        var (past, soon, far) = (At(-30), At(1), At(200));

        Assert.Null(Agenda.Current([], Now));
        Assert.Same(soon, Agenda.Current([past, soon, far], Now));
        soon.HeldAt = Now;
        Assert.Same(past, Agenda.Current([past, soon, far], Now));
        past.HeldAt = far.HeldAt = Now;
        Assert.Same(far, Agenda.Current([past, soon, far], Now));

        static Consult At(int hours) => new() { TimeZone = "UTC", PrivateNotes = "", StartsAt = Now.AddHours(hours) };
    }

    [GeneratedRegex("Code = \"([a-z0-9-]+)\"")]
    private static partial Regex CodeText();
}
