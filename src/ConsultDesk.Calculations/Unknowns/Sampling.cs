using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Unknowns;

/// <summary>
/// Calculates a design again and again with everything nobody measured moved at once within the ranges of <c>unknowns.csv</c> and the table of assumed values, its
/// years side by side, and reads from the samples how sure the main numbers and the findings are. It is done in parties that can be run one at a time, so that
/// others get their turn between them; the answer does not depend on how. docs/method/bands.md.
/// </summary>
public sealed class Sampling
{
    // What is calculated side by side at most; a party of them is the least piece of work.
    private const int PartyOf = 8;

    private static readonly ImmutableDictionary<string, double> Table = EmbeddedTable.Rows("Unknowns.sampling.csv", columns: 4)
        .ToImmutableDictionary(row => row[0], row => double.Parse(row[1], CultureInfo.InvariantCulture));

    // What the table of assumed values has for each shelter.
    private static readonly ImmutableArray<string> ShelterRows = ["wind-ratio-", "sky-seen-"];

    private readonly Design _now;
    private readonly Assessment _likely;
    private readonly NightWeather _night;
    private readonly YearWeather _weather;
    private readonly ImmutableArray<Unknown> _unknowns;
    private readonly double[][] _shares;
    private readonly double[] _madeYear;
    private readonly (Design Design, Assumptions Assumed)[] _vans;
    private readonly Sample?[] _samples;
    private readonly string?[] _failures;
    private readonly int[][] _parties;

    private Sampling(Design now, Assessment likely, YearWeather weather, ImmutableArray<Unknown> unknowns, int samples, int seed)
    {
        (_now, _likely, _weather, _unknowns) = (now, likely, weather, unknowns);
        _night = Nights.At(now);
        (_shares, _madeYear) = Drawn(unknowns, weather.Basis.FromMonths, samples, seed);
        _vans = [.. _shares.Select(At)];
        _samples = new Sample?[samples];
        _failures = [.. _vans.Select(van => Impossible(van.Design))];
        _parties = [.. Parties()];
    }

    /// <summary>Samples drawn when nobody says otherwise.</summary>
    public static int Samples { get; } = (int)Table["samples"];

    /// <summary>Where the scrambling of the points begins.</summary>
    internal static int Seed { get; } = (int)Table["seed"];

    /// <summary>Pieces the work falls into.</summary>
    public int PartyCount => _parties.Length;

    /// <summary>The sampled vans that can be, in the order of their parties.</summary>
    internal IReadOnlyList<YearOrder> Orders => [.. _parties.SelectMany(party => party).Select(index => new YearOrder(_vans[index].Design, _weather, _vans[index].Assumed))];

    /// <summary>Draws the samples of a design; nothing is calculated yet.</summary>
    /// <param name="design">A valid design.</param>
    /// <param name="hours">Hours of the weather files that places of the design name; where they are missing the months are used.</param>
    /// <param name="likely">The design's assessment with its year.</param>
    /// <param name="samples">How many; those of the table when left out.</param>
    /// <param name="seed">Where the scrambling begins; that of the table when left out.</param>
    /// <param name="unknowns">What to vary; all of <see cref="UnknownInputs.Of"/> that air, heat or water hang on when left out.</param>
    /// <exception cref="ArgumentException">The design is wrong, or its assessment has no year.</exception>
    public static Sampling Of(
        Design design, WeatherHours hours, Assessment likely, int? samples = null, int? seed = null, ImmutableArray<Unknown> unknowns = default)
    {
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(hours);
        ArgumentNullException.ThrowIfNull(likely);
        ArgumentOutOfRangeException.ThrowIfLessThan(samples ?? 1, 1, nameof(samples));
        Assessor.RequireValid(design);
        if (likely.Year is null)
        {
            throw new ArgumentException("How sure a year is needs the year.", nameof(likely));
        }

        Design now = LaterParts.Without(design);
        return new Sampling(
            now,
            likely,
            YearWeather.Of(now, hours: hours),
            unknowns.IsDefault ? [.. UnknownInputs.Of(design).Where(unknown => unknown.WeighsInAir)] : unknowns,
            samples ?? Samples,
            seed ?? Seed);
    }

    /// <summary>Draws the samples, calculates them all and reads what they say.</summary>
    /// <param name="design">A valid design.</param>
    /// <param name="hours">Hours of its weather files.</param>
    /// <param name="likely">Its assessment with its year.</param>
    /// <param name="threads">Parties at a time.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static Sureness Run(Design design, WeatherHours hours, Assessment likely, int threads, CancellationToken cancellation = default)
    {
        Sampling sampling = Of(design, hours, likely);
        sampling.Calculate(0, sampling.PartyCount, threads, cancellation);
        return sampling.Read();
    }

    /// <summary>Calculates some of the parties.</summary>
    /// <param name="from">The first.</param>
    /// <param name="count">How many; those that are not there are left out.</param>
    /// <param name="threads">Parties at a time.</param>
    /// <param name="cancellation">Stops the work within a day of each year under way.</param>
    public void Calculate(int from, int count, int threads, CancellationToken cancellation)
    {
        int[] indices = [.. _parties.Skip(from).Take(count).SelectMany(party => party)];
        ImmutableArray<YearOutcome<Sample>> outcomes = YearBatch.Run(
            [.. indices.Select(index => new YearOrder(_vans[index].Design, _weather, _vans[index].Assumed))],
            (at, van, series) => Judged(_vans[indices[at]], van, series, cancellation),
            threads,
            cancellation: cancellation);
        foreach ((int index, YearOutcome<Sample> outcome) in indices.Zip(outcomes))
        {
            (_samples[index], _failures[index]) = (outcome.Result, outcome.Failure?.Message);
        }
    }

    /// <summary>What the samples say, once all parties are calculated.</summary>
    /// <exception cref="InvalidOperationException">Some were not.</exception>
    public Sureness Read()
    {
        int[] there = [.. Enumerable.Range(0, _samples.Length).Where(index => _samples[index] is not null)];
        if (there.Length + _failures.Count(failure => failure is not null) != _samples.Length)
        {
            throw new InvalidOperationException("Some of the samples were not calculated yet.");
        }

        double[][] ranks = [.. _unknowns.Select((_, k) => Statistics.Ranks([.. there.Select(index => _shares[index][k])]))];
        return new Sureness
        {
            Samples = _samples.Length,
            NotCalculated = [.. _failures.OfType<string>()],
            Numbers = [.. MainNumbers.All.Select((number, n) => Number(number, n, there)).OfType<SureNumber>()],
            Findings = [.. _likely.Findings.Select(finding => Finding(finding.Code, finding.Title, finding.Severity, there, ranks))],
            Hidden = [.. Hidden(there, ranks)],
            Varied = [.. _unknowns.Select(unknown => unknown.Name)],
            MadeYear = _weather.Basis.FromMonths,
        };
    }

    /// <summary>
    /// Where the points lie, as shares of the way to each unknown's ends, and how much more condenses in a real year. What moves the whole van is first, then what
    /// has all values between its ends: the first coordinates of the sequence are the best. What is beyond them is spread by <see cref="Spread"/> (Owen 1998, Latin
    /// supercube sampling for very high-dimensional simulations, ACM TOMACS 8:71, for putting two together).
    /// </summary>
    private static (double[][] Shares, double[] MadeYear) Drawn(ImmutableArray<Unknown> unknowns, bool madeYear, int samples, int seed)
    {
        int[] order =
        [
            .. Enumerable.Range(0, unknowns.Length)
                .OrderBy(k => unknowns[k].Key.Contains('[', StringComparison.Ordinal))
                .ThenBy(k => !unknowns[k].Continuous),
        ];
        int coordinates = order.Length + 1;
        int even = Math.Min(coordinates, Sobol.Dimensions);
        double[][] first = Sobol.Scrambled(samples, even, seed);
        double[][] rest = coordinates > even ? Spread.Points(samples, coordinates - even, seed) : [];
        double At(int sample, int coordinate) => coordinate < even ? first[sample][coordinate] : rest[sample][coordinate - even];
        double[][] shares = [.. Enumerable.Range(0, samples).Select(_ => new double[unknowns.Length])];
        AssumedValue real = Defaults.Get("made-weather-condensation");
        double[] factors = new double[samples];
        for (int sample = 0; sample < samples; sample++)
        {
            factors[sample] = madeYear ? real.Between(Worlds.Triangular(At(sample, 0), 0.5, 0.5)) : 1;
            for (int at = 0; at < order.Length; at++)
            {
                shares[sample][order[at]] = Worlds.Share(unknowns[order[at]], At(sample, at + 1));
            }
        }

        return (shares, factors);
    }

    // All unknowns moved, one after the other as they are listed. Another shelter than the year's hours and the design carry is had by giving theirs the wind and the sky of the
    // other: the years stay of one weather and can be run side by side.
    private (Design Design, Assumptions Assumed) At(double[] shares)
    {
        Design van = _now;
        Assumptions assumed = Assumptions.Likely;
        Shelter shelter = _now.Stop.Shelter;
        foreach ((Unknown unknown, double share) in _unknowns.Zip(shares).Where(pair => pair.Second != 0))
        {
            if (unknown.MovesShelter)
            {
                shelter = unknown.Move(_now, share).Design.Stop.Shelter;
            }
            else if (unknown.Rows.IsEmpty)
            {
                van = unknown.Move(van, share).Design;
            }
            else
            {
                assumed = unknown.Rows.Aggregate(assumed, (moved, row) => moved.With(row, Defaults.Get(row).Between(share)));
            }
        }

        return (van, shelter == _now.Stop.Shelter ? assumed : ShelterRows.Aggregate(assumed, (moved, row) => moved.With(row + Word(_now.Stop.Shelter), assumed[row + Word(shelter)])));

        static string Word(Shelter shelter) => shelter.ToString().ToLowerInvariant();
    }

    // Ends that are possible alone may not be together.
    private static string? Impossible(Design van) =>
        DesignCheck.Errors(van) is [var first, ..] ? $"{first.Path}: {first.Message}" : null;

    // Those with the same rooms and the same day together, as the years are put side by side.
    private IEnumerable<int[]> Parties() => Enumerable.Range(0, _vans.Length)
        .Where(index => _failures[index] is null)
        .GroupBy(index => (_vans[index].Design.Household.Presence, _vans[index].Design.Household.Sleepers > 0, _vans[index].Design.CabDivider, _vans[index].Design.BedBase))
        .SelectMany(group => group.Chunk(PartyOf));

    private Sample Judged((Design Design, Assumptions Assumed) van, VanModel model, YearSeries series, CancellationToken cancellation)
    {
        Assessment assessment = Assessor.AssessWithoutFindings(van.Design, _night, van.Assumed, cancellation) with
        {
            Year = Assessor.AssessYear(model, series, _weather, cancellation),
        };
        FindingContext context = new(van.Design, assessment, changed => Assessor.AssessWithoutFindings(changed, _night, van.Assumed, cancellation)) { Outdoor = _weather };
        return new Sample(
            [.. MainNumbers.All.Select(number => number.Of(van.Design, assessment))],
            [.. FindingRules.Judge(context).Select(finding => (finding.Code, finding.Title, finding.Severity))]);
    }

    private SureNumber? Number(MainNumber number, int n, int[] there)
    {
        int[] with = [.. there.Where(index => _samples[index]!.Numbers[n] is not null)];
        if (number.Of(_now, _likely) is not double likely || with.Length == 0)
        {
            return null;
        }

        double[] values = [.. with.Select(index => number.Condenses ? InARealYear(number, _samples[index]!.Numbers[n]!.Value, _madeYear[index]) : _samples[index]!.Numbers[n]!.Value)];
        double[] ranks = Statistics.Ranks(values);
        string moved = Strongest(
            ranks,
            [
                .. _unknowns.Select((unknown, k) => (unknown.Name, Statistics.Ranks([.. with.Select(index => _shares[index][k])]))),
                (HeadlineBands.RealYear, Statistics.Ranks([.. with.Select(index => number.Condenses ? _madeYear[index] : 1)])),
            ]);
        double[] sorted = [.. values.Order()];
        return new SureNumber(
            number.Key,
            number.Label,
            number.Quantity(likely),
            number.Quantity(Statistics.Quantile(sorted, 0.1)),
            number.Quantity(Statistics.Quantile(sorted, 0.5)),
            number.Quantity(Statistics.Quantile(sorted, 0.9)),
            with.Length,
            moved);
    }

    private double InARealYear(MainNumber number, double made, double factor) => Math.Min(made * factor, number.Most?.Invoke(_likely) ?? double.PositiveInfinity);

    private SureFinding Finding(string code, string title, Severity severity, int[] there, double[][] ranks)
    {
        double[] holds = [.. there.Select(index => _samples[index]!.Holds(code, severity) ? 1.0 : 0)];
        int count = (int)holds.Sum();
        (double least, double most) = Statistics.ShareOf(count, there.Length);
        return new SureFinding(
            code, title, severity, count, there.Length, least, most, Strongest(Statistics.Ranks(holds), [.. _unknowns.Select((unknown, k) => (unknown.Name, ranks[k]))]));
    }

    // As the gravest it is often enough.
    private IEnumerable<SureFinding> Hidden(int[] there, double[][] ranks) => there
        .SelectMany(index => _samples[index]!.Findings)
        .Where(found => _likely.Findings.All(finding => finding.Code != found.Code))
        .GroupBy(found => found.Code)
        .Select(group => group
            .DistinctBy(found => found.Severity)
            .OrderBy(found => found.Severity)
            .Select(found => Finding(found.Code, found.Title, found.Severity, there, ranks))
            .FirstOrDefault(found => found.Holds >= ToldFrom(found.Severity) * found.Of))
        .OfType<SureFinding>()
        .OrderBy(found => found.Severity)
        .ThenByDescending(found => found.Holds)
        .ThenBy(found => found.Code, StringComparer.Ordinal);

    // Notes ask for nothing: none is told because it could be.
    private static double ToldFrom(Severity severity) => severity switch
    {
        Severity.Danger => Table["told-danger"],
        Severity.Warning => Table["told-warning"],
        Severity.Advice => Table["told-advice"],
        Severity.Note => double.PositiveInfinity,
        _ => throw new ArgumentOutOfRangeException(nameof(severity), severity, "Expected danger, warning, advice or note."),
    };

    private static string Strongest(double[] ranks, IReadOnlyList<(string Name, double[] Ranks)> causes)
    {
        // The standard error of a rank correlation of two things that have nothing to do with each other is 1 over the root of n - 1 (Spearman 1904).
        (string name, double most) = ("", Table["hangs-together"] / Math.Sqrt(Math.Max(1, ranks.Length - 1)));
        foreach ((string cause, double[] of) in causes)
        {
            if (Math.Abs(Statistics.Correlation(ranks, of)) is double strength && strength > most)
            {
                (name, most) = (cause, strength);
            }
        }

        return name;
    }

    /// <summary>What is kept of a sample.</summary>
    private sealed record Sample(ImmutableArray<double?> Numbers, ImmutableArray<(string Code, string Title, Severity Severity)> Findings)
    {
        public bool Holds(string code, Severity severity)
        {
            foreach ((string found, _, Severity weighs) in Findings)
            {
                if (found == code)
                {
                    return weighs <= severity;
                }
            }

            return false;
        }
    }
}
