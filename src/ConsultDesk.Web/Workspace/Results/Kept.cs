namespace ConsultDesk.Web.Workspace.Results;

/// <summary>Makes something once for each thing it is made from: a figure of a year is not made again for every keystroke.</summary>
public sealed class Kept<TFrom, TMade>(Func<TFrom, TMade> make)
    where TFrom : class
    where TMade : class
{
    private TFrom? _from;
    private TMade? _made;

    /// <summary>What is made from <paramref name="from"/>.</summary>
    public TMade Of(TFrom from)
    {
        if (_made is null || !ReferenceEquals(from, _from))
        {
            (_from, _made) = (from, make(from));
        }

        return _made;
    }
}
