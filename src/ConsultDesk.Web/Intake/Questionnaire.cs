using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Reports.Plans;
using ConsultDesk.Web.Clients;
using ConsultDesk.Web.Shell;
using ConsultDesk.Web.Workspace;

namespace ConsultDesk.Web.Intake;

/// <summary>One thing on a step of the questionnaire.</summary>
public abstract record StepItem;

/// <summary>Drawings that show what to measure.</summary>
public sealed record MeasureDrawings : StepItem;

/// <summary>A sentence before the questions that follow it.</summary>
/// <param name="Text">The sentence.</param>
public sealed record Remark(string Text) : StepItem;

/// <summary>How a question is answered.</summary>
public enum AnswerKind
{
    /// <summary>One of a few, or nothing.</summary>
    Choice,

    /// <summary>Any of a few; stored with blanks between them.</summary>
    Several,

    /// <summary>A whole number.</summary>
    Whole,

    /// <summary>A length in the unit chosen on the same step.</summary>
    Size,

    /// <summary>An amount of money in the firm's currency.</summary>
    Money,

    /// <summary>A place, offered from the climate table; other words are taken too.</summary>
    Place,

    /// <summary>A line of text.</summary>
    Line,

    /// <summary>Some lines of text.</summary>
    Lines,
}

/// <summary>A question. Every one may be left open: what is not answered is asked in the call.</summary>
/// <param name="Key">Key of its answer; never changed after release.</param>
/// <param name="Label">What is asked.</param>
/// <param name="Kind">How it is answered.</param>
public sealed record Question(string Key, string Label, AnswerKind Kind) : StepItem
{
    /// <summary>What helps to answer it; null when nothing is needed.</summary>
    public string? Hint { get; init; }

    /// <summary>What there is to choose from.</summary>
    public ImmutableArray<(string Value, string Text)> Options { get; init; } = [];

    /// <summary>Range of a number; a size's in metres.</summary>
    public ValidRange? Range { get; init; }
}

/// <summary>The same few questions several times, for example for each stay.</summary>
/// <param name="Key">Start of the keys of its answers: <c>stay-1.place</c>.</param>
/// <param name="One">What one of them is called.</param>
/// <param name="Most">How many there can be.</param>
/// <param name="Questions">What is asked of each; their keys are the ends of the keys of the answers.</param>
public sealed record Rows(string Key, string One, int Most, ImmutableArray<Question> Questions) : StepItem
{
    /// <summary>The questions of one row with the keys of their answers.</summary>
    public IEnumerable<Question> Of(int row) => Questions.Select(question => question with { Key = KeyOf(row, question.Key) });

    /// <summary>Key of an answer of one row, from 1.</summary>
    public string KeyOf(int row, string question) => string.Create(CultureInfo.InvariantCulture, $"{Key}-{row}.{question}");

    /// <summary>Rows to show: one more than were filled in, at least one.</summary>
    public int Shown(IReadOnlyDictionary<string, string> answers) =>
        Math.Min(Most, 1 + Enumerable.Range(1, Most).LastOrDefault(row => Questions.Any(question => answers.ContainsKey(KeyOf(row, question.Key)))));
}

/// <summary>One page of the questionnaire.</summary>
/// <param name="Key">End of its address.</param>
/// <param name="Title">Its heading.</param>
/// <param name="Text">What it is about.</param>
/// <param name="Items">What is on it.</param>
public sealed record Step(string Key, string Title, string Text, ImmutableArray<StepItem> Items)
{
    /// <summary>Every question of the step, those of the rows that are shown included.</summary>
    public IEnumerable<Question> Questions(IReadOnlyDictionary<string, string> answers) => Items.SelectMany(item => item switch
    {
        Question question => [question],
        Rows rows => Enumerable.Range(1, rows.Shown(answers)).SelectMany(rows.Of),
        _ => [],
    });
}

/// <summary>What a client is asked before the first call, as data: the page, the check and the consultant's list all read it.</summary>
public static class Questionnaire
{
    /// <summary>Step for photos.</summary>
    public const string PhotosStep = "photos";

    /// <summary>Last step: read it over, agree, send.</summary>
    public const string SendStep = "send";

    /// <summary>Units a size may be given in.</summary>
    public static ImmutableArray<(string Value, string Text, double Metres)> SizeUnits { get; } =
        [("cm", "Centimetres", 0.01), ("mm", "Millimetres", 0.001), ("m", "Metres", 1), ("in", "Inches", 0.0254)];

    /// <summary>What photos help most.</summary>
    public static ImmutableArray<(string Value, string Text)> PhotoSubjects { get; } =
    [
        ("ribs", "Bare ribs and walls inside"),
        ("roof", "The roof, from outside and inside"),
        ("floor-underside", "Under the floor"),
        ("inside", "The whole inside, from both ends"),
        ("trouble", "What bothers you: wet glass, mould, rust"),
        ("parts", "Parts you have already"),
        ("other", "Something else"),
    ];

    /// <summary>What is agreed to before sending; kept with the answers word for word.</summary>
    public static ImmutableArray<(string Key, string Text)> Consent(string firm) =>
    [
        ("consent-data", $"{firm} may store these answers and photos to advise me. I can ask for them to be given to me or erased at any time."),
        ("consent-advice", "What I get is advice, not a certificate. Gas, mains wiring, airbags and structure are work for licensed trades, and local codes come first."),
    ];

    /// <summary>The steps in their order; <see cref="PhotosStep"/> and <see cref="SendStep"/> hold no questions.</summary>
    public static ImmutableArray<Step> Steps { get; } =
    [
        new("van", "Your van", "What it is and how big it is inside. Measure bare metal to bare metal if you can; otherwise as it is now.",
        [
            Choice("body-class", "Length and roof", BodyClasses.All.Select(body => (body.Key, body.Name))) with { Hint = "Your best guess is fine" },
            new MeasureDrawings(),
            Choice("sizes-in", "My numbers are in", SizeUnits.Select(unit => (unit.Value, unit.Text))),
            Size("length", "A · Inside length, windscreen foot to rear doors", DesignLimits.InteriorLength),
            Size("width", "B · Inside width, wall to wall at belt height", DesignLimits.InteriorWidth),
            Size("height", "C · Inside height, floor to roof", DesignLimits.InteriorHeight),
            Choice("measured", "How do you know?", [("measured", "I measured it"), ("told", "From papers or from memory")]),
            Choice("build-stage", "How far is the conversion?", Named<BuildStage>(Words.Of, BuildStage.Unknown)),
            Choice("steel", "How does the steel behind the lining look?", Named<SteelCondition>(Words.Of, SteelCondition.Unknown)),
            Choice("registered", "Where is it registered?", TradeWords.Countries.Select(code => (code, TradeWords.Country(code)))),
        ]),
        new("people", "Who travels", "Everybody who breathes in there counts.",
        [
            Whole("sleepers", "People who sleep in the van", DesignLimits.Sleepers),
            Whole("animals", "Dogs, or animals of that size", DesignLimits.Animals),
            Choice("presence", "When are you in it?", Named<Presence>(Words.Of)),
            new Question("where-asleep", "Where does everybody sleep?", AnswerKind.Line) { Hint = "For example: two across the rear, the dog by the door" },
        ]),
        new("habits", "What you do in it", "Water goes into the air with every one of these.",
        [
            Choice("cooking-fuel", "What do you cook with?", Named<CookingFuel>(TradeWords.Of)) with { Hint = "A flame burns the air you breathe: a vent open while cooking, never asleep with it lit, and a carbon monoxide alarm" },
            Choice("cooking-habit", "How much steam?", Named<CookingHabit>(TradeWords.Of)),
            Whole("showers", "Showers a day in the van", DesignLimits.ShowersPerDay),
            Choice("dries-clothes", "Do wet clothes or gear dry inside?", YesNo),
            Choice("heater", "What heats it, or shall heat it?", Named<HeaterKind>(Words.Of)),
            new Question("work", "What else do you do in it?", AnswerKind.Line) { Hint = "Work at a desk, music, surf gear, plants…" },
        ]),
        new("route", "Where and when", "The coldest and the dampest stays decide. From and to are the first and the last month there.",
        [
            new Rows("stay", "Stay", 8,
            [
                new("place", "Place", AnswerKind.Place) { Hint = "Choose from the list when a near one is offered; any words will do" },
                Choice("from", "From", Months),
                Choice("to", "To", Months),
                Choice("shelter", "How does it stand?", Named<Shelter>(Words.Of)),
            ]),
        ]),
        new("there", "What is there already", "Holes that are cut, parts that are bought or promised. Nothing you have will be moved on paper.",
        [
            Choice("part-sizes-in", "My numbers are in", SizeUnits.Select(unit => (unit.Value, unit.Text))),
            new Rows("part", "Part", 10,
            [
                Choice("what", "What", [.. Enum.GetValues<OpeningKind>().Select(kind => (Value(kind), Words.Of(kind))), ("heater", "Heater"), ("insulation", "Insulation or lining"), ("bed", "Bed"), ("other", "Something else")]),
                Choice("state", "How far", [("fitted", "Cut or built in"), ("owned", "Bought, not built in"), ("promised", "Ordered or promised")]),
                Size("length", "Length of the hole or part", DesignLimits.OpeningLength),
                Size("width", "Width of it", DesignLimits.OpeningWidth),
                new("where", "Where, and what it is", AnswerKind.Line),
            ]),
        ]),
        new("build", "Who builds", "So that nothing is advised that nobody can do.",
        [
            new Question("builder", "Who does the work?", AnswerKind.Several)
            {
                Options = [("self", "Myself"), ("friend", "A friend with practice"), ("workshop", "A workshop"), ("gas-fitter", "A licensed gas fitter for the gas"), ("electrician", "An electrician for the wiring")],
            },
            new Question("tools", "Tools at hand", AnswerKind.Several)
            {
                Options = [("drill", "Drill"), ("jigsaw", "Jigsaw"), ("metal-files", "Files and deburring"), ("rivets", "Rivet tool"), ("meter", "Multimeter"), ("moisture", "Thermometer with humidity"), ("camera", "Infrared or borescope camera")],
            },
            new Question("bothers", "What bothers you, or worries you most?", AnswerKind.Lines) { Hint = "Wet windows, a smell, rust, a cold bed, noise… and since when" },
        ]),
        new("wishes", "What you want", "Your own words and your own order. Looks count as much as you say they do.",
        [
            new Question("budget-now", "Money for it now", AnswerKind.Money),
            new Question("budget-later", "Money for it later", AnswerKind.Money),
            new Question("must-haves", "What must be there?", AnswerKind.Lines) { Hint = "One a line" },
            new Question("wont-haves", "What you will not have", AnswerKind.Several) { Options = [.. Named<WontHave>(wish => Words.Capital(WishWords.Of(wish)))] },
            new Question("other-wont-haves", "What else must not be there?", AnswerKind.Lines) { Hint = "One a line" },
            new Remark("What matters most? Give each its place."),
            .. Enum.GetValues<Priority>().Select(priority => (StepItem)Choice("order-" + Value(priority), Words.Capital(WishWords.Of(priority)), Places)),
            new Question("looks", "How should it look?", AnswerKind.Lines),
            new Question("noise", "How sensitive are you to a fan's noise in bed?", AnswerKind.Line),
        ]),
        new(PhotosStep, "Photos", "A photo of bare ribs, the roof and under the floor says more than a page of answers.", []),
        new(SendStep, "Read it over and send", "You can change everything until you send it.", []),
    ];

    /// <summary>The step with this key; null when there is none.</summary>
    public static Step? StepOf(string? key) => Steps.FirstOrDefault(step => step.Key == key);

    /// <summary>What is wrong with the answers of a step, by key; what is left open is never wrong.</summary>
    public static IReadOnlyDictionary<string, string> Errors(Step step, IReadOnlyDictionary<string, string> answers)
    {
        var errors = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var question in step.Questions(answers))
        {
            if (answers.TryGetValue(question.Key, out var answer) && Error(question, answer, answers) is { } error)
            {
                errors[question.Key] = error;
            }
        }

        if (step.Key == "wishes")
        {
            var ranks = Enum.GetValues<Priority>().Select(priority => "order-" + Value(priority)).Where(answers.ContainsKey).GroupBy(key => answers[key]).Where(same => same.Count() > 1);
            foreach (var key in ranks.SelectMany(same => same.Skip(1)))
            {
                errors[key] = $"Another wish is at place {answers[key]} already. Expected each place once.";
            }
        }

        return errors;
    }

    /// <summary>The whole number of an answer; null when it is none or out of the range.</summary>
    public static int? Whole(string? answer, ValidRange range) =>
        int.TryParse(answer?.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out var number) && range.Contains(number) ? number : null;

    /// <summary>Metres of a size typed in a unit; null when no reading of it is in the range, or two are.</summary>
    public static double? Metres(string? answer, string? unit, ValidRange range) =>
        SizeReadings(answer, unit).Where(range.Contains).ToList() is [var only] ? only : null;

    /// <summary>An amount of money; null when it is none from 0 to <see cref="WishesBook.LargestBudget"/>, or can mean two of them.</summary>
    public static decimal? Money(string? answer) => MoneyReadings(answer) is [var only] ? only : null;

    /// <summary>What is wrong with an amount of money; null when it can be read.</summary>
    public static string? MoneyError(string? answer) => MoneyReadings(answer) switch
    {
        [_] => null,
        [var larger, var smaller] => TypedNumber.Ask(answer!, larger, smaller),
        _ => string.Create(CultureInfo.InvariantCulture, $"Expected an amount from 0 to {WishesBook.LargestBudget:0}, for example 1500."),
    };

    /// <summary>The choice of an enum stored under its name in kebab-case; null when it is none.</summary>
    public static T? Chosen<T>(string? answer)
        where T : struct, Enum => Enum.GetValues<T>().Cast<T?>().FirstOrDefault(value => Value(value!.Value) == answer);

    /// <summary>How a choice is stored: its name in kebab-case.</summary>
    public static string Value<T>(T choice)
        where T : struct, Enum => System.Text.Json.JsonNamingPolicy.KebabCaseLower.ConvertName(choice.ToString());

    /// <summary>Key of the unit a size of a step is given in.</summary>
    public static string UnitKey(string key) => key.StartsWith("part-", StringComparison.Ordinal) ? "part-sizes-in" : "sizes-in";

    /// <summary>The answer as a person reads it.</summary>
    public static string Shown(Question question, string answer, IReadOnlyDictionary<string, string> answers) => question.Kind switch
    {
        AnswerKind.Choice => question.Options.FirstOrDefault(option => option.Value == answer).Text ?? answer,
        AnswerKind.Several => string.Join(", ", answer.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(value => question.Options.FirstOrDefault(option => option.Value == value).Text ?? value)),
        AnswerKind.Size => $"{answer} {answers.GetValueOrDefault(UnitKey(question.Key), "")}".TrimEnd(),
        _ => answer,
    };

    private static IReadOnlyList<decimal> MoneyReadings(string? answer) => [.. TypedNumber.Readings(answer).Where(money => money <= WishesBook.LargestBudget)];

    private static IReadOnlyList<double> SizeReadings(string? answer, string? unit) =>
        SizeUnits.FirstOrDefault(known => known.Value == unit) is { Value: not null } known
            ? [.. TypedNumber.Readings(answer).Select(number => (double)number * known.Metres)]
            : [];

    private static ImmutableArray<(string, string)> YesNo => [("yes", "Yes"), ("no", "No")];

    private static ImmutableArray<(string, string)> Months => [.. Enumerable.Range(1, 12).Select(month => (month.ToString(CultureInfo.InvariantCulture), Words.Month(month)))];

    private static ImmutableArray<(string, string)> Places => [.. Enumerable.Range(1, 6).Select(place => (place.ToString(CultureInfo.InvariantCulture), place == 1 ? "1, most of all" : place.ToString(CultureInfo.InvariantCulture)))];

    private static Question Choice(string key, string label, IEnumerable<(string, string)> options) => new(key, label, AnswerKind.Choice) { Options = [.. options] };

    private static Question Whole(string key, string label, ValidRange range) => new(key, label, AnswerKind.Whole) { Range = range };

    private static Question Size(string key, string label, ValidRange range) => new(key, label, AnswerKind.Size) { Range = range };

    private static IEnumerable<(string, string)> Named<T>(Func<T, string> name, params T[] apart)
        where T : struct, Enum => Enum.GetValues<T>().Except(apart).Select(value => (Value(value), name(value)));

    private static string? Error(Question question, string answer, IReadOnlyDictionary<string, string> answers) => question.Kind switch
    {
        AnswerKind.Choice => question.Options.Any(option => option.Value == answer) ? null : "Expected one of the choices.",
        AnswerKind.Several => answer.Split(' ', StringSplitOptions.RemoveEmptyEntries).All(value => question.Options.Any(option => option.Value == value)) ? null : "Expected some of the choices.",
        AnswerKind.Whole => Whole(answer, question.Range!) is null ? FormattableString.Invariant($"Expected a whole number from {question.Range!.Minimum:0} to {question.Range.Maximum:0}.") : null,
        AnswerKind.Size => SizeError(question, answer, answers.GetValueOrDefault(UnitKey(question.Key))),
        AnswerKind.Money => MoneyError(answer),
        AnswerKind.Line => answer.Length <= TextLimits.Line && !answer.Contains('\n', StringComparison.Ordinal) ? null : FormattableString.Invariant($"Expected one line of at most {TextLimits.Line} characters."),
        AnswerKind.Place => answer.Length <= TextLimits.Key ? null : FormattableString.Invariant($"Expected at most {TextLimits.Key} characters."),
        AnswerKind.Lines => answer.Length <= IntakeAnswers.LongestAnswer ? null : FormattableString.Invariant($"Expected at most {IntakeAnswers.LongestAnswer} characters."),
        _ => throw new ArgumentOutOfRangeException(nameof(question), question.Kind, "Expected a kind of answer."),
    };

    private static string? SizeError(Question question, string answer, string? unit)
    {
        // The page offers only the units there are; what is posted to it can be anything.
        if (SizeUnits.All(known => known.Value != unit))
        {
            return "Choose the unit of your numbers above.";
        }

        var sizes = SizeReadings(answer, unit);
        var fitting = sizes.Where(question.Range!.Contains).ToList();
        if (fitting.Count == 1)
        {
            return null;
        }

        var per = SizeUnits.First(known => known.Value == unit).Metres;
        return fitting.Count > 1
            ? TypedNumber.Ask(answer, (decimal)(fitting[0] / per), (decimal)(fitting[1] / per))
            : string.Create(CultureInfo.InvariantCulture, $"Expected a number from {question.Range!.Minimum / per:0.##} to {question.Range.Maximum / per:0.##} {unit}{(sizes is [.., var read] ? $", got {read / per:0.##}" : "")}.");
    }
}
