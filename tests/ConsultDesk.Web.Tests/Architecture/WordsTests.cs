using System.Text.RegularExpressions;
using Xunit;

namespace ConsultDesk.Web.Tests.Architecture;

/// <summary>What the texts of the tool may and may not say, and that the guides point at files that exist.</summary>
public sealed partial class WordsTests
{
    private static readonly string Root = FindRoot();

    public static TheoryData<string> Guides => [.. new[] { "README.md", "DEVELOPERS.md" }
        .Concat(Directory.EnumerateFiles(Path.Combine(Root, "docs"), "*.md", SearchOption.AllDirectories).Select(path => Path.GetRelativePath(Root, path)))
        .Order(StringComparer.Ordinal)];

    [Fact]
    public void No_text_of_the_tool_says_safe()
    {
        var lines = Texts().Where(line => SaysSafe().IsMatch(line.Text)).Select(line => $"{line.Path}:{line.Number}: {line.Text.Trim()}");

        Assert.Equal([], lines);
    }

    [Fact]
    public void The_scan_would_find_it()
    {
        Assert.Matches(SaysSafe(), "It is Safe to sleep.");
        Assert.Matches(SaysSafe(), "sleep safely");
        Assert.Contains(Texts(), line => line.Text.Contains("carbon monoxide", StringComparison.OrdinalIgnoreCase));
    }

    [Theory]
    [MemberData(nameof(Guides))]
    public void Every_link_of_a_guide_leads_to_a_file(string guide)
    {
        var path = Path.Combine(Root, guide);
        var broken = Link().Matches(File.ReadAllText(path))
            .Select(match => match.Groups["target"].Value)
            .Where(target => !target.Contains("://", StringComparison.Ordinal) && !target.StartsWith('#'))
            .Select(target => target.Split('#')[0])
            .Where(target => !Path.Exists(Path.Combine(Path.GetDirectoryName(path)!, target)));

        Assert.Equal([], broken);
    }

    private static IEnumerable<(string Path, int Number, string Text)> Texts() =>
        from path in Directory.EnumerateFiles(Path.Combine(Root, "src"), "*", SearchOption.AllDirectories)
        where path.EndsWith(".cs", StringComparison.Ordinal) || path.EndsWith(".razor", StringComparison.Ordinal) || path.EndsWith(".csv", StringComparison.Ordinal)
        from line in File.ReadLines(path).Select((text, index) => (Text: Comment().Replace(text, ""), Number: index + 1))
        select (Path.GetRelativePath(Root, path), line.Number, line.Text);

    private static string FindRoot()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "ConsultDesk.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new InvalidOperationException("Expected the tests to run inside a checkout, below ConsultDesk.sln.");
    }

    [GeneratedRegex(@"\bsafe(ly)?\b", RegexOptions.IgnoreCase)]
    private static partial Regex SaysSafe();

    [GeneratedRegex(@"(^|\s)//.*$|@\*.*\*@")]
    private static partial Regex Comment();

    [GeneratedRegex(@"\]\((?<target>[^)\s]+)\)")]
    private static partial Regex Link();
}
