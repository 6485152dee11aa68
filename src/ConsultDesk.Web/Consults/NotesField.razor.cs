using ConsultDesk.Records;
using ConsultDesk.Web.Shell;
using ConsultDesk.Web.Workspace;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Routing;

namespace ConsultDesk.Web.Consults;

/// <summary>The private notes of one consult, saved by themselves a moment after the last letter.</summary>
public sealed partial class NotesField(ConsultBook book, TimeProvider time, ThisBrowser browser, ILogger<NotesField> log) : IAsyncDisposable
{
    /// <summary>Quiet time after the last letter before the notes are saved.</summary>
    public static readonly TimeSpan Quiet = TimeSpan.FromMilliseconds(800);

    /// <summary>Time after a failed save before it is tried again.</summary>
    public static readonly TimeSpan RetryAfter = TimeSpan.FromSeconds(5);

    // A little more than is stored, so that too long a text is told and not cut off; what is typed travels whole to the server.
    private const int MostTyped = TextLimits.Notes + 1000;

    private readonly string _id = Ids.Next();
    private Guid _consultId;
    private string _text = "";
    private string _stored = "";
    private Guid _version;
    private DateTime? _savedAt;
    private NotesConflict? _conflict;
    private string? _reason;
    private Task? _saving;
    private ITimer? _timer;
    private bool _gone;

    /// <summary>The consult. Its notes are read once; later changes of others are told when they collide.</summary>
    [Parameter, EditorRequired]
    public required Consult Consult { get; set; }

    /// <summary>Label of the field.</summary>
    [Parameter]
    public string Label { get; set; } = "Private notes";

    /// <summary>Height in lines.</summary>
    [Parameter]
    public int Lines { get; set; } = 8;

    [CascadingParameter]
    private SignedIn Who { get; set; } = default!;

    private ThisBrowser Browser => browser;

    private bool Unsaved => _text != _stored;

    private string SaveWord => _conflict is not null || _reason is not null ? "not-saved" : Unsaved ? "saving" : "saved";

    private string SaveText => SaveWord switch
    {
        "not-saved" => "Not saved",
        "saving" => "Saving…",
        _ => _savedAt is { } at ? "Saved " + browser.TimeOf(at) : "",
    };

    public async ValueTask DisposeAsync()
    {
        if (_gone)
        {
            return;
        }

        _gone = true;
        browser.Changed -= Refresh;
        if (_timer is not null)
        {
            await _timer.DisposeAsync();
        }

        // The last letters before the page went: written as far as nobody else was faster.
        await SaveAsync();
        if (Unsaved)
        {
            LogNotesLeft(log, Consult.Id);
        }
    }

    protected override void OnInitialized()
    {
        browser.Changed += Refresh;
        _timer = time.CreateTimer(_ => _ = InvokeAsync(SaveByItselfAsync), null, Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
    }

    protected override void OnParametersSet()
    {
        if (_consultId != Consult.Id)
        {
            (_consultId, _text, _stored, _version) = (Consult.Id, Consult.PrivateNotes, Consult.PrivateNotes, Consult.Version);
            (_savedAt, _conflict, _reason) = (null, null, null);
        }
    }

    private void Refresh() => _ = InvokeAsync(StateHasChanged);

    private void Typed()
    {
        _reason = null;
        _timer!.Change(Quiet, Timeout.InfiniteTimeSpan);
    }

    /// <summary>Nobody awaits the timer, so what goes wrong is handed to the page's boundary instead of being lost.</summary>
    private async Task SaveByItselfAsync()
    {
        try
        {
            if (!_gone)
            {
                await SaveAsync();
                StateHasChanged();
            }
        }
        catch (Exception failed)
        {
            await DispatchExceptionAsync(failed);
        }
    }

    /// <summary>Saves what is typed, one save at a time, until nothing is left to save or something stands in the way.</summary>
    private async Task SaveAsync()
    {
        // Whoever comes while a save runs waits for it, and then saves what was typed meanwhile.
        while (_saving is { IsCompleted: false } running)
        {
            await running;
        }

        _saving = SaveAllAsync();
        await _saving;
    }

    private async Task SaveAllAsync()
    {
        while (Unsaved && _conflict is null)
        {
            var text = _text;
            try
            {
                switch (await book.SaveNotes(Who, _consultId, _version, text))
                {
                    case NotesSaved saved:
                        (_version, _stored, _savedAt, _reason) = (saved.Version, text, saved.At, null);
                        break;
                    case NotesConflict theirs when theirs.Theirs == _stored:
                        // The consult was moved or marked as held; its notes are those this edit started from.
                        _version = theirs.TheirVersion;
                        break;
                    case NotesConflict theirs when theirs.Theirs == text:
                        (_version, _stored) = (theirs.TheirVersion, text);
                        break;
                    case NotesConflict theirs:
                        _conflict = theirs;
                        break;
                }
            }
            catch (Exception failed)
            {
                // A save that fails in whatever way is shown and tried again; what was typed is kept.
                LogNotSaved(log, failed, _consultId);
                _reason = failed is InvalidInputException or RecordNotFoundException ? failed.Message : StoreFault.Sentence(failed) ?? "The store could not be written.";
                if (!_gone && failed is not (InvalidInputException or RecordNotFoundException))
                {
                    _timer!.Change(RetryAfter, Timeout.InfiniteTimeSpan);
                }

                return;
            }
        }
    }

    private void TakeTheirs()
    {
        (_text, _stored, _version) = (_conflict!.Theirs, _conflict.Theirs, _conflict.TheirVersion);
        _conflict = null;
    }

    private Task KeepBothAsync()
    {
        _text = $"{_conflict!.Theirs.TrimEnd()}\n\n{_text}";
        return WriteOverAsync();
    }

    private Task WriteOverAsync()
    {
        (_stored, _version) = (_conflict!.Theirs, _conflict.TheirVersion);
        _conflict = null;
        return SaveAsync();
    }

    private async Task BeforeLeavingAsync(LocationChangingContext context)
    {
        await SaveAsync();
        if (Unsaved)
        {
            context.PreventNavigation();
            StateHasChanged();
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "The notes of consult {Consult} were not saved.")]
    private static partial void LogNotSaved(ILogger log, Exception failed, Guid consult);

    [LoggerMessage(Level = LogLevel.Warning, Message = "The page of consult {Consult} went before its last notes could be saved.")]
    private static partial void LogNotesLeft(ILogger log, Guid consult);
}
