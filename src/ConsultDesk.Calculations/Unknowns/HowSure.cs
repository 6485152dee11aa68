using System.Collections.Immutable;
using System.Runtime.ExceptionServices;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Unknowns;

/// <summary>
/// How sure an assessment is and what is worth asking: each unknown is moved alone over its range, all else as it stands, and the situations, the
/// nights and, when asked for, the year are calculated and judged again. docs/method/worth-asking.md.
/// </summary>
public static class HowSure
{
    // Values looked at between what stands there and an end at which something turned, the end included: how finely the place of the turn is known.
    private const int NightPoints = 4;
    private const int YearPoints = 2;

    private static readonly ImmutableArray<SituationNumber> Numbers =
    [
        new("outdoor-air", "Outdoor air", result => result.OutdoorAir.CubicMetersPerSecond, value => VolumeFlow.FromCubicMetersPerSecond(value)),
        new("condensed", "Water condensed on glass and metal", result => result.Condensed.Kilograms, value => Mass.FromKilograms(value)),
        new("wet-area", "Wet glass and metal", result => result.WetGlassAndMetal.SquareMeters, value => Area.FromSquareMeters(value)),
        new("humidity", "Humidity", result => result.Humidity.Percent, value => RelativeHumidity.FromPercent(value), Most: 100),
        new("carbon-dioxide", "Carbon dioxide", result => result.CarbonDioxide.PartsPerMillion, value => VolumeConcentration.FromPartsPerMillion(value)),
        new("room", "Warmest room", result => result.Room.DegreesCelsius, value => Temperature.FromDegreesCelsius(value), Least: double.NegativeInfinity),
        new("heater", "Heater", result => (double)result.Heater.Watts, value => Power.FromWatts(value)),
        new("bed-age", "Age of the air at the bed", result => result.BedAge.Seconds, value => Duration.FromSeconds(value)),
    ];

    /// <summary>How sure a design is.</summary>
    /// <param name="design">A valid design.</param>
    /// <param name="depth">
    /// <see cref="AssessmentDepth.Night"/> judges each end by the steady night and the situations, <see cref="AssessmentDepth.Year"/> by the year as well: a hundred
    /// times the work. Nothing more is calculated for <see cref="AssessmentDepth.Bands"/>.
    /// </param>
    /// <param name="hours">Hours of the weather files that places of the design name; where they are missing the months are used.</param>
    /// <param name="remedies">Changes whose order counts as part of the recommendation, with their prices; each makes every end dearer. None when left out.</param>
    /// <param name="situations">Situations to run; those of the itinerary when left out.</param>
    /// <param name="unknowns">What to move; all of <see cref="UnknownInputs.Of"/> when left out.</param>
    /// <param name="progress">Told the share done, 0 to 1.</param>
    /// <param name="cancellation">Stops the work; looked at for every end.</param>
    /// <exception cref="ArgumentException">The design is wrong; the message names the fields.</exception>
    /// <exception cref="CalculationFailedException">The design itself does not balance with likely values.</exception>
    public static HowSureReport Of(
        Design design,
        AssessmentDepth depth = AssessmentDepth.Night,
        WeatherHours? hours = null,
        ImmutableArray<HelpfulChange> remedies = default,
        IReadOnlyList<Situation>? situations = null,
        ImmutableArray<Unknown> unknowns = default,
        IProgress<double>? progress = null,
        CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(design);
        Assessor.RequireValid(design);
        Judgement judgement = new(
            LaterParts.Without(design), design, depth, hours ?? WeatherHours.None, remedies.IsDefault ? [] : remedies, situations);
        ImmutableArray<Unknown> moved = unknowns.IsDefault ? UnknownInputs.Of(design) : unknowns;
        Judged likely = judgement.Likely(cancellation);
        Moved[] effects = new Moved[moved.Length];
        int done = 0;
        try
        {
            Parallel.For(
                0,
                moved.Length,
                new ParallelOptions { CancellationToken = cancellation },
                index =>
                {
                    effects[index] = Move(judgement, likely, moved[index], cancellation);
                    progress?.Report((double)Interlocked.Increment(ref done) / moved.Length);
                });
        }
        catch (AggregateException failed)
        {
            ExceptionDispatchInfo.Throw(failed.Flatten().InnerExceptions[0]);
        }

        UnknownEffect[] ranked =
        [
            .. effects.Select(effect => effect.Effect)
                .OrderByDescending(effect => effect.Worth)
                .ThenByDescending(effect => effect.Chance)
                .ThenBy(effect => effect.Unknown.Key, StringComparer.Ordinal),
        ];
        // In the order of the keys, so that sums do not depend on the order the unknowns came in.
        Moved[] byKey = [.. effects.OrderBy(effect => effect.Unknown.Key, StringComparer.Ordinal)];
        return new HowSureReport
        {
            Depth = depth == AssessmentDepth.Night ? AssessmentDepth.Night : AssessmentDepth.Year,
            Situations = [.. likely.Situations.Select((result, index) => new SituationBands(result.Situation, OfSituation(result, index, byKey)))],
            Night = OfNight(likely.Night, byKey),
            Findings = [.. Sure(likely, byKey)],
            Unknowns = [.. ranked],
            Calculations = 1 + effects.Sum(effect => effect.Points.Count(point => point.Calculated)),
        };
    }

    private static Moved Move(Judgement judgement, Judged likely, Unknown unknown, CancellationToken cancellation)
    {
        List<Point> points = [];
        List<string> failed = [];
        foreach (BandEnd end in new[] { BandEnd.Low, BandEnd.High })
        {
            double mass = unknown.Chance(end);
            if (mass <= 0)
            {
                continue;
            }

            double sign = end == BandEnd.Low ? -1 : 1;
            int count = judgement.Depth == AssessmentDepth.Night ? NightPoints : YearPoints;
            Judged? there = Try(judgement, likely, unknown, sign, failed, cancellation);
            // Where nothing turned at the end nothing is taken to turn before it.
            bool between = unknown.Continuous && there is not null && !there.SameAs(likely);
            for (int k = 1; between && k < count; k++)
            {
                Judged? at = Try(judgement, likely, unknown, sign * k / count, failed, cancellation);
                points.Add(new Point(sign * k / count, mass * Triangular.Cell(k, count), at, Calculated: true));
            }

            double share = !unknown.Continuous ? 1 : Triangular.Cell(count, count);
            points.Add(new Point(sign, mass * share, there, Calculated: unknown.WeighsInAir));
        }

        return new Moved(unknown, [.. points], Effect(likely, unknown, points, failed));
    }

    private static Judged? Try(Judgement judgement, Judged likely, Unknown unknown, double share, List<string> failed, CancellationToken cancellation)
    {
        cancellation.ThrowIfCancellationRequested();
        try
        {
            return judgement.At(unknown, share, likely, cancellation);
        }
        catch (CalculationFailedException failure)
        {
            // Told with the result: what cannot be calculated says nothing.
            failed.Add($"{unknown.Name} {(share < 0 ? "at its low end" : "at its high end")}: {failure.Message}");
            return null;
        }
    }

    private static UnknownEffect Effect(Judged likely, Unknown unknown, List<Point> points, List<string> failed)
    {
        Severity? At(double share, string code) => points.FirstOrDefault(point => point.Share == share)?.Judged is { } judged
            ? judged.SeverityOf(code)
            : likely.SeverityOf(code);
        string[] codes = [.. points.SelectMany(point => point.Judged?.Codes ?? []).Concat(likely.Codes).Distinct().Order(StringComparer.Ordinal)];
        FindingTurn[] turns =
        [
            .. from code in codes
               let was = likely.SeverityOf(code)
               let chance = points.Where(point => point.Judged is { } judged && judged.Turns(likely, code)).Sum(point => point.Mass)
               where chance > 0
               select new FindingTurn(code, unknown.Key, was, At(-1, code), At(1, code), chance),
        ];
        double remedy = points.Where(point => point.Judged is { } judged && judged.BestRemedy != likely.BestRemedy).Sum(point => point.Mass);
        double worth = points
            .Where(point => point.Judged is not null)
            .Sum(point => point.Mass * (codes.Sum(code => likely.LossAgainst(point.Judged!, code))
                + (point.Judged!.BestRemedy != likely.BestRemedy ? Losses.Of(Severity.Advice) : 0)));
        return new UnknownEffect
        {
            Unknown = unknown,
            Turns = [.. turns.OrderBy(turn => Gravest(turn)).ThenByDescending(turn => turn.Chance).ThenBy(turn => turn.Code, StringComparer.Ordinal)],
            RemedyTurns = remedy,
            Chance = points.Where(point => point.Judged is { } judged && !judged.RecommendsAs(likely)).Sum(point => point.Mass),
            Worth = worth,
            NotCalculated = [.. failed],
        };
    }

    private static Severity Gravest(FindingTurn turn) =>
        new[] { turn.Likely, turn.AtLow, turn.AtHigh }.OfType<Severity>().DefaultIfEmpty(Severity.Note).Min();

    private static ImmutableArray<HeadlineBand> OfSituation(SituationResult likely, int index, Moved[] effects) =>
    [
        .. Numbers.Select(number => Band(
            number.Key, number.Label, number.Of(likely), effects, judged => number.Of(judged.Situations[index]), number.Quantity, number.Least, number.Most)),
    ];

    private static ImmutableArray<HeadlineBand> OfNight(Assessment likely, Moved[] effects) =>
    [
        .. HeadlineBands.OfTheNight.Select(headline => Band(
            headline.Key, headline.Label, headline.Number(likely)!.Value, effects, judged => headline.Number(judged.Night)!.Value, headline.Quantity, 0, double.PositiveInfinity)),
    ];

    private static HeadlineBand Band(
        string key, string label, double likely, Moved[] effects, Func<Judged, double> number, Func<double, IQuantity> quantity, double least, double most)
    {
        double End(Moved moved, double share) => moved.Points.FirstOrDefault(point => point.Share == share)?.Judged is { } judged ? number(judged) : likely;
        (double low, double high, int movedMost) = HeadlineBands.Combine(likely, [.. effects.Select(moved => (End(moved, -1), End(moved, 1)))]);
        return new HeadlineBand(
            key, label, quantity(Math.Max(least, low)), quantity(likely), quantity(Math.Min(most, high)), movedMost < 0 ? "" : effects[movedMost].Unknown.Name);
    }

    private static IEnumerable<FindingSureness> Sure(Judged likely, Moved[] effects)
    {
        FindingTurn[] turns = [.. effects.SelectMany(moved => moved.Effect.Turns)];
        IEnumerable<Finding> brought = effects
            .SelectMany(moved => moved.Points)
            .SelectMany(point => point.Judged?.Findings ?? [])
            .Where(finding => likely.SeverityOf(finding.Code) is null)
            .DistinctBy(finding => finding.Code)
            .OrderBy(finding => finding.Severity).ThenBy(finding => finding.Code, StringComparer.Ordinal);
        foreach (Finding finding in likely.Findings.Concat(brought))
        {
            FindingTurn[] own = [.. turns.Where(turn => turn.Code == finding.Code).OrderByDescending(turn => turn.Chance).ThenBy(turn => turn.Unknown, StringComparer.Ordinal)];
            (HeadlineBand? evidence, string? moves) = likely.SeverityOf(finding.Code) is null ? (null, null) : Evidence(finding, effects);
            yield return new FindingSureness
            {
                Code = finding.Code,
                Title = finding.Title,
                Severity = likely.SeverityOf(finding.Code),
                MattersMost = own.Length > 0 ? own[0].Unknown : moves,
                Evidence = evidence,
                Turns = [.. own],
            };
        }
    }

    // The band of a finding's first number. Where the finding is gone at an end, or has another number first there, that end says nothing of it.
    private static (HeadlineBand? Band, string? MovedMost) Evidence(Finding finding, Moved[] effects)
    {
        Evidence first = finding.Evidence[0];
        double likely = first.Value.As(first.Value.Unit);
        double End(Moved moved, double share) =>
            moved.Points.FirstOrDefault(point => point.Share == share)?.Judged?.Findings.FirstOrDefault(other => other.Code == finding.Code) is { } other
            && other.Evidence[0].Label == first.Label && other.Evidence[0].Value.GetType() == first.Value.GetType()
                ? other.Evidence[0].Value.As(first.Value.Unit)
                : likely;
        (double low, double high, int movedMost) = HeadlineBands.Combine(likely, [.. effects.Select(moved => (End(moved, -1), End(moved, 1)))]);
        // A number that is negative nowhere cannot be: its band ends at 0.
        double least = first.Value is not Temperature && likely >= 0 && effects.All(moved => End(moved, -1) >= 0 && End(moved, 1) >= 0) ? 0 : double.NegativeInfinity;
        IQuantity At(double value) => Quantity.From(value, first.Value.Unit);
        return (
            new HeadlineBand(finding.Code, first.Label, At(Math.Max(least, low)), first.Value, At(high), movedMost < 0 ? "" : effects[movedMost].Unknown.Name),
            movedMost < 0 ? null : effects[movedMost].Unknown.Key);
    }

    private sealed record SituationNumber(
        string Key, string Label, Func<SituationResult, double> Of, Func<double, IQuantity> Quantity, double Least = 0, double Most = double.PositiveInfinity);

    /// <summary>A value that was looked at: where it lies, the chance it stands for, and what came of it.</summary>
    private sealed record Point(double Share, double Mass, Judged? Judged, bool Calculated);

    private sealed record Moved(Unknown Unknown, ImmutableArray<Point> Points, UnknownEffect Effect);
}

/// <summary>The triangular density between what stands there and an end, where it is 0.</summary>
internal static class Triangular
{
    /// <summary>
    /// Share of one side's chance that lies nearest the k-th of so many values at equal distances to the end: (1 - a)2 - (1 - b)2 with a and b halfway to
    /// the neighbours. What lies nearest the value that stands there is not counted: there nothing turns.
    /// </summary>
    public static double Cell(int k, int count)
    {
        double from = (k - 0.5) / count;
        double to = k == count ? 1 : (k + 0.5) / count;
        return ((1 - from) * (1 - from)) - ((1 - to) * (1 - to));
    }
}

/// <summary>What it costs to act on the wrong finding, from <c>losses.csv</c>, in units of a piece of advice.</summary>
internal static class Losses
{
    private static readonly ImmutableDictionary<Severity, double> Table = EmbeddedTable.Rows("Unknowns.losses.csv", columns: 3)
        .ToImmutableDictionary(row => Enum.Parse<Severity>(row[0]), row => double.Parse(row[1], System.Globalization.CultureInfo.InvariantCulture));

    /// <summary>Loss when a finding of this severity is missed or made for nothing.</summary>
    public static double Of(Severity severity) => Table[severity];

    /// <summary>Loss of acting on one when the other is true; null is no finding.</summary>
    public static double Between(Severity? acted, Severity? truth) =>
        Math.Abs((acted is Severity a ? Of(a) : 0) - (truth is Severity t ? Of(t) : 0));
}
