using System.Diagnostics.CodeAnalysis;
using ConsultDesk.Records;
using ConsultDesk.Reports.Plans;

namespace ConsultDesk.Web.Plans;

/// <summary>
/// Published plans that were opened a moment ago, as they were read from their stored texts: taking a text apart costs more than all else of a page. It opens nothing: who asks
/// holds a plan that the records have just given out, by every rule of links and firms, and gets what is here only for the very same text. A plan stays for a few minutes at most,
/// so that what was erased does not linger.
/// </summary>
/// <param name="capacity">Plans kept; the one asked for longest ago goes first.</param>
/// <param name="life">How long after it was read.</param>
/// <param name="time">The clock.</param>
internal sealed class PlanShelf(int capacity, TimeSpan life, TimeProvider time)
{
    private readonly Lock _gate = new();
    private readonly LinkedList<Entry> _recent = [];

    /// <summary>The plan as it was written.</summary>
    public PlanSnapshot Read(OpenedPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        if (TryFind(plan, out var known))
        {
            return known;
        }

        var read = PlanSnapshotJson.Read(plan.SnapshotText);
        lock (_gate)
        {
            _recent.AddFirst(new Entry(plan.PlanId, plan.SnapshotText, read, time.GetTimestamp()));
            if (_recent.Count > capacity)
            {
                _recent.RemoveLast();
            }
        }

        return read;
    }

    private bool TryFind(OpenedPlan plan, [NotNullWhen(true)] out PlanSnapshot? known)
    {
        lock (_gate)
        {
            for (var at = _recent.First; at is not null;)
            {
                var next = at.Next;
                if (time.GetElapsedTime(at.Value.Read) >= life)
                {
                    _recent.Remove(at);
                }
                else if (at.Value.PlanId == plan.PlanId && at.Value.Text == plan.SnapshotText)
                {
                    _recent.Remove(at);
                    _recent.AddFirst(at);
                    known = at.Value.Plan;
                    return true;
                }

                at = next;
            }
        }

        known = null;
        return false;
    }

    private sealed record Entry(Guid PlanId, string Text, PlanSnapshot Plan, long Read);
}
