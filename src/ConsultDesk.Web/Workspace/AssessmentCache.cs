using System.Diagnostics.CodeAnalysis;
using ConsultDesk.Calculations.Simulation;

namespace ConsultDesk.Web.Workspace;

/// <summary>
/// The assessments asked for most recently, by the hash of all that decides them and by depth. Shared by all circuits:
/// an assessment holds nothing but what follows from its design. Undo, a second tab and a comparison answer at once.
/// </summary>
public sealed class AssessmentCache
{
    /// <summary>Nights kept, a few tens of kilobytes each.</summary>
    public const int NightCapacity = 200;

    /// <summary>Years kept: each has its hours, about 300 kB.</summary>
    public const int YearCapacity = 40;

    private readonly Lock _gate = new();
    private readonly Shelf _nights = new(NightCapacity);
    private readonly Shelf _years = new(YearCapacity);

    /// <summary>An assessment of that depth or, for years, deeper.</summary>
    public bool TryGet(string key, AssessmentDepth depth, [NotNullWhen(true)] out Assessment? assessment)
    {
        lock (_gate)
        {
            assessment = ShelfOf(depth).Find(key, depth);
            return assessment is not null;
        }
    }

    /// <summary>Keeps an assessment. A year with its bands takes the place of the year without them.</summary>
    public void Keep(string key, AssessmentDepth depth, Assessment assessment)
    {
        lock (_gate)
        {
            ShelfOf(depth).Put(key, depth, assessment);
        }
    }

    // A night is kept apart from its year: the findings of the night alone are asked for by themselves.
    private Shelf ShelfOf(AssessmentDepth depth) => depth == AssessmentDepth.Night ? _nights : _years;

    private sealed class Shelf(int capacity)
    {
        private readonly Dictionary<string, LinkedListNode<Entry>> _entries = [];
        private readonly LinkedList<Entry> _recent = [];

        public Assessment? Find(string key, AssessmentDepth depth)
        {
            if (!_entries.TryGetValue(key, out var entry) || entry.Value.Depth < depth)
            {
                return null;
            }

            _recent.Remove(entry);
            _recent.AddFirst(entry);
            return entry.Value.Assessment;
        }

        public void Put(string key, AssessmentDepth depth, Assessment assessment)
        {
            if (_entries.TryGetValue(key, out var before))
            {
                // Two pages may ask for the same: the shallower answer must not come last.
                if (before.Value.Depth > depth)
                {
                    return;
                }

                _recent.Remove(before);
            }

            _entries[key] = _recent.AddFirst(new Entry(key, depth, assessment));
            if (_recent.Count > capacity)
            {
                _entries.Remove(_recent.Last!.Value.Key);
                _recent.RemoveLast();
            }
        }
    }

    private sealed record Entry(string Key, AssessmentDepth Depth, Assessment Assessment);
}
