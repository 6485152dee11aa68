using System.Diagnostics.CodeAnalysis;
using UnitsNet;

namespace ConsultDesk.Reports.Units;

/// <summary>A typed number that was read, or the message that says what was expected. Exactly one of them is set.</summary>
/// <param name="Value">The quantity, or null.</param>
/// <param name="Error">The message for the field, or null.</param>
public sealed record TypedQuantity(IQuantity? Value, string? Error)
{
    /// <summary>True when a quantity was read.</summary>
    [MemberNotNullWhen(true, nameof(Value))]
    [MemberNotNullWhen(false, nameof(Error))]
    public bool IsRead => Value is not null;
}
