using System.Globalization;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;

namespace ConsultDesk.Reports.Plans;

/// <summary>
/// Picks the things to do: remedies of findings by severity and the parts that are to be bought, a package of like parts
/// at a time; put into the order they are done.
/// </summary>
public sealed class ThingsToDo(PlanRequest request)
{
    /// <summary>Most things a reader is given at once; a danger is one of them.</summary>
    public const int Most = 5;

    /// <summary>Places kept for parts to be bought, however many findings there are.</summary>
    private const int ForParts = 2;

    private const int MostNames = 3;

    private readonly Design _design = request.Design;
    private readonly Assessment _assessment = request.Assessment;

    /// <summary>The things that are shown, and whether there are more.</summary>
    public PickedThings Pick()
    {
        // What the client declined is not asked for again; it stands under its own heading. A danger stands whatever was declined.
        var declined = request.Declined.Select(advice => advice.FindingCode).OfType<string>().ToHashSet();
        var remedies = _assessment.Findings
            .Where(finding => finding.Severity is Severity.Warning or Severity.Advice && finding.Remedy.Length > 0 && !declined.Contains(finding.Code))
            .OrderBy(finding => finding.Severity)
            .DistinctBy(finding => finding.Remedy)
            .Select(OfFinding)
            .ToList();
        var parts = Packages().ToList();
        var dangers = _assessment.Findings.Count(finding => finding.Severity == Severity.Danger);
        var places = Math.Max(1, Most - dangers);
        var warnings = remedies.Count(thing => thing.Severity == Severity.Warning);
        var first = Math.Min(warnings, places - Math.Min(Math.Min(ForParts, places - 1), parts.Count));
        var picked = remedies.Take(first).Concat(parts).Concat(remedies.Skip(first)).Take(places).ToList();
        return new PickedThings(
            [.. picked.OrderBy(thing => thing.Step).ThenBy(thing => thing.Severity).Select(thing => thing.Words())],
            picked.Count < remedies.Count + parts.Count);
    }

    private Candidate OfFinding(Finding finding)
    {
        var step = LiningOrder.OfFinding(finding.Code);
        return new Candidate(step, finding.Severity, () =>
        {
            var (price, parts, hours) = PriceOf(finding);

            // A remedy may name more than one way: the price is that of the parts which were tried, so they are named.
            var done = FirstSentence(finding.Remedy);
            done = parts.Length > 0 ? $"{done} Priced here: {parts}." : done;
            return new PlanThing(done, finding.Title + ".", Trades.For(finding.Code), price, LiningOrder.Words(step, _design.BuildStage)) { Hours = hours };
        });
    }

    /// <summary>
    /// What the whole of a remedy adds to what is still to be bought now, the names of those parts and the work. Some remedies are
    /// looked for with whole years, so this takes a second or two.
    /// </summary>
    private (string Price, string Parts, string Hours) PriceOf(Finding finding)
    {
        if (request.Cost is not { } cost || finding.Apply is null)
        {
            return ("not priced", "", WorkHours.NotEstimated);
        }

        var changed = finding.Apply(_design);
        if (ReferenceEquals(changed, _design))
        {
            // No way that was tried made it better.
            return ("not priced", "", WorkHours.NotEstimated);
        }

        var sheet = cost.PriceOf(changed);
        var more = sheet.Now - cost.Sheet.Now;
        var price = sheet.Unpriced > cost.Sheet.Unpriced ? more > 0 ? "at least " + Money.Rounded(more, cost.Currency) : "not priced"
            : more > 0 ? "about " + Money.Rounded(more, cost.Currency)
            : more < 0 ? Money.Rounded(-more, cost.Currency) + " less than planned"
            : "nothing to buy";
        var standing = cost.Sheet.Lines.Select(Bought).ToHashSet();
        var bought = sheet.Lines.Where(line => line.State == PartState.Proposed && !standing.Contains(Bought(line))).ToList();
        return (
            price,
            more > 0 ? Names(bought.Select(line => ScoreFigure.Lower(CardWords.ShortName(line.Name, changed)))) : "",
            bought.Count == 0 ? "a change of use, no work" : WorkHours.Words(WorkHours.Of(bought, changed)));

        static (string, decimal?, decimal?) Bought(CostLine line) => (line.PartId, line.Price, line.Fitting);
    }

    /// <summary>Parts that are to be bought now, like parts together, the most urgent first.</summary>
    private IEnumerable<Candidate> Packages()
    {
        if (request.Cost is not { } cost)
        {
            yield break;
        }

        var left = cost.Sheet.Lines.Where(line => line.State == PartState.Proposed).ToList();
        foreach (var kind in Kinds())
        {
            var lines = left.Where(line => kind.Holds(line.PartId)).ToList();
            if (lines.Count == 0)
            {
                continue;
            }

            left.RemoveAll(lines.Contains);
            var step = lines.Min(line => LiningOrder.OfPart(line.PartId));
            yield return new Candidate(
                step,
                Severity.Advice,
                () => new PlanThing(
                    $"{kind.Title}: {Names(lines.Select(kind.NameOf))}.",
                    kind.Why,
                    Trades.Together(lines.Select(line => Trades.ForPart(line, _design))),
                    PriceOf(lines, cost.Currency),
                    LiningOrder.Words(step, _design.BuildStage))
                {
                    Hours = WorkHours.Words(WorkHours.Of(lines, _design)),
                });
        }
    }

    private IEnumerable<PackageKind> Kinds()
    {
        var units = request.Units;
        yield return new("Fit alarms and extinguisher", "equipment.", "Carbon monoxide has no smell, and smoke and gas do not wake a sleeper.");
        var each = _design.Household.Sleepers > 0 ? $", {units.Format(_assessment.Air.OutdoorAir / _design.Household.Sleepers)} for each sleeper" : "";
        yield return new("Cut in and fit", "openings[", $"With it {units.Format(_assessment.Air.OutdoorAir)} of outdoor air passes through the van by night{each}.")
        {
            Holds = part => part.StartsWith("openings[", StringComparison.Ordinal) && !part.Contains(".pane.", StringComparison.Ordinal),
            NameOf = line => CardWords.ShortName(line.Name, _design),
        };
        yield return new(
            "Fit the heater",
            "heater",
            $"To hold {units.Format(_design.Heater.NightSetPoint)} at {units.Format(_assessment.Weather.DesignTemperature)} outside, the van needs {units.Format(_assessment.Heat.DesignLoad)}.")
        {
            NameOf = line => line.Item?.Name ?? line.Name,
        };
        yield return new("Insulate and line", "", "Warm linings stay dry, and the heater has less to do.")
        {
            Holds = part => part.Contains(".layers[", StringComparison.Ordinal),

            // Layers are told by the part they are in: a wall of five of them is one work.
            NameOf = line => line.PartId[..line.PartId.IndexOf('.', StringComparison.Ordinal)],
        };
        yield return new("Cover the glass", "", "Glass is the coldest face of the room.")
        {
            Holds = part => part.Contains(".pane.", StringComparison.Ordinal),
            NameOf = line => ScoreFigure.Lower(line.Name.StartsWith("Cover: ", StringComparison.Ordinal) ? line.Name["Cover: ".Length..] : line.Name),
        };
        yield return new("Air the mattress", "bedBase", "A sleeper’s water collects under a mattress that no air reaches.");
        yield return new("Divide off the cab", "cabDivider", "A cab that is shut off is less to heat and keeps its cold glass out of the room.");
        yield return new("Move the air", "circulationFans[", "Moving air reaches corners and cupboards; it brings no outdoor air.");
        yield return new("Dry the air", "dryers[", "It takes water out of the air. It brings no outdoor air and is no ventilation.");
        yield return new("Fit on the roof", "body.roofParts[", "They share the roof with the openings: mark all places before anything is cut.");
    }

    private static string PriceOf(List<CostLine> lines, string currency)
    {
        var priced = lines.Where(line => line.Price is not null).ToList();
        if (priced.Count == 0)
        {
            return "not priced";
        }

        var fitting = priced.Sum(line => line.Fitting ?? 0);
        var whole = priced.Sum(line => line.Price ?? 0) + fitting;
        return (priced.Count < lines.Count ? "at least " : "") + Money.Rounded(whole, currency) + (fitting > 0 ? " with fitting" : "");
    }

    private static string Names(IEnumerable<string> names)
    {
        var all = names.Distinct().ToList();
        var shown = string.Join(", ", all.Take(all.Count == MostNames + 1 ? MostNames + 1 : MostNames));
        return all.Count > MostNames + 1 ? string.Create(CultureInfo.InvariantCulture, $"{shown} and {all.Count - MostNames} more") : shown;
    }

    /// <summary>The first sentence of a remedy: the whole of it stands with its finding.</summary>
    private static string FirstSentence(string remedy)
    {
        for (var at = remedy.IndexOf(". ", StringComparison.Ordinal); at >= 0; at = remedy.IndexOf(". ", at + 1, StringComparison.Ordinal))
        {
            if (char.IsUpper(remedy[at + 2]))
            {
                return remedy[..(at + 1)];
            }
        }

        return remedy;
    }

    private sealed record Candidate(int Step, Severity Severity, Func<PlanThing> Words);

    private sealed record PackageKind(string Title, string Start, string Why)
    {
        public Func<string, bool> Holds { get; init; } = part => part.StartsWith(Start, StringComparison.Ordinal);

        public Func<CostLine, string> NameOf { get; init; } = line => ScoreFigure.Lower(line.Name);
    }
}
