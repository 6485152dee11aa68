using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>A change and what it does.</summary>
/// <param name="Change">The change.</param>
/// <param name="WetHoursSaved">Wet hours a year it saves; negative when it makes the van wetter.</param>
/// <param name="Price">What it adds to the money to spend now; negative when it saves money.</param>
/// <param name="Dangers">Titles of the dangers it brings; empty for a change that is ranked.</param>
public sealed record HelpfulChange(SingleChange Change, double WetHoursSaved, decimal Price, ImmutableArray<string> Dangers)
{
    /// <summary>Wet hours saved for each hundred of money; null for a change that costs nothing.</summary>
    public double? SavedPerHundred => Price > 0 ? WetHoursSaved / ((double)Price / 100) : null;
}

/// <summary>Changes a wish forbids.</summary>
/// <param name="Wont">The wish.</param>
/// <param name="Count">Changes left out because of it.</param>
public sealed record RefusedByWish(WontHave Wont, int Count);

/// <summary>One situation with the hours of the year it stands for.</summary>
/// <param name="Situation">The situation.</param>
/// <param name="Hours">Hours of the year that are its own; an hour belongs to one situation at most.</param>
public sealed record WeighedSituation(Situation Situation, int Hours);

/// <summary>What helps a design most.</summary>
public sealed record WhatHelps
{
    /// <summary>Wet hours a year of the design as it stands.</summary>
    public required double WetHours { get; init; }

    /// <summary>Changes that help: those that cost nothing first by hours saved, then by hours saved for each hundred.</summary>
    public required ImmutableArray<HelpfulChange> Ranked { get; init; }

    /// <summary>Changes that bring a danger the design does not have. Not ranked.</summary>
    public required ImmutableArray<HelpfulChange> Dangerous { get; init; }

    /// <summary>Changes that were assessed and save nothing.</summary>
    public required int Useless { get; init; }

    /// <summary>Changes that were not assessed on the situations because more promising ones were enough.</summary>
    public required int LeftOut { get; init; }

    /// <summary>Changes left out because the client will not have them.</summary>
    public required ImmutableArray<RefusedByWish> Refused { get; init; }
}

/// <summary>
/// "What helps most now": every single change from the price book, assessed on the wet situations of the itinerary's nights and cooking
/// and ranked by wet hours saved for the money. docs/method/what-helps.md has the definition.
/// </summary>
public static class HelpSearch
{
    /// <summary>Changes that are assessed on the situations.</summary>
    public const int MostChanges = 60;

    private static readonly ImmutableArray<Moment> Moments = [Moment.GoingToBed, Moment.Cooking];

    // Snow on the roof takes the lids away whatever else the hour is, and rain most of the rest.
    private static readonly ImmutableArray<CardWeather> Weathers = [CardWeather.Snow, CardWeather.Rain, CardWeather.Frost, CardWeather.Damp];

    // Money below which a change counts as costing this much when the promising ones are picked: what is nearly free must not crowd out the rest.
    private const double LeastPriceWhenPicked = 50;

    // Hours a year below which nothing is saved: the solver's own tolerance times the hours of a year stays far below.
    internal const double LeastHours = 0.5;

    /// <summary>Assesses the changes of a design in a year made from monthly means.</summary>
    /// <param name="design">A valid design.</param>
    /// <param name="book">The firm's prices.</param>
    /// <param name="wishes">What the client wants; null when not recorded.</param>
    /// <param name="progress">Told the share done, 0 to 1.</param>
    /// <param name="cancellation">Stops the work; looked at for every change.</param>
    /// <exception cref="CalculationFailedException">The design itself does not balance in a situation.</exception>
    public static WhatHelps Of(
        Design design, PriceBook book, Wishes? wishes = null, IProgress<double>? progress = null, CancellationToken cancellation = default) =>
        Of(design, WeatherHours.None, book, wishes, progress, cancellation);

    /// <summary>Assesses the changes of a design in the hours of its places' weather files as far as they are here.</summary>
    /// <param name="design">A valid design.</param>
    /// <param name="hours">Hours of the weather files that places of the design name; where they are missing the months are used.</param>
    /// <param name="book">The firm's prices.</param>
    /// <param name="wishes">What the client wants; null when not recorded.</param>
    /// <param name="progress">Told the share done, 0 to 1.</param>
    /// <param name="cancellation">Stops the work; looked at for every change.</param>
    /// <exception cref="CalculationFailedException">The design itself does not balance in a situation.</exception>
    public static WhatHelps Of(
        Design design,
        WeatherHours hours,
        PriceBook book,
        Wishes? wishes = null,
        IProgress<double>? progress = null,
        CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(book);
        Design now = LaterParts.Without(design);
        YearWeather weather = YearWeather.Of(now, hours: hours);
        ImmutableArray<WeighedSituation> situations = Weighed(now, weather);
        NightWeather night = Nights.At(now);
        Assessment start = Assessor.AssessWithoutFindings(now, night, cancellation);
        FindingContext context = new(now, start, changed => Assessor.AssessWithoutFindings(changed, night, cancellation));
        ImmutableHashSet<string> had = context.DangerCodes(now);
        decimal cost = Costing.Of(design, book).Now;
        (double before, double glassAndMetalM2) = Wet(now, situations, cancellation);

        List<Candidate> candidates = [];
        Dictionary<WontHave, int> refused = [];
        foreach (SingleChange change in SingleChanges.Of(design, book))
        {
            cancellation.ThrowIfCancellationRequested();
            Design changed = change.Apply(design);
            if (NewlyRefused(design, changed, wishes) is WontHave wont)
            {
                refused[wont] = refused.GetValueOrDefault(wont) + 1;
                continue;
            }

            Design changedNow = LaterParts.Without(changed);
            decimal price = Costing.Of(changed, book).Now - cost;
            candidates.Add(new Candidate(change, changedNow, price, Promise(changedNow, price, start, night, cancellation)));
        }

        Candidate[] picked = [.. candidates.OrderByDescending(candidate => candidate.Promise).Take(MostChanges)];
        List<HelpfulChange> assessed = [];
        int useless = 0;
        for (int index = 0; index < picked.Length; index++)
        {
            Candidate candidate = picked[index];
            double after;
            try
            {
                after = Wet(candidate.Design, situations, cancellation).M2Hours;
            }
            catch (CalculationFailedException)
            {
                // Nobody can be advised to do what cannot be calculated; it counts as not helping.
                useless++;
                continue;
            }

            double saved = glassAndMetalM2 > 0 ? (before - after) / glassAndMetalM2 : 0;
            if (saved < LeastHours)
            {
                useless++;
            }
            else
            {
                ImmutableArray<string> dangers =
                [
                    .. FindingRules.Dangers(context with { Design = candidate.Design }).Where(danger => !had.Contains(danger.Code)).Select(danger => danger.Title),
                ];
                assessed.Add(new HelpfulChange(candidate.Change, saved, candidate.Price, dangers));
            }

            progress?.Report((index + 1.0) / picked.Length);
        }

        return new WhatHelps
        {
            WetHours = glassAndMetalM2 > 0 ? before / glassAndMetalM2 : 0,
            Ranked =
            [
                .. assessed.Where(change => change.Dangers.IsEmpty)
                    .OrderByDescending(change => change.Price <= 0)
                    .ThenByDescending(change => change.SavedPerHundred ?? change.WetHoursSaved)
                    .ThenBy(change => change.Change.Key, StringComparer.Ordinal),
            ],
            Dangerous = [.. assessed.Where(change => !change.Dangers.IsEmpty).OrderByDescending(change => change.WetHoursSaved)],
            Useless = useless,
            LeftOut = candidates.Count - picked.Length,
            Refused = [.. refused.OrderBy(pair => pair.Key).Select(pair => new RefusedByWish(pair.Key, pair.Value))],
        };
    }

    /// <summary>Nights and cooking in snow, rain, frost and damp, as far as they occur in a design's year, with the hours that are their own.</summary>
    public static ImmutableArray<WeighedSituation> Weighed(Design design, YearWeather weather) =>
    [
        .. from card in Situations.ForCard(design, weather)
           where card.Situation is { People: > 0 } && Moments.Contains(card.Moment) && Weathers.Contains(card.Weather)
           let hours = Situations.HoursOfItsOwn(weather, card.Moment, card.Weather, Weathers)
           where hours > 0
           select new WeighedSituation(card.Situation!, hours),
    ];

    /// <summary>Hours a year times wet glass and metal, m2 h, over the situations; and the glass and metal there is, m2.</summary>
    internal static (double M2Hours, double GlassAndMetalM2) Wet(
        Design design, ImmutableArray<WeighedSituation> situations, CancellationToken cancellation, Assumptions? assumed = null)
    {
        ImmutableArray<SituationResult> results = SituationRun.Of(design, [.. situations.Select(weighed => weighed.Situation)], assumed ?? Assumptions.Likely, cancellation);
        return (
            results.Zip(situations).Sum(pair => pair.Second.Hours * pair.First.WetGlassAndMetal.SquareMeters),
            results.Select(result => result.GlassAndMetal.SquareMeters).DefaultIfEmpty(0).Max());
    }

    private static WontHave? NewlyRefused(Design design, Design changed, Wishes? wishes) =>
        wishes?.WontHaves.Cast<WontHave?>().FirstOrDefault(
            wont => WishCheck.PartsBreaking(changed, wont!.Value).Except(WishCheck.PartsBreaking(design, wont.Value)).Any());

    // Condensed water the steady night saves for the money: cheap to find, and good enough to choose what to look at closely.
    private static double Promise(Design changed, decimal price, Assessment start, NightWeather night, CancellationToken cancellation)
    {
        try
        {
            Assessment assessed = Assessor.AssessWithoutFindings(changed, night, cancellation);
            return (CondensedKg(start) - CondensedKg(assessed)) / Math.Max(LeastPriceWhenPicked, (double)price);
        }
        catch (CalculationFailedException)
        {
            return double.NegativeInfinity;
        }
    }

    private static double CondensedKg(Assessment night) =>
        night.Surfaces.Sum(surface => surface.CondensedPerNight.Kilograms);

    private sealed record Candidate(SingleChange Change, Design Design, decimal Price, double Promise);
}
