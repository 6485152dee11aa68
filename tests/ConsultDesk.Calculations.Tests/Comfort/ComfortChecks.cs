using System.Globalization;
using ConsultDesk.Calculations.Comfort;
using ConsultDesk.Calculations.Tests.Validation;
using static ConsultDesk.Calculations.Tests.Validation.Tolerance;

namespace ConsultDesk.Calculations.Tests.Comfort;

/// <summary>Comfort indices against the tables of their standards, and the air's speed before openings.</summary>
public static class ComfortChecks
{
    // ISO 7730 Table D.1 has thirteen rows; the open data set leaves out the seventh, whose recalled print the standard's own program does not give.
    private const string Iso = "ISO 7730:2005 Table D.1, in the open set of validation data for comfort models (F. Tartarini, commit 038795d1)";
    private const string Ashrae55 = "ASHRAE 55-2017, table of the PMV program's check, in the same open set";
    private const string SetTable = "ASHRAE 55-2017, table of the SET program's check, in the same open set; tolerance of that set";
    private const string Effects = "regression values of a public comfort library, in the same open set; no standard named";
    private const string JetLaw = "U0 = Q/(Cd A), K U0 sqrt(Cd A)/x, by hand";

    public static CheckGroup Group { get; } = new("Comfort",
    [
        .. Vote(1, 22, 22, 0.1, 60, 1.2, 0.5, -0.8, 16.9),
        .. Vote(2, 27, 27, 0.1, 60, 1.2, 0.5, 0.8, 17.3),
        .. Vote(3, 27, 27, 0.3, 60, 1.2, 0.5, 0.4, 8.9),
        .. Vote(4, 23.5, 25.5, 0.1, 60, 1.2, 0.5, 0, 5.0),
        .. Vote(5, 23.5, 25.5, 0.3, 60, 1.2, 0.5, -0.6, 11.4),
        .. Vote(6, 19, 19, 0.1, 40, 1.2, 1, -0.6, 12.5),
        .. Vote(8, 23.5, 23.5, 0.3, 40, 1.2, 1, 0.1, 5.3),
        .. Vote(9, 23, 21, 0.1, 40, 1.2, 1, 0.1, 5.1),
        .. Vote(10, 23, 21, 0.3, 40, 1.2, 1, -0.2, 5.6),
        .. Vote(11, 22, 22, 0.1, 60, 1.6, 0.5, 0.1, 5.0),
        .. Vote(12, 27, 27, 0.1, 60, 1.6, 0.5, 1.2, 33.9),
        .. Vote(13, 27, 27, 0.3, 60, 1.6, 0.5, 0.9, 24.1),
        Ashrae(19.6, 19.6, 0.1, 86, 1.1, 1, -0.5),
        Ashrae(23.9, 23.9, 0.1, 66, 1.1, 1, 0.5),
        Ashrae(25.7, 25.7, 0.1, 15, 1.1, 1, 0.5),
        Ashrae(21.2, 21.2, 0.1, 20, 1.1, 1, -0.5),
        Ashrae(23.6, 23.6, 0.1, 67, 1.1, 0.5, -0.5),
        Ashrae(27.9, 27.9, 0.1, 13, 1.1, 0.5, 0.5),
        Ashrae(24.7, 24.7, 0.1, 16, 1.1, 0.5, -0.5),
        Set(25, 25, 0.15, 10, 1, 0.5, 23.3),
        Set(20, 25, 0.15, 50, 1, 0.5, 21.5),
        Set(30, 25, 0.15, 50, 1, 0.5, 26.4),
        Set(40, 25, 0.15, 50, 1, 0.5, 34.3),
        Set(25, 25, 0.15, 90, 1, 0.5, 24.9),
        Set(25, 25, 0.1, 50, 1, 0.5, 24.0),
        Set(25, 25, 0.6, 50, 1, 0.5, 21.3),
        Set(25, 25, 3, 50, 1, 0.5, 18.6),
        Set(25, 10, 0.15, 50, 1, 0.5, 15.3),
        Set(25, 40, 0.15, 50, 1, 0.5, 31.6),
        Set(25, 25, 0.15, 50, 1, 0.1, 20.7),
        Set(25, 25, 0.15, 50, 1, 1, 27.2),
        Set(25, 25, 0.15, 50, 1, 2, 32.4),
        Set(25, 25, 0.15, 50, 1, 4, 37.6),
        Set(25, 25, 0.15, 50, 0.8, 0.5, 23.3),
        Set(25, 25, 0.15, 50, 2, 0.5, 25.9),
        Set(25, 25, 0.15, 50, 4, 0.5, 30.5),
        Set(25, 25, 0.15, 50, 1, 0.5, 23.8),
        Set(25, 25, 1.1, 50, 2, 0.5, 24.0),
        Set(25, 25, 1.1, 50, 3, 0.5, 27.4),
        Set(25, 25, 1.1, 50, 4, 0.5, 30.3),
        Set(25, 25, 1.1, 50, 1.5, 0.5, 22.3),
        Set(25, 25, 1.1, 50, 1.5, 0.75, 24.8),
        Set(25, 25, 1.1, 50, 1.5, 0.1, 17.6),
        Set(29, 25, 1.1, 50, 1.5, 0.5, 25.0),
        Set(27, 25, 1.1, 50, 1.5, 0.75, 26.2),
        Set(20, 25, 1.1, 50, 1.5, 0.1, 13.3),
        Set(25, 27, 1.1, 50, 1.5, 0.5, 22.9),
        Set(25, 27, 1.3, 50, 1.5, 0.5, 22.5),
        Set(25, 29, 1.5, 50, 1.5, 0.5, 22.8),
        Set(25, 31, 1.7, 50, 1.5, 0.5, 23.1),
        Effect(30, 30, 0.1, 10, 1, 0.5, 0),
        Effect(30, 30, 1.1, 10, 1, 0.5, 3.64),
        Effect(30, 30, 2.1, 10, 1, 0.5, 4.32),
        Effect(30, 30, 3.1, 10, 1, 0.5, 4.69),
        Effect(30, 30, 0.1, 35, 1, 0.5, 0),
        Effect(30, 30, 1.1, 35, 1, 0.5, 3.55),
        Effect(30, 30, 2.1, 35, 1, 0.5, 4.25),
        Effect(30, 30, 3.1, 35, 1, 0.5, 4.61),
        Effect(30, 30, 0.1, 60, 1, 0.5, 0),
        Effect(30, 30, 1.1, 60, 1, 0.5, 3.4),
        Effect(30, 30, 2.1, 60, 1, 0.5, 4.1),
        Effect(30, 30, 3.1, 60, 1, 0.5, 4.46),
        Effect(25, 25, 0.05, 50, 1, 0.6, 0),
        Effect(27, 25, 0.5, 50, 1, 0.6, 1.85),
        Effect(31, 25, 0.5, 50, 1, 0.6, 1.42),
        Effect(25, 27, 0.5, 50, 1, 0.6, 2.44),
        Effect(25, 29, 0.5, 50, 1, 0.6, 2.81),
        Effect(25, 25, 0.2, 50, 1, 0.6, 0.67),
        Effect(25, 25, 0.8, 50, 1, 0.6, 2.93),
        Effect(25, 25, 0.5, 60, 1, 0.6, 2.13),
        Effect(25, 25, 0.5, 20, 1, 0.6, 2.29),
        Effect(25, 25, 0.5, 60, 1.3, 0.6, 2.84),
        Effect(25, 25, 0.5, 60, 1.6, 0.6, 3.5),
        Effect(25, 25, 0.5, 60, 1, 0.3, 2.41),
        Effect(25, 25, 0.5, 60, 1, 1, 2.05),
        new("Speed before an exhaust", "3 m/s in a duct of 250 mm, at 250 mm", 0.2, "m/s", Absolute(0.02),
            () => FreeJet.DrawnMPerS(3 * Math.PI * 0.25 * 0.25 / 4, Math.PI * 0.25 * 0.25 / 4, 0.25),
            "worked example of an engineering handbook on line (exhaust outlets, 0.2 m/s)", Sureness.Read),
        new("Speed on a jet's axis", "0.1 m3/s, 0.06 m2, Cd 0.6, at 2 m, K 5.7", 1.50208, "m/s", Relative(1e-4),
            () => FreeJet.AxisMPerS(0.1, 0.06, 0.6, 2, 5.7), JetLaw, Sureness.Derived),
        new("Speed in a jet's core", "0.1 m3/s, 0.06 m2, Cd 0.6, at 0.5 m, K 5.7", 2.77778, "m/s", Relative(1e-4),
            () => FreeJet.AxisMPerS(0.1, 0.06, 0.6, 0.5, 5.7), JetLaw, Sureness.Derived),
        new("Speed on a jet's axis", "a round nozzle, 30 diameters away: U0/U, K = 1.13 x 6.11", 4.91, "-", Relative(0.01),
            () => 1 / FreeJet.AxisMPerS(Math.PI / 4 * 1e-2, Math.PI / 4 * 1e-2, 1, 3, 1.1284 * 6.11),
            "A. A. Abdel-Rahman et al., Mechanics Research Communications 23 (1996): U/U0 = 6.11 d/x measured at Re 19,400", Sureness.Read),
    ]);

    private static Check[] Vote(int row, double air, double radiant, double speed, double humidity, double met, double clo, double pmv, double ppd)
    {
        ComfortState state = ComfortState.At(air, radiant, speed, humidity, met, clo);
        return
        [
            new("Predicted mean vote", $"row {row}: {Words(air, radiant, speed, humidity, met, clo)}", pmv, "-", Absolute(0.1), () => PredictedMeanVote.Vote(state), Iso, Sureness.Read),
            new("Predicted percentage of dissatisfied", $"row {row}: {Words(air, radiant, speed, humidity, met, clo)}", ppd, "%", Absolute(1),
                () => PredictedMeanVote.DissatisfiedPercent(PredictedMeanVote.Vote(state)), Iso, Sureness.Read),
        ];
    }

    private static Check Ashrae(double air, double radiant, double speed, double humidity, double met, double clo, double pmv) => new(
        "Predicted mean vote", Words(air, radiant, speed, humidity, met, clo), pmv, "-", Absolute(0.1),
        () => PredictedMeanVote.Vote(ComfortState.At(air, radiant, speed, humidity, met, clo)), Ashrae55, Sureness.Read);

    private static Check Set(double air, double radiant, double speed, double humidity, double met, double clo, double set) => new(
        "Standard effective temperature", Words(air, radiant, speed, humidity, met, clo), set, "°C", Absolute(0.5),
        () => StandardEffectiveTemperature.OfC(ComfortState.At(air, radiant, speed, humidity, met, clo)), SetTable, Sureness.Read);

    private static Check Effect(double air, double radiant, double speed, double humidity, double met, double clo, double kelvin) => new(
        "Cooling effect of moving air", Words(air, radiant, speed, humidity, met, clo), kelvin, "K", Absolute(0.1),
        () => CoolingEffect.OfK(ComfortState.At(air, radiant, speed, humidity, met, clo)), Effects, Sureness.Read);

    private static string Words(double air, double radiant, double speed, double humidity, double met, double clo) => string.Create(
        CultureInfo.InvariantCulture, $"{air}/{radiant} °C, {speed} m/s, {humidity} %, {met} met, {clo} clo");
}
