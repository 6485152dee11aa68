using System.Collections;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>Numbers of a state that lies elsewhere, by index; slow, for reports and tests.</summary>
/// <param name="count">How many.</param>
/// <param name="get">Reads one.</param>
/// <param name="set">Writes one; null where nobody may.</param>
internal sealed class StateList(int count, Func<int, double> get, Action<int, double>? set = null) : IReadOnlyList<double>
{
    /// <inheritdoc/>
    public int Count => count;

    /// <inheritdoc/>
    public double this[int index]
    {
        get => get(index);
        set => (set ?? throw new NotSupportedException("This number follows from others."))(index, value);
    }

    /// <summary>Copies all of them.</summary>
    public void CopyTo(double[] numbers, int at)
    {
        for (int index = 0; index < count; index++)
        {
            numbers[at + index] = get(index);
        }
    }

    /// <inheritdoc/>
    public IEnumerator<double> GetEnumerator() => Enumerable.Range(0, count).Select(get).GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();
}
