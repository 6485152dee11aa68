namespace ConsultDesk.Web.Workspace;

/// <summary>The groups of the form that are on the page, by their anchors. Groups get it as a cascading value.</summary>
public sealed class InputGroups
{
    private readonly List<InputGroup> _groups = [];

    /// <summary>A group came.</summary>
    public void Add(InputGroup group) => _groups.Add(group);

    /// <summary>A group went.</summary>
    public void Remove(InputGroup group) => _groups.Remove(group);

    /// <summary>Opens the group with this anchor.</summary>
    /// <returns>False when no group on the page has it.</returns>
    public bool Open(string anchor)
    {
        if (_groups.Find(group => group.Anchor == anchor) is not { } found)
        {
            return false;
        }

        found.Open();
        return true;
    }
}
