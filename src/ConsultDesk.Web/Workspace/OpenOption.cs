using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Records;

namespace ConsultDesk.Web.Workspace;

/// <summary>
/// An option opened in a workspace: its editor, its saving and its assessment, wired together. Every edit is assessed at
/// once and saved a moment later.
/// </summary>
public sealed class OpenOption : IAsyncDisposable
{
    /// <param name="loaded">The option as it was stored.</param>
    /// <param name="save">Writes the design over a version.</param>
    /// <param name="runner">Assesses it.</param>
    /// <param name="time">Clock and timers of the saving.</param>
    /// <param name="log">Gets what goes wrong in the saving.</param>
    /// <param name="changed">Called after anything the screen shows changed, on any thread.</param>
    public OpenOption(LoadedOption loaded, SaveDesign save, AssessmentRunner runner, TimeProvider time, ILogger log, Action changed)
    {
        Id = loaded.Id;
        Letter = loaded.Letter;
        Name = loaded.Name;
        Editor = new OptionEditor(loaded.Design);
        if (loaded.KeptAt is not null)
        {
            Editor.Close(KeptReason(loaded.Letter));
        }

        Autosave = new Autosave(save, loaded.Version, time, log);
        Runner = runner;
        Editor.Changed += () =>
        {
            Autosave.Edited(Editor.Design, Editor.LastEdit);
            _ = Runner.RequestAsync(Editor.Design, Editor.Revision);
        };
        Editor.Settled += () => _ = Autosave.FlushAsync();
        Autosave.StateChanged += changed;
        Runner.Changed += changed;
        _ = Runner.RequestAsync(Editor.Design, Editor.Revision);
    }

    /// <summary>Why a closed option takes no edit, and the way on.</summary>
    public static string KeptReason(string letter) =>
        $"Option {letter} is the client's own idea and is kept as it is. Copy it and change the copy.";

    /// <summary>The option.</summary>
    public Guid Id { get; }

    /// <summary>Its letter.</summary>
    public string Letter { get; }

    /// <summary>Its name.</summary>
    public string Name { get; set; }

    public OptionEditor Editor { get; }

    public Autosave Autosave { get; }

    public AssessmentRunner Runner { get; }

    /// <summary>The last result, or null before the first.</summary>
    public Assessment? Assessment => Runner.Latest?.Assessment;

    /// <summary>Takes what is still being typed, saves what still waits and gives the running calculation up.</summary>
    public async ValueTask DisposeAsync()
    {
        Editor.Collect();
        await Autosave.DisposeAsync();
        Runner.Dispose();
    }
}
