using System.Globalization;

namespace ConsultDesk.Calculations;

/// <summary>
/// The range a method is valid in. One named value that the doc comment, the message and the screen share.
/// </summary>
/// <param name="Field">What is limited, as a person would say it.</param>
/// <param name="Minimum">Smallest value accepted, in <paramref name="Unit"/>.</param>
/// <param name="Maximum">Largest value accepted, in <paramref name="Unit"/>.</param>
/// <param name="Unit">Unit of both limits; empty for a pure number.</param>
public sealed record ValidRange(string Field, double Minimum, double Maximum, string Unit)
{
    /// <summary>True when the value lies within the limits; not-a-number never does.</summary>
    public bool Contains(double value) => value >= Minimum && value <= Maximum;

    /// <summary>Returns the value, or throws naming the field, the value and the range.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The value lies outside the limits or is not a number.</exception>
    public double Check(double value, string parameter) => Contains(value)
        ? value
        : throw new ArgumentOutOfRangeException(parameter, value, Message(value));

    /// <summary>What is wrong with a value outside the range: the field, the value and what was expected.</summary>
    public string Message(double value)
    {
        string unit = Unit.Length == 0 ? "" : " " + Unit;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{Field} is {value:G6}{unit}; expected {Minimum:G6} to {Maximum:G6}{unit}.");
    }
}
