namespace ConsultDesk.Calculations.Costs;

/// <summary>Members of an enum as the price table writes them: <c>RoofVent</c> is <c>roof-vent</c>.</summary>
public static class Choices
{
    /// <summary>The table's name of a member.</summary>
    public static string Name<T>(T value)
        where T : struct, Enum =>
        string.Concat(value.ToString().Select((letter, at) => char.IsUpper(letter) ? (at == 0 ? "" : "-") + char.ToLowerInvariant(letter) : letter.ToString()));

    /// <summary>The member with this name in the table, or null.</summary>
    public static T? Parse<T>(string name)
        where T : struct, Enum
    {
        foreach (T value in Enum.GetValues<T>())
        {
            if (Name(value) == name)
            {
                return value;
            }
        }

        return null;
    }
}
