using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;

namespace ConsultDesk.Web.Workspace;

/// <summary>Stores wishes over a version.</summary>
public delegate Task<LoadedWishes> SaveWishes(Guid? loadedVersion, Wishes wishes);

/// <summary>
/// The wishes on the screen, which save themselves: one save at a time, the last state always. When a colleague saved
/// in between nothing is written until somebody chooses.
/// </summary>
public sealed class WishesKeeper(LoadedWishes loaded, SaveWishes save, Func<Task<LoadedWishes>> load, Action changed)
{
    private Guid? _version = loaded.Version;
    private bool _saving;
    private bool _again;

    /// <summary>What is on the screen.</summary>
    public Wishes Wishes { get; private set; } = loaded.Wishes;

    /// <summary>What is wrong with the last edit, by field; it is not saved.</summary>
    public IReadOnlyList<FieldError> Errors { get; private set; } = [];

    /// <summary>What a colleague saved meanwhile; null while there is nothing to decide.</summary>
    public LoadedWishes? Theirs { get; private set; }

    /// <summary>Why the last save did not happen; null when it did.</summary>
    public string? Trouble { get; private set; }

    /// <summary>True while something is not stored yet.</summary>
    public bool Waiting => _saving || _again;

    /// <summary>When the wishes were stored last, UTC; null when never.</summary>
    public DateTime? SavedAt { get; private set; } = loaded.UpdatedAt;

    /// <summary>Changes the wishes and saves them, unless something is wrong with them.</summary>
    public Task ChangeAsync(Func<Wishes, Wishes> change)
    {
        ArgumentNullException.ThrowIfNull(change);
        var wishes = change(Wishes);
        Errors = WishesBook.Errors(wishes);
        if (Errors.Count > 0)
        {
            changed();
            return Task.CompletedTask;
        }

        Wishes = wishes;
        return Theirs is null ? SaveAsync() : Task.CompletedTask;
    }

    /// <summary>Shows what the colleague saved.</summary>
    public void TakeTheirs()
    {
        if (Theirs is { } theirs)
        {
            (Wishes, _version, SavedAt, Theirs, Errors) = (theirs.Wishes, theirs.Version, theirs.UpdatedAt, null, []);
            changed();
        }
    }

    /// <summary>Writes what is on the screen over what the colleague saved.</summary>
    public Task WriteOverAsync()
    {
        if (Theirs is { } theirs)
        {
            (_version, Theirs) = (theirs.Version, null);
        }

        return SaveAsync();
    }

    /// <summary>Tries again after trouble.</summary>
    public Task RetryAsync() => SaveAsync();

    private async Task SaveAsync()
    {
        if (_saving)
        {
            _again = true;
            return;
        }

        _saving = true;
        changed();
        try
        {
            do
            {
                _again = false;
                var stored = await save(_version, Wishes);
                (_version, SavedAt, Trouble) = (stored.Version, stored.UpdatedAt, null);
            }
            while (_again);
        }
        catch (RecordChangedException)
        {
            _again = false;
            Theirs = await load();
        }
        catch (RecordNotFoundException gone)
        {
            _again = false;
            Trouble = gone.Message;
        }
        finally
        {
            _saving = false;
            changed();
        }
    }
}
