using System.Text.RegularExpressions;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Tests.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Testing;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Findings;

/// <summary>
/// The tool never says that something is safe and never shows a figure of carbon monoxide: looked for in every text of the
/// sources a person can come to see, in the pages of docs, and in the findings of many vans.
/// </summary>
public sealed partial class WordsTests
{
    // What a text may not say. Each is tried on a sentence of its own below.
    private static readonly (string What, Regex Words)[] Forbidden =
    [
        ("says that something is safe", SafeWord()),
        ("says that nothing can happen", Harmless()),
        ("shows a figure of carbon monoxide", MonoxideFigure()),
        ("says that a room-sealed heater removes water", HeaterDries()),
    ];

    [Theory]
    [InlineData("This van is safe to sleep in.")]
    [InlineData("You can safely leave it lit.")]
    [InlineData("A harmless amount.")]
    [InlineData("There is no danger here.")]
    [InlineData("Carbon monoxide stays below 30 ppm.")]
    [InlineData("CO 9 ppm is acceptable.")]
    [InlineData("35 ppm of carbon monoxide")]
    [InlineData("The room-sealed heater removes moisture from the air.")]
    public void The_words_are_found_when_somebody_writes_them(string text) => Assert.Contains(Forbidden, rule => rule.Words.IsMatch(text));

    [Theory]
    [InlineData("Fit a carbon monoxide alarm, made to the local standard.")]
    [InlineData("Carbon dioxide reached 1500 ppm.")]
    [InlineData("Carbon monoxide cannot be calculated. Oxygen falls to 18 %.")]
    [InlineData("A room-sealed heater adds no water and removes none.")]
    public void And_not_where_nobody_did(string text) => Assert.DoesNotContain(Forbidden, rule => rule.Words.IsMatch(text));

    [Fact]
    public void No_text_in_the_sources_says_so()
    {
        List<string> found = [];
        int texts = 0;
        foreach (string file in Sources("src", "*.cs", "*.razor", "*.csv"))
        {
            foreach (string text in Texts(file))
            {
                texts++;
                found.AddRange(Faults(text).Select(fault => $"{Path.GetFileName(file)} {fault}: {text.Trim()}"));
            }
        }

        Assert.True(texts > 2000, $"only {texts} texts were read");
        Assert.True(found.Count == 0, string.Join("\n", found));
    }

    [Fact]
    public void No_page_of_the_docs_says_so()
    {
        List<string> found = [];
        foreach (string file in Sources("docs", "*.md").Append(Path.Combine(Root(), "README.md")))
        {
            // A rule may be quoted: what stands between quotation marks or code marks is talked about, not said.
            string said = Quoted().Replace(File.ReadAllText(file), "");
            found.AddRange(Paragraphs(said).SelectMany(paragraph => Faults(paragraph).Select(fault => $"{Path.GetFileName(file)} {fault}: {paragraph}")));
        }

        Assert.True(found.Count == 0, string.Join("\n", found));
    }

    [Fact]
    public void No_finding_of_many_vans_says_so()
    {
        IEnumerable<Design> vans = RandomOption.Row(100).Concat(Vans.Varied()).Concat(DangerVans.All.Select(pair => pair.Van));
        IEnumerable<Finding> findings = vans.SelectMany(van => Assessor.Assess(van, TestContext.Current.CancellationToken).Findings)
            .Concat(Assessor.Assess(Vans.With(Position.Shut, Position.Shut), AssessmentDepth.Year, progress: null, TestContext.Current.CancellationToken).Findings);
        foreach (Finding finding in findings)
        {
            string text = string.Join(". ", [finding.Title, finding.Explanation, finding.Remedy, finding.TriedAs, .. finding.Evidence.Select(evidence => evidence.Label)]);
            Assert.Empty(Faults(text));
            Assert.DoesNotContain(finding.Evidence, evidence => evidence.Label.Contains("monoxide", StringComparison.OrdinalIgnoreCase));
        }
    }

    private static IEnumerable<string> Faults(string text) => Forbidden.Where(rule => rule.Words.IsMatch(text)).Select(rule => rule.What);

    private static IEnumerable<string> Sources(string folder, params string[] patterns) => patterns
        .SelectMany(pattern => Directory.EnumerateFiles(Path.Combine(Root(), folder), pattern, SearchOption.AllDirectories))
        .Where(file => !file.Contains("/obj/", StringComparison.Ordinal) && !file.Contains("/bin/", StringComparison.Ordinal));

    // What a person can come to see: string literals of code without its comments, everything of a page but its code comments.
    private static IEnumerable<string> Texts(string file)
    {
        string content = File.ReadAllText(file);
        return Path.GetExtension(file) switch
        {
            ".cs" => Literals().Matches(Comments().Replace(content, "")).Select(match => match.Value),
            ".razor" => RazorComments().Replace(content, "").Split('\n'),
            _ => content.Split('\n'),
        };
    }

    private static IEnumerable<string> Paragraphs(string text) => text.Split("\n\n").Select(paragraph => paragraph.ReplaceLineEndings(" "));

    private static string Root()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "ConsultDesk.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new InvalidOperationException("ConsultDesk.sln was not found above the tests.");
    }

    [GeneratedRegex(@"(?<!')\bsaf(e|ely|er|est|ety)\b", RegexOptions.IgnoreCase)]
    private static partial Regex SafeWord();

    [GeneratedRegex(@"\b(?<!no proof that a flame is )(harmless|risk-free|no danger|not dangerous|nothing can happen|danger-free)\b", RegexOptions.IgnoreCase)]
    private static partial Regex Harmless();

    // A number with a unit of concentration in the same sentence as carbon monoxide; carbon dioxide is another gas.
    [GeneratedRegex(@"(carbon monoxide|\bCO\b(?!\d|₂))[^.]*\d[\d.,]*\s*(ppm|mg/m)|\d[\d.,]*\s*(ppm|mg/m3)[^.]*(carbon monoxide|\bCO\b(?!\d|₂))", RegexOptions.IgnoreCase)]
    private static partial Regex MonoxideFigure();

    [GeneratedRegex(@"heater[^.]*\b(removes|takes out|dries out|extracts)\b(?! no(ne)?\b)[^.]*\b(water|moisture|humidity|air)\b", RegexOptions.IgnoreCase)]
    private static partial Regex HeaterDries();

    [GeneratedRegex("\"(?:[^\"\\\\\\n]|\\\\.)*\"")]
    private static partial Regex Literals();

    [GeneratedRegex(@"^\s*//.*$|(?<=[;{},)]\s*)//.*$", RegexOptions.Multiline)]
    private static partial Regex Comments();

    [GeneratedRegex(@"@\*.*?\*@", RegexOptions.Singleline)]
    private static partial Regex RazorComments();

    [GeneratedRegex("\"[^\"\\n]*\"|`[^`\\n]*`|“[^”]*”")]
    private static partial Regex Quoted();
}
