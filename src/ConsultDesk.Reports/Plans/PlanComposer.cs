using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Plans;

/// <summary>Turns an assessed option into the plan a client reads. All wording of a plan is here.</summary>
public static class PlanComposer
{
    /// <summary>Id of the first section: what the plan says in short, dangers first.</summary>
    public const string ActFirst = "act-first";

    /// <summary>Id of the section on what the client told and wants.</summary>
    public const string Wanted = "told-and-wanted";

    /// <summary>Id of the section that sets the client's own idea against the option.</summary>
    public const string Own = "own-idea";

    /// <summary>Id of the section with the things to do.</summary>
    public const string ToDo = "to-do";

    /// <summary>Id of the section with scores and main numbers.</summary>
    public const string Numbers = "main-numbers";

    /// <summary>Id of the section with declined advice.</summary>
    public const string Declined = "declined";

    /// <summary>Id of the section with the decisions.</summary>
    public const string Decided = "decided";

    /// <summary>Id of the parts list.</summary>
    public const string Parts = "parts";

    /// <summary>Id of the section with the running card and the situations.</summary>
    public const string Running = "how-to-run";

    /// <summary>Id of the section on the year.</summary>
    public const string Year = "the-year";

    /// <summary>Heading of the tables that paper prints at the end: those of the figures that were drawn without them.</summary>
    public const string FiguresInNumbers = "The figures in numbers";

    /// <summary>Id of the section with the drawings.</summary>
    public const string Van = "your-van";

    /// <summary>Id of the section on air.</summary>
    public const string Air = "air";

    /// <summary>Id of the section on water and surfaces.</summary>
    public const string Damp = "damp";

    /// <summary>Id of the section on heat and heater.</summary>
    public const string Heat = "heat";

    /// <summary>Id of the section on walls, roof and floor.</summary>
    public const string Walls = "walls-roof-floor";

    /// <summary>Id of the section that compares two options.</summary>
    public const string Compared = "options-compared";

    /// <summary>Id of the section on what was assumed.</summary>
    public const string Assumed = "assumed";

    /// <summary>Id of the section on sources and method.</summary>
    public const string Sources = "sources";

    /// <summary>Id of the section on what changed since the revision before.</summary>
    public const string Changed = "changed";

    /// <summary>Id of the cut sheet.</summary>
    public const string Cuts = "cut-sheet";

    /// <summary>Id of the order of build.</summary>
    public const string Order = "order-of-build";

    /// <summary>Id of the section on what it takes to run.</summary>
    public const string Costs = "running-costs";

    /// <summary>Id of the care card.</summary>
    public const string Care = "care";

    /// <summary>Id of the section for glass that fogs all the same.</summary>
    public const string Fogs = "still-fogs";

    /// <summary>Id of the section on how sure the numbers are.</summary>
    public const string Sure = "how-sure";

    /// <summary>Id of the section on firm, prices and limits.</summary>
    public const string Terms = "terms";

    /// <summary>Id of the words of the trade.</summary>
    public const string Words = "words";

    /// <summary>Id of the options that were weighed.</summary>
    public const string Considered = "considered";

    /// <summary>Id of what a search of all designs found.</summary>
    public const string Searched = "every-design";

    /// <summary>Id of the card for the van's door.</summary>
    public const string Card = "card";

    /// <summary>Id of the cautions.</summary>
    public const string Cautions = "cautions";

    // Less than this is a breath on a pane.
    private const double LeastGramsTold = 0.5;

    /// <summary>Composes a plan.</summary>
    /// <exception cref="ArgumentException">The time of publishing is not UTC, or the revision is below 1.</exception>
    public static PlanSnapshot Compose(PlanRequest request)
    {
        if (request.PublishedAt.Kind != DateTimeKind.Utc)
        {
            throw new ArgumentException("The time of publishing must be UTC.", nameof(request));
        }

        if (request.Revision < 1)
        {
            throw new ArgumentException($"The revision is {request.Revision}; the first one is 1.", nameof(request));
        }

        var letter = new Letter(request);
        return new PlanSnapshot
        {
            Format = PlanSnapshotJson.Format,
            Firm = request.Firm,
            ClientName = request.ClientName,
            VanName = request.VanName,
            OptionName = request.OptionName,
            Revision = request.Revision,
            PublishedAt = request.PublishedAt,
            MethodVersion = request.Assessment.MethodVersion,
            DesignText = request.DesignText,
            Sections = letter.Sections(),
            Logo = request.Logo,
            Headline = letter.Headline(),
        };
    }

    /// <summary>One plan being written.</summary>
    private sealed class Letter(PlanRequest request)
    {
        private readonly Design _design = request.Design;
        private readonly Assessment _assessment = request.Assessment;
        private readonly DisplayUnits _units = request.Units;

        public ImmutableArray<PlanSection> Sections()
        {
            var (things, more) = request.Things ?? new ThingsToDo(request).Pick();
            var since = request.Before is { } before ? new ChangesSince(request, before, Headline(), things) : null;
            var cuts = new CutSheet(_design, _units);
            ImmutableArray<PlanSection> sections =
            [
                new(ActFirst, "In short", [.. InShort(since)]),
                new(Wanted, "What you told us and want", [.. OfWishes()]),
                .. request.Own is { } own ? new[] { new PlanSection(Own, "Your idea against our recommendation", [.. Against(own)]) } : [],
                new(ToDo, HeadingOf(things), [.. OfThings(things, more)]),
                .. _assessment.Card is null && _assessment.Situations.IsEmpty ? [] : new[] { new PlanSection(Running, "How to run the van", [.. OfRunning()]) },
                new(Numbers, "The main numbers", [.. OfNumbers()]),
                new(Van, "Your van", [.. YourVan()]),
                .. _assessment.Year is null ? [] : new[] { new PlanSection(Year, "The year", [.. OfYear()]) },
                new(Air, "Air", [.. OfAir(), .. FindingsOf(Air)]),
                new(Damp, "Damp", [.. OfDamp(), .. FindingsOf(Damp)]),
                new(Heat, "Heat and heater", [.. OfHeat(), .. FindingsOf(Heat)]),
                new(Walls, "Walls, roof and floor", [.. OfWalls(), .. FindingsOf(Walls)]),
                .. BesideIt() is { } other ? new[] { new PlanSection(Compared, "Options compared", [.. Comparison(other)]) } : [],
                .. request.Considered.Length > 1 ? new[] { new PlanSection(Considered, "Options considered", [.. OfConsidered()]) } : [],
                .. request.Searched is { Found.Result.Front.IsEmpty: false } searched
                    ? new[] { new PlanSection(Searched, "Every sensible design", [.. new DesignsCompared(searched.Found, searched.FoundAt, searched.Chosen, request.Cost is not null).Blocks()]) }
                    : [],
                .. request.Declined.IsEmpty ? [] : new[] { new PlanSection(Declined, "Your choice against our advice", [.. OfDeclined()]) },
                .. request.Decisions.IsEmpty ? [] : new[] { new PlanSection(Decided, "Decisions taken", [.. OfDecisions()]) },
                .. since is null ? [] : new[] { new PlanSection(Changed, since.Heading, [.. since.Blocks()]) },
                .. _assessment.Year is { } year ? new[] { new PlanSection(Costs, "What it takes to run", [.. new RunningCosts(_design, year, _units, request.Cost).Blocks()]) } : [],
                new(Care, "Care through the year", [new CareCard(_design).Seasons()]),
                new(Fogs, "If it still fogs", [.. new CareCard(_design).StillFogs(DateOnly.FromDateTime(request.PublishedAt))]),
                .. request.Cost is { } cost ? new[] { new PlanSection(Parts, "Parts list with prices", [.. new PartsList(cost.Sheet, cost.Currency, cost.Tax, _design, _units).Blocks()]) { Sheet = PlanSheet.Build } } : [],
                .. cuts.Any ? new[] { new PlanSection(Cuts, "Cut sheet", [.. cuts.Blocks()]) { Sheet = PlanSheet.Build } } : [],
                new(Order, "Order of build", [.. new BuildOrder(_design, _units).Blocks()]) { Sheet = PlanSheet.Build },
                new(Sure, "How sure this is", [.. new HowSure(_design, _assessment, _units).Blocks()]),
                new(Assumed, "What was assumed", [.. OfAssumptions()]) { Sheet = PlanSheet.Basis },
                new(Sources, "Sources and method", [.. OfSources()]) { Sheet = PlanSheet.Basis },
                new(Terms, "Who advises, and the limits", [.. FirmTerms.Of(request)]),
                new(Cautions, "Cautions", [CautionsInWords, .. FindingsOf(Cautions), .. OfCautions()]),
            ];
            return
            [
                .. sections,
                new(Words, "Words of the trade", [Glossary.Of(PlanWords.Of(sections))]) { Sheet = PlanSheet.Basis },
                .. _assessment.Card is { Cells.IsEmpty: false } card ? new[] { DoorCard(card) } : [],
            ];
        }

        /// <summary>The running card once more, on half a page for the inside of the van's door.</summary>
        private PlanSection DoorCard(RunningCard card) => new(
            Card,
            $"{request.VanName}: how to set it",
            [
                new TableBlock(RunningCardTable.Of(_design, card)),
                Text("What a cell does not name stays as it is. Fixed vents for gas stay open. No flame without a flue while anybody sleeps. Never leave people or animals locked in and rely on a fan."),
            ])
        {
            Sheet = PlanSheet.Card,
        };

        /// <summary>
        /// The option that is set beside this one number by number: the one that was asked for, or else the client's own
        /// idea; none where that is this one.
        /// </summary>
        private ComparedOption? BesideIt() => request.Other is { } asked
            ? asked.Name == request.OptionName ? null : asked
            : (request.Own is { IsPublished: false } own ? new ComparedOption(own.Name, own.Design, own.Assessment, own.Differences) : null);

        /// <summary>The numbers by which the next revision tells what changed.</summary>
        public ImmutableArray<PlanNumber> Headline() =>
        [
            .. Headline(_design, _assessment).Select(row => new PlanNumber(row.Label, row.Value)),
            .. request.Cost is { } cost ? MoneyRows(cost).Select(row => new PlanNumber(row.Label, row.Value)) : [],
        ];

        private static ParagraphBlock Text(string text) => new(text);

        private string Of(IQuantity quantity) => _units.Format(quantity);

        private string Of(Measure measure, IQuantity quantity) => _units.Format(measure, quantity);

        private static ZoneState AtTheBed(Design design, Assessment assessment)
        {
            var zone = design.Zones.FirstOrDefault(zone => zone.Kind == ZoneKind.Sleeping)
                ?? design.Zones.FirstOrDefault(zone => zone.Kind == ZoneKind.Living)
                ?? design.Zones[0];
            return assessment.Zones.First(state => state.ZoneId == zone.Id);
        }

        private string ZoneName(string id) => _design.Zones.First(zone => zone.Id == id).Name;

        private string Sleepers => _design.Household.Sleepers switch
        {
            0 => "nobody",
            1 => "one person",
            2 => "two people",
            3 => "three people",
            var more => more.ToString(CultureInfo.InvariantCulture) + " people",
        };

        private string Month => CultureInfo.InvariantCulture.DateTimeFormat.GetMonthName(_design.Stop.Month);

        private string Place => DesignPlaces.Contains(_design, _design.Stop.PlaceKey)
            ? DesignPlaces.Get(_design, _design.Stop.PlaceKey) is var place ? (place.Country.Length > 0 ? $"{place.Name}, {place.Country}" : place.Name) : ""
            : _design.Stop.PlaceKey;

        private string HeaterName => _design.Heater.Kind switch
        {
            HeaterKind.None => "no heater",
            HeaterKind.RoomSealedLiquidFuel => "a room-sealed air heater for liquid fuel",
            HeaterKind.RoomSealedGas => "a room-sealed gas heater",
            HeaterKind.UnfluedGas => "an unflued gas heater",
            HeaterKind.Electric => "an electric heater",
            HeaterKind.Hydronic => "a room-sealed diesel boiler with a radiator",
            HeaterKind.WoodStove => "a wood stove",
            _ => throw new InvalidOperationException($"No name for a {_design.Heater.Kind} heater."),
        };

        private static VolumeFlow? PerSleeper(Design design, Assessment assessment) =>
            design.Household.Sleepers == 0 ? null : assessment.Air.OutdoorAir / design.Household.Sleepers;

        private IEnumerable<PlanBlock> InShort(ChangesSince? since)
        {
            var when = _assessment.Year is null ? "for one steady night" : "for a year along your route, hour by hour, and for one steady night";
            yield return Text(
                $"Dear {request.ClientName}, this is what we advise for {request.VanName}, option {request.OptionName}, and why. "
                + $"It is calculated {when}: a mean {Month} night at {Place}, {Of(_assessment.Weather.Temperature)} outside, with {Sleepers} asleep in the van"
                + (_design.Heater.Kind == HeaterKind.None ? " and no heater." : $" and the heater set to {Of(_design.Heater.NightSetPoint)}."));

            // Nothing but the greeting stands before a danger.
            var dangers = _assessment.Findings.Where(finding => finding.Severity == Severity.Danger).ToList();
            var reason = request.DangerReason is { Length: > 0 } given
                ? $"This plan is published although this can injure or kill. The reason given: {given}"
                : "";
            if (dangers.Count > 0 || reason.Length > 0)
            {
                yield return new DangerBlock([.. dangers.Select(Block)], reason);
            }

            if (request.Before is { } before && since is not null)
            {
                yield return Text(string.Create(CultureInfo.InvariantCulture, $"What changed since revision {before.Revision} of {before.PublishedAt:d MMMM yyyy}:"));
                yield return new ListBlock([.. since.Short()], Numbered: false);
            }

            yield return Text(_assessment.Year is { } year ? YearSummary(year) : Summary());
        }

        private IEnumerable<PlanBlock> OfWishes()
        {
            var household = _design.Household;
            yield return new PairsBlock(
            [
                new("People", $"{Sleepers}, {Cooking(household)}"),
                new("Route", Route()),
                .. request.Wishes is { } wishes ? WishWords.Of(wishes, request.Cost?.Currency) : [],
            ]);
            if (request.Cost is { BrokenWishes.IsEmpty: false } cost)
            {
                yield return Text($"This plan does not keep to: {string.Join("; ", cost.BrokenWishes)}.");
            }
        }

        private string Route()
        {
            if (_design.Itinerary.IsEmpty)
            {
                return $"{Place}, all year";
            }

            return string.Join("; ", _design.Itinerary
                .OrderBy(stay => stay.From.Month).ThenBy(stay => stay.From.Day)
                .Select(stay => $"{PlaceName(stay.PlaceKey)} {Day(stay.From)} to {Day(stay.To)}"));

            static string Day(MonthDay day) => string.Create(
                CultureInfo.InvariantCulture, $"{day.Day}{DisplayUnits.NoBreakSpace}{CultureInfo.InvariantCulture.DateTimeFormat.GetAbbreviatedMonthName(day.Month)}");
        }

        private string PlaceName(string key) => DesignPlaces.Contains(_design, key) ? DesignPlaces.Get(_design, key).Name : key;

        private IEnumerable<PlanBlock> Against(OwnIdea own)
        {
            if (own.IsPublished)
            {
                yield return Text($"This plan is for option {own.Name} itself, your own idea as you described it: there is nothing to set it against.");
                yield break;
            }

            var theirs = AgainstRows(own.Design, own.Assessment, own.Cost).ToDictionary(row => row.Label, row => row.Value);
            var ours = AgainstRows(_design, _assessment, request.Cost).ToDictionary(row => row.Label, row => row.Value);
            yield return new TableBlock(new DataTable
            {
                Caption = $"Option {own.Name}, and {request.OptionName}",
                Heads = ["What", "Your idea", "Our recommendation"],
                NumberColumns = [1, 2],
                Rows = [.. ours.Keys.Union(theirs.Keys).Select(label => ImmutableArray.Create(
                    label, theirs.GetValueOrDefault(label, DataTable.Nothing), ours.GetValueOrDefault(label, DataTable.Nothing)))],
            });
        }

        private IEnumerable<(string Label, string Value)> AgainstRows(Design design, Assessment assessment, PlanCost? cost)
        {
            if (assessment.Year is { } year)
            {
                // In half a page a number stays in one line.
                yield return ("Wet mornings in the year", $"{Count(year.WetMornings.Count)}{DisplayUnits.NoBreakSpace}of{DisplayUnits.NoBreakSpace}{Count(year.WetMornings.Nights)}");
                yield return ("Water condensed in the year", _units.FormatLitres(year.Condensed));
                yield return ("Fuel on a day with heating", year.HeaterFit?.FuelPerHeatingDay is { } fuel ? FuelWords.Of(fuel, design.Heater.Kind, _units) : "none");
                if (new RunningCosts(design, year, _units, cost).FuelMoneyADay() is { } money)
                {
                    yield return ("The same in money", money);
                }
            }
            else
            {
                yield return ("Water condensed in the night", Of(assessment.Water.CondensedPerNight));
                yield return ("Fuel for the night", assessment.Heat.FuelPerNight is { } fuel ? FuelWords.Of(fuel, design.Heater.Kind, _units) : "none");
            }

            if (cost is not null)
            {
                foreach (var row in MoneyRows(cost))
                {
                    yield return row;
                }

                yield return ("Wishes broken", cost.BrokenWishes.IsEmpty ? "none" : Count(cost.BrokenWishes.Length));
            }

            yield return ("Dangers that stand", Count(assessment.Findings.Count(finding => finding.Severity == Severity.Danger)));
        }

        private static IEnumerable<(string Label, string Value)> MoneyRows(PlanCost cost)
        {
            var more = cost.Sheet.Unpriced > 0 ? " and more" : "";
            var without = cost.Tax is { IsNone: false, Included: false } tax ? $", without {tax.Name}" : "";
            yield return ("Money now", Money.Rounded(cost.Sheet.Now, cost.Currency) + more + without);
            yield return ("Money later", Money.Rounded(cost.Sheet.Later, cost.Currency) + without);
        }

        private string HeadingOf(ImmutableArray<PlanThing> things) => things.Length switch
        {
            0 when _assessment.Findings.Any(finding => finding.Severity == Severity.Danger) => "What to do",
            0 => "Nothing that has to be done",
            1 => "One thing to do",
            2 => "Two things to do",
            3 => "Three things to do",
            4 => "Four things to do",
            _ => "Five things to do",
        };

        private IEnumerable<PlanBlock> OfThings(ImmutableArray<PlanThing> things, bool more)
        {
            var danger = _assessment.Findings.Any(finding => finding.Severity == Severity.Danger);
            if (things.IsEmpty)
            {
                yield return Text(danger
                    ? "First of all what stands in the box above."
                    : "We found nothing in this option that has to be changed or bought. The cautions at the end apply all the same.");
                yield break;
            }

            if (danger)
            {
                yield return Text("After what stands in the box above, in this order:");
            }

            yield return new ThingsBlock(things);
            if (InAll(things) is { IsEmpty: false } all)
            {
                yield return new PairsBlock(all);
            }

            string[] after =
            [
                .. things.Any(thing => thing.Order.Length > 0) ? new[] { LiningOrder.Rule } : [],
                .. more ? new[] { "What else we advise and what else is to be bought stands in the sections below." } : [],
            ];
            if (after.Length > 0)
            {
                yield return Text(string.Join(' ', after));
            }
        }

        /// <summary>The totals below the things to do.</summary>
        private ImmutableArray<PlanNumber> InAll(ImmutableArray<PlanThing> things)
        {
            int[] first = [.. things.Index().Where(thing => thing.Item.Order.Length > 0).Select(thing => thing.Index + 1)];
            var toBuy = request.Cost?.Sheet.Lines.Where(line => line.State == PartState.Proposed).ToList() ?? [];
            return
            [
                .. request.Cost is { } cost
                    ?
                    [
                        new PlanNumber(
                            "All parts to buy now",
                            $"{Money.Rounded(cost.Sheet.Now, cost.Currency)} with fitting{(cost.Sheet.Unpriced > 0 ? ", and what has no price" : "")}; later {Money.Rounded(cost.Sheet.Later, cost.Currency)}"),
                        .. toBuy.Count > 0 ? new[] { new PlanNumber("Work on them", WorkHours.Words(WorkHours.Of(toBuy, _design)) + ", ours to judge, for somebody used to it") } : [],
                    ]
                    : Array.Empty<PlanNumber>(),
                .. first.Length > 0 ? new[] { new PlanNumber("Before the walls close", first.Length == 1 ? $"number {Count(first[0])}" : "numbers " + string.Join(", ", first.Select(Count))) } : [],
            ];
        }

        private IEnumerable<PlanBlock> OfNumbers()
        {
            if (_assessment.Scores is { } scores)
            {
                yield return new FigureBlock(ScoreFigure.Of(scores, _assessment.Findings, _units));
            }

            if (_assessment.Bands.IsEmpty)
            {
                yield return new NumbersBlock([.. Headline(_design, _assessment).Select(row => new PlanNumber(row.Label, row.Value))]);
            }
            else
            {
                yield return new FigureBlock(BandFigure.Of(_assessment.Bands, _design.Heater, _units));
            }

            if (_assessment.Year is { } year)
            {
                yield return Text(WeatherWords.HowFarOff(year.Weather));
            }
        }

        private IEnumerable<PlanBlock> OfDeclined()
        {
            yield return Text("We advised this and you decided otherwise. The numbers of this plan are for your choice; our advice stands.");
            yield return new TableBlock(new DataTable
            {
                Caption = "Advice you declined",
                Heads = ["Our advice", "Your reason", "Who decided"],
                Wordy = true,
                Rows = [.. request.Declined.Select(advice => ImmutableArray.Create(advice.Advice, OrNothing(advice.Why), OrNothing(advice.Who)))],
            });
        }

        private IEnumerable<PlanBlock> OfDecisions()
        {
            yield return new TableBlock(new DataTable
            {
                Caption = "What was decided",
                Heads = ["Point", "Decision", "Why", "Who"],
                Wordy = true,
                Rows = [.. request.Decisions.Select(point => ImmutableArray.Create(point.Point, OrNothing(point.What), OrNothing(point.Why), OrNothing(point.Who)))],
            });
        }

        private static string OrNothing(string text) => text.Length == 0 ? DataTable.Nothing : text;

        private string Summary()
        {
            var wettest = _assessment.Surfaces.MaxBy(surface => surface.CondensedPerNight.Grams);
            var all = _assessment.Water.CondensedPerNight;
            var water = wettest is { CondensedPerNight.Grams: >= LeastGramsTold }
                ? $"{Of(all)} of water {(wettest.Frost ? "freezes or condenses" : "condenses")} in the van; of all glass and metal {wettest.Name} gets the most, {Of(wettest.CondensedPerNight)}."
                : all.Grams >= LeastGramsTold
                    ? $"{Of(all)} of water condenses on linings and as mist; no glass and no bare metal gets wet."
                    : "no glass and no bare metal gets wet.";
            return $"In that night {Of(_assessment.Air.OutdoorAir)} of outdoor air passes through the van, and {water}";
        }

        private string YearSummary(YearAssessment year)
        {
            var wet = year.WetMornings;
            var mornings = wet switch
            {
                { Nights: 0 } => "Nobody sleeps in the van in this year.",
                { Count: 0 } => $"In none of the {Count(wet.Nights)} nights in the van is glass or bare metal wet in the morning.",
                _ => $"After {Count(wet.Count)} of the {Count(wet.Nights)} nights in the van the {ScoreFigure.Lower(wet.SurfaceName)} is wet at seven in the morning; "
                    + $"in the cold months {Of(wet.CondensedPerNight)} of water condenses a night.",
            };
            var heat = year.Heat switch
            {
                _ when _design.Heater.Kind == HeaterKind.None => "",
                { Fuel: { } fuel } => $" The heater burns {FuelWords.Of(fuel, _design.Heater.Kind, _units)} a year",
                var electric => $" Heat and fans take {Of(electric.Electric)} of electricity a year",
            };
            var cold = heat.Length == 0 ? "" : year.Heat.HoursShort == 0
                ? " and keeps the temperature in every hour."
                : $"; for {Count(year.Heat.HoursShort)} hours it gives all it has and the van still gets too cold.";
            return mornings + heat + cold;
        }

        private static string Count(int number) => number.ToString(CultureInfo.InvariantCulture);

        /// <summary>The numbers that stand at the top and in the comparison.</summary>
        private IEnumerable<(string Label, string Value)> Headline(Design design, Assessment assessment)
        {
            var bed = AtTheBed(design, assessment);
            if (assessment.Year is { } year)
            {
                yield return ("Wet mornings in the year", $"{Count(year.WetMornings.Count)} of {Count(year.WetMornings.Nights)}");
                yield return ("Water condensed in the year", _units.FormatLitres(year.Condensed));
                if (year.Heat.Fuel is { } burnt)
                {
                    yield return ("Fuel in the year", FuelWords.Of(burnt, design.Heater.Kind, _units));
                }

                yield return ("Hours too cold for the heater", Count(year.Heat.HoursShort));
                yield return ("Hot nights in the year", Count(year.HotNights.Nights));
            }

            yield return ("Outdoor air by night", Of(assessment.Air.OutdoorAir));
            if (PerSleeper(design, assessment) is { } each)
            {
                yield return ("Outdoor air for each sleeper", Of(each));
            }

            yield return ("Water condensed in the night", Of(assessment.Water.CondensedPerNight));
            yield return ("Relative humidity at the bed", Of(bed.RelativeHumidity));
            yield return ("Air temperature at the bed", Of(bed.Temperature));
            yield return ("Heat given by the heater", Of(assessment.Heat.Heater));
            yield return ("Heat needed on the coldest night", Of(assessment.Heat.DesignLoad));
            if (assessment.Heat.FuelPerNight is { } fuel)
            {
                yield return ("Fuel for the night", FuelWords.Of(fuel, design.Heater.Kind, _units));
            }
            else if (assessment.Heat.ElectricPerNight is { } energy)
            {
                yield return ("Electricity for heat", Of(energy));
            }
        }

        private FindingBlock Block(Finding finding) => new(
            finding.Severity,
            finding.Title,
            finding.Explanation,
            [.. finding.Evidence.Select(evidence => new PlanNumber(evidence.Label, Of(evidence.Value)))],
            finding.Remedy is { Length: > 0 } remedy ? $"{remedy} Who does it: {Trades.For(finding.Code)}." : "");

        // Dangers stand on the first page and nowhere else: said once, they cannot be read past.
        private IEnumerable<PlanBlock> FindingsOf(string section) => _assessment.Findings
            .Where(finding => finding.Severity != Severity.Danger && Trades.SectionOf(finding.Code) == section)
            .Select(Block);

        private IEnumerable<PlanBlock> YourVan()
        {
            var body = _design.Body;
            yield return Text(
                $"We calculated with a van that is {Of(Measure.LargeLength, body.InteriorLength)} long, {Of(Measure.LargeLength, body.InteriorWidth)} wide and {Of(Measure.LargeLength, body.InteriorHeight)} high inside. "
                + "Check these three against your own tape measure before anything is bought. The drawings are to scale; each opening has the same number in the drawings and in the tables.");
            var fromAbove = VanDrawing.Plan(_design, _assessment, _units);
            var fromTheLeft = VanDrawing.Side(_design, _assessment, _units);
            yield return new FigureBlock(fromAbove, WithTable: true);

            // It stands right below the other, so that only what is new in it is explained again.
            yield return new FigureBlock(fromTheLeft with { Legend = [.. fromTheLeft.Legend.Except(fromAbove.Legend)] });
            // A roof that carries nothing but lids is told by the plan drawing.
            if (!_design.Body.RoofParts.IsEmpty || RoofPlan.Clashes(_design).Any(clash => clash.Face == Face.Roof))
            {
                yield return new FigureBlock(VanDrawing.Roof(_design, _units), WithTable: true);
            }
        }

        private IEnumerable<PlanBlock> OfAir()
        {
            var air = _assessment.Air;
            var leak = air.OutdoorAir.CubicMetersPerSecond > 0
                ? Ratio.FromPercent(Math.Round(100 * air.LeakageIn.CubicMetersPerSecond / air.OutdoorAir.CubicMetersPerSecond))
                : Ratio.Zero;
            var each = PerSleeper(_design, _assessment) is { } flow ? $", {Of(flow)} for each sleeper" : "";
            var suction = air.Suction.Pascals >= 0
                ? $"At the floor the air inside stands {Of(air.Suction)} below the outdoor air, part of it because warm air rises"
                : $"At the floor the air inside stands {Of(-air.Suction)} above the outdoor air";
            yield return Text(
                $"{Of(air.OutdoorAir)} of outdoor air enters the van{each}; that changes its air {air.AirChangesPerHour.ToString("0.0", CultureInfo.InvariantCulture)} times an hour. "
                + $"{Of(leak)} of it comes through cracks that nobody made. {suction}: what a fan pulls out must come in somewhere, and if no opening is left for it, it comes through the cracks.");
            if (air.Fans.Length > 0)
            {
                yield return new TableBlock(new DataTable
                {
                    Caption = "Running fans",
                    Heads = ["Fan", "Air moved", "With no resistance at this speed", "Share reached", "Works against"],
                    NumberColumns = [1, 2, 3, 4],
                    Rows =
                    [
                        .. air.Fans.Select(fan => ImmutableArray.Create(
                            _design.Openings.First(opening => opening.Id == fan.OpeningId).Name,
                            Of(fan.Flow),
                            Of(fan.FreeAirFlowAtSpeed),
                            Of(Ratio.FromPercent(Math.Round(fan.ShareOfFreeAir.Percent))),
                            Of(fan.Pressure))),
                    ],
                });
            }

            yield return new TableBlock(new DataTable
            {
                Caption = "Air of the zones",
                Heads = ["Zone", "Temperature", "Relative humidity", "Dew point", "Mean age of the air", "Carbon dioxide"],
                NumberColumns = [1, 2, 3, 4, 5],
                Rows =
                [
                    .. _assessment.Zones.Select(zone => ImmutableArray.Create(
                        ZoneName(zone.ZoneId),
                        Of(zone.Temperature),
                        Of(zone.RelativeHumidity),
                        Of(zone.DewPoint),
                        Of(zone.AgeOfAir),
                        Of(zone.CarbonDioxide))),
                ],
            });
            yield return new FigureBlock(ZoneAirFigure.Of(_design, _assessment, _units), WithTable: true);
        }

        private IEnumerable<PlanBlock> OfRunning()
        {
            if (_assessment.Card is { } card && !card.Cells.IsEmpty)
            {
                yield return Text(
                    "Find the moment on the left and the weather above it. What a cell does not name stays as it stands in the drawings. Ajar is a finger’s width. "
                    + "Vents that are fixed for gas stay open and uncovered whatever the card says, and no flame without a flue burns while anybody sleeps.");
                yield return new TableBlock(RunningCardTable.Of(_design, card));
            }

            if (!_assessment.Situations.IsEmpty)
            {
                yield return Text("The same van in the situations of your route that ask most of it, with the openings as they stand, so that you see what the card is for:");
                yield return new TableBlock(SituationsTable.Of(_design, _assessment, _units));
            }
        }

        private IEnumerable<PlanBlock> OfYear()
        {
            var year = _assessment.Year!;
            yield return Text(
                "One year along your route, from the monthly means of its places with a cold snap and a wet spell in every month. "
                + $"A morning is wet when glass or bare metal holds {_units.FormatPerArea(Mass.FromGrams(5))} or more at seven{(_design.Household.WipesGlass ? "; you wipe the glass at nine" : "")}. Each column is a day; its night stands in one piece over the morning it ends on.");
            yield return new FigureBlock(YearFigure.Condensation(_design, _assessment, _units), WithTable: true) { Narrow = YearFigure.CondensationByMonth(_design, _assessment, _units) };
            var rest = new List<PlanNumber>
            {
                new("Hottest hour asleep, as it feels", Of(year.HotNights.Felt)),
                new("Hottest while locked, fan running", Of(year.Extremes.HottestLocked)),
                new("The same with the fan failed", Of(year.Extremes.HottestLockedFanFailed)),
                new("Coldest hour asleep at the bed", Of(year.Heat.ColdestBed)),
            };
            if (year.Extremes.BatteryFrostHours is { } battery)
            {
                rest.Add(new("Hours the battery is below freezing", Count(battery)));
            }

            if (year.Extremes.WaterFrostHours is { } water)
            {
                rest.Add(new("Hours the water is below freezing", Count(water)));
            }

            if (!year.Mould.IsEmpty)
            {
                rest.Add(new("Mould index at most in the first year (seen from 3)", MouldWords.Of(year.Mould[0])));
            }

            yield return Text($"Heat and frost. A night is hot with two hours asleep that feel warmer than still air of {Of(year.HotNights.Threshold)}. Never leave people or animals in the locked van and rely on a fan:");
            yield return new NumbersBlock([.. rest]);
        }

        private IEnumerable<PlanBlock> OfDamp()
        {
            var water = _assessment.Water;
            yield return Text(
                "People, cooking and open flames put water into the air; air exchange takes it out. Where a surface is colder than the dew point of the air before it, water stays behind. "
                + (_design.Heater.Kind.IsRoomSealed()
                    ? "Your room-sealed heater adds no water and lowers the relative humidity by warming the air; it removes no water. "
                    : "")
                + $"Over the night of {Of(_assessment.Night)}, {Of(water.CondensedPerNight)} condenses.");
            yield return new FigureBlock(WaterFigure.Of(_assessment, _units));
            yield return new FigureBlock(SurfaceTemperatures.Of(_design, _assessment, _units));
        }

        private IEnumerable<PlanBlock> OfHeat()
        {
            var heat = _assessment.Heat;
            var fuel = heat.FuelPerNight is { } mass
                ? $" and burns {FuelWords.Of(mass, _design.Heater.Kind, _units)} of fuel"
                : heat.ElectricPerNight is { } energy ? $" and uses {Of(energy)} of electricity" : "";
            yield return Text(_design.Heater.Kind == HeaterKind.None
                ? $"The van has no heater. To hold {Of(_design.Heater.NightSetPoint)} on a night of {Of(_assessment.Weather.DesignTemperature)}, with the same openings, it would need {Of(heat.DesignLoad)}."
                : $"The van has {HeaterName}, rated {Of(_design.Heater.RatedOutput)}. Over the night it gives {Of(heat.Heater)} on average{fuel}. "
                    + $"To hold {Of(_design.Heater.NightSetPoint)} on a night of {Of(_assessment.Weather.DesignTemperature)}, with the same openings, it would have to give {Of(heat.DesignLoad)}.");
            if (HeaterFitFigure.Of(_design, _assessment, _units) is { } fit)
            {
                yield return new FigureBlock(fit, WithTable: true);
            }

            yield return new FigureBlock(HeatFigure.Of(_assessment, _units));
            if (_assessment.Combustion is { } flame)
            {
                yield return Text("A flame burns air of the cabin while people sleep. This is what it does to the zone it affects most:");
                yield return new NumbersBlock(
                [
                    new("Fuel burnt", Of(Measure.FuelRate, flame.Fuel)),
                    new("Water from the flame", Of(flame.Water)),
                    new("Carbon dioxide reached", Of(flame.CarbonDioxide)),
                    new("Oxygen left", Of(flame.Oxygen)),
                ]);
            }
        }

        private IEnumerable<PlanBlock> OfWalls()
        {
            yield return Text(
                "The U-value says how much heat passes a square metre for each degree of difference: the lower, the warmer. It is that of the layers alone; metal ribs that bridge them are left out and make the real part worse. "
                + "Where the temperature in the layers falls below the dew point of the room, water collects if room air reaches that place.");
            yield return new TableBlock(new DataTable
            {
                Caption = "Walls, roof and floor",
                Heads = ["Part", "Build-up", "Area", "U-value", "Room-side temperature", "Water on the lining in one night"],
                NumberColumns = [2, 3, 4, 5],
                Rows =
                [
                    .. _assessment.Assemblies.Select(part => ImmutableArray.Create(
                        part.Part,
                        part.Name,
                        Of(Measure.LargeArea, part.Area),
                        Of(part.UValue),
                        Of(part.Temperatures[0]),
                        Of(part.CondensedPerNight))),
                ],
            });
            if (_assessment.Year is { Walls: { IsEmpty: false } checks })
            {
                yield return Text(
                    "Behind the lining water comes with the air through gaps and with vapour through the layers, and leaves the same ways. What counts is that it dries again: "
                    + "a skin that is wet for weeks rusts and rots what lies on it.");
                yield return new TableBlock(WallCheckFigure.Table(checks, _units));

                // The wettest part is drawn, the others are told: a page of like drawings is long on a phone and on a slow line.
                var wet = checks.Where(WallCheckFigure.GetsWet).OrderByDescending(WallCheckFigure.MostGrams).ToList();
                if (wet.Count > 0)
                {
                    yield return new FigureBlock(WallCheckFigure.Of(wet[0], _units));
                }

                if (wet.Count > 1)
                {
                    yield return new TableBlock(WallCheckFigure.MonthTable(wet.Skip(1), _units));
                }
            }

            yield return new FigureBlock(WallSection.Of("Walls", _design.Walls, _assessment, _units));
            if (WallSection.IsSame(_design.Roof, _design.Walls))
            {
                yield return Text("The roof has the same layers as the walls.");
            }
            else
            {
                yield return new FigureBlock(WallSection.Of("Roof", _design.Roof, _assessment, _units));
            }

            yield return new FigureBlock(WallSection.Of("Floor", _design.Floor, _assessment, _units));
        }

        private IEnumerable<PlanBlock> OfConsidered()
        {
            yield return Text("What was weighed for this van, and why each option was made or left.");
            var priced = request.Considered.Any(option => option.Price is not null);
            yield return new TableBlock(new DataTable
            {
                Caption = "Options considered",
                Heads = ["Option", "Why", "Wet mornings in a year", .. priced ? new[] { "To buy now" } : []],
                NumberColumns = priced ? [2, 3] : [2],
                Rows =
                [
                    .. request.Considered.Select(option => ImmutableArray.Create<string>(
                    [
                        option.Name + (option.IsPublished ? " (this plan)" : ""),
                        option.Reason.Length > 0 ? option.Reason : DataTable.Nothing,
                        option.WetMornings is { } mornings ? mornings.ToString(CultureInfo.InvariantCulture) : DataTable.Nothing,
                        .. priced ? new[] { option.Price is { } price ? Money.Rounded(price, request.Cost!.Currency) : DataTable.Nothing } : [],
                    ])),
                ],
            });
        }

        private IEnumerable<PlanBlock> Comparison(ComparedOption other)
        {
            yield return Text($"The same numbers for option {request.OptionName}, which this plan is for, and option {other.Name}, each in its own night.");
            if (other.Differences.Length > 0)
            {
                yield return Text("What differs between them:");
                yield return new ListBlock(other.Differences, Numbered: false);
            }

            var own = Headline(_design, _assessment).ToDictionary(row => row.Label, row => row.Value);
            var theirs = Headline(other.Design, other.Assessment).ToDictionary(row => row.Label, row => row.Value);
            var rows = own.Keys.Union(theirs.Keys).Select(label => ImmutableArray.Create(
                label,
                own.GetValueOrDefault(label, "–"),
                theirs.GetValueOrDefault(label, "–")));
            var findings = new[] { Severity.Danger, Severity.Warning, Severity.Advice }.Select(severity => ImmutableArray.Create(
                $"Findings: {SeverityWord(severity).ToLowerInvariant()}",
                Count(_assessment, severity),
                Count(other.Assessment, severity)));
            yield return new TableBlock(new DataTable
            {
                Caption = "Two options side by side",
                Heads = ["What", request.OptionName, other.Name],
                NumberColumns = [1, 2],
                Rows = [.. rows, .. findings],
            });

            static string Count(Assessment assessment, Severity severity) =>
                assessment.Findings.Count(finding => finding.Severity == severity).ToString(CultureInfo.InvariantCulture);
        }

        private IEnumerable<PlanBlock> OfAssumptions()
        {
            var facts = new InputWords(_design, _units);
            yield return Text(facts.Counts());
            if (facts.Assumed() is { IsEmpty: false } assumed)
            {
                yield return new PairsBlock(assumed);
            }

            yield return Text(
                $"The night is calculated with {Of(_assessment.Weather.Temperature)} outdoors and a dew point of {Of(_assessment.Weather.DewPoint)}, a wind of {Of(_assessment.Weather.StationWind)} at the weather station, "
                + $"and {Of(_assessment.Weather.DesignTemperature)} on the coldest night the heater is sized for.");
            yield return Text(
                "These are assumed for every van of this use at such a stop, with the range we think possible; most are judgement, and the leakage of the body and the mixing between cab and living room matter most. They are given in SI units.");
            yield return new TableBlock(new DataTable
            {
                Caption = "Assumed values",
                Heads = ["What", "Low", "Likely", "High", "Unit", "Source"],
                NumberColumns = [1, 2, 3],
                Rows =
                [
                    .. ShownDefaults().Select(value => ImmutableArray.Create(
                        value.Meaning,
                        Plain(value.Low),
                        Plain(value.Likely),
                        Plain(value.High),
                        UnitWords(value.Unit),
                        value.Source)),
                ],
            });

            if (!_assessment.Bands.IsEmpty)
            {
                yield return Text("How far these move the main numbers stands in the figure of the main numbers and in its table.");
            }

            static string Plain(double value) => value.ToString("0.####", CultureInfo.InvariantCulture).Replace("-", "\u2212", StringComparison.Ordinal);

            static string UnitWords(string unit) => unit == "-"
                ? "–"
                : unit.Replace("m2", "m²", StringComparison.Ordinal).Replace("m3", "m³", StringComparison.Ordinal);
        }

        /// <summary>The assumed values a reader can judge, in the order of the table. Of values that go by habit or shelter the one that was used.</summary>
        private IEnumerable<AssumedValue> ShownDefaults()
        {
            var wind = _design.Stop.Shelter switch
            {
                Shelter.Sheltered => "wind-ratio-sheltered",
                Shelter.Ordinary => "wind-ratio-ordinary",
                Shelter.Exposed => "wind-ratio-exposed",
                _ => throw new InvalidOperationException($"No assumed wind for {_design.Stop.Shelter}."),
            };
            var habit = _design.Household.CookingHabit switch
            {
                CookingHabit.Light => "light",
                CookingHabit.Everyday => "everyday",
                CookingHabit.Heavy => "heavy",
                _ => throw new InvalidOperationException($"No assumed cooking for {_design.Household.CookingHabit}."),
            };
            string[] cooking = _design.Household.CookingFuel == CookingFuel.None ? [] : [$"cooking-water-{habit}", $"cooking-energy-{habit}", "cooking-spread"];
            string[] shown =
            [
                "leakage-area", "leakage-exponent", "mixing-cab-open", "mixing-rooms", "mixing-under-bed-slats",
                "sleeper-water", "sleeper-heat", "sleeper-carbon-dioxide", .. cooking,
                "discharge-coefficient", "gust-exchange", wind, "cover-resistance", "ua-cab", "ua-rest",
            ];
            return Defaults.All.Where(value => shown.Contains(value.Key));
        }

        private IEnumerable<PlanBlock> OfSources()
        {
            yield return Text(
                $"Method version {_assessment.MethodVersion}. "
                + "One steady night is calculated: air flows, temperatures, humidity and condensation of all zones together, until air, water and heat balance."
                + (_assessment.Year is null ? "" : " The year is calculated in steps of minutes with the same laws, and keeps count of what condenses, freezes, dries and is wiped."));
            yield return new ListBlock(
                [
                    "Moist air: saturation over water and ice by Hyland and Wexler (1983), as in ASHRAE Handbook – Fundamentals, chapter 1; standard atmosphere by altitude.",
                    "Air flow: a pressure network of orifices, cracks (power law) and fan curves; two-way exchange through a level opening by Epstein (1988) and through an upright one by Brown and Solvason (1962); wind pressure by Swami and Chandra (1988); gusts by de Gids and Phaff (1982).",
                    "Layers: thermal resistance and U-value by ISO 6946; materials by ISO 10456 and the sources named in the materials table.",
                    "Condensation: vapour transfer from the heat transfer coefficient by the Lewis relation.",
                    "Flames: water, carbon dioxide and oxygen from the fuel’s composition, burnt completely.",
                    .. _design.Itinerary.Select(stay => stay.PlaceKey).Prepend(_design.Stop.PlaceKey).Distinct()
                        .Where(key => DesignPlaces.Contains(_design, key))
                        .Select(key => DesignPlaces.Get(_design, key))
                        .Select(place => $"Weather of {place.Name}: {WeatherWords.SourceOf(place)}"),
                ],
                Numbered: false);
            yield return Text("What the calculation does not know:");
            yield return new ListBlock(
                [
                    _assessment.Year is null
                        ? "It is one mean night, not the worst and not the course of a night: water stored in fabrics and timber, sun, and the hours of cooking are left out or spread."
                        : _assessment.Year.Weather.FromMonths
                            ? "The steady night is a mean one, not the worst; the year is made from monthly means, not from measured hours: a real winter can be wetter, colder or milder."
                            : "The steady night is a mean one, not the worst; the year has the hours of a weather file: another winter can be wetter, colder or milder.",
                    "Flows between zones, leakage and the wind at the van are the least certain; a measured temperature and humidity from your own van is worth more than any of them.",
                    "Ribs and other bridges of metal are counted as one assumed loss, not one by one.",
                    _assessment.Year is null
                        ? "What condenses inside the walls is not counted; the sections only show where it could."
                        : "Water behind the lining is counted for a lining with the gaps that were entered; a gap nobody knows of changes it more than any layer.",
                ],
                Numbered: false);
        }

        private static ParagraphBlock CautionsInWords => Text(
            "These hold whatever the numbers say. Local codes, the maker’s instructions and the licensed trades come before this plan. It is guidance for your decisions, not a certificate, an approval or an inspection.");

        private static IEnumerable<PlanBlock> OfCautions()
        {
            yield return Caution(
                Severity.Danger,
                "Carbon monoxide",
                "Any flame can make carbon monoxide, which cannot be seen or smelled and kills sleepers.",
                "Fit a carbon monoxide alarm made for vehicles, at the height its maker gives, and test it before each trip. Never run an engine, a grill or a charcoal fire in or beside the van.");
            yield return Caution(
                Severity.Danger,
                "Oxygen and unflued flames",
                "A flame without a flue takes oxygen from the air you breathe and leaves its water and gases in it. Carbon dioxide and oxygen calculated here assume complete burning and never show that a flame may burn while you sleep.",
                "Never sleep with an unflued flame burning, and never heat with the cooker. Openings required for gas stay open and uncovered.");
            yield return Caution(
                Severity.Danger,
                "Gas installation",
                "Leaking gas explodes; propane and butane sink and collect low down.",
                "Pipes, appliances, cylinder lockers and fixed vents: a licensed gas fitter, to the code of your country, with a tightness test and its paper.");
            yield return Caution(
                Severity.Danger,
                "Fire",
                "Foams, fabrics and timber linings burn fast in a small space.",
                "Fit a smoke alarm, an extinguisher and a fire blanket within reach of the bed, keep two ways out, and keep clearances around heater, flue and cooker as their makers give them.");
            yield return Caution(
                Severity.Warning,
                "Wiring, 12 V and mains",
                "A short circuit of a vehicle battery starts fires; mains voltage kills.",
                "Fuse every circuit at the battery to the cable’s size. Mains and charging systems: a licensed electrician.");
            yield return Caution(
                Severity.Warning,
                "Cutting the body",
                "A hole in the wrong place weakens the body, meets airbags, fuel or brake lines, and rusts.",
                "Follow the body builder’s guidelines of the vehicle’s maker on where not to cut; look behind the panel; treat, prime and seal every bare edge.");
            yield return Caution(
                Severity.Warning,
                "Mould and health",
                "Damp bedding and corners grow mould, which harms the lungs of some people.",
                "Wipe what is wet, air the mattress daily, and see a doctor with any complaint of breathing.");
        }

        private static string Cooking(Household household) => (household.CookingFuel, household.CookingHabit) switch
        {
            (CookingFuel.None, _) => "nobody cooks in the van",
            (var fuel, var habit) => $"{(fuel == CookingFuel.Gas ? "gas" : "electric")} cooking, {Habit(habit)}",
        };

        private static string Habit(CookingHabit habit) => habit switch
        {
            CookingHabit.Light => "lids on, short meals",
            CookingHabit.Everyday => "one cooked meal a day",
            CookingHabit.Heavy => "pasta, stews, kettle all day",
            _ => throw new ArgumentOutOfRangeException(nameof(habit), habit, "Expected a cooking habit."),
        };

        private static FindingBlock Caution(Severity severity, string title, string text, string remedy) => new(severity, title, text, [], remedy);
    }

    /// <summary>The word for a severity, the same on page and paper.</summary>
    public static string SeverityWord(Severity severity) => severity switch
    {
        Severity.Danger => "Danger",
        Severity.Warning => "Warning",
        Severity.Advice => "Advice",
        Severity.Note => "Note",
        _ => throw new ArgumentOutOfRangeException(nameof(severity), severity, "Expected danger, warning, advice or note."),
    };
}
