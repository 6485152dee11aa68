using System.Globalization;

namespace ConsultDesk.Web.Workspace;

/// <summary>Ids that tie a label to its control.</summary>
internal static class Ids
{
    private static long _last;

    /// <summary>An id no other element of any page of this process has.</summary>
    public static string Next() => string.Create(CultureInfo.InvariantCulture, $"f{Interlocked.Increment(ref _last)}");
}
