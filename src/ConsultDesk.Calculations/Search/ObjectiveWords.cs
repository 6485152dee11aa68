using System.Globalization;
using System.Numerics;

namespace ConsultDesk.Calculations.Search;

/// <summary>Numbers of objectives for a reader, the same in sentences, tables and drawings. None of them differs between metric and imperial readers.</summary>
public static class ObjectiveWords
{
    private const string NoBreakSpace = "\u00A0";

    /// <summary>A number as it stands in a table under a head that names its unit: thousands apart, no finer than it is worth.</summary>
    public static string Number(Objective objective, double value) => value
        .ToString(objective is Objective.Power or Objective.Mould ? "0.0" : "#,0", CultureInfo.InvariantCulture)
        .Replace(",", NoBreakSpace, StringComparison.Ordinal);

    /// <summary>A count: thousands apart, and from a thousand million on only how many digits it has.</summary>
    public static string Count(BigInteger count) => count < 1_000_000_000
        ? count.ToString("#,0", CultureInfo.InvariantCulture).Replace(",", NoBreakSpace, StringComparison.Ordinal)
        : string.Create(CultureInfo.InvariantCulture, $"about 10 to the power of {BigInteger.Log10(count):0}");

    /// <summary>A number with its unit, which no line break parts from it; money with its currency, which may be empty.</summary>
    public static string Value(Objective objective, double value, string currency)
    {
        string unit = objective switch
        {
            Objective.MoneyNow or Objective.MoneyAYear => currency,
            Objective.Mould or Objective.Parts => "",
            Objective.Noise => "dB(A)",
            Objective.Power => "kWh",
            _ => "h",
        };
        return unit.Length == 0 ? Number(objective, value) : Number(objective, value) + NoBreakSpace + unit;
    }

    /// <summary>The name of an objective within a sentence.</summary>
    public static string Name(Objective objective)
    {
        string name = Objectives.Of(objective).Name;
        return char.ToLowerInvariant(name[0]) + name[1..];
    }
}
