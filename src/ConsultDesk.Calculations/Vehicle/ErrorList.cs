using System.Collections.Immutable;
using System.Globalization;
using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>Collects what is wrong with a design, each with its place.</summary>
internal sealed class ErrorList
{
    private readonly ImmutableArray<DesignError>.Builder _errors = ImmutableArray.CreateBuilder<DesignError>();

    public ImmutableArray<DesignError> ToImmutable() => _errors.ToImmutable();

    public void Add(string path, string message) => _errors.Add(new DesignError(path, message));

    /// <summary>A message that measures something, with {0}, {1}… for the quantities.</summary>
    public void Add(string path, string template, params ReadOnlySpan<IQuantity> quantities)
    {
        ImmutableArray<IQuantity> all = [.. quantities];
        object[] metric = [.. all.Select(Metric)];
        _errors.Add(new DesignError(path, string.Format(CultureInfo.InvariantCulture, template, metric)) { Template = template, Quantities = all });
    }

    private static string Metric(IQuantity quantity) => quantity switch
    {
        Length length => string.Create(CultureInfo.InvariantCulture, $"{length.Millimeters:0} mm"),
        Temperature temperature => string.Create(CultureInfo.InvariantCulture, $"{temperature.DegreesCelsius:0} °C"),
        _ => throw new ArgumentException($"A message about {quantity.QuantityInfo.Name} has no words yet."),
    };

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
            Add(
                path,
                "It reaches from {0} to {1}; expected a stretch inside " + what + ", {2} to {3}.",
                Length.FromMeters(low), Length.FromMeters(high), Length.Zero, Length.FromMeters(limit));
        }
    }
}
