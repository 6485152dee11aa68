using ConsultDesk.Calculations.Airflow;
using ConsultDesk.Calculations.Tests.Airflow;
using UnitsNet;
using static ConsultDesk.Calculations.Tests.Airflow.Cabin;
using static ConsultDesk.Calculations.Tests.Validation.Tolerance;

namespace ConsultDesk.Calculations.Tests.Validation;

/// <summary>Openings, cracks, stack, wind, fans, two-way exchange and age of air.</summary>
public static class AirflowChecks
{
    private const string Bernoulli = "Q = Cd A sqrt(2 dp/rho) (Bernoulli)";
    private const string PowerLaw = "Q = C dp^n with n 0.65 from 100 m3/h at 50 Pa; form in ASHRAE Design Guide for Cleanrooms eq. 8.7";
    private const string LeakageArea = "L = Q/Cd sqrt(rho/(2 dp)) of 100 m3/h at 50 Pa and n 0.65; the reference pressures and Cd are conventions recalled";
    private const string ExactStack = "exact mass balance of two openings, rho = 353.05/T on both sides";
    private const string AshraeStack =
        "Q = Cd A sqrt(2 g H (Ti-To)/Ti) by hand, ASHRAE Fundamentals 1997 p. 25.13 eq. 37, quoted; its temperature form and the mass balance differ by 1 to 6 %";
    private const string NeutralLevel = "h = H/(1+(A low/A high)^2 Ti/To), ASHRAE Fundamentals ch. 16 recalled; equals the exact mass balance";
    private const string FanCurve = "parabola dp = P0 (1-(Q/Q0)^2) against an orifice: Q = sqrt(P0/(rho/2/(Cd A)^2 + P0/Q0^2))";
    private const string SealedIn = "parabola against a laminar crack Q = C dp: x = (-b + sqrt(b^2 + 4))/2 with b = Q0/(C P0)";
    private const string FanLaws = "fan laws: flow with speed, pressure with speed squared and density";
    private const string SwamiChandra = "Swami and Chandra 1988, ASHRAE Transactions 94(1), equation recalled; same values seen in a public listing";
    private const string Age = "(sum of inflow) age_i = V_i + sum q_ji age_j; definitions Sandberg 1981 and AIVC glossary 1992";
    private const string PressureTable = "table of factors to 50 Pa in a door-fan manual (0.65 by its values)";
    private const string Balance = "Age of air in the zones";
    private const string BrownSolvason = "(Cd/3) W H^1.5 sqrt(g dT/T), Brown and Solvason 1962, recalled";
    private const string Epstein = "0.055 sqrt(g drho/rho D^5), D the circle of the same area, Epstein 1988, recalled";

    public static CheckGroup Group { get; } = new("Airflow",
    [
        Orifice(0.61, 0.01, 4, 1.2, 15.7501),
        Orifice(0.65, 0.01, 1, 1.2, 8.3915),
        Orifice(0.6, 0.02, 10, 1.2041, 48.9063),
        Orifice(0.65, 0.126451, 2, 1.2, 150.0635),
        new("Orifice flow", "Cd 1, 2 ft2, 0.05 inches of water, 1.2 kg/m3", 844.7, "L/s", Relative(0.005),
            () => OrificeLPerS(1, 0.185806, 12.4420, 1.2),
            "worked example of a leakage formula in trade literature: 4005 sqrt(0.05) x 2 ft2 = 895 ft/min x 2 = 1790 (printed 1800) ft3/min", Sureness.Read),
        new("Effective area of two openings in series", "0.02 and 0.01 m2", 0.008944, "m2", Relative(1e-4),
            () => EffectiveAreaM2([0.02], [0.01]), "1/A^2 = 1/A1^2 + 1/A2^2 at equal Cd", Sureness.Derived) { Equation = "Effective area" },
        new("Effective area of openings side by side", "0.02 and 0.01 m2, in series with 0.03 m2", 0.0212132, "m2", Relative(1e-4),
            () => EffectiveAreaM2([0.02, 0.01], [0.03]), "areas side by side add; 0.03/sqrt(2) in series", Sureness.Derived) { Equation = "Effective area" },

        new("Crack coefficient C", "effective leakage area 20.833 cm2, n 0.65", 0.0021846, "m3/(s Pa^n)", Relative(1e-3),
            () => CrackM3PerS(1), PowerLaw, Sureness.Derived) { Equation = "Crack flow" },
        Crack(4, 19.3646),
        Crack(10, 35.1293),
        Crack(50, 100),
        FactorTo50(40, 1.16),
        FactorTo50(25, 1.57),
        FactorTo50(20, 1.81),
        FactorTo50(10, 2.85),
        FactorTo50(5, 4.47),
        new("Flow at 50 Pa over leakage area", "1 square inch at 4 Pa and Cd 1, n 0.65", 18.2, "ft3/min", Relative(0.005),
            () => 2118.88 * CrackM3PerS(50) / (20.833 / 6.4516), "a load calculation's help page: ELA4 in square inches = CFM50 / 18.2", Sureness.Read)
        {
            Equation = "Effective leakage area",
        },
        Leakage(4, 1, 20.833),
        Leakage(10, 0.611, 39.1202),
        Leakage(10, 1, 23.9025),
        Leakage(50, 1, 30.429),

        StackMass(0.01, 0.01, 8.53751),
        StackMass(0.02, 0.01, 10.68656),
        StackMass(0.01, 0.02, 10.91546),
        StackVolume(0.01, 0.01, 6.7252),
        StackVolume(0.02, 0.01, 8.5068),
        StackVolume(0.01, 0.02, 8.5068),
        Neutral(0.01, 0.01, 0.77175),
        Neutral(0.02, 0.01, 0.30229),
        Neutral(0.01, 0.02, 1.26153),

        new("Stack pressure per metre", "23 °C inside, 10 °C outside", 0.54, "Pa/m", Absolute(0.005),
            () => StackPaPerM(23, 10), "worked stair calculation after ASHRAE HVAC Applications ch. 53 eq. 17: 3460 (1/283.2 - 1/296.2)", Sureness.Read),
        new("Dynamic pressure", "4005 ft/min, standard air", 249.089, "Pa", Relative(0.005),
            () => WindPressure.DynamicPressure(Density.FromKilogramsPerCubicMeter(1.2), Speed.FromFeetPerMinute(4005)).Pascals,
            "V = 4005 sqrt(VP): 4005 ft/min at 1 inch of water, in an airflow meter's brochure and in trade literature", Sureness.Read),
        new("Dynamic pressure", "5 m/s, 1.2 kg/m3", 15, "Pa", Relative(1e-4),
            () => WindPressure.DynamicPressure(Density.FromKilogramsPerCubicMeter(1.2), Speed.FromMetersPerSecond(5)).Pascals,
            "rho U^2/2", Sureness.Derived),
        new("Cross-ventilation by wind", "3 m/s, two openings of 0.02 m2, dCp 1, Cd 0.65", 27.5772, "L/s", Relative(1e-4),
            CrossWindLPerS, "Q = Cd Aeff U sqrt(dCp)", Sureness.Derived),

        Fan(0.02, 0.10298),
        Fan(0.04, 0.18991),
        Fan(0.06, 0.25484),
        Fan(0.09, 0.31751),
        Fan(0.126, 0.35869),
        new("Share of free air of a fan sealed in", "0.42 m3/s, 40 Pa, laminar crack of 100 cm2 at 4 Pa", 47.5665, "%", Relative(1e-3),
            () => SealedFan(1, 1.2).ShareOfFreeAirFlow.Percent, SealedIn, Sureness.Derived),
        new("Share of free air of a fan sealed in", "the same at half speed", 28.2797, "%", Relative(1e-3),
            () => SealedFan(0.5, 1.2).ShareOfFreeAirFlow.Percent, SealedIn, Sureness.Derived),
        new("Suction of a fan sealed in", "0.42 m3/s, 40 Pa, laminar crack of 100 cm2 at 4 Pa", 30.9497, "Pa", Relative(1e-3),
            () => SealedFan(1, 1.2).PressureRise.Pascals, SealedIn, Sureness.Derived) { Equation = "Share of free air of a fan sealed in" },
        new("Power of a fan", "a tenth faster", 1.33, "-", Absolute(0.005),
            () => Calculations.Heating.FanPower.DrawW(40, 0, 0.55) / Calculations.Heating.FanPower.DrawW(40, 0, 0.5),
            "a tenth more air asks for 33 % more power: fan laws in trade literature", Sureness.Read),
        new("Shut-off pressure", "40 Pa fan at half speed", 10, "Pa", Relative(1e-6),
            () => SealedFan(0.5, 1.2).ShutOffPressure.Pascals, FanLaws, Sureness.Derived),
        new("Shut-off pressure", "40 Pa fan in air of 0.96 kg/m3", 32, "Pa", Relative(1e-6),
            () => SealedFan(1, 0.96).ShutOffPressure.Pascals, FanLaws, Sureness.Derived),

        Wall(0, 0.603),
        Wall(30, 0.469),
        Wall(60, 0.119),
        Wall(90, -0.443),
        Wall(120, -0.681),
        Wall(150, -0.390),
        Wall(180, -0.364),

        new("Two-way flow through a vertical opening", "formula: Cd 0.6, 0.4 m wide, 0.5 m high, 20/0 °C", 23.540, "L/s", Relative(1e-3),
            () => TwoWayExchange.Vertical(0.6, Metres(0.4), Metres(0.5), Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(0))
                .LitersPerSecond,
            BrownSolvason, Sureness.Derived),
        // The smoothing near zero (0.001 Pa) and the solver take next to nothing of what 0.1 Pa drives.
        new("Two-way flow through a vertical opening", "network: Cd 0.6, 0.4 m wide, 0.5 m high, 20/0 °C, nothing else open", 23.540, "L/s", Relative(2e-3),
            VerticalOpeningLPerS, BrownSolvason, Sureness.Derived),
        new("Two-way flow through a horizontal opening", "formula: 0.35 x 0.35 m under air at 0 °C, 20 °C below", 4.48681, "L/s", Relative(1e-4),
            () => TwoWayExchange.Horizontal(SquareMetres(0.1225), DryAir(20), DryAir(0)).LitersPerSecond, Epstein, Sureness.Derived),
        new("Two-way flow through a horizontal opening", "network: 0.35 x 0.35 m under air at 0 °C, 20 °C below, nothing else open", 4.48681, "L/s", Relative(1e-4),
            HorizontalOpeningLPerS, Epstein, Sureness.Derived),

        new("Age of air in zone 3", "6, 4 and 2 m3 in series, 30 m3/h", 24, "min", Relative(1e-3), () => ThreeZones(0)[2], Age, Sureness.Derived) { Equation = Balance },
        new("Age of air in zone 3", "the same with 15 m3/h back from 3 to 2", 24, "min", Relative(1e-3), () => ThreeZones(15)[2], Age, Sureness.Derived) { Equation = Balance },
        new("Age of air in zone 2", "6, 4 and 2 m3 in series, 30 m3/h and 15 m3/h back from 3 to 2", 21.3333, "min", Relative(1e-3), () => ThreeZones(15)[1],
            "45 a2 = 240 + 30 x 12 + 15 x 24 in min and m3/h, by hand", Sureness.Derived) { Equation = Balance },
        .. AgeRows("series", [[0, 0, 30], [30, 0, 0], [0, 30, 0]], 12, 20, 15.2, 65.7895, 1),
        .. AgeRows("series and 60 m3/h of mixing", [[0, 60, 30], [90, 0, 0], [0, 30, 0]], 17.3333, 20, 18.4, 54.3478, 1),
        .. AgeRows("supply and exhaust in 1, 10 m3/h of exchange", [[0, 10, 30], [10, 0, 0], [30, 0, 0]], 20, 44, 29.6, 33.7838, 0.4545),
        .. AgeRows("side by side 20 and 10 m3/h", [[0, 0, 20], [0, 0, 10], [20, 10, 0]], 18, 24, 20.4, 49.0196, 0.8333),
    ]);

    private static Check Orifice(double cd, double areaM2, double pressurePa, double density, double expectedLPerS) => new(
        "Orifice flow",
        FormattableString.Invariant($"Cd {cd}, {areaM2} m2, {pressurePa} Pa, {density} kg/m3"),
        expectedLPerS, "L/s", Relative(1e-4),
        () => OrificeLPerS(cd, areaM2, pressurePa, density),
        Bernoulli, Sureness.Derived);

    private static double OrificeLPerS(double cd, double areaM2, double pressurePa, double density)
    {
        var cabin = new Cabin();
        AirNode zone = cabin.Builder.AddZone("cabin", Volume.FromCubicMeters(10));
        int inlet = cabin.Builder.AddOrifice("inlet", Outside, zone, Metres(1), SquareMetres(areaM2), cd);
        cabin.Builder.AddOrifice("outlet", zone, Outside, Metres(1), SquareMetres(areaM2), cd);
        cabin.Compile(DryAirC(density));
        cabin.State.PathWindPressurePa[inlet] = 2 * pressurePa;
        return cabin.Solve().ForwardFlow(inlet).LitersPerSecond;
    }

    private static Check FactorTo50(double pascals, double expected) => new(
        "Factor from a flow to the flow at 50 Pa", FormattableString.Invariant($"measured at {pascals} Pa, n 0.65"), expected, "-", Absolute(0.01),
        () => CrackM3PerS(50) / CrackM3PerS(pascals), PressureTable, Sureness.Read)
    {
        Equation = "Crack flow",
    };

    private static double StackPaPerM(double insideC, double outsideC)
    {
        var cabin = new Cabin();
        AirNode zone = cabin.Builder.AddZone("cabin", Volume.FromCubicMeters(10));
        int low = cabin.Builder.AddOrifice("low", Outside, zone, Metres(0), SquareMetres(0.01));
        int high = cabin.Builder.AddOrifice("high", Outside, zone, Metres(1), SquareMetres(0.01));
        cabin.Compile(insideC);
        cabin.State.OutdoorTemperatureC = outsideC;
        AirFlowSolution air = cabin.Solve();
        return DropPa(air.ForwardFlow(low), air.OutdoorDensityKgPerM3) + DropPa(air.BackwardFlow(high), air.ZoneDensityKgPerM3[0]);

        // Back from the flow of an orifice of 0.01 m2.
        static double DropPa(VolumeFlow flow, double density) => density / 2 * Math.Pow(
            flow.CubicMetersPerSecond / (AirNetworkBuilder.SharpEdgedDischargeCoefficient * 0.01), 2);
    }

    private static double EffectiveAreaM2(double[] inletsM2, double[] outletsM2)
    {
        const double PressurePa = 10;
        const double Density = 1.2;
        var cabin = new Cabin();
        AirNode zone = cabin.Builder.AddZone("cabin", Volume.FromCubicMeters(10));
        int[] inlets = [.. inletsM2.Select((area, i) =>
            cabin.Builder.AddOrifice($"inlet {i}", Outside, zone, Metres(1), SquareMetres(area)))];
        foreach (double area in outletsM2)
        {
            cabin.Builder.AddOrifice("outlet", zone, Outside, Metres(1), SquareMetres(area));
        }

        cabin.Compile(DryAirC(Density));
        foreach (int inlet in inlets)
        {
            cabin.State.PathWindPressurePa[inlet] = PressurePa;
        }

        double flow = cabin.Solve().OutdoorAir().CubicMetersPerSecond;
        return flow / (AirNetworkBuilder.SharpEdgedDischargeCoefficient * Math.Sqrt(2 * PressurePa / Density));
    }

    private static Check Crack(double pressurePa, double expectedM3PerHour) => new(
        "Crack flow", FormattableString.Invariant($"effective leakage area 20.833 cm2, n 0.65, {pressurePa} Pa"),
        expectedM3PerHour, "m3/h", Relative(1e-3), () => 3600 * CrackM3PerS(pressurePa), PowerLaw, Sureness.Derived);

    private static Check Leakage(double pressurePa, double cd, double expectedCm2) => new(
        "Effective leakage area", FormattableString.Invariant($"at {pressurePa} Pa and Cd {cd}"),
        expectedCm2, "cm2", Relative(1e-3),
        () => 1e4 * CrackM3PerS(pressurePa) / cd * Math.Sqrt(1.2 / (2 * pressurePa)), LeakageArea, Sureness.Derived);

    private static double CrackM3PerS(double pressurePa)
    {
        var cabin = new Cabin();
        AirNode zone = cabin.Builder.AddZone("cabin", Volume.FromCubicMeters(10));
        int inlet = cabin.Builder.AddCrack("inlet", Outside, zone, Metres(1), SquareCentimetres(20.833), 0.65);
        cabin.Builder.AddCrack("outlet", zone, Outside, Metres(1), SquareCentimetres(20.833), 0.65);
        cabin.Compile(StandardAirC);
        cabin.State.PathWindPressurePa[inlet] = 2 * pressurePa;
        return cabin.Solve().ForwardFlow(inlet).CubicMetersPerSecond;
    }

    private static string StackInputs(double lowM2, double highM2) =>
        FormattableString.Invariant($"{lowM2} m2 low, {highM2} m2 high, 1.6 m apart, 20/0 °C, Cd 0.65");

    private static Check StackMass(double lowM2, double highM2, double expectedGPerS) => new(
        "Stack mass flow", StackInputs(lowM2, highM2), expectedGPerS, "g/s", Relative(1e-3),
        () => 1000 * Stack(lowM2, highM2).Solve().NetMassFlowKgPerS[0], ExactStack, Sureness.Derived);

    private static Check StackVolume(double lowM2, double highM2, double expectedLPerS) => new(
        "Stack volume flow in at outdoor density", StackInputs(lowM2, highM2), expectedLPerS, "L/s", Relative(0.06),
        () => Stack(lowM2, highM2).Solve().OutdoorAir().LitersPerSecond, AshraeStack, Sureness.Derived);

    private static Check Neutral(double lowM2, double highM2, double expectedM) => new(
        "Neutral level above the lower opening", StackInputs(lowM2, highM2), expectedM, "m", Absolute(1e-3),
        () =>
        {
            AirFlowSolution air = Stack(lowM2, highM2).Solve();
            return -air.ZonePressurePa[0]
                / (TwoWayExchange.GravityMPerS2 * (air.OutdoorDensityKgPerM3 - air.ZoneDensityKgPerM3[0]));
        },
        NeutralLevel, Sureness.Derived);

    private static Cabin Stack(double lowM2, double highM2)
    {
        var cabin = new Cabin();
        AirNode zone = cabin.Builder.AddZone("cabin", Volume.FromCubicMeters(10));
        cabin.Builder.AddOrifice("low", Outside, zone, Metres(0), SquareMetres(lowM2), 0.65);
        cabin.Builder.AddOrifice("high", zone, Outside, Metres(1.6), SquareMetres(highM2), 0.65);
        cabin.Compile(20);
        cabin.State.OutdoorTemperatureC = 0;
        return cabin;
    }

    private static double CrossWindLPerS()
    {
        var cabin = new Cabin();
        AirNode zone = cabin.Builder.AddZone("cabin", Volume.FromCubicMeters(10));
        int windward = cabin.Builder.AddOrifice("windward", Outside, zone, Metres(1), SquareMetres(0.02), 0.65);
        int leeward = cabin.Builder.AddOrifice("leeward", zone, Outside, Metres(1), SquareMetres(0.02), 0.65);
        cabin.Compile(StandardAirC);
        double dynamicPa = WindPressure.DynamicPressure(Density.FromKilogramsPerCubicMeter(1.2), Speed.FromMetersPerSecond(3)).Pascals;
        cabin.State.PathWindPressurePa[windward] = 0.6 * dynamicPa;
        cabin.State.PathWindPressurePa[leeward] = -0.4 * dynamicPa;
        return cabin.Solve().ForwardFlow(leeward).LitersPerSecond;
    }

    private static Check Fan(double inletM2, double expectedM3PerS) => new(
        "Fan against an inlet", FormattableString.Invariant($"0.425 m3/s, 40 Pa, inlet {inletM2} m2, Cd 0.65"),
        expectedM3PerS, "m3/s", Relative(1e-3),
        () =>
        {
            var cabin = new Cabin();
            AirNode zone = cabin.Builder.AddZone("cabin", Volume.FromCubicMeters(10));
            cabin.Builder.AddOrifice("inlet", Outside, zone, Metres(1), SquareMetres(inletM2), 0.65);
            int fan = cabin.Builder.AddFan(
                "fan", zone, Outside, Metres(1.9), VolumeFlow.FromCubicMetersPerSecond(0.425), Pressure.FromPascals(40));
            return cabin.Compile(StandardAirC).Solve().ForwardFlow(fan).CubicMetersPerSecond;
        },
        FanCurve, Sureness.Derived);

    private static FanOperatingPoint SealedFan(double speed, double density)
    {
        var cabin = new Cabin();
        AirNode zone = cabin.Builder.AddZone("cabin", Volume.FromCubicMeters(10));
        cabin.Builder.AddCrack("leakage", Outside, zone, Metres(1), SquareCentimetres(100), 1);
        int fan = cabin.Builder.AddFan(
            "fan", zone, Outside, Metres(1.9), VolumeFlow.FromCubicMetersPerSecond(0.42), Pressure.FromPascals(40));
        cabin.Compile(StandardAirC);
        cabin.State.BarometricPressurePa *= density / 1.2;
        cabin.State.FanSpeed[fan] = speed;
        return cabin.Solve().FanPoint(fan)!;
    }

    private static Check Wall(double degrees, double expected) => new(
        "Wall pressure coefficient, square plan", FormattableString.Invariant($"wind {degrees}° from the normal"),
        expected, "-", Absolute(1e-3), () => WindPressure.WallCoefficient(Angle.FromDegrees(degrees)), SwamiChandra, Sureness.Derived);

    private static double VerticalOpeningLPerS()
    {
        var cabin = new Cabin();
        AirNode zone = cabin.Builder.AddZone("cabin", Volume.FromCubicMeters(10));
        int window = cabin.Builder.AddVerticalOpening(
            "window", Outside, zone, Metres(1), Metres(1.5), SquareMetres(0.2), 0.6);
        cabin.Compile(20);
        cabin.State.OutdoorTemperatureC = 0;
        return MeanVolumeFlow(cabin.Solve(), window).LitersPerSecond;
    }

    private static double HorizontalOpeningLPerS()
    {
        var cabin = new Cabin();
        AirNode zone = cabin.Builder.AddZone("cabin", Volume.FromCubicMeters(10));
        int lid = cabin.Builder.AddHorizontalOpening("lid", zone, Outside, Metres(1.9), SquareMetres(0.1225));
        cabin.Compile(20);
        cabin.State.OutdoorTemperatureC = 0;
        return MeanVolumeFlow(cabin.Solve(), lid).LitersPerSecond;
    }

    // With no net flow both directions carry the same mass; the formulas take one density for both sides.
    private static VolumeFlow MeanVolumeFlow(AirFlowSolution air, int path) => VolumeFlow.FromCubicMetersPerSecond(
        (air.ForwardMassFlowKgPerS[path] + air.BackwardMassFlowKgPerS[path])
        / (air.OutdoorDensityKgPerM3 + air.ZoneDensityKgPerM3[0]));

    private static double[] ThreeZones(double backM3PerHour)
    {
        // Rows: into; columns: from zones 1 to 3 and outside. One density everywhere: 1 kg/m3.
        double[] transport = [.. new double[] { 0, 0, 0, 30, 30, 0, backM3PerHour, 0, 0, 30 + backM3PerHour, 0, 0, 0, 0, 30, 0 }.Select(flow => flow / 3600)];
        var ages = new double[3];
        AgeOfAir.Solve(transport, [6, 4, 2], ages);
        return [.. ages.Select(age => age / 60)];
    }

    private static IEnumerable<Check> AgeRows(
        string what, double[][] intoFromM3PerHour, double age1, double age2, double mean, double efficiency, double index2)
    {
        string inputs = $"6 and 4 m3, 30 m3/h, {what}";
        return
        [
            new("Age of air in zone 1", inputs, age1, "min", Relative(1e-3), () => Ages()[0], Age, Sureness.Derived) { Equation = Balance },
            new("Age of air in zone 2", inputs, age2, "min", Relative(1e-3), () => Ages()[1], Age, Sureness.Derived) { Equation = Balance },
            new("Age of air at the exhaust", inputs, 20, "min", Relative(1e-3), ExhaustAge, Age, Sureness.Derived) { Equation = Balance },
            new("Mean age of air by volume", inputs, mean, "min", Relative(1e-3), MeanAge, Age, Sureness.Derived),
            new("Air exchange efficiency", inputs, efficiency, "%", Relative(1e-3), () => 100 * 20 / (2 * MeanAge()), Age, Sureness.Derived),
            new("Local air change index of zone 2", inputs, index2, "-", Relative(1e-3), () => 20 / Ages()[1], Age, Sureness.Derived),
        ];

        double MeanAge() => ((6 * Ages()[0]) + (4 * Ages()[1])) / 10;

        double ExhaustAge() => ((intoFromM3PerHour[2][0] * Ages()[0]) + (intoFromM3PerHour[2][1] * Ages()[1])) / 30;

        double[] Ages()
        {
            // One density everywhere: 1 kg/m3.
            double[] transport = [.. intoFromM3PerHour.SelectMany(row => row).Select(flow => flow / 3600)];
            var ages = new double[2];
            AgeOfAir.Solve(transport, [6, 4], ages);
            return [.. ages.Select(age => age / 60)];
        }
    }
}
