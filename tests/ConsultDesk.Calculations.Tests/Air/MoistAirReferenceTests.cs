using System.Globalization;
using System.IO.Compression;
using ConsultDesk.Calculations.Air;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Air;

/// <summary>
/// Ten thousand random states against an independent library: npm psychrolib 1.1.1, whose results
/// tests/reference/moist-air.mjs recorded. Its humidity below 0.01 degrees Celsius is over ice, ours over water, so
/// the file gives the degree of saturation.
/// </summary>
public sealed class MoistAirReferenceTests
{
    private const double Share = 1e-3;

    // The library solves for temperatures to 0.001 K, and the file gives them to 0.001 K.
    private const double WithinK = 0.002;

    private static readonly Lazy<Recorded[]> States = new(() => [.. Read()]);

    [Fact]
    public void The_file_holds_ten_thousand_states_of_the_whole_range()
    {
        Assert.Equal(10_000, States.Value.Length);
        Assert.InRange(States.Value.Min(state => state.Celsius), -60, -59);
        Assert.InRange(States.Value.Max(state => state.Celsius), 79, 80);
        Assert.InRange(States.Value.Min(state => state.Metres), -300, -250);
        Assert.InRange(States.Value.Max(state => state.Metres), 4950, 5000);
    }

    [Fact]
    public void Pressure_by_altitude_agrees() => Agree(
        state => state.Pascals, state => StandardAtmosphere.Pressure(Length.FromMeters(state.Metres)).Pascals);

    // The library never gives a humidity ratio below 1e-7, and 1e-7 instead: two states of very cold dry air.
    [Fact]
    public void Humidity_ratio_from_temperature_and_saturation_agrees() =>
        Agree(state => state.HumidityRatio, HumidityRatio, where: state => state.HumidityRatio > 1e-7);

    [Fact]
    public void Dew_point_agrees() => AgreeK(state => state.DewC, state => MoistAir.DewPointC(VapourPa(state)));

    [Fact]
    public void Wet_bulb_agrees() => AgreeK(state => state.WetC, WetBulbC, where: state => !BothWicksBalance(state));

    /// <summary>
    /// The one miss against the library: a little below 0 degrees Celsius an iced wick balances where a wet one a little above
    /// does too. The library's bisection then lands on ice; we give water, and keep the library's value as the other answer.
    /// </summary>
    [Fact]
    public void Where_a_wet_and_an_iced_wick_balance_the_wet_one_is_given()
    {
        Recorded[] both = [.. States.Value.Where(BothWicksBalance)];

        Assert.Equal(13, both.Length);
        Assert.All(both, state =>
        {
            Assert.InRange(state.WetC, -1, 0.01);
            Assert.InRange(WetBulbC(state), 0.01, 1);
            double ofIce = MoistAir.HumidityRatioFromWetBulb(state.Celsius, state.WetC, state.Pascals);
            Assert.InRange(ofIce - state.RatioOfWet, -Share * state.RatioOfWet, Share * state.RatioOfWet);
        });
    }

    // Zero is an arbitrary point of enthalpy: beside the share, what 0.001 K of dry air holds.
    [Fact]
    public void Enthalpy_agrees() => Agree(
        state => state.EnthalpyJPerKg,
        state => MoistAir.Enthalpy(
            Temperature.FromDegreesCelsius(state.Celsius), Ratio.FromDecimalFractions(HumidityRatio(state))).JoulesPerKilogram,
        besides: 1);

    [Fact]
    public void Volume_agrees() => Agree(state => state.VolumeM3PerKg, state => MoistAir.SpecificVolume(
        Temperature.FromDegreesCelsius(state.Celsius),
        Ratio.FromDecimalFractions(HumidityRatio(state)),
        Pressure.FromPascals(state.Pascals)).CubicMetersPerKilogram);

    [Fact]
    public void Humidity_ratio_from_dry_and_wet_bulb_agrees() => Agree(
        state => state.RatioOfWet,
        state => MoistAir.HumidityRatioFromWetBulb(state.Celsius, state.WetC, state.Pascals),
        // The library gives no ratio below 1e-7 and 1e-7 instead.
        where: state => state.RatioOfWet > 1e-7);

    [Fact]
    public void Saturation_from_temperature_and_dew_point_agrees() => Agree(
        state => state.SaturationOfDewPercent,
        state => 100 * MoistAir.SaturationPressurePa(state.DewC) / MoistAir.SaturationPressurePa(state.Celsius));

    [Fact]
    public void Every_pair_leads_back_to_the_vapour_pressure()
    {
        foreach (Recorded state in States.Value)
        {
            Pressure vapour = Pressure.FromPascals(VapourPa(state));
            Temperature dry = Temperature.FromDegreesCelsius(state.Celsius);
            Pressure total = Pressure.FromPascals(state.Pascals);

            Same(vapour, MoistAir.VapourPressure(dry, MoistAir.RelativeHumidity(dry, vapour)), state);
            Same(vapour, MoistAir.VapourPressure(MoistAir.HumidityRatio(vapour, total), total), state);
            Same(vapour, Pressure.FromPascals(MoistAir.SaturationPressurePa(MoistAir.DewPointC(vapour.Pascals))), state);
            double wetC = MoistAir.WetBulb(dry, vapour, total).DegreesCelsius;
            double ratio = MoistAir.HumidityRatioFromWetBulb(state.Celsius, wetC, state.Pascals);
            // The wet bulb is found to a billionth of a kelvin.
            Assert.Equal(HumidityRatio(state), ratio, 1e-11 + (1e-9 * HumidityRatio(state)));
        }
    }

    private static void Same(Pressure expected, Pressure back, Recorded state) =>
        Assert.True(Math.Abs(back / expected - 1) < 1e-7, $"{state}: {expected.Pascals} Pa came back as {back.Pascals} Pa");

    private static double VapourPa(Recorded state) => state.SaturationPercent / 100 * MoistAir.SaturationPressurePa(state.Celsius);

    private static double HumidityRatio(Recorded state) =>
        MoistAir.HumidityRatio(Pressure.FromPascals(VapourPa(state)), Pressure.FromPascals(state.Pascals)).DecimalFractions;

    private static void Agree(
        Func<Recorded, double> expected, Func<Recorded, double> computed, double besides = 0, Func<Recorded, bool>? where = null) =>
        AssertNone(
            where is null ? States.Value : [.. States.Value.Where(where)],
            expected,
            computed,
            state => besides + (Share * Math.Abs(expected(state))));

    private static void AgreeK(
        Func<Recorded, double> expected, Func<Recorded, double> computed, Func<Recorded, bool>? where = null) =>
        AssertNone(where is null ? States.Value : [.. States.Value.Where(where)], expected, computed, _ => WithinK);

    private static bool BothWicksBalance(Recorded state) =>
        state.WetC < MoistAir.TriplePointC && WetBulbC(state) >= MoistAir.TriplePointC;

    private static double WetBulbC(Recorded state) => MoistAir.WetBulb(
        Temperature.FromDegreesCelsius(state.Celsius),
        Pressure.FromPascals(VapourPa(state)),
        Pressure.FromPascals(state.Pascals)).DegreesCelsius;

    private static void AssertNone(
        Recorded[] states, Func<Recorded, double> expected, Func<Recorded, double> computed, Func<Recorded, double> allowed)
    {
        Assert.True(states.Length > 9000, $"Only {states.Length} states could be compared.");
        Recorded[] missed = [.. states.Where(state => !(Math.Abs(computed(state) - expected(state)) <= allowed(state)))];
        Assert.True(missed.Length == 0, $"{missed.Length} of {states.Length} states miss; the first: "
            + string.Join("; ", missed.Take(5).Select(state => $"{state}: expected {expected(state)}, computed {computed(state)}")));
    }

    private static IEnumerable<Recorded> Read()
    {
        using Stream file = typeof(MoistAirReferenceTests).Assembly.GetManifestResourceStream("moist-air-reference.csv.gz")
            ?? throw new InvalidOperationException("moist-air-reference.csv.gz is not embedded.");
        using StreamReader lines = new(new GZipStream(file, CompressionMode.Decompress));
        while (lines.ReadLine() is string line)
        {
            if (line[0] is '#' or 't')
            {
                continue;
            }

            double[] v = [.. line.Split(',').Select(text => double.Parse(text, CultureInfo.InvariantCulture))];
            yield return new Recorded(v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8], v[9], v[10]);
        }
    }

    private sealed record Recorded(
        double Celsius,
        double Metres,
        double SaturationPercent,
        double Pascals,
        double DewC,
        double WetC,
        double HumidityRatio,
        double EnthalpyJPerKg,
        double VolumeM3PerKg,
        double RatioOfWet,
        double SaturationOfDewPercent);
}
