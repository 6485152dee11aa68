using System.Runtime.Intrinsics;

namespace ConsultDesk.Calculations.Lanes;

/// <summary>How many vans are best run side by side on this processor.</summary>
internal static class LaneWidth
{
    /// <summary>4 where registers hold as many; otherwise 1. 8 is for whoever has measured that it pays here.</summary>
    public static int Best { get; } = Vector256.IsHardwareAccelerated ? 4 : 1;

    /// <summary>All that there are.</summary>
    public static IReadOnlyList<int> All { get; } = [1, 4, 8];
}
