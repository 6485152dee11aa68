using System.Text.RegularExpressions;
using Xunit;

namespace ConsultDesk.Web.Tests.Architecture;

/// <summary>The consultant's guide names only what stands on the screen. That its links lead to files is tested with those of the other guides.</summary>
public sealed partial class GuideTests
{
    private static readonly string Guide = Repository.At("docs", "guide");

    // Comments apart: what only a comment still says is no label.
    private static readonly string Sources = string.Join('\n', Repository.Files("src", "*.razor").Concat(Repository.Files("src", "*.cs")).Select(file => Comment().Replace(File.ReadAllText(file), "")));

    public static TheoryData<string> Pages => [.. Files()];

    [Fact]
    public void The_index_leads_to_every_page()
    {
        var linked = Page().Matches(File.ReadAllText(Path.Combine(Guide, "README.md"))).Select(match => match.Groups["page"].Value).Append("README.md")
            .Order(StringComparer.Ordinal).ToList();

        Assert.Equal(Files().ToList(), linked);
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public void Every_label_in_bold_stands_in_the_sources(string page)
    {
        var labels = Label().Matches(File.ReadAllText(Path.Combine(Guide, page))).Select(match => match.Groups["label"].Value).ToList();
        Assert.NotEmpty(labels);

        var missing = labels.Where(label => !Sources.Contains(label, StringComparison.Ordinal));

        Assert.Equal([], missing);
    }

    [Fact]
    public void A_label_that_no_screen_has_would_be_found()
    {
        Assert.Contains("Try on a copy", Sources, StringComparison.Ordinal);
        Assert.DoesNotContain("try ON a copy", Sources, StringComparison.Ordinal);
        Assert.Equal(["Desk", "Publish…"], Label().Matches("Open **Desk**, then **Publish…** it.").Select(match => match.Groups["label"].Value));
    }

    [Fact]
    public void Every_test_the_security_page_names_exists()
    {
        var named = TestName().Matches(File.ReadAllText(Repository.At("docs", "security.md"))).Select(match => match.Value).Distinct().ToList();
        var there = Repository.Files("tests", "*Tests.cs").Select(path => Path.GetFileNameWithoutExtension(path)).ToHashSet(StringComparer.Ordinal);
        Assert.True(named.Count > 20);

        Assert.Equal([], named.Where(name => !there.Contains(name)));
    }

    private static IEnumerable<string> Files() =>
        Repository.Files("docs/guide", "*.md").Select(path => Path.GetRelativePath(Guide, path)).Order(StringComparer.Ordinal);

    [GeneratedRegex(@"(?<=`)[A-Z]\w+Tests(?=`)")]
    private static partial Regex TestName();

    [GeneratedRegex(@"\*\*(?<label>[^*\r\n]+)\*\*")]
    private static partial Regex Label();

    [GeneratedRegex(@"(^|\s)//.*$|@\*[\s\S]*?\*@", RegexOptions.Multiline)]
    private static partial Regex Comment();

    [GeneratedRegex(@"\]\((?<page>[a-z-]+\.md)\)")]
    private static partial Regex Page();
}
