using System.Runtime.CompilerServices;

namespace ConsultDesk.Calculations.Lanes;

/// <summary>
/// The number of one lane where it lies in memory: read and written there without taking the register apart. For what is done van by van, not in
/// the arithmetic itself, where a register that was just written in parts is slow to read.
/// </summary>
internal static class LaneNumbers
{
    /// <summary>The place of a lane's number; lane from 0 to below the count.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ref double At<TLane>(ref TLane value, int lane)
        where TLane : struct, ILane<TLane>
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((uint)lane, (uint)TLane.Count, nameof(lane));
        return ref Unsafe.Add(ref Unsafe.As<TLane, double>(ref value), lane);
    }
}
