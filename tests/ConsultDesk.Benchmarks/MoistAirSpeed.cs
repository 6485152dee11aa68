using System.Globalization;
using System.Text;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Benchmarks;

/// <summary>
/// Our moist air against the npm package psychrolib in Node and against the same equations written plainly in C#, on the states and with the times that
/// tests/reference/moist-air-speed.mjs left a moment before. All times are processor time of this process, the least of several passes.
/// </summary>
internal static class MoistAirSpeed
{
    private const int Passes = 9;
    private const double LeastSeconds = 0.1;

    // The package solves for temperatures to a thousandth of a kelvin, and so does the plain version.
    private const double Agreement = 1e-3;

    private static double _kept;

    private delegate double Property(in State state);

    private readonly record struct State(double TemperatureC, double PressurePa, double VapourPa, double HumidityRatio, double SurfaceC);

    /// <summary>The table, in Markdown.</summary>
    /// <param name="statesFile">States: temperature, pressure, vapour pressure, humidity ratio, temperature of a surface.</param>
    /// <param name="timesFile">By property: nanoseconds a call and mean result of the package.</param>
    /// <exception cref="InvalidDataException">The two sides do not give the same.</exception>
    public static string Table(string statesFile, string timesFile)
    {
        State[] states = [.. File.ReadLines(statesFile).Select(Numbers).Select(v => new State(v[0], v[1], v[2], v[3], v[4]))];
        Dictionary<string, (double Nanoseconds, double Mean)> package = File.ReadLines(timesFile)
            .Select(line => (Name: line[..line.IndexOf(',', StringComparison.Ordinal)], Values: Numbers(line[(line.IndexOf(',', StringComparison.Ordinal) + 1)..])))
            .ToDictionary(line => line.Name, line => (line.Values[0], line.Values[1]));
        StringBuilder table = new();
        table.AppendLine("| property | psychrolib in Node, ns | plain C#, ns | ours, ns | ours faster than psychrolib | than plain C# |");
        table.AppendLine("| --- | ---: | ---: | ---: | ---: | ---: |");
        Row("saturation pressure", Plain.SaturationPa, (in State state) => MoistAir.SaturationPressurePa(state.SurfaceC));
        Row("saturation pressure", Plain.SaturationPa, (in State state) => SaturationTable.Pa(state.SurfaceC, out _), " and its slope, by table");
        Row("humidity ratio", Plain.HumidityRatio, (in State state) => MoistAir.HumidityRatio(state.VapourPa, state.PressurePa));
        Row("density", Plain.Density, (in State state) => MoistAir.DensityKgPerM3(state.TemperatureC, state.HumidityRatio, state.PressurePa));
        Row("enthalpy", Plain.Enthalpy, (in State state) => MoistAir.EnthalpyJPerKg(state.TemperatureC, state.HumidityRatio));
        Row("dew point", Plain.DewPointC, (in State state) => MoistAir.DewPointC(state.VapourPa));
        Row("wet bulb", Plain.WetBulbC, (in State state) => MoistAir.WetBulbC(state.TemperatureC, state.HumidityRatio, state.PressurePa));
        Lanes<FourLanes>();
        Lanes<EightLanes>();
        return table.ToString();

        void Lanes<TLane>()
            where TLane : struct, ILane<TLane>
        {
            Columns<TLane> columns = new(states);
            Compared("saturation pressure", string.Create(CultureInfo.InvariantCulture, $" and its slope, {TLane.Count} lanes"), Measured(states, Plain.SaturationPa), Measured(states.Length, columns.SaturationPa));
            Compared("humidity ratio", string.Create(CultureInfo.InvariantCulture, $", {TLane.Count} lanes"), Measured(states, Plain.HumidityRatio), Measured(states.Length, columns.HumidityRatio));
            Compared("density", string.Create(CultureInfo.InvariantCulture, $", {TLane.Count} lanes"), Measured(states, Plain.Density), Measured(states.Length, columns.Density));
            Compared("enthalpy", string.Create(CultureInfo.InvariantCulture, $", {TLane.Count} lanes"), Measured(states, Plain.Enthalpy), Measured(states.Length, columns.Enthalpy));
        }

        void Row(string name, Property plain, Property ours, string how = "") => Compared(name, how, Measured(states, plain), Measured(states, ours));

        void Compared(string name, string how, (double Nanoseconds, double Mean) plain, (double Nanoseconds, double Mean) ours)
        {
            (double packageNs, double packageMean) = package[name];
            (double plainNs, double plainMean) = plain;
            (double oursNs, double oursMean) = ours;
            if (!(Math.Abs((plainMean / packageMean) - 1) < Agreement && Math.Abs((oursMean / packageMean) - 1) < Agreement))
            {
                throw new InvalidDataException(string.Create(
                    CultureInfo.InvariantCulture, $"{name}{how}: mean of the package {packageMean}, plainly {plainMean}, ours {oursMean}."));
            }

            table.AppendLine(string.Create(
                CultureInfo.InvariantCulture,
                $"| {name}{how} | {packageNs:f1} | {plainNs:f1} | {oursNs:f1} | {packageNs / oursNs:f1} times | {plainNs / oursNs:f1} times |"));
        }
    }

    private static double[] Numbers(string line) => [.. line.Split(',').Select(text => double.Parse(text, CultureInfo.InvariantCulture))];

    private static (double Nanoseconds, double Mean) Measured(State[] states, Property property) => Measured(states.Length, () => Sum(states, property));

    private static (double Nanoseconds, double Mean) Measured(int count, Func<double> sum)
    {
        double least = double.PositiveInfinity;
        double total = 0;
        for (int pass = 0; pass < Passes; pass++)
        {
            TimeSpan start = Environment.CpuUsage.TotalTime;
            int rounds = 0;
            TimeSpan spent;
            do
            {
                total = sum();
                rounds++;
                spent = Environment.CpuUsage.TotalTime - start;
            }
            while (spent.TotalSeconds < LeastSeconds);
            least = Math.Min(least, spent.TotalNanoseconds / ((double)rounds * count));
        }

        // Kept, so that no call may be left out.
        _kept += total;
        return (least, total / count);
    }

    private static double Sum(State[] states, Property property)
    {
        double total = 0;
        for (int i = 0; i < states.Length; i++)
        {
            total += property(states[i]);
        }

        return total;
    }

    /// <summary>The same states column by column, several at once.</summary>
    private sealed class Columns<TLane>(State[] states)
        where TLane : struct, ILane<TLane>
    {
        private readonly TLane[] _temperatureC = Packed(states, state => state.TemperatureC);
        private readonly TLane[] _pressurePa = Packed(states, state => state.PressurePa);
        private readonly TLane[] _vapourPa = Packed(states, state => state.VapourPa);
        private readonly TLane[] _humidityRatio = Packed(states, state => state.HumidityRatio);
        private readonly TLane[] _surfaceC = Packed(states, state => state.SurfaceC);

        public double SaturationPa()
        {
            TLane sum = TLane.Zero;
            for (int i = 0; i < _surfaceC.Length; i++)
            {
                sum += SaturationTable.Pa(_surfaceC[i], out _);
            }

            return Total(sum);
        }

        public double HumidityRatio()
        {
            TLane sum = TLane.Zero;
            for (int i = 0; i < _vapourPa.Length; i++)
            {
                sum += MoistAir.HumidityRatio(_vapourPa[i], _pressurePa[i]);
            }

            return Total(sum);
        }

        public double Density()
        {
            TLane sum = TLane.Zero;
            for (int i = 0; i < _temperatureC.Length; i++)
            {
                sum += MoistAir.DensityKgPerM3(_temperatureC[i], _humidityRatio[i], _pressurePa[i]);
            }

            return Total(sum);
        }

        public double Enthalpy()
        {
            TLane sum = TLane.Zero;
            for (int i = 0; i < _temperatureC.Length; i++)
            {
                sum += MoistAir.EnthalpyJPerKg(_temperatureC[i], _humidityRatio[i]);
            }

            return Total(sum);
        }

        private static TLane[] Packed(State[] states, Func<State, double> number) =>
            [.. states.Select(number).Chunk(TLane.Count).Select(lanes => TLane.Load(lanes))];

        private static double Total(TLane sum)
        {
            double total = 0;
            for (int lane = 0; lane < TLane.Count; lane++)
            {
                total += sum[lane];
            }

            return total;
        }
    }

    /// <summary>The equations as they stand in the handbook (ASHRAE Handbook Fundamentals 2017 ch. 1), by the framework's powers, without any care for speed.</summary>
    private static class Plain
    {
        public static double SaturationPa(in State state) => SaturationPa(state.SurfaceC);

        public static double HumidityRatio(in State state) => 0.621945 * state.VapourPa / (state.PressurePa - state.VapourPa);

        public static double Density(in State state) =>
            (1 + state.HumidityRatio) / (287.042 * (state.TemperatureC + 273.15) * (1 + (1.607858 * state.HumidityRatio)) / state.PressurePa);

        public static double Enthalpy(in State state) =>
            1000 * ((1.006 * state.TemperatureC) + (state.HumidityRatio * (2501 + (1.86 * state.TemperatureC))));

        public static double DewPointC(in State state) => DewPointC(state.VapourPa, state.TemperatureC);

        public static double WetBulbC(in State state)
        {
            double high = state.TemperatureC;
            double vapourPa = state.PressurePa * state.HumidityRatio / (0.621945 + state.HumidityRatio);
            double low = DewPointC(vapourPa, high);
            while (high - low > 0.001)
            {
                double middle = (low + high) / 2;
                double saturated = SaturationPa(middle);
                double ratio = 0.621945 * saturated / (state.PressurePa - saturated);
                double w = (((2501 - (2.326 * middle)) * ratio) - (1.006 * (state.TemperatureC - middle))) / (2501 + (1.86 * state.TemperatureC) - (4.186 * middle));
                (low, high) = w > state.HumidityRatio ? (low, middle) : (middle, high);
            }

            return (low + high) / 2;
        }

        private static double DewPointC(double vapourPa, double startC)
        {
            double logarithm = Math.Log(vapourPa);
            double point = startC;
            double change;
            do
            {
                double t = point + 273.15;
                double slope = (5.8002206e3 / Math.Pow(t, 2)) - 4.8640239e-2 + (2 * 4.1764768e-5 * t) - (3 * 1.4452093e-8 * Math.Pow(t, 2)) + (6.5459673 / t);
                change = (Math.Log(SaturationPa(point)) - logarithm) / slope;
                point -= change;
            }
            while (Math.Abs(change) > 0.001);
            return point;
        }

        private static double SaturationPa(double temperatureC)
        {
            double t = temperatureC + 273.15;
            return temperatureC <= 0.01
                ? Math.Exp((-5.6745359e3 / t) + 6.3925247 - (9.677843e-3 * t) + (6.2215701e-7 * Math.Pow(t, 2)) + (2.0747825e-9 * Math.Pow(t, 3))
                    - (9.484024e-13 * Math.Pow(t, 4)) + (4.1635019 * Math.Log(t)))
                : Math.Exp((-5.8002206e3 / t) + 1.3914993 - (4.8640239e-2 * t) + (4.1764768e-5 * Math.Pow(t, 2)) - (1.4452093e-8 * Math.Pow(t, 3))
                    + (6.5459673 * Math.Log(t)));
        }
    }
}
