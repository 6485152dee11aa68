using System.Diagnostics.CodeAnalysis;
using ConsultDesk.Calculations.Simulation;

namespace ConsultDesk.Web.Workspace;

/// <summary>
/// The assessments asked for most recently, by the hash of all that decides them. Shared by all circuits: an
/// assessment holds nothing but what follows from its design. Undo, a second tab and a comparison answer at once.
/// </summary>
public sealed class AssessmentCache
{
    /// <summary>Assessments kept, a few tens of kilobytes each.</summary>
    public const int Capacity = 200;

    private readonly Lock _gate = new();
    private readonly Dictionary<string, LinkedListNode<(string Key, Assessment Assessment)>> _entries = [];
    private readonly LinkedList<(string Key, Assessment Assessment)> _recent = [];

    public bool TryGet(string key, [NotNullWhen(true)] out Assessment? assessment)
    {
        lock (_gate)
        {
            if (!_entries.TryGetValue(key, out var entry))
            {
                assessment = null;
                return false;
            }

            _recent.Remove(entry);
            _recent.AddFirst(entry);
            assessment = entry.Value.Assessment;
            return true;
        }
    }

    public void Keep(string key, Assessment assessment)
    {
        lock (_gate)
        {
            if (_entries.Remove(key, out var before))
            {
                _recent.Remove(before);
            }

            _entries[key] = _recent.AddFirst((key, assessment));
            if (_recent.Count > Capacity)
            {
                _entries.Remove(_recent.Last!.Value.Key);
                _recent.RemoveLast();
            }
        }
    }
}
