namespace ConsultDesk.Web.Workspace;

/// <summary>What the page says of the saving.</summary>
public static class SaveWords
{
    /// <summary>One word for scripts and style sheets: saved, saving, not-saved.</summary>
    public static string Key(SaveState state) => state switch
    {
        AllSaved => "saved",
        EditsWaiting or SaveRunning => "saving",
        _ => "not-saved",
    };

    /// <summary>For the reader.</summary>
    /// <param name="state">State of the saving.</param>
    /// <param name="timeOf">Tells a moment of UTC in the reader's time.</param>
    public static string Of(SaveState state, Func<DateTime, string> timeOf) => state switch
    {
        AllSaved { At: { } at } => "Saved " + timeOf(at.UtcDateTime),
        AllSaved => "No unsaved edits",
        EditsWaiting or SaveRunning => "Saving…",
        Overtaken => "Not saved: somebody else saved",
        ClosedMeanwhile => "Not saved: it was closed",
        _ => "Not saved",
    };
}
