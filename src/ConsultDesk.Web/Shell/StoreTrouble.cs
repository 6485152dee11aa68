using ConsultDesk.Records;

namespace ConsultDesk.Web.Shell;

/// <summary>What the store last refused on this page, shown by <see cref="StoreNotice"/> above it while everything typed stays.</summary>
public sealed partial class StoreTrouble(ILogger<StoreTrouble> log)
{
    /// <summary>The fault in a sentence; null when the last act went well.</summary>
    public string? Sentence { get; private set; }

    /// <summary>After <see cref="Sentence"/> changed.</summary>
    public event Action? Changed;

    /// <summary>Tells of an act that failed.</summary>
    public void Say(string sentence, Exception fault)
    {
        // With its stack the data layer has logged it already.
        LogRefused(log, StoreFault.Said(fault)?.Message ?? sentence);
        Sentence = sentence;
        Changed?.Invoke();
    }

    /// <summary>Forgets it: another act went well, or another page is shown.</summary>
    public void Clear()
    {
        if (Sentence is not null)
        {
            Sentence = null;
            Changed?.Invoke();
        }
    }

    [LoggerMessage(LogLevel.Error, "A page was told that the store cannot work, and keeps what was typed: {Said}")]
    private static partial void LogRefused(ILogger log, string said);
}
