using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Tests.Simulation;
using ConsultDesk.Calculations.Tests.Validation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Testing;
using UnitsNet;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Findings;

public sealed class RunningCardTests
{
    // Random vans a run; each is searched in all 25 cells.
    private const int Vans = 12;

    private static readonly Design Van = Presets.Build("long-high", Layout.RearPlatformBed);

    private static RunningCard Card(Design design) =>
        RunningCards.Of(design, Moments.Card, [], Assumptions.Likely, TestContext.Current.CancellationToken);

    private static CardCell Cell(RunningCard card, Moment moment, CardWeather weather) =>
        card.Cells.Single(cell => cell.Moment == moment && cell.Weather == weather);

    [Fact]
    public void In_every_cell_the_card_is_at_least_as_good_as_all_shut_and_all_open_and_keeps_every_fact()
    {
        int number = 0;
        int better = 0;
        foreach (Design any in RandomVan.Row(Vans))
        {
            Design van = WithFacts(any, number++);
            RunningCard card = Card(van);
            Assert.Equal(25, card.Cells.Length);
            foreach (CardCell cell in card.Cells)
            {
                string where = $"van {number}, {cell.Moment} {cell.Weather}: {RandomVan.Describe(van)}";
                double with = Value(cell.WithCard);
                Assert.True(with <= Value(cell.AllShut), where);
                Assert.True(with <= Value(cell.AllOpen), where);
                better += with < Value(cell.AllShut) && with < Value(cell.AllOpen) ? 1 : 0;
                Assert.InRange(cell.Instructions.Length, 0, 3);
                KeepsFacts(van, cell, where);
            }
        }

        // The search does something: a good part of the cells is better than both.
        Assert.True(better > Vans * 4, $"{better} cells better than both");
    }

    [Fact]
    public void Following_the_instructions_gives_the_measure_the_card_states()
    {
        SituationModel model = new(Hooded(Van), Assumptions.Likely);
        foreach (CardSituation situation in Moments.Card)
        {
            CardCellSearch search = new(model, situation, situation.Situation!, TestContext.Current.CancellationToken);
            CardCell cell = search.Find();
            Assert.Equal(Value(cell.WithCard), search.Measure(Follow(model.Design, cell, situation.Situation!)), 1e-9);
        }
    }

    [Fact]
    public void One_opening_after_the_other_finds_what_trying_all_settings_finds_on_small_vans()
    {
        int searched = 0;
        int same = 0;
        foreach (Design any in RandomVan.Row(6).Where(van => van.Openings.Length is > 0 and <= 2))
        {
            SituationModel model = new(WithFacts(any, 1), Assumptions.Likely);
            foreach (CardSituation cell in Moments.Card)
            {
                CardCellSearch search = new(model, cell, cell.Situation!, TestContext.Current.CancellationToken);
                (double all, int allCount) = (Value(search.Find(int.MaxValue).WithCard), search.Find(int.MaxValue).Instructions.Length);
                (double one, int oneCount) = (Value(search.Find(0).WithCard), search.Find(0).Instructions.Length);
                double price = CardAim.Of(cell.Moment, cell.Weather).Price;
                searched++;
                same += Math.Abs(all + (price * allCount) - one - (price * oneCount)) < 1e-6 ? 1 : 0;
                // Never worse than an instruction's worth.
                Assert.True(one + (price * oneCount) <= all + (price * (allCount + 1)), $"{cell.Moment} {cell.Weather}: {one} against {all}");
            }
        }

        Assert.True(searched >= 50);
        Assert.True(same >= 0.95 * searched, $"{same} of {searched} the same");
    }

    [Fact]
    public void The_quiet_limit_is_kept_while_people_sleep_and_may_be_passed_while_they_cook()
    {
        RunningCard card = Card(Hooded(Van));
        double quiet = Defaults.Likely("quiet-fan-speed");
        foreach (CardCell cell in card.Cells.Where(cell => cell.Moment == Moment.GoingToBed))
        {
            Assert.All(cell.Instructions, instruction => Assert.True((instruction.FanSpeed ?? 0) <= quiet + 1e-9));
        }

        Assert.Contains(Cell(card, Moment.Cooking, CardWeather.Rain).Instructions, instruction => instruction.FanSpeed > quiet);
    }

    [Fact]
    public void The_same_van_gets_the_same_card()
    {
        RunningCard first = Card(Hooded(Van));
        RunningCard again = Card(Hooded(Van));
        foreach ((CardCell a, CardCell b) in first.Cells.Zip(again.Cells))
        {
            Assert.Equal(a.Instructions, b.Instructions);
            Assert.Equal(Value(a.WithCard), Value(b.WithCard));
        }
    }

    [Fact]
    public void No_unflued_flame_burns_on_the_card_while_people_sleep_and_the_card_says_so()
    {
        Design unflued = Van with { Heater = Van.Heater with { Kind = HeaterKind.UnfluedGas } };
        RunningCard card = Card(unflued);
        foreach (CardCell cell in card.Cells.Where(cell => cell.Moment == Moment.GoingToBed))
        {
            Assert.Equal(0, (double)cell.Outcome!.Heater.Watts);
            Assert.Contains("No flame", cell.Caution, StringComparison.Ordinal);
        }

        Assert.True((double)Cell(card, Moment.Morning, CardWeather.Frost).Outcome!.Heater.Watts > 0);
    }

    [Fact]
    public void Nobody_left_behind_is_left_to_a_fan()
    {
        Design van = Hooded(Van) with { Equipment = Van.Equipment with { LeftInLockedVan = true } };
        RunningCard card = Card(van);
        foreach (CardCell cell in card.Cells.Where(cell => cell.Moment == Moment.LeavingItLocked))
        {
            Assert.All(cell.Instructions, instruction => Assert.Null(instruction.FanSpeed));
            Assert.Contains("Never leave people or animals", cell.Caution, StringComparison.Ordinal);
        }

        Assert.Contains(Cell(Card(Hooded(Van)), Moment.LeavingItLocked, CardWeather.Heat).Instructions, instruction => instruction.FanSpeed > 0);
    }

    [Fact]
    public void No_fan_runs_beside_a_wood_stove_in_any_weather()
    {
        Design van = Hooded(Van) with { Equipment = Van.Equipment with { WoodStove = true } };
        foreach (CardCell cell in Card(van).Cells.Where(cell => cell.Moment != Moment.DrivingOff))
        {
            OpeningSetting[] settings = Follow(van, cell, Moments.Card.Single(c => c.Moment == cell.Moment && c.Weather == cell.Weather).Situation!);
            Assert.All(settings, setting => Assert.Equal(0, setting.FanSpeed));
            Assert.Contains("stove", cell.Caution, StringComparison.Ordinal);
        }

        // The column that would want fans most, and does without the stove.
        Assert.All(Card(van).Cells.Where(cell => cell.Weather == CardWeather.Heat), cell => Assert.All(cell.Instructions, instruction => Assert.True(instruction.FanSpeed is null or 0)));
        Assert.Contains(Card(Hooded(Van)).Cells.Where(cell => cell.Weather == CardWeather.Heat), cell => cell.Instructions.Any(instruction => instruction.FanSpeed > 0));
    }

    [Fact]
    public void Each_danger_van_s_card_carries_its_danger()
    {
        foreach ((string code, Design van) in DangerVans.All)
        {
            ImmutableArray<Finding> findings = Assessor.Assess(van, TestContext.Current.CancellationToken).Findings;
            RunningCard card = RunningCards.Of(
                van,
                [.. Moments.Card.Where(cell => cell.Moment == Moment.DrivingOff)],
                findings,
                Assumptions.Likely,
                TestContext.Current.CancellationToken);
            Assert.Contains(card.Dangers, danger => danger.Code == code && danger.Title.Length > 0 && danger.Remedy.Length > 0);
        }
    }

    [Fact]
    public void An_opening_beside_the_heater_s_exhaust_stays_shut_while_it_may_heat()
    {
        Design van = DangerVans.All.Single(danger => danger.Code == "intake-beside-exhaust").Van;
        foreach (CardCell cell in Card(van).Cells.Where(cell => cell.Weather != CardWeather.Heat))
        {
            OpeningSetting[] settings = Follow(van, cell, Moments.Card.Single(c => c.Moment == cell.Moment && c.Weather == cell.Weather).Situation!);
            Assert.Equal(Position.Shut, settings[van.Openings.ToList().FindIndex(opening => opening.Id == Presets.WindowId)].Position);
        }
    }

    [Fact]
    public void Many_openings_still_take_at_most_three_instructions()
    {
        Design many = Hooded(Van);
        foreach (int number in Enumerable.Range(0, 4))
        {
            Opening window = Openings.Find(many, Presets.WindowId)!;
            many = many with
            {
                Openings = many.Openings.Add(window with
                {
                    Id = $"window-{number}",
                    Face = Face.Left,
                    Position = Position.Half,
                    Facts = window.Facts with { UsableInRain = number % 2 == 0, OpenLocked = number == 0 },
                }),
            };
        }

        CardSituation[] cells = [.. Moments.Card.Where(cell => cell.Weather is CardWeather.Rain or CardWeather.Heat)];
        foreach (CardCell cell in RunningCards.Of(many, cells, [], Assumptions.Likely, TestContext.Current.CancellationToken).Cells)
        {
            Assert.InRange(cell.Instructions.Length, 0, 3);
            Assert.True(Value(cell.WithCard) <= Math.Min(Value(cell.AllShut), Value(cell.AllOpen)));
            KeepsFacts(many, cell, $"{cell.Moment} {cell.Weather}");
        }
    }

    [Fact]
    public void A_cell_that_never_occurs_is_left_out_with_its_criterion()
    {
        CardSituation never = new(Moment.Cooking, CardWeather.Snow, "snow lies on the roof", null);
        RunningCard card = RunningCards.Of(Van, [never], [], Assumptions.Likely, TestContext.Current.CancellationToken);

        Assert.Empty(card.Cells);
        Assert.Equal(new CardGap(Moment.Cooking, CardWeather.Snow, "snow lies on the roof"), Assert.Single(card.LeftOut));
    }

    [Fact]
    public void A_search_can_be_stopped()
    {
        using CancellationTokenSource stop = new();
        stop.Cancel();
        Assert.Throws<OperationCanceledException>(() => RunningCards.Of(Van, Moments.Card, [], Assumptions.Likely, stop.Token));
    }

    [Fact]
    public void Every_cell_has_an_aim_a_measure_and_a_source_and_no_text_calls_anything_harmless()
    {
        Assert.Equal(25, CardAim.All.Length);
        Assert.All(CardAim.All, aim =>
        {
            Assert.NotEmpty(aim.Aim);
            Assert.NotEmpty(aim.Measure);
            Assert.NotEmpty(aim.Source);
            Assert.DoesNotContain("safe", $"{aim.Aim} {aim.Measure} {aim.Caution}", StringComparison.OrdinalIgnoreCase);
        });
    }

    [Fact]
    public void The_table_of_aims_in_docs_is_up_to_date()
    {
        StringBuilder text = new();
        text.Append("# What each cell of the running card wants\n\nWritten by the tests (`tests/run.sh --accept`); do not edit. The rows stand in ")
            .Append("`src/ConsultDesk.Calculations/Findings/card-aims.csv`;\n[card.md](card.md) says how they are used. Weights count in the unit of the measure, per g, g, W, m3/h, K, °C, full speed and opening.\n\n")
            .Append("| moment | weather | aim | measure | unit | water | condensed | heat | air | cold | warmth | fan | open | price | source |\n")
            .Append("| --- | --- | --- | --- | --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | --- |\n");
        foreach (CardAim aim in CardAim.All)
        {
            text.Append(CultureInfo.InvariantCulture, $"| {aim.Moment} | {aim.Weather} | {aim.Aim} | {aim.Measure} | {aim.Unit} | {aim.Water} | {aim.Condensed} | {aim.Heat} ")
                .Append(CultureInfo.InvariantCulture, $"| {aim.Air} | {aim.Cold} | {aim.Warmth} | {aim.Fan} | {aim.Open} | {aim.Price} | {aim.Source} |\n");
        }

        KeptDocument.Compare("docs/method/card-aims.md", text.ToString());
    }

    private static void KeepsFacts(Design van, CardCell cell, string where)
    {
        Situation situation = Moments.Card.Single(c => c.Moment == cell.Moment && c.Weather == cell.Weather).Situation!;
        OpeningSetting[] settings = Follow(van, cell, situation);
        double quiet = situation.Activity == Activity.Asleep ? Defaults.Likely("quiet-fan-speed") : 1;
        for (int index = 0; index < settings.Length; index++)
        {
            Opening opening = van.Openings[index];
            OpeningSetting setting = settings[index];
            Assert.True(setting.Position == Position.Shut || OpeningUse.MayStandOpen(opening, situation), $"{opening.Id} {where}");
            Assert.True(!opening.Facts.Fixed || setting.Position == Position.Full, $"{opening.Id} {where}");
            Assert.True(setting.FanSpeed == 0 || (opening.Fan is not null && setting.Position != Position.Shut), $"{opening.Id} {where}");
            Assert.True(setting.FanSpeed <= quiet + 1e-9, $"{opening.Id} {where}");
        }
    }

    // What a person does who reads the cell: what is named, then everything else, then what stays as the design has it.
    private static OpeningSetting[] Follow(Design design, CardCell cell, Situation situation) =>
    [
        .. design.Openings.Select(opening =>
        {
            if (cell.Instructions.FirstOrDefault(i => i.OpeningId == opening.Id) is CardInstruction named)
            {
                return new OpeningSetting(named.Position, named.FanSpeed ?? 0);
            }

            foreach (CardInstruction rest in cell.Instructions.Where(i => i.OpeningId.Length == 0 && !opening.Facts.Fixed))
            {
                if (rest.Position == Position.Shut && !cell.Instructions.Any(i => i.OpeningId.Length == 0 && i.Position == Position.Full && OpeningUse.MayStandOpen(opening, situation)))
                {
                    return OpeningSetting.Shut;
                }

                if (rest.Position == Position.Full && OpeningUse.MayStandOpen(opening, situation))
                {
                    return new OpeningSetting(Position.Full, opening.Fan is null ? 0 : rest.FanSpeed ?? 0);
                }
            }

            return OpeningSetting.Of(opening);
        }),
    ];

    private static double Value(IQuantity quantity) => quantity switch
    {
        Mass mass => mass.Grams,
        Power power => (double)power.Watts,
        Temperature temperature => temperature.DegreesCelsius,
        Scalar scalar => scalar.Amount,
        _ => throw new ArgumentOutOfRangeException(nameof(quantity), quantity, "Expected a measure of the card."),
    };

    private static Design Hooded(Design van) => MoreAir.AddLowVent(Openings.Change(
        van, Presets.RoofFanId, opening => opening with { Facts = opening.Facts with { UsableInRain = true, OpenLocked = true } }));

    // Facts in every mixture, the same for the same number.
    private static Design WithFacts(Design van, int number) => van with
    {
        Openings =
        [
            .. van.Openings.Select((opening, index) => opening.Facts.Fixed ? opening : opening with
            {
                Facts = opening.Facts with
                {
                    UsableInRain = (number + index) % 2 == 0,
                    UsableInDrivingRain = (number + index) % 4 == 0,
                    OpenLocked = (number + index) % 3 == 0,
                    OpenAsleep = (number + index) % 5 != 0,
                },
            }),
        ],
    };
}
