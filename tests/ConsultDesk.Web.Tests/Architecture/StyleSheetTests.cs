using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using ConsultDesk.Reports.Figures;
using Xunit;

namespace ConsultDesk.Web.Tests.Architecture;

/// <summary>
/// The colours of desk.css against WCAG 2.2: text 4.5:1 (success criterion 1.4.3), edges of controls, focus marks
/// and marks of figures 3:1 (1.4.11).
/// </summary>
public sealed partial class StyleSheetTests
{
    private static readonly string Css = File.ReadAllText(Repository.At("wwwroot-assets", "wwwroot", "css", "desk.css"));

    private static readonly Dictionary<string, Dictionary<string, string>> Themes = new()
    {
        ["light"] = Tokens(Css.IndexOf(":root {", StringComparison.Ordinal)),
        ["dark"] = Tokens(Css.IndexOf(":root:not([data-theme=\"light\"]) {", StringComparison.Ordinal)),
    };

    public static TheoryData<string, string, string, double> Pairs()
    {
        var pairs = new TheoryData<string, string, string, double>();
        foreach (var theme in Themes.Keys)
        {
            foreach (var ground in new[] { "paper", "sheet", "well" })
            {
                foreach (var text in new[] { "ink", "muted", "accent", "brick", "ochre", "sky" })
                {
                    pairs.Add(theme, text, ground, 4.5);
                }

                pairs.Add(theme, "edge", ground, 3);
                pairs.Add(theme, "focus", ground, 3);
            }

            pairs.Add(theme, "on-accent", "accent", 4.5);
            foreach (var quiet in new[] { "accent", "brick", "ochre", "sky" })
            {
                pairs.Add(theme, "ink", quiet + "-quiet", 4.5);
                pairs.Add(theme, quiet, quiet + "-quiet", 4.5);
            }

            foreach (var mark in new[] { "ink-body", "ink-opening", "ink-air-in", "ink-air-out", "ink-air-within", "ink-wet", "ink-dry", "ink-glass" })
            {
                pairs.Add(theme, mark, "paper", 3);
            }
        }

        return pairs;
    }

    [Theory]
    [MemberData(nameof(Pairs))]
    public void Every_text_edge_and_mark_stands_out_from_its_ground(string theme, string mark, string ground, double least) =>
        Assert.True(
            Contrast(Themes[theme][mark], Themes[theme][ground]) >= least,
            FormattableString.Invariant($"{mark} on {ground} ({theme}) has {Contrast(Themes[theme][mark], Themes[theme][ground]):0.00}:1, expected {least}:1."));

    [Fact]
    public void Dark_by_choice_is_dark_by_the_system() =>
        Assert.Equal(Themes["dark"], Tokens(Css.IndexOf(":root[data-theme=\"dark\"] {", StringComparison.Ordinal)));

    [Fact]
    public void Every_ink_of_a_figure_has_a_colour_for_lines_and_areas()
    {
        foreach (var ink in Enum.GetNames<Ink>().Select(JsonNamingPolicy.KebabCaseLower.ConvertName))
        {
            Assert.Contains($".s-{ink} {{", Css, StringComparison.Ordinal);
            Assert.Contains($".f-{ink} {{", Css, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Black_on_white_has_the_contrast_the_guideline_says() =>
        // WCAG 2.2, definition of contrast ratio: from 1:1 to 21:1.
        Assert.Equal(21, Contrast("#000000", "#ffffff"), 6);

    private static Dictionary<string, string> Tokens(int start)
    {
        Assert.True(start >= 0, "desk.css lacks a block of colours.");
        var block = Css[start..Css.IndexOf('}', start)];
        return Token().Matches(block).ToDictionary(m => m.Groups[1].Value, m => m.Groups[2].Value);
    }

    private static double Contrast(string a, string b)
    {
        var (low, high) = (Luminance(a), Luminance(b));
        return (Math.Max(low, high) + 0.05) / (Math.Min(low, high) + 0.05);
    }

    private static double Luminance(string hex)
    {
        double Linear(int at)
        {
            var share = int.Parse(hex.AsSpan(at, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture) / 255d;
            return share <= 0.04045 ? share / 12.92 : Math.Pow((share + 0.055) / 1.055, 2.4);
        }

        return (0.2126 * Linear(1)) + (0.7152 * Linear(3)) + (0.0722 * Linear(5));
    }

    [GeneratedRegex("--([a-z-]+): (#[0-9a-f]{6});")]
    private static partial Regex Token();
}
