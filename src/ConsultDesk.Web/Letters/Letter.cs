using ConsultDesk.Records;
using MimeKit;
using MimeKit.Text;
using MimeKit.Utils;

namespace ConsultDesk.Web.Letters;

/// <summary>What is written to a client.</summary>
/// <param name="Subject">One line.</param>
/// <param name="Text">Plain text.</param>
/// <param name="Calendar">A calendar entry (iCalendar, RFC 5545) that goes with it; null for none.</param>
public sealed record Letter(string Subject, string Text, string? Calendar = null)
{
    /// <summary>Longest subject, UTF-16 characters.</summary>
    public const int LongestSubject = TextLimits.Line;

    /// <summary>Longest text, UTF-16 characters.</summary>
    public const int LongestText = TextLimits.Notes;

    /// <summary>Everything that is wrong with it; empty when it can be sent.</summary>
    public IReadOnlyList<FieldError> Problems()
    {
        List<FieldError> problems = [];
        if (Subject.Trim().Length is 0 or > LongestSubject || Subject.Any(char.IsControl))
        {
            problems.Add(new(nameof(Subject), FormattableString.Invariant($"Expected one line of 1 to {LongestSubject} characters.")));
        }

        if (Text.Trim().Length is 0 or > LongestText || Text.Any(c => char.IsControl(c) && c is not ('\n' or '\r' or '\t')))
        {
            problems.Add(new(nameof(Text), FormattableString.Invariant($"Expected a text of 1 to {LongestText} characters.")));
        }

        return problems;
    }

    /// <summary>The letter as it travels (RFC 5322, RFC 2045): plain text, and the calendar entry both as a part a mail program shows and as a file.</summary>
    /// <param name="from">The server's address.</param>
    /// <param name="to">Whom it goes to.</param>
    internal MimeMessage Write(string from, Addressee to)
    {
        var message = new MimeMessage { Subject = OneLine(Subject.Trim()) };
        message.From.Add(new MailboxAddress(OneLine(to.FirmName), from));
        message.To.Add(new MailboxAddress(OneLine(to.ClientName), to.Address!));
        if (to.AnswerAddress.Length > 0)
        {
            message.ReplyTo.Add(new MailboxAddress(OneLine(to.FirmName), to.AnswerAddress));
        }

        // The usual id holds the name of this machine, which is nobody's business.
        message.MessageId = MimeUtils.GenerateMessageId(from[(from.LastIndexOf('@') + 1)..]);
        MimeEntity text = new TextPart(TextFormat.Plain) { Text = Text.ReplaceLineEndings("\r\n") };
        message.Body = Calendar is null
            ? text
            : new Multipart("mixed")
            {
                new MultipartAlternative { text, Entry(ContentDisposition.Inline) },
                Entry(ContentDisposition.Attachment),
            };
        return message;
    }

    private TextPart Entry(string disposition)
    {
        var part = new TextPart("calendar") { Text = Calendar! };
        part.ContentType.Parameters.Add("method", "PUBLISH");
        part.ContentDisposition = new ContentDisposition(disposition);
        if (disposition == ContentDisposition.Attachment)
        {
            part.FileName = "consult.ics";
        }

        return part;
    }

    // Names of the records hold no line breaks; a header that took one would let a name write headers of its own.
    private static string OneLine(string text) => string.Concat(text.Select(c => char.IsControl(c) ? ' ' : c));
}
