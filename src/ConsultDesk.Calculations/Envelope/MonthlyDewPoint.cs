using System.Collections.Immutable;
using UnitsNet;

namespace ConsultDesk.Calculations.Envelope;

/// <summary>Mean room and outdoor air of a month.</summary>
/// <param name="Room">Room temperature.</param>
/// <param name="RoomVapour">Vapour pressure of the room air.</param>
/// <param name="Outdoor">Outdoor temperature.</param>
/// <param name="OutdoorVapour">Vapour pressure of the outdoor air.</param>
/// <param name="Length">Length of the month.</param>
public sealed record MonthClimate(Temperature Room, Pressure RoomVapour, Temperature Outdoor, Pressure OutdoorVapour, Duration Length);

/// <summary>A plane inside an assembly that gets wet.</summary>
/// <param name="Place">Where it lies, in words.</param>
/// <param name="ByMonth">Water on it at the end of each month, mass per square metre, in the order of the climate.</param>
public sealed record WetPlane(string Place, ImmutableArray<Mass> ByMonth);

/// <summary>A year of an assembly by the monthly dew-point method.</summary>
public sealed record MonthlyCondensation
{
    /// <summary>Planes that get wet, from the room outwards; empty when nothing condenses.</summary>
    public required ImmutableArray<WetPlane> Planes { get; init; }

    /// <summary>Water on all planes at the end of each month, mass per square metre, in the order of the climate.</summary>
    public required ImmutableArray<Mass> ByMonth { get; init; }

    /// <summary>True when nothing is left at the end of some month; false when water stays the whole year and adds up.</summary>
    public required bool Dries { get; init; }
}

/// <summary>A point of an assembly in a month, from the room side's surface outwards.</summary>
/// <param name="Layer">Index of the layer that ends here or that the point lies in; 0 for the room side's surface.</param>
/// <param name="VapourThickness">Vapour-equivalent air layer thickness sd between the room side's surface and this point.</param>
/// <param name="Temperature">Mean temperature of the month.</param>
/// <param name="Saturation">Saturation pressure at that temperature.</param>
/// <param name="Vapour">Vapour pressure; nowhere above <paramref name="Saturation"/>.</param>
/// <param name="Gathers">Water that condenses here in the month, mass per square metre; negative where it dries.</param>
/// <param name="Held">Water here at the end of the month, mass per square metre.</param>
public sealed record VapourPoint(int Layer, Length VapourThickness, Temperature Temperature, Pressure Saturation, Pressure Vapour, Mass Gathers, Mass Held);

/// <summary>
/// Condensation inside layered assemblies by month (ISO 13788): steady temperatures, vapour by diffusion alone,
/// condensation where the vapour pressure would exceed saturation, the water carried from month to month and
/// evaporated from the planes that hold it. Any number of planes.
/// </summary>
/// <remarks>
/// The method knows no air through gaps, no storage, no liquid transport and no hours; it compares assemblies, it does not
/// foretell grams. docs/method/walls.md.
/// </remarks>
public static class MonthlyDewPoint
{
    /// <summary>Vapour permeability of air, kg/(m s Pa) (ISO 13788, recalled).</summary>
    public const double AirPermeability = 2e-10;

    /// <summary>Vapour-equivalent thickness of an air layer, whatever its thickness, m (ISO 13788, recalled).</summary>
    public const double AirLayerSdM = 0.01;

    /// <summary>Vapour-equivalent thickness a sheet of metal or glass counts with, m. Our judgement: more changes nothing.</summary>
    public const double ImperviousSdM = 1e6;

    /// <summary>Layers of more thermal resistance are divided, m2 K/W (ISO 13788:2012, recalled).</summary>
    public const double LargestSliceM2KPerW = 0.25;

    // Grams per square metre below this are rounding, kg/m2.
    private const double NothingKgPerM2 = 1e-12;

    /// <summary>Calculates a year.</summary>
    /// <param name="assembly">The layers.</param>
    /// <param name="flow">Direction of the heat in the cold season.</param>
    /// <param name="months">Twelve months in the order of the year.</param>
    /// <exception cref="ArgumentException">The assembly breaks a rule of <see cref="AssemblyRules"/>, or there are not twelve months.</exception>
    public static MonthlyCondensation Year(LayeredAssembly assembly, HeatFlow flow, ImmutableArray<MonthClimate> months)
    {
        AssemblyResistance resistance = ThermalTransmittance.Of(assembly, flow);
        return Year(
            Slices(assembly, resistance),
            resistance.InsideSurface.SquareMeterKelvinsPerWatt,
            resistance.OutsideSurface.SquareMeterKelvinsPerWatt,
            Plain(months));
    }

    /// <summary>Temperature, saturation and vapour pressure through an assembly in each month, with the water its planes hold.</summary>
    /// <param name="assembly">The layers.</param>
    /// <param name="flow">Direction of the heat in the cold season.</param>
    /// <param name="months">Twelve months in the order of the year.</param>
    /// <returns>For each month the points from the room side's surface outwards: both surfaces and the planes between slices.</returns>
    /// <exception cref="ArgumentException">The assembly breaks a rule of <see cref="AssemblyRules"/>, or there are not twelve months.</exception>
    public static ImmutableArray<ImmutableArray<VapourPoint>> Profiles(LayeredAssembly assembly, HeatFlow flow, ImmutableArray<MonthClimate> months)
    {
        AssemblyResistance resistance = ThermalTransmittance.Of(assembly, flow);
        ImmutableArray<Slice> slices = Slices(assembly, resistance);
        Section section = new(slices, resistance.InsideSurface.SquareMeterKelvinsPerWatt, resistance.OutsideSurface.SquareMeterKelvinsPerWatt);
        ImmutableArray<MonthAir> plain = Plain(months);
        return [.. plain.Zip(Run(section, slices.Length - 1, plain), (month, water) => Profile(section, slices, month, water))];
    }

    private static ImmutableArray<VapourPoint> Profile(Section section, ImmutableArray<Slice> slices, MonthAir month, MonthWater water)
    {
        double[] temperatureC = section.TemperatureC(month);
        double[] saturationPa = section.SaturationPa(month);
        double[] vapourPa = section.VapourPa(month, water.BeforeKgPerM2);
        ImmutableArray<VapourPoint>.Builder points = ImmutableArray.CreateBuilder<VapourPoint>(temperatureC.Length);
        for (int point = 0; point < temperatureC.Length; point++)
        {
            bool isPlane = point > 0 && point < temperatureC.Length - 1;
            points.Add(new VapourPoint(
                point == 0 ? 0 : slices[point - 1].Layer,
                Length.FromMeters(section.SdM(point)),
                Temperature.FromDegreesCelsius(temperatureC[point]),
                Pressure.FromPascals(saturationPa[point]),
                Pressure.FromPascals(vapourPa[point]),
                Mass.FromKilograms(isPlane ? water.AfterKgPerM2[point - 1] - water.BeforeKgPerM2[point - 1] : 0),
                Mass.FromKilograms(isPlane ? water.AfterKgPerM2[point - 1] : 0)));
        }

        return points.MoveToImmutable();
    }

    // The months in plain numbers, once there are twelve of them.
    private static ImmutableArray<MonthAir> Plain(ImmutableArray<MonthClimate> months)
    {
        if (months.IsDefault || months.Length != 12)
        {
            throw new ArgumentException($"There are {(months.IsDefault ? 0 : months.Length)} months; expected twelve.", nameof(months));
        }

        return
        [
            .. months.Select(month => new MonthAir(
                month.Room.DegreesCelsius,
                month.RoomVapour.Pascals,
                month.Outdoor.DegreesCelsius,
                month.OutdoorVapour.Pascals,
                month.Length.Seconds)),
        ];
    }

    /// <summary>Saturation pressure by the method's own equation, which differs from that of the room's air by 0.1 %.</summary>
    public static Pressure Saturation(Temperature temperature) => Pressure.FromPascals(SaturationPressurePa(temperature.DegreesCelsius));

    /// <summary>
    /// Saturation pressure of the standard: 610.5 exp(17.269 t/(237.3 + t)) Pa, below freezing 610.5 exp(21.875 t/(265.5 + t)).
    /// It differs from Hyland and Wexler by 0.1 % between 0 and 30 degrees; the method keeps its own.
    /// </summary>
    internal static double SaturationPressurePa(double temperatureC) => temperatureC >= 0
        ? 610.5 * Math.Exp(17.269 * temperatureC / (237.3 + temperatureC))
        : 610.5 * Math.Exp(21.875 * temperatureC / (265.5 + temperatureC));

    /// <summary>A year of slices from the room outwards.</summary>
    internal static MonthlyCondensation Year(ImmutableArray<Slice> slices, double insideM2KPerW, double outsideM2KPerW, ImmutableArray<MonthAir> months)
    {
        int planes = slices.Length - 1;
        double[][] water = [.. Run(new Section(slices, insideM2KPerW, outsideM2KPerW), planes, months).Select(month => month.AfterKgPerM2)];
        return new MonthlyCondensation
        {
            Planes =
            [
                .. Enumerable.Range(0, Math.Max(0, planes))
                    .Where(plane => water.Any(month => month[plane] > 0))
                    .Select(plane => new WetPlane(
                        Place(slices[plane], slices[plane + 1]), [.. water.Select(month => Mass.FromKilograms(month[plane]))])),
            ],
            ByMonth = [.. water.Select(month => Mass.FromKilograms(month.Sum()))],
            Dries = water.Any(month => month.Sum() == 0),
        };
    }

    // Water on the planes before and after each month; the first month of the longest wet season begins dry.
    private static MonthWater[] Run(Section section, int planes, ImmutableArray<MonthAir> months)
    {
        if (planes < 0)
        {
            // Outdoor air stands before the first layer: there is no inside.
            return [.. months.Select(_ => new MonthWater([], []))];
        }

        double[] dry = new double[planes];
        bool[] condenses = [.. months.Select(month => section.Rates(month, dry).Any(rate => rate > 0))];
        MonthWater[] water = [.. months.Select(_ => new MonthWater(dry, dry))];
        int first = FirstMonth(condenses);
        if (first >= 0)
        {
            double[] held = dry;
            for (int step = 0; step < months.Length; step++)
            {
                int month = (first + step) % months.Length;
                double[] rates = section.Rates(months[month], held);
                double[] after = [.. held.Select((kg, plane) => Kept(kg + (rates[plane] * months[month].LengthS)))];
                water[month] = new MonthWater(held, after);
                held = after;
            }
        }

        return water;
    }

    private static double Kept(double kgPerM2) => kgPerM2 > NothingKgPerM2 ? kgPerM2 : 0;

    private static string Place(Slice inner, Slice outer) =>
        inner.Name == outer.Name ? $"inside the {inner.Name}" : $"between {inner.Name} and {outer.Name}";

    // The month that begins a season of condensation after the longest time without; -1 when nothing condenses, 0 when it always does.
    private static int FirstMonth(bool[] condenses)
    {
        if (!condenses.Contains(true))
        {
            return -1;
        }

        int first = 0;
        int longest = 0;
        for (int month = 0; month < condenses.Length; month++)
        {
            int gap = 0;
            while (gap < condenses.Length && !condenses[(month - 1 - gap + (2 * condenses.Length)) % condenses.Length])
            {
                gap++;
            }

            if (condenses[month] && gap > longest)
            {
                (first, longest) = (month, gap);
            }
        }

        return first;
    }

    private static ImmutableArray<Slice> Slices(LayeredAssembly assembly, AssemblyResistance resistance)
    {
        ImmutableArray<Slice>.Builder slices = ImmutableArray.CreateBuilder<Slice>();
        for (int k = 0; k < assembly.Layers.Length; k++)
        {
            double layerM2KPerW = resistance.Layers[k].SquareMeterKelvinsPerWatt;
            switch (assembly.Layers[k])
            {
                case AirLayer { Ventilation: AirLayerVentilation.WellVentilated }:
                    // Outdoor air stands behind the layer before it.
                    return slices.ToImmutable();
                case AirLayer:
                    slices.Add(new Slice("air layer", layerM2KPerW, AirLayerSdM, k));
                    break;
                case MembraneLayer membrane:
                    slices.Add(new Slice(membrane.Name, 0, membrane.VapourEquivalentThickness.Meters, k));
                    break;
                case SolidLayer solid:
                    Material material = Materials.Get(solid.Material);
                    string name = material.Name;
                    double facingM = material.Facings.Meters / 2;
                    if (facingM > 0)
                    {
                        slices.Add(new Slice("facing of the " + name, 0, facingM, k));
                    }

                    double coreM = Math.Min(ImperviousSdM, material.VapourResistanceFactor * solid.Thickness.Meters);
                    int parts = Math.Max(1, (int)Math.Ceiling(layerM2KPerW / LargestSliceM2KPerW));
                    for (int part = 0; part < parts; part++)
                    {
                        slices.Add(new Slice(name, layerM2KPerW / parts, coreM / parts, k));
                    }

                    if (facingM > 0)
                    {
                        slices.Add(new Slice("facing of the " + name, 0, facingM, k));
                    }

                    break;
            }
        }

        return slices.ToImmutable();
    }

    /// <summary>A slice of an assembly.</summary>
    /// <param name="Name">What it is, in words.</param>
    /// <param name="ResistanceM2KPerW">Thermal resistance, 0 or more.</param>
    /// <param name="SdM">Vapour-equivalent air layer thickness, above 0.</param>
    /// <param name="Layer">Index of the layer it is part of.</param>
    internal readonly record struct Slice(string Name, double ResistanceM2KPerW, double SdM, int Layer = 0);

    /// <summary>Water on each plane before and after a month, kg/m2.</summary>
    private sealed record MonthWater(double[] BeforeKgPerM2, double[] AfterKgPerM2);

    /// <summary>A month in plain numbers.</summary>
    internal readonly record struct MonthAir(double RoomC, double RoomPa, double OutdoorC, double OutdoorPa, double LengthS);

    /// <summary>The planes between slices, and what condenses on them in a month.</summary>
    internal sealed class Section
    {
        private readonly double _insideM2KPerW;
        private readonly double _totalM2KPerW;
        private readonly double[] _resistanceM2KPerW;
        private readonly double[] _sdM;

        /// <summary>From slices from the room outwards.</summary>
        public Section(ImmutableArray<Slice> slices, double insideM2KPerW, double outsideM2KPerW)
        {
            // Point 0 is the room side, the last the outside; the planes lie between.
            _insideM2KPerW = insideM2KPerW;
            _resistanceM2KPerW = new double[slices.Length + 1];
            _sdM = new double[slices.Length + 1];
            for (int k = 0; k < slices.Length; k++)
            {
                _resistanceM2KPerW[k + 1] = _resistanceM2KPerW[k] + slices[k].ResistanceM2KPerW;
                _sdM[k + 1] = _sdM[k] + slices[k].SdM;
            }

            _totalM2KPerW = insideM2KPerW + _resistanceM2KPerW[^1] + outsideM2KPerW;
        }

        /// <summary>Vapour-equivalent thickness from the room side to a point.</summary>
        public double SdM(int point) => _sdM[point];

        /// <summary>Temperature at each point of a month.</summary>
        public double[] TemperatureC(MonthAir month) =>
            [.. _resistanceM2KPerW.Select(resistance => month.RoomC - ((month.RoomC - month.OutdoorC) * (_insideM2KPerW + resistance) / _totalM2KPerW))];

        /// <summary>Saturation pressure at each point of a month.</summary>
        public double[] SaturationPa(MonthAir month) => [.. TemperatureC(month).Select(SaturationPressurePa)];

        /// <summary>
        /// Vapour pressure at each point: saturation on planes that hold water; between those, the room and the outdoor air the
        /// lowest string that touches and never exceeds saturation (the lower convex hull over sd).
        /// </summary>
        public double[] VapourPa(MonthAir month, double[] heldKgPerM2)
        {
            double[] saturationPa = SaturationPa(month);
            double[] boundPa = [.. saturationPa];
            int last = boundPa.Length - 1;
            // At the two surfaces themselves the air gives no more than saturation.
            boundPa[0] = Math.Min(month.RoomPa, saturationPa[0]);
            boundPa[last] = Math.Min(month.OutdoorPa, saturationPa[last]);
            double[] vapourPa = [.. boundPa];
            int from = 0;
            for (int point = 1; point <= last; point++)
            {
                if (point == last || heldKgPerM2[point - 1] > 0)
                {
                    Stretch(boundPa, vapourPa, from, point);
                    from = point;
                }
            }

            return vapourPa;
        }

        /// <summary>Water condensing on each plane, kg/(m2 s); negative where a wet plane dries.</summary>
        public double[] Rates(MonthAir month, double[] heldKgPerM2)
        {
            double[] vapourPa = VapourPa(month, heldKgPerM2);
            double[] saturationPa = SaturationPa(month);
            double[] rates = new double[vapourPa.Length - 2];
            for (int plane = 0; plane < rates.Length; plane++)
            {
                // A dry plane below saturation passes on what it gets; only rounding is left of the difference.
                if (heldKgPerM2[plane] > 0 || vapourPa[plane + 1] >= saturationPa[plane + 1])
                {
                    rates[plane] = Flux(vapourPa, plane) - Flux(vapourPa, plane + 1);
                }
            }

            return rates;
        }

        /// <summary>Vapour through a slice, from the room outwards, kg/(m2 s).</summary>
        public double Flux(double[] vapourPa, int slice) =>
            AirPermeability * (vapourPa[slice] - vapourPa[slice + 1]) / (_sdM[slice + 1] - _sdM[slice]);

        // Lower convex hull of the points from one fixed point to another, written into the vapour pressures.
        private void Stretch(double[] boundPa, double[] vapourPa, int from, int to)
        {
            List<int> hull = [from];
            for (int point = from + 1; point <= to; point++)
            {
                while (hull.Count > 1 && Above(boundPa, hull[^2], hull[^1], point))
                {
                    hull.RemoveAt(hull.Count - 1);
                }

                hull.Add(point);
            }

            for (int k = 1; k < hull.Count; k++)
            {
                (int a, int b) = (hull[k - 1], hull[k]);
                for (int point = a + 1; point < b; point++)
                {
                    double share = (_sdM[point] - _sdM[a]) / (_sdM[b] - _sdM[a]);
                    vapourPa[point] = boundPa[a] + (share * (boundPa[b] - boundPa[a]));
                }
            }
        }

        // True when the middle point lies on or above the line from the first to the last.
        private bool Above(double[] boundPa, int first, int middle, int last) =>
            (boundPa[middle] - boundPa[first]) * (_sdM[last] - _sdM[first]) >= (boundPa[last] - boundPa[first]) * (_sdM[middle] - _sdM[first]);
    }
}
