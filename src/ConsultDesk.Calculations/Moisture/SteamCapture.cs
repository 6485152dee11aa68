namespace ConsultDesk.Calculations.Moisture;

/// <summary>
/// The share of the cooking steam that an opening above the cooker takes out before it mixes with the room: none while
/// air enters by it, all it can take from a stated flow upwards, in proportion between. A jump instead of the slope would
/// leave air flows and temperatures that hang on each other without an answer. Our judgement.
/// </summary>
internal static class SteamCapture
{
    /// <summary>Share taken out, 0 to <paramref name="highestShare"/>.</summary>
    /// <param name="outM3PerS">Net air leaving by the openings above the cooker; negative while air enters.</param>
    /// <param name="highestShare">Most an opening takes, 0 to 1.</param>
    /// <param name="fullFlowM3PerS">Flow from which it takes the most, above 0.</param>
    public static double Share(double outM3PerS, double highestShare, double fullFlowM3PerS) =>
        highestShare * Math.Clamp(outM3PerS / fullFlowM3PerS, 0, 1);
}
