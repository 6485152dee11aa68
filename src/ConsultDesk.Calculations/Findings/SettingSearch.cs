using ConsultDesk.Calculations.Simulation;

namespace ConsultDesk.Calculations.Findings;

/// <summary>
/// Finds the setting of all openings with the least cost: all of them where they are few, otherwise one opening after
/// the other, each in all its choices with the others held, until none betters, from several starts. The same question
/// always gets the same answer.
/// </summary>
internal sealed class SettingSearch
{
    /// <summary>Settings up to which all are tried.</summary>
    public const int FewSettings = 200;

    private readonly OpeningSetting[][] _choices;
    private readonly Func<ReadOnlySpan<OpeningSetting>, double> _cost;
    private readonly Dictionary<string, double> _known = new(StringComparer.Ordinal);
    private readonly int[] _index;
    private readonly char[] _key;
    private readonly OpeningSetting[] _setting;
    private double _best = double.PositiveInfinity;
    private int[]? _bestIndex;

    /// <param name="choices">What each opening may be set to, at least one each.</param>
    /// <param name="cost">Cost of a setting; infinite when it is out of the question.</param>
    public SettingSearch(OpeningSetting[][] choices, Func<ReadOnlySpan<OpeningSetting>, double> cost)
    {
        _choices = choices;
        _cost = cost;
        _index = new int[choices.Length];
        _key = new char[choices.Length];
        _setting = new OpeningSetting[choices.Length];
    }

    /// <summary>Settings whose cost was asked for.</summary>
    public int Tried => _known.Count;

    /// <summary>Number of all settings.</summary>
    public double All => _choices.Aggregate(1.0, (product, choices) => product * choices.Length);

    /// <summary>The best setting found.</summary>
    /// <param name="starts">Where to start from when not all are tried; any may be best.</param>
    /// <param name="few">Settings up to which all are tried.</param>
    public OpeningSetting[] Best(IReadOnlyList<OpeningSetting[]> starts, int few = FewSettings)
    {
        if (All <= few)
        {
            TryAll(0);
        }
        else
        {
            foreach (OpeningSetting[] start in starts)
            {
                Descend(start);
            }
        }

        if (_bestIndex is null)
        {
            throw new InvalidOperationException("Every setting is out of the question; at least one start is expected to be allowed.");
        }

        return [.. _bestIndex.Select((choice, opening) => _choices[opening][choice])];
    }

    private void TryAll(int opening)
    {
        if (opening == _choices.Length)
        {
            Cost();
            return;
        }

        for (int choice = 0; choice < _choices[opening].Length; choice++)
        {
            _index[opening] = choice;
            TryAll(opening + 1);
        }
    }

    private void Descend(OpeningSetting[] start)
    {
        for (int opening = 0; opening < _choices.Length; opening++)
        {
            _index[opening] = Array.IndexOf(_choices[opening], start[opening]);
            if (_index[opening] < 0)
            {
                throw new ArgumentException($"The start sets opening {opening} to {start[opening]}, which is none of its choices.", nameof(start));
            }
        }

        double least = Cost();
        bool better = true;
        while (better)
        {
            better = false;
            for (int opening = 0; opening < _choices.Length; opening++)
            {
                int kept = _index[opening];
                for (int choice = 0; choice < _choices[opening].Length; choice++)
                {
                    _index[opening] = choice;
                    double cost = Cost();
                    if (cost < least)
                    {
                        (least, kept, better) = (cost, choice, true);
                    }
                }

                _index[opening] = kept;
            }
        }
    }

    private double Cost()
    {
        for (int opening = 0; opening < _index.Length; opening++)
        {
            _key[opening] = (char)_index[opening];
            _setting[opening] = _choices[opening][_index[opening]];
        }

        string key = new(_key);
        if (!_known.TryGetValue(key, out double cost))
        {
            cost = _cost(_setting);
            _known.Add(key, cost);
            if (cost < _best)
            {
                _best = cost;
                _bestIndex = [.. _index];
            }
        }

        return cost;
    }
}
