using System.Text;

namespace ConsultDesk.Records;

/// <summary>What is wrong with one field.</summary>
/// <param name="Field">Name of the input's property, so that a form can show the message there.</param>
/// <param name="Message">What was expected.</param>
public sealed record FieldError(string Field, string Message);

/// <summary>The input of a command was refused; nothing was written.</summary>
public sealed class InvalidInputException(IReadOnlyList<FieldError> errors)
    : Exception(string.Join(" ", errors.Select(e => $"{e.Field}: {e.Message}")))
{
    /// <summary>One entry per wrong field, at least one.</summary>
    public IReadOnlyList<FieldError> Errors { get; } = errors;
}

/// <summary>The row does not exist, or belongs to another firm: a caller cannot tell the two apart.</summary>
public sealed class RecordNotFoundException(string kind, Guid id) : Exception($"There is no {kind} {id}.")
{
    /// <summary>What was looked for: client, van, option, plan or link.</summary>
    public string Kind { get; } = kind;

    /// <summary>Its id.</summary>
    public Guid Id { get; } = id;
}

/// <summary>Somebody else changed the row since it was loaded; nothing was written.</summary>
public sealed class RecordChangedException(string kind, Guid id, Exception? inner = null)
    : Exception($"The {kind} was changed by somebody else since it was opened.", inner)
{
    /// <summary>What was being changed.</summary>
    public string Kind { get; } = kind;

    /// <summary>Its id.</summary>
    public Guid Id { get; } = id;
}

/// <summary>The signed-in user may not do this.</summary>
public sealed class NotAllowedException(string message) : Exception(message);

/// <summary>Checks the fields of one input and reports all that is wrong with it at once.</summary>
internal sealed class FieldChecks
{
    private readonly List<FieldError> _errors = [];

    /// <summary>What is wrong so far.</summary>
    public IReadOnlyList<FieldError> Errors => _errors;

    /// <summary>A text that must be there, without the blanks around it.</summary>
    public string Text(string field, string? value, int longest)
    {
        var text = value?.Trim() ?? "";
        That(text.Length > 0, field, FormattableString.Invariant($"Expected a text of 1 to {longest} characters."));
        return Fits(field, text, longest, lines: false);
    }

    /// <summary>A text that may be left out, without the blanks around it; blank counts as left out.</summary>
    public string? Optional(string field, string? value, int longest, bool lines = false)
    {
        var text = value?.Trim();
        return string.IsNullOrEmpty(text) ? null : Fits(field, text, longest, lines);
    }

    /// <summary>A text kept as it was typed, blanks and line breaks included; may be empty.</summary>
    public string AsTyped(string field, string? value, int longest) => Fits(field, value ?? "", longest, lines: true);

    public void That(bool right, string field, string expected)
    {
        if (!right)
        {
            _errors.Add(new(field, expected));
        }
    }

    public void ThrowIfAny()
    {
        if (_errors.Count > 0)
        {
            throw new InvalidInputException(_errors);
        }
    }

    private string Fits(string field, string text, int longest, bool lines)
    {
        That(text.Length <= longest, field, FormattableString.Invariant($"Expected at most {longest} characters, got {text.Length}."));
        // PostgreSQL cannot hold NUL or half a surrogate pair, and a name has no line breaks.
        var clean = text.All(c => !char.IsControl(c) || (lines && c is '\n' or '\r' or '\t')) && !text.EnumerateRunes().Contains(Rune.ReplacementChar);
        That(clean, field, "Expected text without control characters.");
        return text;
    }
}
