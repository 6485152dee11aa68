using System.Globalization;

namespace ConsultDesk.Calculations.Tests.Validation;

/// <summary>How sure the expected value is.</summary>
public enum Sureness
{
    /// <summary>Read in the source named, or in a copy of it.</summary>
    Read,

    /// <summary>Worked out by hand from a stated formula: proves the evaluation, not the formula.</summary>
    Derived,

    /// <summary>Recalled from the source named, not seen: a sanity bound.</summary>
    Memory,

    /// <summary>A rule of the trade without a source.</summary>
    CommonPractice,
}

/// <summary>How far the computed value may lie from the expected one.</summary>
public readonly record struct Tolerance
{
    private Tolerance(double value, bool relative) => (Value, IsRelative) = (value, relative);

    public double Value { get; }

    public bool IsRelative { get; }

    /// <summary>In the unit of the row.</summary>
    public static Tolerance Absolute(double value) => new(value, relative: false);

    /// <summary>As a share of the expected value: 0.01 is one per cent.</summary>
    public static Tolerance Relative(double share) => new(share, relative: true);

    /// <summary>Largest difference allowed from <paramref name="expected"/>.</summary>
    public double Around(double expected) => IsRelative ? Value * Math.Abs(expected) : Value;

    public override string ToString() => IsRelative
        ? string.Create(CultureInfo.InvariantCulture, $"{100 * Value:G3} %")
        : string.Create(CultureInfo.InvariantCulture, $"± {Value:G3}");
}

/// <summary>One row of docs/validation.md: a published or worked-out value against the code.</summary>
/// <param name="Quantity">What is calculated.</param>
/// <param name="Inputs">The inputs as a reader would write them; unique for the quantity within its group.</param>
/// <param name="Expected">The value from outside the project, with the digits of its source.</param>
/// <param name="Unit">Unit of the expected value; "-" for none.</param>
/// <param name="Tolerance">How far the code may be off.</param>
/// <param name="Compute">The code under test.</param>
/// <param name="Source">Where the expected value comes from.</param>
/// <param name="Origin">How sure it is.</param>
public sealed record Check(
    string Quantity,
    string Inputs,
    double Expected,
    string Unit,
    Tolerance Tolerance,
    Func<double> Compute,
    string Source,
    Sureness Origin)
{
    /// <summary>The equation or table the row checks, within its group: at most five rows of one count. The quantity unless said otherwise.</summary>
    public string Equation { get => field ?? Quantity; init; }

    /// <summary>Unique within the group.</summary>
    public string Id => $"{Quantity}: {Inputs}";
}

/// <summary>A group of rows under one heading.</summary>
public sealed record CheckGroup(string Title, IReadOnlyList<Check> Rows)
{
    /// <summary>Every group of this assembly: the static <c>Group</c> property of each class whose name ends in "Checks".</summary>
    public static IReadOnlyList<CheckGroup> All { get; } =
    [
        .. typeof(CheckGroup).Assembly.GetTypes()
            .Where(type => type.Name.EndsWith("Checks", StringComparison.Ordinal))
            .Select(type => type.GetProperty("Group")?.GetValue(null) as CheckGroup
                ?? throw new InvalidOperationException($"{type.Name} needs a public static CheckGroup Group."))
            .OrderBy(group => group.Title, StringComparer.Ordinal),
    ];
}
