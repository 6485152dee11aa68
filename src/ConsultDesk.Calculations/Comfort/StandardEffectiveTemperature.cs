namespace ConsultDesk.Calculations.Comfort;

/// <summary>
/// Standard effective temperature of ASHRAE 55: the air temperature of a still room at 50 % humidity, radiant the same, in
/// which a person in the clothing standard for the activity would lose the same heat with the same skin temperature and
/// wetness. The body is Gagge's two nodes, core and skin, after an hour.
/// </summary>
/// <remarks>
/// A. P. Gagge, A. P. Fobelets and L. G. Berglund, A standard predictive index of human response to the thermal
/// environment, ASHRAE Transactions 92 (1986), with the constants of the program in ASHRAE 55 and radiation by ASHRAE Fundamentals. A person standing or sitting;
/// used for sleepers by comparing two states of the same person only. Sea level.
/// </remarks>
public static class StandardEffectiveTemperature
{
    /// <summary>Air and mean radiant temperature.</summary>
    public static readonly ValidRange TemperatureRange = new("Temperature for a standard effective temperature", 0, 50, "°C");

    /// <summary>Air speed; below 0.1 m/s the model counts 0.1, its own still air.</summary>
    public static readonly ValidRange SpeedRange = new("Air speed for a standard effective temperature", 0, 4, "m/s");

    /// <summary>Vapour pressure, up to saturation at 40 degrees Celsius.</summary>
    public static readonly ValidRange VapourRange = new("Vapour pressure for a standard effective temperature", 0, 7400, "Pa");

    /// <summary>Metabolic rate; 0.7 is asleep.</summary>
    public static readonly ValidRange MetRange = new("Metabolic rate for a standard effective temperature", 0.7, 4, "met");

    /// <summary>Clothing.</summary>
    public static readonly ValidRange CloRange = new("Clothing for a standard effective temperature", 0, 4, "clo");

    /// <summary>Air speed of still air: that of the standard room, m/s.</summary>
    public const double StillMPerS = 0.1;

    private const double WPerMet = 58.2;
    private const double M2KPerWPerClo = 0.155;
    private const double PaPerTorr = 133.322;
    private const double SkinM2 = 1.8258;
    private const double BodyKg = 69.9;
    private const double SkinNeutralC = 33.7;
    private const double CoreNeutralC = 36.8;
    private const double BodyNeutralC = 36.49;
    private const double BloodNeutral = 6.3;
    private const double SweatGain = 170;
    private const double MostSweat = 500;
    private const double DilationGain = 120;
    private const double ConstrictionGain = 0.5;
    private const double LewisKPerTorr = 2.2;
    private const double StefanBoltzmann = 5.6697e-8;

    // Emissivity of skin and cloth times the radiating share of a standing body (ASHRAE Fundamentals, thermal comfort; recalled).
    private const double RadiatingShare = 0.95 * 0.73;
    private const double CalmConvection = 3;
    private const double StirringFromMet = 0.85;
    private const int Minutes = 60;
    private const int MostRounds = 200;

    /// <summary>Standard effective temperature, degrees Celsius.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside the range of the method.</exception>
    /// <exception cref="ComfortNotFoundException">A temperature was not found.</exception>
    public static double OfC(ComfortState state) => OfC(state, activityStirs: true);

    /// <summary>
    /// The same, with or without the air that the person's own movement stirs: the cooling effect of ASHRAE 55 leaves it out.
    /// </summary>
    internal static double OfC(ComfortState state, bool activityStirs)
    {
        TemperatureRange.Check(state.AirC, nameof(state));
        TemperatureRange.Check(state.RadiantC, nameof(state));
        SpeedRange.Check(state.AirSpeedMPerS, nameof(state));
        VapourRange.Check(state.VapourPressurePa, nameof(state));
        MetRange.Check(state.Met, nameof(state));
        CloRange.Check(state.Clo, nameof(state));
        return Unchecked(state, activityStirs);
    }

    /// <summary>True when the method was made for the state.</summary>
    internal static bool Covers(in ComfortState state) => TemperatureRange.Contains(state.AirC) && TemperatureRange.Contains(state.RadiantC)
        && SpeedRange.Contains(state.AirSpeedMPerS) && VapourRange.Contains(state.VapourPressurePa) && MetRange.Contains(state.Met) && CloRange.Contains(state.Clo);

    /// <summary>The same for a state known to be in range, and for the still room of a scale that runs on beyond it.</summary>
    internal static double Unchecked(in ComfortState state, bool activityStirs) => StandardRoomC(AfterAnHour(state, activityStirs), state.Met);

    // What an hour does to the body: heat lost by the skin, its temperature, its wetness, and the radiant coefficient.
    private readonly record struct Body(double SkinLossWPerM2, double SkinC, double Wetness, double RadiationWPerM2K);

    private static Body AfterAnHour(in ComfortState state, bool activityStirs)
    {
        double vapourTorr = state.VapourPressurePa / PaPerTorr;
        double speed = Math.Max(state.AirSpeedMPerS, StillMPerS);
        double clothing = M2KPerWPerClo * state.Clo;
        double areaFactor = 1 + (0.15 * state.Clo);
        double wettest = state.Clo <= 0 ? 0.38 * Math.Pow(speed, -0.29) : 0.59 * Math.Pow(speed, -0.08);
        double vapourEfficiency = state.Clo <= 0 ? 1 : 0.45;
        double convection = Math.Max(activityStirs ? StandardConvection(state.Met) : CalmConvection, 8.600001 * Math.Pow(speed, 0.53));
        double rest = WPerMet * state.Met;

        double metabolism = rest;
        double skinC = SkinNeutralC;
        double coreC = CoreNeutralC;
        double blood = BloodNeutral;
        double skinShare = 0.1;
        double evaporation = 0.1 * state.Met;
        double radiation = 4.7;
        double wetness = 0;
        double dry = 0;
        double surfaceC = FirstSurfaceC(state, clothing, areaFactor, convection, radiation);
        for (int minute = 0; minute < Minutes; minute++)
        {
            surfaceC = SurfaceC(state, skinC, clothing, areaFactor, convection, surfaceC, ref radiation);
            double total = radiation + convection;
            double operativeC = ((radiation * state.RadiantC) + (convection * state.AirC)) / total;
            dry = (skinC - operativeC) / ((1 / (areaFactor * total)) + clothing);
            double toSkin = (coreC - skinC) * (5.28 + (1.163 * blood));
            double breath = (0.0023 * metabolism * (44 - vapourTorr)) + (0.0014 * metabolism * (34 - state.AirC));
            double stored = metabolism - toSkin - breath;
            double storedSkin = toSkin - dry - evaporation;
            skinC += storedSkin * SkinM2 / (0.97 * skinShare * BodyKg * 60);
            coreC += stored * SkinM2 / (0.97 * (1 - skinShare) * BodyKg * 60);

            double bodyC = (skinShare * skinC) + ((1 - skinShare) * coreC);
            double warmSkin = Math.Max(0, skinC - SkinNeutralC);
            double coldSkin = Math.Max(0, SkinNeutralC - skinC);
            double warmCore = Math.Max(0, coreC - CoreNeutralC);
            double coldCore = Math.Max(0, CoreNeutralC - coreC);
            double warmBody = Math.Max(0, bodyC - BodyNeutralC);
            // Blood flow and sweat have ends in the model itself: what vessels carry and glands give.
            blood = Math.Clamp((BloodNeutral + (DilationGain * warmCore)) / (1 + (ConstrictionGain * coldSkin)), 0.5, 90);
            double sweat = Math.Min(MostSweat, SweatGain * warmBody * Math.Exp(warmSkin / 10.7));
            (evaporation, wetness) = Evaporation(0.68 * sweat, skinC, vapourTorr, clothing, areaFactor, convection, vapourEfficiency, wettest);
            metabolism = rest + (19.4 * coldSkin * coldCore);
            skinShare = 0.0417737 + (0.7451833 / (blood + 0.585417));
        }

        return new Body(dry + evaporation, skinC, wetness, radiation);
    }

    private static double FirstSurfaceC(in ComfortState state, double clothing, double areaFactor, double convection, double radiation)
    {
        double total = radiation + convection;
        double operativeC = ((radiation * state.RadiantC) + (convection * state.AirC)) / total;
        return operativeC + ((SkinNeutralC - operativeC) / (total * ((1 / (areaFactor * total)) + clothing)));
    }

    // Surface of the clothing and radiant coefficient hang on each other.
    private static double SurfaceC(
        in ComfortState state, double skinC, double clothing, double areaFactor, double convection, double surfaceC, ref double radiation)
    {
        for (int round = 0; round < MostRounds; round++)
        {
            double total = radiation + convection;
            double operativeC = ((radiation * state.RadiantC) + (convection * state.AirC)) / total;
            double film = 1 / (areaFactor * total);
            double nextC = ((film * skinC) + (clothing * operativeC)) / (film + clothing);
            bool settled = Math.Abs(nextC - surfaceC) <= 0.01;
            surfaceC = nextC;
            if (settled)
            {
                return surfaceC;
            }

            radiation = 4 * StefanBoltzmann * Math.Pow(((surfaceC + state.RadiantC) / 2) + 273.15, 3) * RadiatingShare;
        }

        throw new ComfortNotFoundException("The clothing's surface temperature was not found.");
    }

    private static (double LossWPerM2, double Wetness) Evaporation(
        double sweat, double skinC, double vapourTorr, double clothing, double areaFactor, double convection, double vapourEfficiency, double wettest)
    {
        double most = (SaturationTorr(skinC) - vapourTorr)
            / ((1 / (LewisKPerTorr * areaFactor * convection)) + (clothing / (LewisKPerTorr * vapourEfficiency)));
        if (most < 0)
        {
            return (most, wettest);
        }

        double wetness = 0.06 + (0.94 * sweat / most);
        if (wetness <= wettest)
        {
            return (wetness * most, wetness);
        }

        // Sweat that drips cools nothing.
        double share = wettest / 0.94;
        return ((share * most) + (0.06 * (1 - share) * most), wettest);
    }

    // Heat lost by the same skin in a still room at 50 % falls as the room gets warmer, so a halving finds it.
    private static double StandardRoomC(in Body body, double met)
    {
        double convection = StandardConvection(met);
        double total = convection + body.RadiationWPerM2K;
        double clo = (1.52 / (met + 0.6944)) - 0.1835;
        double clothing = M2KPerWPerClo * clo;
        double areaFactor = 1 + (0.25 * clo);
        double share = 1 / (1 + (M2KPerWPerClo * areaFactor * total * clo));
        double ratio = convection / total;
        double vapourEfficiency = 0.45 * ratio * (1 - share) / (ratio - (share * 0.45));
        double dry = 1 / ((1 / (areaFactor * total)) + clothing);
        double wet = 1 / ((1 / (LewisKPerTorr * areaFactor * convection)) + (clothing / (LewisKPerTorr * vapourEfficiency)));
        double skinTorr = SaturationTorr(body.SkinC);
        double low = -100;
        double high = 100;
        for (int round = 0; round < MostRounds; round++)
        {
            double middle = (low + high) / 2;
            double lost = (dry * (body.SkinC - middle)) + (body.Wetness * wet * (skinTorr - (0.5 * SaturationTorr(middle))));
            (low, high) = lost > body.SkinLossWPerM2 ? (middle, high) : (low, middle);
            if (high - low < 1e-6)
            {
                return (low + high) / 2;
            }
        }

        throw new ComfortNotFoundException("The standard effective temperature was not found.");
    }

    // Of a body that moves as its activity asks, in still air, W/(m2 K).
    private static double StandardConvection(double met) => met < StirringFromMet
        ? CalmConvection
        : Math.Max(CalmConvection, 5.66 * Math.Pow(met - StirringFromMet, 0.39));

    private static double SaturationTorr(double celsius) => Math.Exp(18.6686 - (4030.183 / (celsius + 235)));
}
