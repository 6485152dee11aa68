namespace ConsultDesk.Records;

/// <summary>
/// The option a van is going to be built as. One per van; holds the design as it stood when it was chosen, so that a
/// later change shows.
/// </summary>
public sealed class ChosenOption : FirmRow
{
    /// <summary>The van: it has one chosen option at most.</summary>
    public Guid VanId { get; set; }

    /// <summary>The chosen option.</summary>
    public Guid OptionId { get; set; }

    /// <summary>The design that was chosen, as <see cref="DesignJson"/> wrote it.</summary>
    public required string DesignText { get; set; }

    /// <summary>Format number of the design text.</summary>
    public int DesignFormat { get; set; }

    /// <summary>When, UTC.</summary>
    public DateTime ChosenAt { get; set; }

    /// <summary>Who.</summary>
    public Guid ChosenBy { get; set; }
}
