using System.Runtime.Intrinsics;

namespace ConsultDesk.Calculations.Lanes;

/// <summary>How many vans are run side by side when nobody says otherwise.</summary>
/// <remarks>
/// As many as a register holds. Calculations read no clock, so the choice is that of the hardware; <c>tests/long.sh kernel</c> measures every width and
/// prints the choice beside it.
/// </remarks>
internal static class LaneWidth
{
    /// <summary>8, 4 or 1.</summary>
    public static int Best { get; } = Vector512.IsHardwareAccelerated ? 8 : Vector256.IsHardwareAccelerated ? 4 : 1;

    /// <summary>All that there are.</summary>
    public static IReadOnlyList<int> All { get; } = [1, 4, 8];
}
