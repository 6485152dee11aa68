namespace ConsultDesk.Calculations.Lanes;

/// <summary>
/// Several numbers that go through the same arithmetic side by side: one for each van that is simulated together with others. The equations of
/// the simulation are written once for any such type; <see cref="ScalarLane"/> is a single number, <see cref="FourLanes"/> and
/// <see cref="EightLanes"/> are one register of the processor.
/// </summary>
/// <remarks>
/// Every operation of a lane gives the bits the same operation gives on a double (IEEE 754), so that a van's result does not depend on how many
/// others run beside it. A mask is a value of the same type with all bits of a lane set or none; only comparisons and what is made of
/// masks are masks.
/// </remarks>
/// <typeparam name="TLane">The type itself.</typeparam>
internal interface ILane<TLane>
    where TLane : struct, ILane<TLane>
{
    /// <summary>Numbers side by side.</summary>
    static abstract int Count { get; }

    /// <summary>0 in every lane; the mask of no lane.</summary>
    static abstract TLane Zero { get; }

    /// <summary>The mask of all lanes.</summary>
    static abstract TLane AllBits { get; }

    /// <summary>The number of one lane; slow, for what happens seldom.</summary>
    double this[int lane] { get; }

    /// <summary>One number in every lane.</summary>
    static abstract TLane Of(double value);

    /// <summary>The first <see cref="Count"/> numbers of a list.</summary>
    static abstract TLane Load(ReadOnlySpan<double> values);

    /// <summary>Writes the lanes to the beginning of a list.</summary>
    void Store(Span<double> values);

    /// <summary>The same with another number in one lane; slow, for what happens seldom.</summary>
    static abstract TLane With(TLane value, int lane, double number);

    static abstract TLane operator +(TLane left, TLane right);

    static abstract TLane operator -(TLane left, TLane right);

    static abstract TLane operator *(TLane left, TLane right);

    static abstract TLane operator /(TLane left, TLane right);

    static abstract TLane operator -(TLane value);

    /// <summary>Magnitude.</summary>
    static abstract TLane Abs(TLane value);

    /// <summary>Square root; not a number below 0.</summary>
    static abstract TLane Sqrt(TLane value);

    /// <summary>Next whole number towards 0.</summary>
    static abstract TLane Truncate(TLane value);

    /// <summary><c>a &lt; b ? a : b</c>: the second where either is not a number.</summary>
    static abstract TLane Min(TLane a, TLane b);

    /// <summary><c>a &gt; b ? a : b</c>: the second where either is not a number.</summary>
    static abstract TLane Max(TLane a, TLane b);

    /// <summary>Mask of <c>a &lt; b</c>.</summary>
    static abstract TLane Less(TLane a, TLane b);

    /// <summary>Mask of <c>a &lt;= b</c>.</summary>
    static abstract TLane LessOrEqual(TLane a, TLane b);

    /// <summary>Mask of <c>a == b</c>; both zeros are equal, nothing equals what is not a number.</summary>
    static abstract TLane Equal(TLane a, TLane b);

    /// <summary>The first where the mask is set, the second elsewhere.</summary>
    static abstract TLane Select(TLane mask, TLane set, TLane clear);

    /// <summary>Where both masks are set; also a number where the mask is set and 0 elsewhere.</summary>
    static abstract TLane And(TLane a, TLane b);

    /// <summary>Where one mask or both are set.</summary>
    static abstract TLane Or(TLane a, TLane b);

    /// <summary>Where exactly one mask is set.</summary>
    static abstract TLane Xor(TLane a, TLane b);

    /// <summary>Where the first mask is set and the second is not.</summary>
    static abstract TLane AndNot(TLane a, TLane b);

    /// <summary>True when the mask is set in some lane.</summary>
    static abstract bool Any(TLane mask);

    /// <summary>True when the mask is set in every lane.</summary>
    static abstract bool All(TLane mask);

    /// <summary><c>Any(Less(a, b))</c>, without the mask.</summary>
    static abstract bool AnyLess(TLane a, TLane b);

    /// <summary><c>All(Less(a, b))</c>, without the mask.</summary>
    static abstract bool AllLess(TLane a, TLane b);

    /// <summary><c>All(LessOrEqual(a, b))</c>, without the mask.</summary>
    static abstract bool AllLessOrEqual(TLane a, TLane b);

    /// <summary>One bit a lane of a mask, the first lane lowest.</summary>
    static abstract uint Bits(TLane mask);

    /// <summary>The mask with these bits, the first lane lowest.</summary>
    static abstract TLane Mask(uint bits);

    /// <summary><c>a b + c</c>, rounded once (IEEE 754 fusedMultiplyAdd).</summary>
    static abstract TLane MultiplyAdd(TLane a, TLane b, TLane c);

    /// <summary><c>c - a b</c>, rounded once: <see cref="MultiplyAdd"/> of <c>-a</c>.</summary>
    static abstract TLane SubtractProduct(TLane c, TLane a, TLane b);

    /// <summary>Splits a number into a mantissa and a power of two: it is the mantissa times 2 to this power.</summary>
    /// <param name="value">Positive and not so small that digits are missing (2^-1022); of what is neither nothing sensible comes.</param>
    /// <param name="mantissa">From the root of 1/2 to the root of 2.</param>
    static abstract TLane PowerOfTwo(TLane value, out TLane mantissa);

    /// <summary>A number times 2 to a whole power, with which it stays within the range of normal numbers.</summary>
    /// <param name="rounded">The power and <see cref="DoubleBits.Round"/>: what rounding it to a whole number comes by.</param>
    /// <param name="value">The number.</param>
    static abstract TLane TimesTwoTo(TLane rounded, TLane value);

    /// <summary>Four numbers of a table for each lane, as they stand behind each other in its row.</summary>
    /// <param name="table">Rows of four.</param>
    /// <param name="row">Whole numbers from 0 to below the number of rows.</param>
    /// <param name="first">First number of each lane's row.</param>
    /// <param name="second">Second.</param>
    /// <param name="third">Third.</param>
    /// <param name="fourth">Fourth.</param>
    static abstract void Row(ReadOnlySpan<double> table, TLane row, out TLane first, out TLane second, out TLane third, out TLane fourth);
}
