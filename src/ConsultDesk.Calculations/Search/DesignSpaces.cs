using System.Collections.Immutable;
using System.Numerics;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Search;

/// <summary>Makes the space of an order: lists what the price book and the van offer, thins each axis, and counts what the rules leave of the combinations.</summary>
public static class DesignSpaces
{
    private static readonly SpaceChoice AsItStands = new("", "As it stands", design => design);

    /// <summary>The space of an order.</summary>
    /// <param name="order">What is searched.</param>
    /// <param name="cancellation">Stops the work; looked at for every choice.</param>
    /// <exception cref="ArgumentException">The design is wrong; the message names the fields.</exception>
    public static DesignSpace Of(SearchOrder order, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(order);
        order.Effort.Check();
        Simulation.Assessor.RequireValid(order.Design);
        Design now = LaterParts.Without(order.Design);
        return Of(order, new Screen(now, YearWeather.Of(now, hours: order.Hours), order.Book), cancellation);
    }

    internal static DesignSpace Of(SearchOrder order, Screen screen, CancellationToken cancellation)
    {
        Design start = order.Design;
        SpaceTally tally = new();
        List<(string Key, string Name, List<SingleChange> Changes)> listed = Listed(start, order.Book);
        BigInteger all = listed.Aggregate(BigInteger.One, (product, axis) => product * (axis.Changes.Count + 1));
        List<ThinnedAxis> axes = [];
        foreach ((string key, string name, List<SingleChange> changes) in listed)
        {
            List<SingleChange> possible = [];
            foreach (SingleChange change in changes)
            {
                cancellation.ThrowIfCancellationRequested();
                if (Removal(order, change) is string rule)
                {
                    tally.Choice(rule, change.Words);
                }
                else
                {
                    possible.Add(change);
                }
            }

            axes.Add(new ThinnedAxis(key, name, changes.Count + 1, possible, SingleChanges.FamilyOf(start, key)));
        }

        ImmutableArray<string> lost = AxisThinning.Thin(start, axes, screen, order.Effort, tally, cancellation);
        RemoveDirectionWithoutFans(start, axes, tally);
        ImmutableArray<SpaceAxis> kept =
        [
            .. axes.Where(axis => axis.Kept.Count > 0).Select(axis => new SpaceAxis(
                axis.Key, axis.Name, [AsItStands, .. axis.Kept.Select(change => new SpaceChoice(change.Key, change.Words, change.Apply) { Places = change.Kind is ChangeKind.Add or ChangeKind.Move or ChangeKind.Swap })], axis.Listed)),
        ];
        PairTable pairs = new(order, kept, cancellation);
        return pairs.Space(all, tally, Notes(order, listed, tally, lost), cancellation);
    }

    // Fans can be turned round only where one is or can be had.
    private static void RemoveDirectionWithoutFans(Design start, List<ThinnedAxis> axes, SpaceTally tally)
    {
        if (!start.Openings.Any(BlowsOut) && !axes.SelectMany(axis => axis.Kept).Any(change => change.Apply(start).Openings.Any(BlowsOut)))
        {
            foreach (ThinnedAxis axis in axes.Where(axis => axis.Kept.Remove(Inwards)))
            {
                tally.Choice("no-effect", Inwards.Words);
            }
        }
    }

    /// <summary>Key of the first rule a change breaks alone; null when none. A wish the van breaks already stands in nobody's way.</summary>
    internal static string? Removal(SearchOrder order, SingleChange change)
    {
        Design start = order.Design;
        if (change.Barred is string barred)
        {
            return barred;
        }

        Design changed = change.Apply(start);
        if (ReferenceEquals(changed, start))
        {
            // Fans may come with another choice.
            return change.Kind is ChangeKind.Add or ChangeKind.Move ? "no-room" : change == Inwards ? null : "no-effect";
        }

        return changed.Heater.Kind != start.Heater.Kind && HasUnpricedFuel(changed, order.Book) ? "unpriced-fuel" : Removal(order, start, changed);
    }

    /// <summary>Key of the first rule a changed design breaks that the design before did not; null when none. Money is not asked for.</summary>
    internal static string? Removal(SearchOrder order, Design before, Design changed)
    {
        if (Placement.Refusal(before, changed) is not null)
        {
            return "no-room";
        }

        if (DesignCheck.Errors(changed).Except(DesignCheck.Errors(before)).Any())
        {
            return "not-fitting";
        }

        if (order.Wishes is not Wishes wishes)
        {
            return null;
        }

        if (wishes.WontHaves.Any(wont => WishCheck.PartsBreaking(changed, wont).Except(WishCheck.PartsBreaking(before, wont)).Any()))
        {
            return "wont-have";
        }

        return wishes.LoudestAtBedDba is double loudest
            && changed.Openings.Any(opening => WishCheck.NightSoundDba(changed, opening) > loudest
                && !(Openings.Find(before, opening.Id) is Opening was && WishCheck.NightSoundDba(before, was) > loudest))
            ? "too-loud"
            : null;
    }

    /// <summary>True when the book has no price for what the heater burns or draws.</summary>
    internal static bool HasUnpricedFuel(Design design, PriceBook book) => design.Heater.Kind != HeaterKind.None && RunningPrices.OfHeater(book, design.Heater.Kind) is null;

    // The groups of the single changes, in an order in which what is cut and placed comes before what is hung on it and how it is used.
    private static List<(string Key, string Name, List<SingleChange> Changes)> Listed(Design start, PriceBook book)
    {
        List<SingleChange> changes = [.. SingleChanges.Listed(start, book)];
        List<(string Key, string Name, List<SingleChange> Changes)> axes = [];
        foreach (IGrouping<string, SingleChange> group in changes.Where(change => change.Group.StartsWith("part:", StringComparison.Ordinal)).GroupBy(change => change.Group))
        {
            axes.Add((group.Key, NameOfPart(start, group.Key["part:".Length..]), [.. group]));
        }

        foreach ((string group, string name, string? again) in Groups)
        {
            List<SingleChange> own = [.. changes.Where(change => change.Group == group)];
            if (own.Count == 0)
            {
                continue;
            }

            axes.Add((group, name, own));
            if (again is not null)
            {
                axes.Add((group + "-2", again, [.. own]));
            }
        }

        foreach (Opening opening in start.Openings.Where(opening => FactoryOpenings.SetByPeople(opening) && !opening.Covered && opening.State != PartState.Later))
        {
            List<SingleChange> uses = [.. changes.Where(change => change.Group == $"use:{opening.Id}")];
            if (opening.Position is Position.Half or Position.Full)
            {
                uses.Add(Shut(opening));
            }

            if (uses.Count > 0)
            {
                axes.Add(($"use:{opening.Id}", $"How {opening.Name} stands by night", uses));
            }
        }

        axes.Add(("direction", "Which way the fans blow", [Inwards]));
        return axes;
    }

    private static ImmutableArray<(string Group, string Name, string? Again)> Groups { get; } =
    [
        ("roof", "An opening more in the roof", "A second opening more in the roof"),
        ("windows", "A window more", "A second window more"),
        ("floor-vent", "A vent in the floor", null),
        ("cab-windows", "The cab's windows", null),
        ("cab-divider", "Between cab and room", null),
        ("bed-base", "Under the mattress", null),
        ("circulation-fan", "A fan within the van", null),
        ("dryer", "A dryer", null),
        ("heater", "The heater", null),
        ("walls", "Insulation of the walls", null),
        ("roof-layers", "Insulation of the roof", null),
        ("floor", "Insulation of the floor", null),
        ("coating-walls", "Coating of the walls' steel", null),
        ("coating-roof", "Coating of the roof's steel", null),
        ("coating-floor", "Coating of the floor's steel", null),
        ("covers", "Covers on the glass", null),
    ];

    private static string NameOfPart(Design start, string id) =>
        Openings.Find(start, id)?.Name ?? start.CirculationFans.FirstOrDefault(fan => fan.Id == id)?.Name ?? start.Dryers.FirstOrDefault(dryer => dryer.Id == id)?.Name ?? id;

    private static SingleChange Shut(Opening opening) => new(
        $"shut:{opening.Id}", ChangeKind.Use, opening.Fan is null ? $"Shut {opening.Name}" : $"Shut {opening.Name} and switch its fan off", CutsBody: false,
        van => Openings.Find(van, opening.Id) is not { Position: not Position.Shut } ? van : Openings.Change(van, opening.Id, old => old with
        {
            Position = Position.Shut,
            Fan = old.Fan is Fan fan ? fan with { Speed = 0 } : null,
        }));

    private static SingleChange Inwards { get; } = new(
        "direction:intake", ChangeKind.Use, "Let the fans of lids and windows blow in", CutsBody: false,
        van => van.Openings.Any(BlowsOut)
            ? van with { Openings = [.. van.Openings.Select(opening => BlowsOut(opening) ? opening with { Fan = opening.Fan! with { Direction = FanDirection.Intake } } : opening)] }
            : van);

    /// <summary>True for an opening whose fan runs and blows out.</summary>
    internal static bool BlowsOut(Opening opening) => opening is { Covered: false, Position: not Position.Shut, Fan: { Speed: > 0, Direction: FanDirection.Exhaust } };

    private static ImmutableArray<string> Notes(SearchOrder order, List<(string Key, string Name, List<SingleChange> Changes)> listed, SpaceTally tally, ImmutableArray<string> lost)
    {
        List<string> notes = [];
        Design design = order.Design;
        bool Fixed(PartState state) => state is PartState.Fitted or PartState.Owned;
        if (order.Book.Items.All(item => item.Kind != PriceKind.Heater))
        {
            notes.Add(design.Heater.Kind == HeaterKind.None
                ? "The price book has no heaters and the van has none: no design of this search is heated. Put heaters into the price book to have them looked at."
                : "The price book has no heaters: the heater stays as it is. Put heaters into the price book to have others looked at.");
        }
        else if (Fixed(design.Heater.State))
        {
            notes.Add("The heater is there already and stays.");
        }

        SingleChange[] roof = [.. listed.Where(axis => axis.Key == "roof").SelectMany(axis => axis.Changes)];
        if (roof.Length == 0)
        {
            notes.Add("The price book has no roof vents and no roof fans.");
        }
        else if (roof.All(change => Removal(order, change) == "no-room"))
        {
            notes.Add("No roof vent or fan of the price book finds a place on the roof: ribs, bars, panels, the edge and what is cut into it take it all. Move a part that is not fitted, or put a smaller vent into the price book.");
        }

        if (order.Wishes?.BudgetNow == 0)
        {
            notes.Add("The budget of now is zero: only what costs nothing is looked at. Raise it to see what money would buy.");
        }

        if (tally.Choices("battery") > 0)
        {
            notes.Add("What the battery does not last a night for is left out: no hook-up is known of.");
        }

        if (!lost.IsEmpty)
        {
            notes.Add($"One of each kind of heater, insulation and cover already makes more combinations than may be made. Not looked at for that: {string.Join("; ", lost)}.");
        }

        if (HasUnpricedFuel(design, order.Book))
        {
            notes.Add("The price book has no price for what the heater burns or draws: the money a year is not known and not compared.");
        }

        notes.Add(tally.Choices("coating") > 0
            ? "A coating keeps rust off the steel and changes no number that is compared: it is decided by the steel, not by this search. Coatings of glass are not known."
            : "Coatings of steel and glass are not varied.");
        return [.. notes];
    }
}

/// <summary>What rules removed so far.</summary>
internal sealed class SpaceTally
{
    private const int MostExamples = 3;

    private readonly Dictionary<string, (int Choices, List<string> Examples)> _choices = [];
    private readonly Dictionary<string, long> _combinations = [];

    public void Choice(string rule, string words)
    {
        (int choices, List<string> examples) = _choices.GetValueOrDefault(rule, (0, []));
        if (examples.Count < MostExamples)
        {
            examples.Add(words);
        }

        _choices[rule] = (choices + 1, examples);
    }

    public int Choices(string rule) => _choices.GetValueOrDefault(rule, (0, [])).Choices;

    public void Combinations(string rule, long count) => _combinations[rule] = _combinations.GetValueOrDefault(rule) + count;

    public ImmutableArray<RemovedByRule> Removed() =>
    [
        .. SpaceRule.All.Select(rule => new RemovedByRule(
                rule, Choices(rule.Key), _combinations.GetValueOrDefault(rule.Key), [.. _choices.GetValueOrDefault(rule.Key, (0, [])).Examples]))
            .Where(removed => removed.Choices > 0 || removed.Combinations > 0),
    ];
}
