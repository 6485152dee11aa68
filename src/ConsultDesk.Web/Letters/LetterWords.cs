using System.Globalization;
using ConsultDesk.Records;
using ConsultDesk.Web.Shell;

namespace ConsultDesk.Web.Letters;

/// <summary>What letters say unless the consultant changes it.</summary>
internal static class LetterWords
{
    /// <summary>The link to an intake.</summary>
    public static Letter Intake(string vanName, string link, DateTime expires, Addressee to, string writer) => Of(
        $"Some questions about {vanName}",
        to,
        writer,
        $"Before we talk I should like to know about {vanName}: what it is, who travels in it, where and when, and what bothers you. You need no account. Every step is kept, so you can stop and go on later, on another device too.",
        link,
        Private(expires));

    /// <summary>The link to a plan.</summary>
    public static Letter Plan(int number, string vanName, string link, DateTime expires, Addressee to, string writer) => Of(
        string.Create(CultureInfo.InvariantCulture, $"Plan {number} for {vanName}"),
        to,
        writer,
        $"Here is the plan for {vanName}: what to do first, what it costs and what it changes. You can read it on a telephone, save it as a PDF, comment on each part and ask me questions in it.",
        link,
        Private(expires));

    /// <summary>The invitation to a consult; the time is the client's.</summary>
    public static Letter Consult(Consult consult, string vanName, Addressee to, string writer, string calendar)
    {
        var zone = ConsultBook.Zone(consult.TimeZone) ?? TimeZoneInfo.Utc;
        var local = TimeZoneInfo.ConvertTimeFromUtc(consult.StartsAt, zone);
        var time = local.ToString("dddd d MMMM yyyy, HH:mm", CultureInfo.InvariantCulture);
        return Of(
            $"Our talk about {vanName}, {local.ToString("d MMMM", CultureInfo.InvariantCulture)}",
            to,
            writer,
            string.Create(CultureInfo.InvariantCulture, $"We talk about {vanName} on {time} ({consult.TimeZone.Replace('_', ' ')}), for {consult.Minutes} minutes. The entry for your calendar is attached."))
            with
        { Calendar = calendar };
    }

    /// <summary>An answer to what the client wrote to a plan.</summary>
    public static Letter Answer(int number, string vanName, ReplyLine reply, Addressee to, string writer) => Of(
        string.Create(CultureInfo.InvariantCulture, $"About plan {number} for {vanName}"),
        to,
        writer,
        $"You wrote on {When.Date(reply.At)}:",
        string.Join('\n', reply.Text.ReplaceLineEndings("\n").Split('\n').Select(line => "> " + line)),
        reply.Answer ?? "",
        "The answer stands in the plan too; open it with the link you have.");

    private static string Private(DateTime expires) => $"The link is meant for you alone: whoever holds it can open it. It works until {When.Date(expires)}.";

    private static Letter Of(string subject, Addressee to, string writer, params string[] paragraphs) => new(
        subject.Length > Letter.LongestSubject ? subject[..Letter.LongestSubject] : subject,
        string.Join("\n\n", [$"Dear {to.ClientName},", .. paragraphs.Where(paragraph => paragraph.Length > 0), string.Join('\n', new[] { writer, to.FirmName, to.ContactLine }.Where(line => line.Length > 0).Distinct())]));
}
