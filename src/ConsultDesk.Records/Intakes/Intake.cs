namespace ConsultDesk.Records;

/// <summary>A questionnaire about one van, sent to the client as a link and answered without an account.</summary>
public sealed class Intake : FirmRow, IVersioned
{
    /// <summary>The van it asks about.</summary>
    public Guid VanId { get; set; }

    /// <summary>SHA-256 of the token of its link; the token itself is not kept.</summary>
    public required byte[] TokenSha256 { get; set; }

    /// <summary>When it was sent, UTC.</summary>
    public DateTime CreatedAt { get; set; }

    /// <summary>Who sent it.</summary>
    public Guid CreatedBy { get; set; }

    /// <summary>When the link stops working, UTC.</summary>
    public DateTime ExpiresAt { get; set; }

    /// <summary>When the link was withdrawn, UTC; null while it works.</summary>
    public DateTime? RevokedAt { get; set; }

    /// <summary>The answers as typed, in the form of <see cref="IntakeAnswers"/>.</summary>
    public required string AnswersText { get; set; }

    /// <summary>Format number of <see cref="AnswersText"/>.</summary>
    public int Format { get; set; }

    /// <summary>When an answer was last saved, UTC; null before the first.</summary>
    public DateTime? SavedAt { get; set; }

    /// <summary>When the client agreed and sent it, UTC; nothing changes after that.</summary>
    public DateTime? SubmittedAt { get; set; }

    /// <summary>The sentences the client agreed to, one a line; null before.</summary>
    public string? Consent { get; set; }

    /// <summary>When the consultant was through with it, UTC; null while it waits.</summary>
    public DateTime? ReviewedAt { get; set; }

    /// <inheritdoc />
    public Guid Version { get; set; }
}

/// <summary>A photo the client added to an intake, encoded anew: nothing else that lay in the file is kept.</summary>
public sealed class IntakePhoto : FirmRow
{
    /// <summary>The intake it belongs to.</summary>
    public Guid IntakeId { get; set; }

    /// <summary>Key of what it shows, for example <c>ribs</c>.</summary>
    public required string Subject { get; set; }

    /// <summary>The picture, JPEG.</summary>
    public required byte[] Jpeg { get; set; }

    /// <summary>Width, pixels.</summary>
    public int Width { get; set; }

    /// <summary>Height, pixels.</summary>
    public int Height { get; set; }

    /// <summary>When it was added, UTC.</summary>
    public DateTime AddedAt { get; set; }
}
