using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace ConsultDesk.Calculations.Lanes;

/// <summary>
/// A list of records of lanes that begins where a register can be read in one piece: arrays begin anywhere, and a register that lies across two
/// lines of the cache is read twice. Kept in place by the collector where that matters.
/// </summary>
/// <typeparam name="T">A record without references.</typeparam>
internal sealed class Aligned<T>
    where T : struct
{
    private readonly byte[] _bytes;
    private readonly nint _offset;

    /// <summary>A list of zeros.</summary>
    /// <param name="length">Records.</param>
    /// <param name="registerBytes">Size of a register.</param>
    public Aligned(int length, int registerBytes)
    {
        Length = length;
        bool anywhere = registerBytes <= sizeof(double);
        _bytes = GC.AllocateArray<byte>((length * Unsafe.SizeOf<T>()) + (anywhere ? 0 : registerBytes), pinned: !anywhere);
        if (!anywhere)
        {
            nint beyond = Marshal.UnsafeAddrOfPinnedArrayElement(_bytes, 0) % registerBytes;
            _offset = beyond == 0 ? 0 : registerBytes - beyond;
        }
    }

    /// <summary>Records.</summary>
    public int Length { get; }

    /// <summary>The records.</summary>
    public Span<T> Span
    {
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        get => MemoryMarshal.CreateSpan(ref Unsafe.As<byte, T>(ref Unsafe.AddByteOffset(ref MemoryMarshal.GetArrayDataReference(_bytes), _offset)), Length);
    }
}
