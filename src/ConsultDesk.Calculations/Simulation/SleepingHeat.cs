using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// When an hour asleep is hot: the bed zone's temperature less the credit for moving air lies above a threshold. The
/// credit is the cooling effect of elevated air speed (ASHRAE 55) for a person lying still.
/// </summary>
/// <remarks>
/// An exhausting fan gives almost no air speed at the bed: the breeze is at the open window. So only a window of the bed
/// zone that stands open asleep, a roof fan of that zone that blows in, and a circulation fan at the bed earn a credit.
/// Our judgement, until a comfort method takes its place.
/// </remarks>
internal static class SleepingHeat
{
    // Still air earns nothing. ASHRAE 55 cooling effect at 25 C and 50 % for 1 met and 0.6 clo, tabled values for 0.2, 0.5 and 0.8 m/s.
    private static readonly double[] SpeedsMPerS = [0.1, 0.2, 0.5, 0.8];
    private static readonly double[] CreditsK = [0, 0.67, 2.17, 2.93];

    // The tabled effect still holds at 30 C; from there it falls to nothing at skin temperature. Our judgement.
    private const double FullCreditUpToC = 30;

    /// <summary>Air speed at the bed of a design, m/s: the largest of what earns a credit, otherwise 0.</summary>
    public static double SpeedMPerS(Design design, string bedZoneId, Assumptions assumed)
    {
        double speed = 0;
        if (design.CirculationFans.Any(fan => fan.Running && (fan.ZoneA == bedZoneId || fan.ZoneB == bedZoneId)))
        {
            speed = assumed["breeze-circulation-fan"];
        }

        bool breeze = design.Openings.Any(opening =>
            opening.ZoneId == bedZoneId && opening.Position != Position.Shut && opening.Facts.OpenAsleep
            && (opening.Kind is OpeningKind.SlidingWindow or OpeningKind.HingedWindow or OpeningKind.CabWindow
                || opening.Fan is { Direction: FanDirection.Intake, Speed: > 0 }));
        return breeze ? Math.Max(speed, assumed["breeze-window"]) : speed;
    }

    /// <summary>Credit for an air speed at an air temperature, K.</summary>
    public static double CreditK(double speedMPerS, double airC, double endsC)
    {
        int row = 1;
        while (row < SpeedsMPerS.Length - 1 && SpeedsMPerS[row] < speedMPerS)
        {
            row++;
        }

        double share = (Math.Clamp(speedMPerS, SpeedsMPerS[0], SpeedsMPerS[^1]) - SpeedsMPerS[row - 1]) / (SpeedsMPerS[row] - SpeedsMPerS[row - 1]);
        double creditK = CreditsK[row - 1] + (share * (CreditsK[row] - CreditsK[row - 1]));
        return creditK * Math.Clamp((endsC - airC) / (endsC - FullCreditUpToC), 0, 1);
    }
}
