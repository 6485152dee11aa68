using Microsoft.AspNetCore.Components;

namespace ConsultDesk.Web.Shell;

/// <summary>The messages of a form by field, and the way to the first of them. Fields find it as a cascading value.</summary>
public sealed class FormFields
{
    private readonly Dictionary<string, string> _errors = new(StringComparer.Ordinal);
    private readonly List<(string Name, Func<ElementReference> Control)> _controls = [];

    /// <summary>A message came or went.</summary>
    public event Action? Changed;

    /// <summary>How many fields are wrong.</summary>
    public int Wrong => _errors.Count;

    /// <summary>What is wrong with a field, or null.</summary>
    public string? Error(string name) => _errors.GetValueOrDefault(name);

    /// <summary>Replaces all messages.</summary>
    public void Show(IEnumerable<KeyValuePair<string, string>> errors)
    {
        _errors.Clear();
        foreach (var (name, message) in errors)
        {
            _errors[name] = message;
        }

        Changed?.Invoke();
    }

    /// <summary>A field that is being changed is not wrong any more until it is checked again.</summary>
    public void Forget(string name)
    {
        if (_errors.Remove(name))
        {
            Changed?.Invoke();
        }
    }

    /// <summary>Announces a control, in the order of the page.</summary>
    public void Add(string name, Func<ElementReference> control) => _controls.Add((name, control));

    /// <summary>Moves the focus to the first wrong field.</summary>
    public async Task FocusFirstWrongAsync()
    {
        foreach (var (name, control) in _controls)
        {
            if (_errors.ContainsKey(name) && control().Context is not null)
            {
                await control().FocusAsync();
                return;
            }
        }
    }
}
