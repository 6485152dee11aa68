using System.Globalization;
using ConsultDesk.Calculations.Comfort;
using ConsultDesk.Calculations.Tests.Validation;
using static ConsultDesk.Calculations.Comfort.MouldSensitivity;
using static ConsultDesk.Calculations.Tests.Validation.Tolerance;

namespace ConsultDesk.Calculations.Tests.Comfort;

/// <summary>The mould growth model against its published equations, integrated exactly by hand.</summary>
public static class MouldChecks
{
    private const string Critical = "-0.00267 T^3 + 0.160 T^2 - 3.13 T + 100 (Hukka and Viitanen 1999 with its corrigendum), by hand";
    private const string Response = "exp(-0.68 ln T - 13.9 ln RH + 66.02) weeks (Hukka and Viitanen 1999, constants recalled), by hand";
    private const string Largest = "A + B x - C x^2, class table of Ojanen et al. 2010, by hand";
    private const string Integral = "exact integral of dM/dt = k1 (1 - exp(2.3 (M - Mmax)))/(7 tm), k1 switched at M = 1, worked apart from this code";
    private const string Decline = "0.00133 an hour for 6 h, none until 24 h, 0.000667 an hour after (Hukka and Viitanen 1999, read in public transcriptions), by hand";

    public static CheckGroup Group { get; } = new("Mould",
    [
        CriticalAt(5, 88.01625),
        CriticalAt(10, 82.03),
        CriticalAt(15, 80.03875),
        CriticalAt(20, 80.04),
        ResponseAt(20, 97, 1.483522686),
        ResponseAt(20, 90, 4.201945517),
        ResponseAt(20, 85, 9.30032726),
        ResponseAt(10, 90, 6.732103962),
        ResponseAt(5, 97, 3.807982869),
        LargestAt(VerySensitive, 97, 5.503917655),
        LargestAt(Sensitive, 97, 4.676207324),
        LargestAt(MediumResistant, 97, 3.04),
        LargestAt(Resistant, 90, 0.8888888889),
        LargestAt(VerySensitive, 100, 6),
        IndexAfter(VerySensitive, 97, 28, 4.36006299),
        IndexAfter(VerySensitive, 97, 90, 5.503917655),
        IndexAfter(VerySensitive, 90, 28, 0.9515877156),
        IndexAfter(VerySensitive, 90, 90, 3.963409177),
        IndexAfter(Sensitive, 97, 28, 1.372764782),
        IndexAfter(Sensitive, 97, 90, 3.635873439),
        IndexAfter(Sensitive, 90, 28, 0.5492170022),
        IndexAfter(Sensitive, 90, 90, 1.502153581),
        IndexAfter(MediumResistant, 97, 28, 0.193907638),
        IndexAfter(MediumResistant, 97, 90, 0.6227201895),
        IndexAfter(MediumResistant, 90, 90, 0.2112931645),
        IndexAfter(Resistant, 97, 28, 0.08725715175),
        IndexAfter(Resistant, 97, 90, 0.2789926924),
        IndexAfter(Resistant, 90, 90, 0.08650339653),
        Dried(6, 1, 3.99202),
        Dried(24, 1, 3.99202),
        Dried(48, 1, 3.976012),
        Dried(48, 0.25, 3.994003),
    ]);

    private static Check CriticalAt(double celsius, double expected) => new(
        "Critical relative humidity", At(celsius), expected, "%", Absolute(0.005), () => MouldIndex.CriticalHumidityPercent(celsius, VerySensitive), Critical, Sureness.Derived);

    private static Check ResponseAt(double celsius, double humidity, double expected) => new(
        "Time until the first growth on pine", At(celsius, humidity), expected, "weeks", Relative(1e-3), () => MouldIndex.ResponseWeeks(celsius, humidity), Response, Sureness.Derived);

    private static Check LargestAt(MouldSensitivity material, double humidity, double expected) => new(
        "Largest mould index", $"{material}, {At(20, humidity)}", expected, "-", Absolute(1e-3), () => MouldIndex.Largest(20, humidity, material), Largest, Sureness.Derived);

    // Hour by hour, as the year is run.
    private static Check IndexAfter(MouldSensitivity material, double humidity, int days, double expected) => new(
        "Mould index", string.Create(CultureInfo.InvariantCulture, $"{material}, {At(20, humidity)}, {days} days"), expected, "-", Absolute(0.01),
        () =>
        {
            MouldState state = default;
            for (int hour = 0; hour < 24 * days; hour++)
            {
                state = MouldIndex.After(state, 20, humidity, material, 1, 1);
            }

            return state.Index;
        },
        Integral, Sureness.Derived);

    private static Check Dried(int hours, double factor, double expected) => new(
        "Mould index that falls from 4", string.Create(CultureInfo.InvariantCulture, $"50 % for {hours} h, factor {factor}"), expected, "-", Absolute(1e-5),
        () =>
        {
            MouldState state = new(4, 0);
            for (int hour = 0; hour < hours; hour++)
            {
                state = MouldIndex.After(state, 20, 50, VerySensitive, factor, 1);
            }

            return state.Index;
        },
        Decline, Sureness.Derived);

    private static string At(double celsius) => string.Create(CultureInfo.InvariantCulture, $"{celsius} °C");

    private static string At(double celsius, double humidity) => string.Create(CultureInfo.InvariantCulture, $"{celsius} °C, {humidity} %");
}
