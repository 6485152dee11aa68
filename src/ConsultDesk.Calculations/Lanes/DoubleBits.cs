namespace ConsultDesk.Calculations.Lanes;

/// <summary>How a double is laid out (IEEE 754 binary64).</summary>
internal static class DoubleBits
{
    /// <summary>Bits of the mantissa, the lowest.</summary>
    public const int Mantissa = 52;

    /// <summary>Those bits.</summary>
    public const long MantissaMask = (1L << Mantissa) - 1;

    /// <summary>The root of 1/2.</summary>
    public const long Root = 0x3FE6_A09E_667F_3BCD;

    /// <summary>What, added to a number's bits, makes the power of two step at the root of 1/2 instead of 1.</summary>
    public const long FromRoot = 0x3FF0_0000_0000_0000 - Root;

    /// <summary>The number 2^52: a whole number in its lowest bits is added to it.</summary>
    public const long WholeNumbers = 0x4330_0000_0000_0000;

    /// <summary>That and what every power of two is raised by.</summary>
    public const double RaisedBy = 4_503_599_627_370_496 + 1023.0;

    /// <summary>3 x 2^51: added to a number below 2^51 either way it rounds it to a whole one, which stands in the lowest bits.</summary>
    public const double Round = 6_755_399_441_055_744;
}
