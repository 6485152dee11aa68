using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Search;

namespace ConsultDesk.Reports.Figures;

/// <summary>
/// The trade-off front of a search: each design as a dot, one objective across and one upwards, less of both being better. What is best lies at the lower left; a
/// design nothing beats may still lie inside, where it is better in a third number.
/// </summary>
public static class TradeOffFigure
{
    /// <summary>Stands where a chance would, for a design that was not compared.</summary>
    public const string NotAsked = "not asked";

    private const string NoBreakSpace = "\u00A0";
    private const double Top = 10;
    private const double Bottom = 216;
    private const double Left = 46;
    private const double Right = NarrowRows.Width - 14;
    private const double Dot = 4;
    private const double NamedDot = 7.5;
    private const double ChosenDot = 11.5;

    /// <summary>Draws the front.</summary>
    /// <param name="front">Its members.</param>
    /// <param name="named">Those with names; they carry the number of their place in this list.</param>
    /// <param name="start">The van as it stands; null when it is not known.</param>
    /// <param name="across">What lies across.</param>
    /// <param name="upwards">What goes up.</param>
    /// <param name="currency">The currency of money.</param>
    /// <param name="chosen">The design a plan is for, marked wherever it lies; null to mark none.</param>
    /// <param name="worlds">Worlds the front was compared in.</param>
    public static Figure Of(
        ImmutableArray<FrontMember> front, ImmutableArray<NamedDesign> named, ObjectiveNumbers? start, Objective across, Objective upwards, string currency, ObjectiveNumbers? chosen = null, int worlds = 0)
    {
        var all = front.Select(member => member.Numbers).Concat(new[] { start, chosen }.OfType<ObjectiveNumbers>()).ToList();
        var x = new ValueAxis(all.Select(numbers => numbers[across]).DefaultIfEmpty(1).Max(), 0, 1);
        var y = new ValueAxis(all.Select(numbers => numbers[upwards]).DefaultIfEmpty(1).Max(), Top, Bottom);
        double X(double value) => Right - (x.Y(value) * (Right - Left));

        var canvas = new FigureCanvas(NarrowRows.Width, Bottom + 36);
        foreach (var (text, at) in y.Ticks())
        {
            canvas.Line(Ink.Rule, 0.4, false, new(Left, at), new(Right, at));
            canvas.Write(Left - 5, at + 3.6, text, TextAnchor.End, Ink.Muted);
        }

        foreach (var (text, at) in x.Ticks())
        {
            var place = Right - (at * (Right - Left));
            canvas.Line(Ink.Rule, 0.4, false, new(place, Top), new(place, Bottom));
            canvas.Write(place, Bottom + 14, text, place > Right - 8 ? TextAnchor.End : TextAnchor.Middle, Ink.Muted);
        }

        canvas.Line(Ink.Rule, 1, false, new(Left, Bottom), new(Right, Bottom));
        canvas.Line(Ink.Rule, 1, false, new(Left, Top), new(Left, Bottom));
        canvas.Write(Right, Bottom + 29, "across: " + WithUnit(across, currency) + "; up: " + WithUnit(upwards, currency), TextAnchor.End);
        if (start is not null)
        {
            canvas.Add(new Box(X(start[across]) - 5, y.Y(start[upwards]) - 5, 10, 10) { Stroke = Ink.Text, StrokeWidth = 1.6, Hint = Hint("As it stands", start, across, upwards, currency) });
        }

        for (var at = 0; at < front.Length; at++)
        {
            var member = front[at];
            if (named.Any(one => one.Member.Candidate == member.Candidate))
            {
                continue;
            }

            canvas.Add(new Circle(X(member.Numbers[across]), y.Y(member.Numbers[upwards]), Dot)
            {
                Fill = Ink.Accent,
                FillOpacity = 0.55,
                Subject = Subject(member),
                Hint = Hint($"{NameOf(front, named, at)}, {What(member)}", member.Numbers, across, upwards, currency),
            });
        }

        for (var place = 0; place < named.Length; place++)
        {
            var member = named[place].Member;
            var (cx, cy) = (X(member.Numbers[across]), y.Y(member.Numbers[upwards]));
            canvas.Add(new Circle(cx, cy, NamedDot) { Fill = Ink.Paper, Stroke = Ink.Accent, StrokeWidth = 1.8, Subject = Subject(member), Hint = Hint(named[place].Name, member.Numbers, across, upwards, currency) });
            canvas.Write(cx, cy + 3.6, (place + 1).ToString(CultureInfo.InvariantCulture), TextAnchor.Middle, bold: true, subject: Subject(member));
        }

        if (chosen is not null)
        {
            canvas.Add(new Circle(X(chosen[across]), y.Y(chosen[upwards]), ChosenDot) { Stroke = Ink.Text, StrokeWidth = 1.6, Dashed = true, Hint = Hint("The design of this plan", chosen, across, upwards, currency) });
        }

        return new Figure
        {
            Id = "trade-off",
            Title = "Designs nothing beats",
            AltText = string.Create(
                CultureInfo.InvariantCulture,
                $"{front.Length} {(front.Length == 1 ? "design" : "designs")} by {ObjectiveWords.Name(across)} and {ObjectiveWords.Name(upwards)}. {string.Join(" ", named.Select((one, place) => string.Create(CultureInfo.InvariantCulture, $"{place + 1}, {one.Name}: {ObjectiveWords.Value(across, one.Member.Numbers[across], currency)}, {ObjectiveWords.Value(upwards, one.Member.Numbers[upwards], currency)}.")))}")
                + (chosen is null ? "" : $" The design of this plan: {ObjectiveWords.Value(across, chosen[across], currency)}, {ObjectiveWords.Value(upwards, chosen[upwards], currency)}."),
            Width = canvas.Width,
            Height = canvas.Height,
            Elements = canvas.Elements,
            Legend =
            [
                new(LegendMark.Ring, Ink.Accent, "A named design, by its number"),
                new(LegendMark.Dot, Ink.Accent, "Another design nothing beats"),
                .. start is null ? [] : new[] { new LegendEntry(LegendMark.Square, Ink.Text, "The van as it stands") },
                .. chosen is null ? [] : new[] { new LegendEntry(LegendMark.DashedRing, Ink.Text, "The design of this plan") },
            ],
            Table = Table(front, named, start, currency, Enum.GetValues<Objective>(), worlds),
        };
    }

    /// <summary>All numbers of the front and of the van as it stands.</summary>
    /// <param name="front">Its members.</param>
    /// <param name="named">Those with names.</param>
    /// <param name="start">The van as it stands; null when it is not known.</param>
    /// <param name="currency">The currency of money.</param>
    /// <param name="shown">The objectives that are shown.</param>
    /// <param name="worlds">Worlds the front was compared in.</param>
    public static DataTable Table(
        ImmutableArray<FrontMember> front, ImmutableArray<NamedDesign> named, ObjectiveNumbers? start, string currency, IReadOnlyList<Objective> shown, int worlds) => new()
        {
            Caption = "The designs nothing beats, with all their numbers",
            Heads = ["Design", .. shown.Select(objective => WithUnit(objective, currency)), "Chance to stay"],
            NumberColumns = [.. Enumerable.Range(1, shown.Count + 1)],
            Rows =
            [
                .. start is null ? [] : new[] { ImmutableArray.Create(["As it stands", .. shown.Select(objective => ObjectiveWords.Number(objective, start[objective])), DataTable.Nothing]) },
                .. front.Select((member, at) => ImmutableArray.Create(
                    [
                        NameOf(front, named, at) + (member.Ties.IsEmpty ? "" : string.Create(CultureInfo.InvariantCulture, $" (tie{NoBreakSpace}of{NoBreakSpace}{member.Ties.Length + 1})")),
                        .. shown.Select(objective => ObjectiveWords.Number(objective, member.Numbers[objective])),
                        Chance(member, worlds),
                    ])),
            ],
        };

    /// <summary>The name of a member, or "Design" with its place in the client's order.</summary>
    public static string NameOf(ImmutableArray<FrontMember> front, ImmutableArray<NamedDesign> named, int at) =>
        named.FirstOrDefault(one => one.Member.Candidate == front[at].Candidate)?.Name ?? string.Create(CultureInfo.InvariantCulture, $"Design {at + 1}");

    /// <summary>A design in words: its choices, or that it is the van as it stands.</summary>
    public static string What(FrontMember member)
    {
        ArgumentNullException.ThrowIfNull(member);
        return member.Words.IsEmpty ? "As it stands" : string.Join("; ", member.Words);
    }

    /// <summary>The chance that it is still unbeaten when what is assumed varies, with the range it lies in; or that nobody asked.</summary>
    /// <param name="member">The design.</param>
    /// <param name="worlds">Worlds it was compared in.</param>
    public static string Chance(FrontMember member, int worlds)
    {
        ArgumentNullException.ThrowIfNull(member);
        return member.ChanceWithin(worlds) is { } within
            ? string.Create(CultureInfo.InvariantCulture, $"{100 * member.ChanceOnFront!.Value:0}{NoBreakSpace}% ({100 * within.Low:0} to {100 * within.High:0})").Replace(" to ", $"{NoBreakSpace}to{NoBreakSpace}", StringComparison.Ordinal)
            : NotAsked;
    }

    /// <summary>An objective with its unit, as a head.</summary>
    public static string WithUnit(Objective objective, string currency) => objective switch
    {
        Objective.MoneyNow => $"Money now, {currency}",
        Objective.MoneyAYear => $"Fuel and current, {currency} a year",
        Objective.WetHours => "Wet hours a year",
        Objective.Mould => "Mould index (0 to 6)",
        Objective.ColdHours => "Cold hours a year",
        Objective.HotHours => "Hot hours asleep a year",
        Objective.Noise => "Fans at night, dB(A)",
        Objective.Power => "Current a day, kWh",
        Objective.Parts => "Parts and holes",
        _ => throw new ArgumentOutOfRangeException(nameof(objective), objective, "Expected an objective."),
    };

    private static string Subject(FrontMember member) => string.Create(CultureInfo.InvariantCulture, $"design-{member.Candidate}");

    private static string Hint(string name, ObjectiveNumbers numbers, Objective across, Objective upwards, string currency) =>
        name + ": " + string.Join(", ", new[] { across, upwards, Objective.WetHours, Objective.ColdHours, Objective.HotHours }.Distinct()
            .Select(objective => ObjectiveWords.Name(objective) + " " + ObjectiveWords.Value(objective, numbers[objective], currency)));
}
