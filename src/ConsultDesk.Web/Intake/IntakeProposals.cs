using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Reports.Units;
using ConsultDesk.Web.Clients;
using ConsultDesk.Web.Workspace;
using UnitsNet;

namespace ConsultDesk.Web.Intake;

/// <summary>One answer of an intake as a change the consultant may take over.</summary>
/// <param name="Key">Key of the answer it comes from; unique in a list.</param>
/// <param name="Group">Title of the step it stands on.</param>
/// <param name="Label">What it is about.</param>
/// <param name="Now">What stands in the option or the wishes now; empty for what has no place there.</param>
/// <param name="Answer">What the client answered.</param>
public sealed record Proposal(string Key, string Group, string Label, string Now, string Answer)
{
    /// <summary>The design with the answer taken over; null when it changes no design.</summary>
    public Func<Design, Design>? Change { get; init; }

    /// <summary>Facts the answer tells, which get its origin even when their value stays.</summary>
    public ImmutableArray<string> Paths { get; init; } = [];

    /// <summary>Where the answer's value comes from.</summary>
    public Origin Origin { get; init; } = Origin.Told;

    /// <summary>The wishes with the answer taken over; null when it changes none.</summary>
    public Func<Wishes, Wishes>? Wish { get; init; }

    /// <summary>Why it cannot be taken over by itself; null when it can, or is only to be read.</summary>
    public string? Why { get; init; }

    /// <summary>True when it can be taken over.</summary>
    public bool CanBeTaken => Change is not null || Wish is not null;

    /// <summary>True when the answer is what stands there already.</summary>
    public bool SameAsNow => Now == Answer;
}

/// <summary>Reads the answers of an intake as proposals; what no field takes stays in the client's words, to be talked about.</summary>
public static class IntakeProposals
{
    /// <summary>Every answer as a proposal, in the order of the questionnaire.</summary>
    /// <param name="answers">The answers.</param>
    /// <param name="design">The option they are held against.</param>
    /// <param name="wishes">The wishes of the van as they stand.</param>
    /// <param name="units">The consultant's units.</param>
    /// <param name="currency">The firm's currency.</param>
    public static IReadOnlyList<Proposal> Of(IReadOnlyDictionary<string, string> answers, Design design, Wishes wishes, DisplayUnits units, string currency)
    {
        ArgumentNullException.ThrowIfNull(answers);
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(wishes);
        ArgumentNullException.ThrowIfNull(units);
        List<Proposal> all = [];
        foreach (var step in Questionnaire.Steps)
        {
            var wrong = Questionnaire.Errors(step, answers);
            foreach (var item in step.Items)
            {
                switch (item)
                {
                    case Rows { Key: "stay" } stays:
                        all.AddRange(Stays(step, stays, answers, design));
                        break;
                    case Rows { Key: "part" } parts:
                        all.AddRange(Parts(step, parts, answers, design, units));
                        break;
                    case Question question when answers.TryGetValue(question.Key, out var answer):
                        var proposal = wrong.TryGetValue(question.Key, out var error)
                            ? new Proposal(question.Key, step.Title, question.Label, "", answer) { Why = error }
                            : One(step, question, answer, answers, design, wishes, units, currency);
                        if (proposal is not null)
                        {
                            all.Add(proposal);
                        }

                        break;
                }
            }

            if (step.Key == "wishes" && wrong.Count == 0 && Order(answers) is { IsEmpty: false } order)
            {
                all.Add(new("order", step.Title, "What matters most", Words(wishes.Order), Words(order)) { Wish = w => w with { Order = order } });
            }
        }

        return all;

        static string Words(ImmutableArray<Priority> order) => string.Join(", ", order.Select(WishWords.Of));
    }

    /// <summary>The design with proposals taken over, and the facts they tell marked with their origins.</summary>
    public static Design Taken(Design design, IEnumerable<Proposal> proposals)
    {
        ArgumentNullException.ThrowIfNull(proposals);
        foreach (var proposal in proposals.Where(proposal => proposal.Change is not null))
        {
            var after = proposal.Change!(design);
            design = Origins.AfterEdit(after, DesignJson.Differences(design, after).Select(difference => difference.Path).Concat(proposal.Paths), proposal.Origin);
        }

        return design;
    }

    private static Proposal? One(
        Step step, Question question, string answer, IReadOnlyDictionary<string, string> answers, Design design, Wishes wishes, DisplayUnits units, string currency)
    {
        var shown = Questionnaire.Shown(question, answer, answers);
        Proposal Design(string now, Func<Design, Design> change, params string[] paths) =>
            new(question.Key, step.Title, question.Label, now, shown) { Change = change, Paths = [.. paths] };
        Proposal Chosen<T>(T now, Func<T, string> name, Func<Design, T, Design> change, string path)
            where T : struct, Enum => Questionnaire.Chosen<T>(answer) is { } value ? Design(name(now), d => change(d, value), path) : Read();
        Proposal Counted(int now, Func<Design, int, Design> change, string path) =>
            Questionnaire.Whole(answer, question.Range!) is { } count ? Design(now.ToString(CultureInfo.InvariantCulture), d => change(d, count), path) : Read();
        Proposal Wish(string now, Func<Wishes, Wishes> change) => new(question.Key, step.Title, question.Label, now, shown) { Wish = change };
        Proposal Read() => new(question.Key, step.Title, question.Label, "", shown);

        switch (question.Key)
        {
            case "sizes-in" or "part-sizes-in" or "measured":
                return null;
            case "body-class":
                var now = BodyClasses.All.FirstOrDefault(body => body.Key == design.Body.BodyClass)?.Name ?? design.Body.BodyClass;
                return Read() with { Now = now, Why = now == shown ? null : "Another body class is another van: make a new one, or take over the measured sizes below." };
            case "length":
                return Sized(design.Body.InteriorLength, "body.interiorLengthM", (d, size) => Bodies.Resized(d, size, d.Body.InteriorWidth, d.Body.InteriorHeight));
            case "width":
                return Sized(design.Body.InteriorWidth, "body.interiorWidthM", (d, size) => Bodies.Resized(d, d.Body.InteriorLength, size, d.Body.InteriorHeight));
            case "height":
                return Sized(design.Body.InteriorHeight, "body.interiorHeightM", (d, size) => Bodies.Resized(d, d.Body.InteriorLength, d.Body.InteriorWidth, size));
            case "build-stage":
                return Chosen(design.BuildStage, Workspace.Words.Of, (d, stage) => d with { BuildStage = stage }, "buildStage");
            case "steel":
                return Chosen(design.Equipment.Steel, Workspace.Words.Of, (d, steel) => d with { Equipment = d.Equipment with { Steel = steel } }, "equipment.steel");
            case "registered":
                return Design(design.Country is { } country ? TradeWords.Country(country) : "as the stop", d => d with { Country = answer }, "country");
            case "sleepers":
                return Counted(design.Household.Sleepers, (d, count) => d with { Household = d.Household with { Sleepers = count } }, "household.sleepers");
            case "animals":
                return Counted(design.Household.Animals, (d, count) => d with { Household = d.Household with { Animals = count } }, "household.animals");
            case "presence":
                return Chosen(design.Household.Presence, Workspace.Words.Of, (d, presence) => d with { Household = d.Household with { Presence = presence } }, "household.presence");
            case "cooking-fuel":
                return Chosen(design.Household.CookingFuel, TradeWords.Of, (d, fuel) => d with { Household = d.Household with { CookingFuel = fuel } }, "household.cookingFuel");
            case "cooking-habit":
                return Chosen(design.Household.CookingHabit, TradeWords.Of, (d, habit) => d with { Household = d.Household with { CookingHabit = habit } }, "household.cookingHabit");
            case "showers":
                return Counted(design.Household.ShowersPerDay, (d, count) => d with { Household = d.Household with { ShowersPerDay = count } }, "household.showersPerDay");
            case "dries-clothes":
                return Design(design.Household.DriesClothes ? "Yes" : "No", d => d with { Household = d.Household with { DriesClothes = answer == "yes" } }, "household.driesClothes");
            case "heater":
                return Chosen(design.Heater.Kind, Workspace.Words.Of, (d, kind) => d with { Heater = d.Heater with { Kind = kind, PriceKey = kind == d.Heater.Kind ? d.Heater.PriceKey : null } }, "heater.kind");
            case "budget-now":
                return Budget(wishes.BudgetNow, (w, amount) => w with { BudgetNow = amount });
            case "budget-later":
                return Budget(wishes.BudgetLater, (w, amount) => w with { BudgetLater = amount });
            case "must-haves":
                return Wish(string.Join('\n', wishes.MustHaves), w => w with { MustHaves = Split(answer) });
            case "other-wont-haves":
                return Wish(string.Join('\n', wishes.OtherWontHaves), w => w with { OtherWontHaves = Split(answer) });
            case "wont-haves":
                ImmutableArray<WontHave> refused = [.. answer.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(value => Questionnaire.Chosen<WontHave>(value)).OfType<WontHave>()];
                return Wish(Refused(wishes.WontHaves), w => w with { WontHaves = refused }) with { Answer = Refused(refused) };
            case "looks":
                return Wish(wishes.Looks, w => w with { Looks = answer });
            case var key when key.StartsWith("order-", StringComparison.Ordinal):
                return null;
            default:
                return Read();
        }

        Proposal Sized(Length size, string path, Func<Design, Length, Design> change) =>
            Questionnaire.Metres(answer, answers.GetValueOrDefault(Questionnaire.UnitKey(question.Key)), question.Range!) is { } metres
                ? Design(units.Format(size), d => change(d, Length.FromMeters(metres)), path) with
                {
                    Answer = units.Format(Length.FromMeters(metres)),
                    Origin = answers.GetValueOrDefault("measured") == "measured" ? Origin.Measured : Origin.Told,
                }
                : Read();

        Proposal Budget(decimal? now, Func<Wishes, decimal, Wishes> change) => Questionnaire.Money(answer) is { } amount
            ? Wish(Amount(now), w => change(w, amount)) with { Answer = Amount(amount) }
            : Read() with { Now = Amount(now), Why = Questionnaire.MoneyError(answer) };
        string Amount(decimal? money) => money is { } amount ? Money.Rounded(amount, currency) : "";
        static string Refused(ImmutableArray<WontHave> refused) => string.Join(", ", refused.Select(WishWords.Of));
        static ImmutableArray<string> Split(string lines) => [.. lines.Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)];
    }

    private static ImmutableArray<Priority> Order(IReadOnlyDictionary<string, string> answers) =>
    [
        .. from priority in Enum.GetValues<Priority>()
           let place = answers.GetValueOrDefault("order-" + Questionnaire.Value(priority))
           where place is not null
           orderby place
           select priority,
    ];

    /// <summary>The stays together: they become an itinerary only when they cover every month of the year once.</summary>
    private static IEnumerable<Proposal> Stays(Step step, Rows rows, IReadOnlyDictionary<string, string> answers, Design design)
    {
        List<(string Words, Place? Place, int? From, int? To, Shelter Shelter)> stays = [];
        for (var row = 1; row <= rows.Most; row++)
        {
            string? Answer(string question) => answers.GetValueOrDefault(rows.KeyOf(row, question));
            if (rows.Questions.All(question => Answer(question.Key) is null))
            {
                continue;
            }

            var place = Answer("place") ?? "";
            stays.Add((
                $"{(place.Length > 0 ? place : "place not said")}, {Month(Answer("from"))} to {Month(Answer("to"))}", PlaceNames.Meant(place),
                Questionnaire.Whole(Answer("from"), DesignLimits.Month), Questionnaire.Whole(Answer("to"), DesignLimits.Month),
                Questionnaire.Chosen<Shelter>(Answer("shelter")) ?? Shelter.Ordinary));
        }

        if (stays.Count == 0)
        {
            yield break;
        }

        var words = string.Join('\n', stays.Select(stay => stay.Words));
        var now = string.Join('\n', Itineraries.Stays(design).Select(stay => $"{PlaceField.ShortName(design, stay.PlaceKey)}, {Workspace.Words.Month(stay.From.Month)} to {Workspace.Words.Month(stay.To.Month)}"));
        var proposal = new Proposal("stays", step.Title, "Stays", now, words);
        if (stays.FirstOrDefault(stay => stay.Place is null) is { Words: not null } unknown)
        {
            yield return proposal with { Why = $"No place of the climate table is called as in “{unknown.Words}”. Choose a near one, or enter its months, in the workspace." };
            yield break;
        }

        var covering = new int[12];
        foreach (var (_, _, from, to, _) in stays)
        {
            if (from is { } first && to is { } last)
            {
                for (var month = first; ; month = (month % 12) + 1)
                {
                    covering[month - 1]++;
                    if (month == last)
                    {
                        break;
                    }
                }
            }
        }

        if (stays is [{ Place: { } only }] && stays[0] is { From: null } or { To: null })
        {
            yield return proposal with { Change = d => d with { Stop = d.Stop with { PlaceKey = only.Key, Altitude = only.Elevation, Shelter = stays[0].Shelter }, Itinerary = [] }, Paths = ["stop.placeKey", "stop.altitudeM", "stop.shelter"] };
            yield break;
        }

        var open = Months(count => count == 0);
        var twice = Months(count => count > 1);
        if (open.Length > 0 || twice.Length > 0)
        {
            yield return proposal with
            {
                Why = string.Join(" ", new[] { open.Length > 0 ? $"No stay in {open}." : "", twice.Length > 0 ? $"Two stays in {twice}." : "" }.Where(text => text.Length > 0))
                    + " Ask, and enter the stays in the workspace.",
            };
            yield break;
        }

        ImmutableArray<ItineraryStop> itinerary =
        [
            .. stays.Select((stay, index) => new ItineraryStop
            {
                Id = string.Create(CultureInfo.InvariantCulture, $"stay-{index + 1}"),
                PlaceKey = stay.Place!.Key,
                Altitude = stay.Place.Elevation,
                Shelter = stay.Shelter,
                From = new MonthDay(stay.From!.Value, 1),
                To = new MonthDay(stay.To!.Value, YearCalendar.DaysInMonth[stay.To.Value - 1]),
            }),
        ];
        yield return proposal with { Change = d => d with { Itinerary = itinerary } };

        string Months(Func<int, bool> which) => string.Join(", ", Enumerable.Range(1, 12).Where(month => which(covering[month - 1])).Select(Workspace.Words.Month));
        static string Month(string? number) => Questionnaire.Whole(number, DesignLimits.Month) is { } month ? Workspace.Words.Month(month) : "?";
    }

    /// <summary>Each part that is there: it marks the one of its kind that the option only proposes, or is read.</summary>
    private static IEnumerable<Proposal> Parts(Step step, Rows rows, IReadOnlyDictionary<string, string> answers, Design design, DisplayUnits units)
    {
        HashSet<string> taken = [];
        for (var row = 1; row <= rows.Most; row++)
        {
            string? Answer(string question) => answers.GetValueOrDefault(rows.KeyOf(row, question));
            var told = rows.Of(row).Where(question => answers.ContainsKey(question.Key)).ToList();
            if (told.Count == 0)
            {
                continue;
            }

            var words = string.Join(", ", told.Select(question => Questionnaire.Shown(question, answers[question.Key], answers)));
            var proposal = new Proposal(rows.KeyOf(row, "what"), step.Title, $"{rows.One} {row.ToString(CultureInfo.InvariantCulture)}", "", words);
            var state = Answer("state") is "fitted" ? PartState.Fitted : PartState.Owned;
            var unit = answers.GetValueOrDefault(Questionnaire.UnitKey(rows.KeyOf(row, "length")));
            if (Answer("what") == "heater")
            {
                yield return proposal with
                {
                    Now = Workspace.Words.Of(design.Heater.State),
                    Change = d => d with { Heater = d.Heater with { State = state } },
                };
            }
            else if (Questionnaire.Chosen<OpeningKind>(Answer("what")) is { } kind
                && design.Openings.FirstOrDefault(opening => opening.Kind == kind && opening.State is PartState.Proposed or PartState.Later && !taken.Contains(opening.Id)) is { } match)
            {
                taken.Add(match.Id);
                var length = Questionnaire.Metres(Answer("length"), unit, DesignLimits.OpeningLength) is { } l ? Length.FromMeters(l) : match.Length;
                var width = Questionnaire.Metres(Answer("width"), unit, DesignLimits.OpeningWidth) is { } w ? Length.FromMeters(w) : match.Width;
                yield return proposal with
                {
                    Now = $"{match.Name}: {Workspace.Words.Of(match.State).ToLowerInvariant()}, {units.Format(Measure.SmallLength, match.Length)} × {units.Format(Measure.SmallLength, match.Width)}",
                    Change = d => Openings.Change(d, match.Id, opening => opening with { State = state, Length = length, Width = width }),
                    Paths = [$"openings[{match.Id}].lengthM", $"openings[{match.Id}].widthM"],
                };
            }
            else
            {
                yield return proposal with { Why = "The option proposes none of that kind. Add it in the workspace, with its place." };
            }
        }
    }
}
