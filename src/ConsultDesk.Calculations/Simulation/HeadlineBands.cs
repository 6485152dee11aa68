using System.Collections.Immutable;
using System.Runtime.ExceptionServices;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// How far the headline numbers of the year can lie off: each of the strongest assumptions is moved alone to its low and
/// its high end and the year calculated again; what moves a number up is combined by the root of the sum of squares, and
/// what moves it down likewise. What condenses carries besides how far a real year can differ from one made from monthly means. docs/method/bands.md.
/// </summary>
internal static class HeadlineBands
{
    /// <summary>Assumed values that are moved together, which nobody can be asked for: a key, what they are in words, their rows.</summary>
    internal static ImmutableArray<(string Key, string Name, ImmutableArray<string> Rows)> AssumedRows { get; } =
    [
        (
            "water-given-off",
            "water given off by people and cooking",
            [
                "sleeper-water", "awake-water", "animal-water", "cooking-water-light", "cooking-water-everyday", "cooking-water-heavy", "shower-water", "drying-water",
                "hot-drink-water", "dishes-water", "plant-water", "firewood-water",
            ]),
        ("wind-at-the-van", "wind at the van", ["wind-ratio-sheltered", "wind-ratio-ordinary", "wind-ratio-exposed"]),
        ("water-in-fabrics", "water that fabrics and wood take up", ["buffer-capacity"]),
        ("air-past-linings", "air that passes the linings", ["cavity-air-sealed", "cavity-air-clips", "cavity-air-planned"]),
        ("heat-past-walls", "heat lost by ribs, seams and cab trim", ["ua-cab", "ua-rest"]),
        ("sun-taken-up", "sun the glass and skin take up", ["glass-sun", "skin-absorptance", "sun-on-walls"]),
    ];

    private static readonly ImmutableArray<MovedAssumption> Moved =
    [
        Rows("water-given-off"),
        new("leakage of the body", (design, end) => Origins.Of(design, "leakage.effectiveAreaM2") == Origin.Measured ? (design, Assumptions.Likely) : Leakage(design, end)),
        Rows("wind-at-the-van"),
        new("mixing between cab, room and bed", Mixing),
        Rows("water-in-fabrics"),
        Rows("air-past-linings"),
        Rows("heat-past-walls"),
        Rows("sun-taken-up"),
    ];

    /// <summary>What moves condensation besides assumptions, in words.</summary>
    internal const string RealYear = "weather of a real year against one made from monthly means";

    internal static readonly ImmutableArray<Headline<Assessment>> OfTheNight =
    [
        new("outdoor-air", "Outdoor air, this night", night => night.Air.OutdoorAir.CubicMetersPerSecond, value => VolumeFlow.FromCubicMetersPerSecond(value)),
        new("condensed", "Water condensed, this night", night => night.Water.CondensedPerNight.Kilograms, value => Mass.FromKilograms(value)),
        new("design-load", "Heat on the coldest night", night => (double)night.Heat.DesignLoad.Watts, value => Power.FromWatts(value)),
    ];

    private static readonly ImmutableArray<Headline<YearAssessment>> OfTheYear =
    [
        new("wet-mornings", "Wet mornings in a year", year => year.WetMornings.Count, value => Scalar.FromAmount(value), year => year.WetMornings.Nights, Condenses: true),
        new("condensed-per-night", "Water condensed a night in the cold season", year => year.WetMornings.CondensedPerNight.Kilograms, value => Mass.FromKilograms(value), Condenses: true),
        new("night-air", "Outdoor air by night", year => year.NightAir.CubicMetersPerSecond, value => VolumeFlow.FromCubicMetersPerSecond(value)),
        new("heat-per-day", "Heat on a day of heating", HeatPerDayJ, value => Energy.FromJoules(value)),
        new("fuel-per-day", "Fuel on a day of heating", year => year.HeaterFit?.FuelPerHeatingDay?.Kilograms, value => Mass.FromKilograms(value)),
        new("wettest-skin", "Most water on the skin behind a lining", WettestSkinKg, value => Mass.FromKilograms(value), Condenses: true),
        new("hot-nights", "Hot nights in a year", year => year.HotNights.Nights, value => Scalar.FromAmount(value), year => year.WetMornings.Nights),
    ];

    /// <summary>The bands.</summary>
    /// <param name="design">The design.</param>
    /// <param name="weather">Its year; not calculated again with another.</param>
    /// <param name="likely">Its year with likely assumptions.</param>
    /// <param name="progress">Told the share done.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static ImmutableArray<HeadlineBand> Of(
        Design design, YearWeather weather, YearAssessment likely, IProgress<double>? progress, CancellationToken cancellation)
    {
        YearAssessment[] years = new YearAssessment[2 * Moved.Length];
        int done = 0;
        try
        {
            Parallel.For(
                0,
                years.Length,
                new ParallelOptions { CancellationToken = cancellation },
                index =>
                {
                    (Design moved, Assumptions assumed) = Moved[index / 2].Move(design, index % 2 == 0 ? BandEnd.Low : BandEnd.High);
                    years[index] = Assessor.AssessYear(moved, weather, assumed, progress: null, cancellation);
                    progress?.Report((double)Interlocked.Increment(ref done) / years.Length);
                });
        }
        catch (AggregateException failed)
        {
            // A year that fails is told as it would be alone.
            ExceptionDispatchInfo.Throw(failed.Flatten().InnerExceptions[0]);
        }

        return [.. OfTheYear.Select(headline => Band(headline, likely, years, headline.Condenses && weather.Basis.FromMonths)).OfType<HeadlineBand>()];
    }

    /// <summary>The bands of the steady night's headlines, under the keys they have there.</summary>
    /// <param name="design">The design.</param>
    /// <param name="weather">Its night; the weather is not moved.</param>
    /// <param name="likely">Its night with likely assumptions.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static ImmutableArray<HeadlineBand> OfNight(Design design, NightWeather weather, Assessment likely, CancellationToken cancellation)
    {
        Assessment[] nights =
        [
            .. from moved in Moved
               from end in new[] { BandEnd.Low, BandEnd.High }
               let at = moved.Move(design, end)
               select Assessor.AssessWithoutFindings(at.Design, weather, at.Assumed, cancellation),
        ];
        return [.. OfTheNight.Select(headline => Band(headline, likely, nights, madeWeather: false)).OfType<HeadlineBand>()];
    }

    /// <summary>
    /// The band of a number from what it becomes with each assumption at its low and its high end: the root of the sum of
    /// squares of the larger step up of each assumption, and of its larger step down.
    /// </summary>
    /// <param name="likely">The number with likely assumptions.</param>
    /// <param name="ends">The number at low and high end of each assumption.</param>
    /// <returns>Low and high end, and the index of the assumption that moves it most; -1 when none does.</returns>
    internal static (double Low, double High, int MovedMost) Combine(double likely, IReadOnlyList<(double Low, double High)> ends)
    {
        double up = 0;
        double down = 0;
        double most = 0;
        int movedMost = -1;
        for (int k = 0; k < ends.Count; k++)
        {
            double rise = Math.Max(0, Math.Max(ends[k].Low, ends[k].High) - likely);
            double fall = Math.Max(0, likely - Math.Min(ends[k].Low, ends[k].High));
            up += rise * rise;
            down += fall * fall;
            if (Math.Max(rise, fall) > most)
            {
                (most, movedMost) = (Math.Max(rise, fall), k);
            }
        }

        return (likely - Math.Sqrt(down), likely + Math.Sqrt(up), movedMost);
    }

    private static MovedAssumption Rows(string key)
    {
        (_, string name, ImmutableArray<string> rows) = AssumedRows.Single(moved => moved.Key == key);
        return MovedAssumption.Rows(name, [.. rows]);
    }

    /// <summary>What a number of condensation can be in a real year when its year was made from monthly means.</summary>
    internal static (double Low, double High) InARealYear(double likely) =>
        (likely * Defaults.Low("made-weather-condensation"), likely * Defaults.High("made-weather-condensation"));

    private static HeadlineBand? Band<T>(Headline<T> headline, T likelyOne, T[] moved, bool madeWeather)
    {
        if (headline.Number(likelyOne) is not double likely)
        {
            return null;
        }

        (double low, double high, int movedMost) = Combine(
            likely,
            [
                .. Enumerable.Range(0, Moved.Length).Select(k => (headline.Number(moved[2 * k]) ?? likely, headline.Number(moved[(2 * k) + 1]) ?? likely)),
                .. madeWeather ? [InARealYear(likely)] : Array.Empty<(double, double)>(),
            ]);
        // None of the numbers can be negative, and no more mornings or nights can be wet or hot than were slept.
        return new HeadlineBand(
            headline.Key,
            headline.Label,
            headline.Quantity(Math.Max(0, low)),
            headline.Quantity(likely),
            headline.Quantity(Math.Min(high, headline.Most?.Invoke(likelyOne) ?? double.PositiveInfinity)),
            movedMost < 0 ? "" : movedMost == Moved.Length ? RealYear : Moved[movedMost].Name);
    }

    private static double? HeatPerDayJ(YearAssessment year) =>
        year.HeaterFit is { HeatingDays: > 0 } fit ? year.Heat.Heat.Joules / fit.HeatingDays : null;

    private static double? WettestSkinKg(YearAssessment year) =>
        year.Skins.IsEmpty ? null : year.Skins.Max(skin => skin.PeakPerSquareMetre.Kilograms);

    // The leakage stands in the design. While it is still the likely one nobody measured it.
    internal static (Design Design, Assumptions Assumed) Leakage(Design design, BandEnd end)
    {
        double assumedCm2 = Defaults.Likely("leakage-area");
        return Math.Abs(design.Leakage.EffectiveArea.SquareCentimeters - assumedCm2) > 1e-6 * assumedCm2
            ? (design, Assumptions.Likely)
            : (design with { Leakage = design.Leakage with { EffectiveArea = Area.FromSquareCentimeters(MovedAssumption.At("leakage-area", end)) } },
                Assumptions.Likely);
    }

    // So does the mixing of the passages: one that still has a likely value of the table is moved to that row's end.
    internal static (Design Design, Assumptions Assumed) Mixing(Design design, BandEnd end) =>
    (
        design with { Passages = [.. design.Passages.Select(passage => passage with { Mixing = Mixing(design, passage, end) })] },
        Assumptions.Likely
    );

    private static VolumeFlow Mixing(Design design, Passage passage, BandEnd end) =>
        Origins.Of(design, $"passages[{passage.Id}].mixingM3PerS") != Origin.Measured && MixingRow(design, passage) is string row ? VolumeFlow.FromCubicMetersPerHour(MovedAssumption.At(row, end)) : passage.Mixing;

    /// <summary>The row of the defaults table a passage's mixing still has the likely value of; null when it has another.</summary>
    internal static string? MixingRow(Design design, Passage passage)
    {
        ZoneKind a = design.Zones.First(zone => zone.Id == passage.ZoneA).Kind;
        ZoneKind b = design.Zones.First(zone => zone.Id == passage.ZoneB).Kind;
        ReadOnlySpan<string> keys = a == ZoneKind.Cab || b == ZoneKind.Cab
            ? ["mixing-cab-open", "mixing-cab-curtain", "mixing-cab-insulated-curtain", "mixing-cab-bulkhead"]
            : a == ZoneKind.UnderBed || b == ZoneKind.UnderBed
                ? ["mixing-under-bed-solid", "mixing-under-bed-slats", "mixing-under-bed-underlay"]
                : ["mixing-rooms"];
        foreach (string key in keys)
        {
            double assumed = Defaults.Likely(key);
            if (Math.Abs(passage.Mixing.CubicMetersPerHour - assumed) <= 1e-6 * assumed)
            {
                return key;
            }
        }

        return null;
    }

    internal sealed record Headline<T>(
        string Key, string Label, Func<T, double?> Number, Func<double, IQuantity> Quantity, Func<T, double>? Most = null, bool Condenses = false);
}

/// <summary>One end of a band.</summary>
internal enum BandEnd
{
    /// <summary>The low end.</summary>
    Low,

    /// <summary>The high end.</summary>
    High,
}

/// <summary>An assumption, or some that hang together, and how a design is calculated at one end of it.</summary>
/// <param name="Name">What is assumed, in words.</param>
/// <param name="Move">The design and the assumptions with it moved.</param>
internal sealed record MovedAssumption(string Name, Func<Design, BandEnd, (Design Design, Assumptions Assumed)> Move)
{
    /// <summary>Rows of the table moved together.</summary>
    public static MovedAssumption Rows(string name, params string[] keys) => new(
        name,
        (design, end) => (design, keys.Aggregate(Assumptions.Likely, (assumed, key) => assumed.With(key, At(key, end)))));

    /// <summary>The value of a row at an end of its band.</summary>
    public static double At(string key, BandEnd end) => end == BandEnd.Low ? Defaults.Low(key) : Defaults.High(key);
}
