using ConsultDesk.Reports.Units;

namespace ConsultDesk.Web.Workspace.Results;

/// <summary>
/// Makes something once for each thing it is made from and the units it is written in: a figure of a year is not made again for
/// every keystroke.
/// </summary>
public sealed class Kept<TFrom, TMade>(Func<TFrom, TMade> make)
    where TFrom : class
    where TMade : class
{
    private TFrom? _from;
    private DisplayUnits? _units;
    private TMade? _made;

    /// <summary>What is made from <paramref name="from"/>.</summary>
    /// <param name="from">What it is made from.</param>
    /// <param name="units">What it is written in; null for what has no units.</param>
    public TMade Of(TFrom from, DisplayUnits? units)
    {
        if (_made is null || !ReferenceEquals(from, _from) || !ReferenceEquals(units, _units))
        {
            (_from, _units, _made) = (from, units, make(from));
        }

        return _made;
    }
}
