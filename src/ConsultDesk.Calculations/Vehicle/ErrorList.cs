using System.Collections.Immutable;
using System.Globalization;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>Collects what is wrong with a design, each with its place.</summary>
internal sealed class ErrorList
{
    private readonly ImmutableArray<DesignError>.Builder _errors = ImmutableArray.CreateBuilder<DesignError>();

    public ImmutableArray<DesignError> ToImmutable() => _errors.ToImmutable();

    public void Add(string path, string message) => _errors.Add(new DesignError(path, message));

    public void Range(string path, ValidRange range, double value)
    {
        if (!range.Contains(value))
        {
            Add(path, range.Message(value));
        }
    }

    public void UniqueIds(string path, IEnumerable<string> ids)
    {
        foreach (IGrouping<string, string> group in ids.GroupBy(id => id).Where(group => group.Key.Length == 0 || group.Count() > 1))
        {
            Add(path, group.Key.Length == 0 ? "An id is empty; expected a short name." : $"The id '{group.Key}' is used {group.Count()} times; expected unique ids.");
        }
    }

    public bool ZoneExists(Design design, string path, string zoneId)
    {
        bool exists = design.Zones.Any(zone => zone.Id == zoneId);
        if (!exists)
        {
            Add(path, $"There is no zone '{zoneId}'; expected one of {string.Join(", ", design.Zones.Select(zone => zone.Id))}.");
        }

        return exists;
    }

    public void Inside(string path, double low, double high, double limit, string what)
    {
        if (!(low >= -Openings.EdgeToleranceM && high > low && high <= limit + Openings.EdgeToleranceM))
        {
            Add(path, string.Create(
                CultureInfo.InvariantCulture,
                $"It reaches from {low * 1000:0} to {high * 1000:0} mm; expected a stretch inside {what}, 0 to {limit * 1000:0} mm."));
        }
    }
}
