using System.Collections.Immutable;
using System.Globalization;
using System.Net;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Web.Shell;

namespace ConsultDesk.Web.Plans;

/// <summary>
/// Tonight's settings as one HTML document that needs nothing else: its style, its script and the table lie in it, so that it works
/// saved to a phone without a signal. Without the script the table is read as it is.
/// </summary>
internal static class TonightDocument
{
    private static readonly string Script = Part("tonight.js");
    private static readonly string Style = Part("tonight.css");
    private static readonly JsonSerializerOptions Data = new(JsonSerializerDefaults.Web);

    /// <summary>What the content policy allows of it: this one script and this one style.</summary>
    public static string Policy { get; } = $"script-src '{Hash(Script)}'; style-src '{Hash(Style)}'";

    /// <summary>Cautions every sheet ends with.</summary>
    public static ImmutableArray<string> Cautions { get; } =
    [
        "A working carbon monoxide alarm and a smoke alarm belong in every van, whatever this page says. If one sounds: out, then ask why.",
        "Never shut, cover or block a fixed vent, a flue or an exhaust, whatever the weather; snow, mud and bedding block them too.",
        "Never sleep with a flame that takes room air, and never cook to keep warm. Shut the gas at the bottle when it is not used.",
        "Never rely on this page, a fan or a heater for people or animals who are left in the van: go and look.",
        "It does not know tonight’s wind, fog or smoke, how you stand, or what is broken. Your nose, eyes and alarms come first.",
        "Advice, not a certificate: local codes, makers’ instructions and licensed trades come first.",
    ];

    /// <summary>The document.</summary>
    /// <param name="sheet">The settings.</param>
    /// <param name="plan">The plan they belong to.</param>
    /// <param name="planAddress">Where the plan is read; null in the saved file, which must not carry the link.</param>
    /// <param name="saveAddress">Where it is saved from; null in the saved file.</param>
    public static string Write(TonightSheet sheet, PlanSnapshot plan, string? planAddress, string? saveAddress)
    {
        var page = new StringBuilder(64 * 1024);
        Head(page, $"Tonight in {plan.VanName}");
        page.Append("<p class=\"quiet\" dir=\"auto\">").Append(Text(plan.Firm.Name)).Append("</p><h1>Tonight in <bdi>").Append(Text(plan.VanName)).Append("</bdi></h1>")
            .Append(CultureInfo.InvariantCulture, $"<p class=\"quiet\">Revision {plan.Revision} of {When.Date(plan.PublishedAt)}, option <bdi>{Text(plan.OptionName)}</bdi>. It holds for the van as this revision builds it.</p>");
        if (planAddress is not null && saveAddress is not null)
        {
            page.Append("<p class=\"no-print\"><a class=\"button\" href=\"").Append(Text(saveAddress)).Append("\" download>Save for the road</a></p>")
                .Append("<p class=\"quiet no-print\">One file that works without a signal. <a href=\"").Append(Text(planAddress)).Append("\">Back to the plan</a></p>");
        }

        if (!sheet.Dangers.IsEmpty)
        {
            page.Append("<div class=\"danger\"><p><b>No setting takes this danger away:</b></p>");
            List(page, "ul", sheet.Dangers);
            page.Append("</div>");
        }

        page.Append("<form class=\"taps\" autocomplete=\"off\">");
        Taps(page, "temperature", "1. How cold or warm is it outside? The nearest number.", "choices", Ends(sheet.Temperatures));
        Taps(page, "weather", "2. What falls from the sky?", "choices", sheet.Weathers);
        Taps(page, "people", "3. Who sleeps here, and what was cooked?", "choices wide", sheet.People);
        page.Append("</form><div class=\"taps\"><section id=\"answer\" aria-live=\"polite\" aria-label=\"Tonight’s settings\"><p>Tap one of each: the settings for tonight stand here.</p></section></div>");
        page.Append("<h2>What to keep in mind</h2>");
        List(page, "ul", Cautions);
        page.Append("<details id=\"all\" open><summary>The whole table, to read without tapping</summary>");
        for (var people = 0; people < sheet.People.Length; people++)
        {
            Table(page, sheet, people);
        }

        page.Append("<h2>The settings in full</h2>");
        for (var index = 0; index < sheet.Answers.Length; index++)
        {
            page.Append(CultureInfo.InvariantCulture, $"<p class=\"quiet\">Setting {index + 1}</p><div class=\"setting\" id=\"s{index}\">");
            Settings(page, sheet.Answers[index]);
            page.Append("</div>");
        }

        page.Append("</details>");
        page.Append("<p class=\"quiet\" dir=\"auto\">").Append(Text(plan.Firm.Name)).Append(plan.Firm.Contact.Length > 0 ? " · " + Text(plan.Firm.Contact) : "").Append("</p>")
            .Append(CultureInfo.InvariantCulture, $"<p class=\"quiet\">Calculation method {Text(plan.MethodVersion)}. Fans and lids in steps a hand can set; humidity and wind are the mean of such nights on your route.</p>")
            .Append("</main><script type=\"application/json\" id=\"sheet\">")
            // The serializer writes < and > as escapes, so no text can end the element.
            .Append(JsonSerializer.Serialize(new { sheet.Temperatures, sheet.Weathers, sheet.People, sheet.Cells }, Data))
            .Append("</script><script>").Append(Script).Append("</script></body></html>");
        return page.ToString();
    }

    /// <summary>A short page in place of the settings.</summary>
    public static string Message(string title, string words, string? planAddress)
    {
        var page = new StringBuilder();
        Head(page, title);
        page.Append("<h1>").Append(Text(title)).Append("</h1><p>").Append(Text(words)).Append("</p>");
        if (planAddress is not null)
        {
            page.Append("<p><a href=\"").Append(Text(planAddress)).Append("\">Back to the plan</a></p>");
        }

        return page.Append("</main></body></html>").ToString();
    }

    /// <summary>Name of the saved file: plain letters only, for every file system.</summary>
    public static string FileName(PlanSnapshot plan) => "tonight-" + PlanPress.FileName(plan).Replace(".pdf", ".html", StringComparison.Ordinal);

    private static void Head(StringBuilder page, string title) => page
        .Append("<!DOCTYPE html><html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"><meta name=\"robots\" content=\"noindex\">")
        // No request for a picture of the tab either: the file stands alone.
        .Append("<link rel=\"icon\" href=\"data:,\"><title>").Append(Text(title)).Append("</title><style>").Append(Style).Append("</style></head><body><main>");

    private static ImmutableArray<string> Ends(ImmutableArray<string> temperatures) =>
        [.. temperatures.Select((text, index) => index == 0 ? text + " or colder" : index == temperatures.Length - 1 ? text + " or warmer" : text)];

    private static void Taps(StringBuilder page, string name, string legend, string kind, ImmutableArray<string> choices)
    {
        page.Append("<fieldset><legend>").Append(Text(legend)).Append("</legend><div class=\"").Append(kind).Append("\">");
        for (var index = 0; index < choices.Length; index++)
        {
            page.Append(CultureInfo.InvariantCulture, $"<label><input type=\"radio\" name=\"{name}\" value=\"{index}\"><span>{Text(choices[index])}</span></label>");
        }

        page.Append("</div></fieldset>");
    }

    // Neighbouring temperatures with the same answer share a row.
    private static void Table(StringBuilder page, TonightSheet sheet, int people)
    {
        page.Append("<details").Append(people == sheet.People.Length - 1 ? " open" : "").Append("><summary>").Append(Text(sheet.People[people])).Append("</summary><table>")
            .Append("<thead><tr><th scope=\"col\">Outside</th><th scope=\"col\">What to set</th></tr></thead>");
        for (var weather = 0; weather < sheet.Weathers.Length; weather++)
        {
            page.Append("<tbody><tr><th scope=\"rowgroup\" colspan=\"2\"><b>").Append(Text(sheet.Weathers[weather])).Append("</b></th></tr>");
            for (var from = 0; from < sheet.Temperatures.Length;)
            {
                var cell = sheet.Cells[sheet.CellOf(weather, people, from)];
                var to = from;
                while (to + 1 < sheet.Temperatures.Length && sheet.Cells[sheet.CellOf(weather, people, to + 1)] == cell)
                {
                    to++;
                }

                if (cell != TonightSheet.NoSuchNight)
                {
                    page.Append("<tr><th scope=\"row\">").Append(Text(sheet.Temperatures[from])).Append(to > from ? " to " + Text(sheet.Temperatures[to]) : "").Append("</th><td dir=\"auto\">");
                    if (cell < 0)
                    {
                        page.Append("Could not be calculated: go by the running card of the plan.");
                    }
                    else
                    {
                        page.Append(Text(string.Join("; ", sheet.Answers[cell].Do))).Append(CultureInfo.InvariantCulture, $" <a href=\"#s{cell}\">Setting {cell + 1}</a>");
                    }

                    page.Append("</td></tr>");
                }

                from = to + 1;
            }

            page.Append("</tbody>");
        }

        page.Append("</table></details>");
    }

    private static void Settings(StringBuilder page, TonightAnswer answer)
    {
        page.Append("<p>").Append(Text(answer.Aim)).Append(".</p>");
        List(page, "ol", answer.Do);
        page.Append("<p class=\"heater\">").Append(Text(answer.Heater)).Append("</p>");
        if (!answer.Watch.IsEmpty)
        {
            page.Append("<p><b>Watch</b></p>");
            List(page, "ul", answer.Watch);
        }

        if (!answer.Stands.IsEmpty)
        {
            page.Append("<p><b>So everything stands</b></p>");
            List(page, "ul", answer.Stands);
        }
    }

    private static void List(StringBuilder page, string tag, IEnumerable<string> lines)
    {
        page.Append('<').Append(tag).Append('>');
        foreach (var line in lines)
        {
            page.Append("<li dir=\"auto\">").Append(Text(line)).Append("</li>");
        }

        page.Append("</").Append(tag).Append('>');
    }

    private static string Text(string text) => WebUtility.HtmlEncode(text);

    private static string Hash(string inline) => "sha256-" + Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(inline)));

    private static string Part(string name)
    {
        using var stream = typeof(TonightDocument).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"{name} is not in the program.");
        using var reader = new StreamReader(stream);
        // A browser reads line ends as \n before it takes the hash.
        return reader.ReadToEnd().ReplaceLineEndings("\n");
    }
}
