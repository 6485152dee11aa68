using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Text;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Lanes;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Benchmarks;

/// <summary>
/// Years of vans side by side against a van alone, in processor time of this process, the widths in turn and the least of several passes: the
/// machine may be shared. The work is counted, too, which no other work changes.
/// </summary>
internal static class KernelSpeed
{
    private const int Passes = 5;

    private static readonly Design Long = Samples.Long;
    private static readonly YearWeather Weather = YearWeather.Of(Long);
    private static readonly Dictionary<(int Lane, int Surfaces, int Skins), YearSeries> Rooms = [];
    private static readonly VanModel[] Vans = [.. Options(64).Select(design => new VanModel(design, Assumptions.Likely))];

    /// <summary>Measures and writes the page's tables.</summary>
    public static string Table()
    {
        StringBuilder page = new();
        ByWidth(page);
        Searched(page);
        Growth(page);
        return page.ToString();
    }

    // The preset, its single changes, and changes of those, all with its zones.
    private static IEnumerable<Design> Options(int count)
    {
        Queue<Design> from = new([Long]);
        VanModel first = new(Long, Assumptions.Likely);
        int given = 0;
        while (given < count)
        {
            Design design = from.Dequeue();
            foreach (SingleChange change in SingleChanges.Of(design, PriceBooks.Default).Where(change => VanBatch<ScalarLane>.SameShape(first, new VanModel(change.Apply(design), Assumptions.Likely))))
            {
                Design changed = change.Apply(design);
                from.Enqueue(changed);
                yield return changed;
                if (++given == count)
                {
                    yield break;
                }
            }
        }
    }

    private static void ByWidth(StringBuilder page)
    {
        Run<CountingLane>(1);
        double flops = CountingLane.Simple + CountingLane.Divisions;
        double simple = CountingLane.Simple;
        double divisions = CountingLane.Divisions;
        double others = CountingLane.Others;
        (string Name, int Count, Func<double> Year, Func<double> Steps, double Peak)[] widths =
        [
            ("1", 1, () => Run<ScalarLane>(8) / 8, () => Steps<ScalarLane>(), Peak<ScalarLane>()),
            ("4", 4, () => Run<FourLanes>(8) / 8, () => Steps<FourLanes>(), Peak<FourLanes>()),
            ("8", 8, () => Run<EightLanes>(8) / 8, () => Steps<EightLanes>(), Peak<EightLanes>()),
        ];
        double[] years = Least([.. widths.Select(width => width.Year)]);
        double[] steps = Least([.. widths.Select(width => width.Steps)]);
        double[] air = Least([() => Air<ScalarLane>(), () => Air<FourLanes>(), () => Air<EightLanes>()]);
        page.Append(Width()).Append('\n');
        Line(page, $"A year of the long preset is {simple / 1e6:F1} million sums and products, {divisions / 1e6:F2} million quotients and roots and {others / 1e6:F1} million comparisons and choices.\n");
        Line(page, $"| lanes | a year of a van, ms | against one lane | option-years a second and core | 60,000 calm steps alone, ms a van | against one lane | 10,000 network solves alone, ms a van | against one lane | multiply-add peak, GFlop/s | share of it |");
        Line(page, $"| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
        for (int at = 0; at < widths.Length; at++)
        {
            Line(page, $"| {widths[at].Name} | {years[at]:F1} | {years[0] / years[at]:F2} | {1000 / years[at]:F0} | {steps[at]:F1} | {steps[0] / steps[at]:F2} | {air[at]:F1} | {air[0] / air[at]:F2} | {widths[at].Peak:F1} | {100 * flops / (years[at] * 1e6) / widths[at].Peak:F0} % |");
        }

        Line(page, $"");
    }

    /// <summary>The width a batch takes, and what it was chosen by.</summary>
    public static string Width()
    {
        long from = Stopwatch.GetTimestamp();
        LaneChoice choice = LaneWidth.Chosen;
        double ms = Stopwatch.GetElapsedTime(from).TotalMilliseconds;
        string times = string.Join(", ", choice.Measured.Select(time => string.Create(CultureInfo.InvariantCulture, $"{time.Nanoseconds:F0} ns at {time.Width}")));
        return string.Create(
            CultureInfo.InvariantCulture,
            $"Registers of 256 bits: {(Vector256.IsHardwareAccelerated ? "yes" : "no")}, of 512 bits: {(Vector512.IsHardwareAccelerated ? "yes" : "no")}. Width a batch takes when not told: **{choice.Width}**, measured before the first batch in {ms:F0} ms ({times} for one van's share of a small step).");
    }

    // Milliseconds of processor time for so many vans, the network solved as it is in a year.
    private static double Run<TLane>(int count)
        where TLane : struct, ILane<TLane>
    {
        CountingLane.Clear();
        double ms = 0;
        foreach (VanModel[] together in Vans[..count].Chunk(TLane.Count))
        {
            YearSeries[] series = [.. together.Select((van, lane) => Room(van, lane))];
            ms += Milliseconds(() => YearRun.Of(new VanBatch<TLane>(together), series, Weather, null, 0, YearWeather.Days));
        }

        return ms;
    }

    // Memory that was touched before, as a batch has it but for its first years.
    private static YearSeries Room(VanModel van, int lane)
    {
        (int, int, int) key = (lane, van.FirstLining, van.SkinCount);
        if (!Rooms.TryGetValue(key, out YearSeries? room))
        {
            Rooms.Add(key, room = YearSeries.Of(van));
        }

        return room;
    }

    private static double Steps<TLane>()
        where TLane : struct, ILane<TLane>
    {
        VanBatch<TLane> batch = new(Vans[..TLane.Count]);
        VanRun<TLane> run = new(batch);
        HouseholdDay[] days = [.. batch.Vans.Select(van => HouseholdDay.Of(van.Night.Design, van.Night.Assumed))];
        run.Start(Outdoor.Of(Weather, 0), TLane.Of(16));
        for (int hour = 0; hour < 72; hour++)
        {
            run.Hour(Outdoor.Of(Weather, hour - 1), Outdoor.Of(Weather, hour), Outdoor.Of(Weather, hour + 1), days, hour % 24);
        }

        StepLanes<TLane> step = new(batch, HouseholdDay.SlotSeconds, covered: false);
        return Milliseconds(() =>
        {
            for (int n = 0; n < 60_000; n++)
            {
                run.Zones.Step(step);
            }
        }) / TLane.Count;
    }

    // Hour after hour of January's weather with the rooms at one temperature, from the last pressures.
    private static double Air<TLane>()
        where TLane : struct, ILane<TLane>
    {
        VanBatch<TLane> batch = new(Vans[..TLane.Count]);
        VanAirLanes<TLane> air = new(batch.Vans);
        foreach (ref TLane share in air.OpenShare.AsSpan())
        {
            share = TLane.Of(0.3);
        }

        foreach (ref TLane speed in air.FanSpeed.AsSpan())
        {
            speed = TLane.Of(0.2);
        }

        TLane[] zoneC = [.. Enumerable.Repeat(TLane.Of(15), batch.ZoneCount)];
        TLane[] humidity = [.. Enumerable.Repeat(TLane.Of(0.006), batch.ZoneCount)];
        return Milliseconds(() =>
        {
            for (int n = 0; n < 10_000; n++)
            {
                Require(TLane.All(air.Solve(zoneC, humidity, Outdoor.Of(Weather, n % 744), occupied: true, covered: false, TLane.AllBits)));
            }
        }) / TLane.Count;
    }

    // What a search pays: designs made from their choices, their years run on both cores at once and read to what it compares; the same for its spells of days.
    private static void Searched(StringBuilder page)
    {
        const int Count = 64;
        IReadOnlyList<YearOrder> options = KernelMemory.Options(Long, Weather, Count);
        Weeks weeks = new(Weather, Screen.GlassAndMetalM2(Long));
        double perSecond = 0;
        double[] ms = Least(
            [
                () => Milliseconds(() => Require(YearBatch.Run([.. options], new Unread(), threads: 2).All(outcome => outcome.Failure is null))),
                () => Milliseconds(() =>
                {
                    long from = Stopwatch.GetTimestamp();
                    Require(YearBatch.Run([.. options], new ComparedYears(), threads: 2).All(outcome => outcome.Failure is null));
                    perSecond = Math.Max(perSecond, Count / Stopwatch.GetElapsedTime(from).TotalSeconds);
                }),
                () => Milliseconds(() => Require(weeks.Of([.. options.Select(option => option.Design)], 2, CancellationToken.None).All(numbers => numbers is not null))),
            ],
            4);
        Line(page, $"| what a search pays, {Count} options, {LaneWidth.Best} lanes, both cores at once, each design made from its choices | ms of processor time an option | option-years a second on two cores, by processor time | by the clock |");
        Line(page, $"| --- | ---: | ---: | ---: |");
        Line(page, $"| years of which nothing is read | {ms[0] / Count:F1} | {2000 * Count / ms[0]:F0} | |");
        Line(page, $"| **years with what a search reads of each** | {ms[1] / Count:F1} | **{2000 * Count / ms[1]:F0}** | {perSecond:F0} |");
        Line(page, $"| a look in three spells of days | {ms[2] / Count:F1} | | |");
        Line(page, $"");
    }

    // Years that run for nothing.
    internal sealed class Unread : IYearReading<object>
    {
        public IReadOnlyList<(int FromDay, int Days)> Spells { get; } = [(0, YearWeather.Days)];

        public ILaneReading<TLane, object> Of<TLane>(VanBatch<TLane> batch, int[] indices)
            where TLane : struct, ILane<TLane> => new Hours<TLane>();

        private sealed class Hours<TLane> : ILaneReading<TLane, object>
            where TLane : struct, ILane<TLane>
        {
            public void Begin(VanRun<TLane> run, int firstHour)
            {
            }

            public void Hour(VanRun<TLane> run, int hour, DaySlot slot)
            {
            }

            public void End(VanRun<TLane> run)
            {
            }

            public object Result(int lane) => this;

            public void Dispose()
            {
            }
        }
    }

    private static void Growth(StringBuilder page)
    {
        Line(page, $"Growth, processor time in ms an option-year, {LaneWidth.Best} lanes, both cores at once (the report of each year is not in it):\n");
        Line(page, $"| options | ms an option | | zones | ms an option | | openings | ms an option | | years of eight options | ms an option and year |");
        Line(page, $"| ---: | ---: | --- | ---: | ---: | --- | ---: | ---: | --- | ---: | ---: |");
        (int Count, Func<double> Ms)[] options = [.. new[] { 8, 16, 32, 64 }.Select(count => (count, (Func<double>)(() => Batch([.. Options(count)]) / count)))];
        (int Count, Func<double> Ms)[] zones =
        [
            .. new[] { WithZones(1), WithZones(2), WithZones(3), Long }
                .Select(van => (van.Zones.Length, (Func<double>)(() => Batch([.. Enumerable.Repeat(van, 8)]) / 8))),
        ];
        (int Count, Func<double> Ms)[] openings =
        [
            .. new[] { 1, 2, 4, 8 }.Select(count => (Long.Openings.Length * count, (Func<double>)(() => Batch([.. Enumerable.Repeat(WithOpenings(count), 8)]) / 8))),
        ];
        (int Count, Func<double> Ms)[] years = [.. new[] { 1, 2, 5 }.Select(count => (count, (Func<double>)(() => Years(count) / (8 * count))))];
        double[] ofOptions = Least([.. options.Select(one => one.Ms)], 2);
        double[] ofYears = Least([.. years.Select(one => one.Ms)], 2);
        double[] ofZones = Least([.. zones.Select(one => one.Ms)], 2);
        double[] ofOpenings = Least([.. openings.Select(one => one.Ms)], 2);
        for (int row = 0; row < options.Length; row++)
        {
            string Cell((int Count, Func<double> Ms)[] ones, double[] ms) => row < ones.Length
                ? string.Create(CultureInfo.InvariantCulture, $"{ones[row].Count} | {ms[row]:F1}")
                : " | ";
            Line(page, $"| {Cell(options, ofOptions)} | | {Cell(zones, ofZones)} | | {Cell(openings, ofOpenings)} | | {Cell(years, ofYears)} |");
        }

        Line(page, $"");
    }

    // As many times the preset's openings, each a share of its size, so that about as much air passes.
    private static Design WithOpenings(int times) => Long with
    {
        Openings = [.. Enumerable.Range(0, times).SelectMany(copy => Long.Openings.Select(opening => opening with { Id = $"{opening.Id}-{copy}" }))],
    };

    // The preset with its rooms made one behind the other: below the bed, the bed, the cab.
    private static Design WithZones(int count)
    {
        Design van = Long;
        foreach ((ZoneKind from, ZoneKind into) in new[] { (ZoneKind.UnderBed, ZoneKind.Sleeping), (ZoneKind.Sleeping, ZoneKind.Living), (ZoneKind.Cab, ZoneKind.Living) }.Take(Long.Zones.Length - count))
        {
            van = Joined(van, van.Zones.Single(zone => zone.Kind == from), van.Zones.Single(zone => zone.Kind == into));
        }

        Require(van.Zones.Length == count);
        return van;
    }

    private static Design Joined(Design van, Zone from, Zone into)
    {
        string In(string zoneId) => zoneId == from.Id ? into.Id : zoneId;
        Zone both = into with
        {
            From = UnitMath.Min(from.From, into.From),
            To = UnitMath.Max(from.To, into.To),
            Bottom = UnitMath.Min(from.Bottom, into.Bottom),
            Top = UnitMath.Max(from.Top, into.Top),
            AirVolume = from.AirVolume + into.AirVolume,
        };
        return van with
        {
            Zones = [.. van.Zones.Where(zone => zone.Id != from.Id).Select(zone => zone.Id == into.Id ? both : zone)],
            Passages =
            [
                .. van.Passages.Select(passage => passage with { ZoneA = In(passage.ZoneA), ZoneB = In(passage.ZoneB) }).Where(passage => passage.ZoneA != passage.ZoneB),
            ],
            Openings = [.. van.Openings.Select(opening => opening with { ZoneId = In(opening.ZoneId) })],
            Glazings = [.. van.Glazings.Select(glazing => glazing with { ZoneId = In(glazing.ZoneId) })],
            BareMetal = [.. van.BareMetal.Select(patch => patch with { ZoneId = In(patch.ZoneId) })],
            Heater = van.Heater with { ZoneId = In(van.Heater.ZoneId) },
        };
    }

    // Years one after the other, each begun as the last has ended; the series keep the last.
    private static double Years(int count)
    {
        VanModel[] together = Vans[..8];
        YearSeries[] series = [.. together.Select(Room)];
        return Milliseconds(() => Require(Array.TrueForAll(
            YearRun.Of(new VanBatch<EightLanes>(together), series, Weather, null, 0, count * YearWeather.Days), failure => failure is null)));
    }

    private static double Batch(Design[] designs)
    {
        YearOrder[] orders = [.. designs.Select(design => new YearOrder(design, Weather, Assumptions.Likely))];
        return Milliseconds(() =>
        {
            ImmutableArray<YearOutcome<double>> outcomes = YearBatch.Run(orders, (_, _, series) => series.SurfaceCondensedKgPerM2[0], threads: 2);
            Require(outcomes.All(outcome => outcome.Failure is null));
        });
    }

    // In turn, so that what else runs on the machine falls on all of them.
    private static double[] Least(Func<double>[] measured, int passes = Passes)
    {
        double[] least = [.. measured.Select(_ => double.PositiveInfinity)];
        for (int pass = 0; pass < passes; pass++)
        {
            for (int at = 0; at < measured.Length; at++)
            {
                least[at] = Math.Min(least[at], measured[at]());
            }
        }

        return least;
    }

    // Ten sums that wait for nobody but themselves, a product and a sum each.
    private static double Peak<TLane>()
        where TLane : struct, ILane<TLane>
    {
        const int Rounds = 4_000_000;
        double best = double.PositiveInfinity;
        for (int pass = 0; pass < 20; pass++)
        {
            best = Math.Min(best, Milliseconds(() => Require(Sums<TLane>(Rounds) > 0)));
        }

        return 20.0 * Rounds * TLane.Count / (best * 1e6);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static double Sums<TLane>(int rounds)
        where TLane : struct, ILane<TLane>
    {
        TLane x = TLane.Of(0.999_999_9);
        TLane y = TLane.Of(1e-9);
        TLane a = y, b = y, c = y, d = y, e = y, f = y, g = y, h = y, i = y, j = y;
        for (int round = 0; round < rounds; round++)
        {
            a = TLane.MultiplyAdd(a, x, y);
            b = TLane.MultiplyAdd(b, x, y);
            c = TLane.MultiplyAdd(c, x, y);
            d = TLane.MultiplyAdd(d, x, y);
            e = TLane.MultiplyAdd(e, x, y);
            f = TLane.MultiplyAdd(f, x, y);
            g = TLane.MultiplyAdd(g, x, y);
            h = TLane.MultiplyAdd(h, x, y);
            i = TLane.MultiplyAdd(i, x, y);
            j = TLane.MultiplyAdd(j, x, y);
        }

        return (a + b + c + d + e + f + g + h + i + j)[0];
    }

    private static double Milliseconds(Action work)
    {
        TimeSpan before = Process.GetCurrentProcess().TotalProcessorTime;
        work();
        return (Process.GetCurrentProcess().TotalProcessorTime - before).TotalMilliseconds;
    }

    private static void Require(bool holds)
    {
        if (!holds)
        {
            throw new InvalidOperationException("What was measured is not what was meant.");
        }
    }

    private static void Line(StringBuilder page, FormattableString line) => page.Append(line.ToString(CultureInfo.InvariantCulture)).Append('\n');
}
