namespace ConsultDesk.Calculations.Findings;

/// <summary>A client's name of a thing for a title, which holds no numbers ("roof fan, 350 mm").</summary>
internal static class PlainName
{
    public static string Of(string name)
    {
        int digit = name.IndexOfAny([.. "0123456789"]);
        return digit < 0 ? name : name[..digit].TrimEnd(' ', ',', '(');
    }
}
