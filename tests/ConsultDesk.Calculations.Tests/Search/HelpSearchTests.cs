using System.Collections.Immutable;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using CsCheck;
using Xunit;

namespace ConsultDesk.Calculations.Tests.Search;

public sealed class HelpSearchTests(ITestOutputHelper output)
{
    private static readonly Design Shut = ShutVan();

    private static readonly WhatHelps Help = HelpSearch.Of(Shut, PriceBooks.Default);

    [Fact]
    public void A_shut_damp_van_is_helped_and_what_helps_is_ranked_by_hours_for_the_money()
    {
        output.WriteLine(FormattableString.Invariant($"{Help.WetHours:0} wet hours, {Help.Ranked.Length} ranked, {Help.Dangerous.Length} dangerous, {Help.Useless} useless, {Help.LeftOut} left out"));
        foreach (HelpfulChange change in Help.Ranked.Take(15))
        {
            output.WriteLine(FormattableString.Invariant($"{change.WetHoursSaved:0} h, {change.Price:0} -> {change.SavedPerHundred:0}: {change.Change.Words}"));
        }

        Assert.InRange(Help.WetHours, 10, 8760);
        Assert.NotEmpty(Help.Ranked);
        Assert.All(Help.Ranked, change => Assert.True(change.WetHoursSaved > 0 && change.WetHoursSaved <= Help.WetHours));
        HelpfulChange[] priced = [.. Help.Ranked.SkipWhile(change => change.Price <= 0)];
        Assert.All(priced, change => Assert.True(change.Price > 0));
        Assert.Equal(priced.OrderByDescending(change => change.SavedPerHundred), priced);
    }

    [Fact]
    public void A_shut_damp_van_is_told_first_to_open_what_it_has() =>
        // Common practice, no source: before anything is bought, damp air gets a way out.
        Assert.True(Help.Ranked[0] is { Change.Kind: ChangeKind.Use, Price: 0 }, Help.Ranked[0].Change.Words);

    [Fact]
    public void A_van_without_openings_is_told_to_get_air_in_and_out()
    {
        WhatHelps help = Search(Shut with { Openings = [] });
        Assert.Contains(help.Ranked.Take(5), change => change.Change is { Kind: ChangeKind.Add, CutsBody: true } or { Key: "add:cab-window-vent:Left:cab" });
    }

    [Fact]
    public void An_hour_of_the_year_belongs_to_one_situation_at_most()
    {
        foreach (string place in new[] { "bergen", "madrid" })
        {
            Design van = Shut with { Stop = Shut.Stop with { PlaceKey = place } };
            YearWeather weather = YearWeather.Of(van);
            ImmutableArray<WeighedSituation> situations = HelpSearch.Weighed(van, weather);
            Assert.NotEmpty(situations);
            // Nights are 9 hours from 22 to 7 o'clock, evenings at the stove 3 from 17 to 20.
            Assert.InRange(situations.Where(weighed => weighed.Situation.Activity == Activity.Asleep).Sum(weighed => weighed.Hours), 1, 9 * YearWeather.Days);
            Assert.InRange(situations.Where(weighed => weighed.Situation.Activity == Activity.Cooking).Sum(weighed => weighed.Hours), 0, 3 * YearWeather.Days);
            Assert.All(situations, weighed => Assert.InRange(weighed.Hours, 1, weighed.Situation.HoursAYear));
            int rainyNights = Enumerable.Range(0, YearWeather.Hours).Count(hour => (hour % 24 is >= 22 or < 7)
                && (weather.Falling[hour] is Precipitation.Rain or Precipitation.DrivingRain) && !weather.SnowOnRoof[hour]);
            Assert.Equal(rainyNights, situations.Where(weighed => weighed.Situation.Key == "going-to-bed-rain").Sum(weighed => weighed.Hours));
        }
    }

    [Fact]
    public void What_would_empty_the_battery_in_a_night_is_not_proposed()
    {
        Assert.DoesNotContain(SingleChanges.Of(Shut, PriceBooks.Default), change => change.Key.Contains("dryer-desiccant", StringComparison.Ordinal));
        Design powered = Shut with { Equipment = Shut.Equipment with { Battery = BatteryKind.Lithium, BatteryUsable = UnitsNet.Energy.FromKilowattHours(5) } };
        Assert.Contains(SingleChanges.Of(powered, PriceBooks.Default), change => change.Key.Contains("dryer-desiccant", StringComparison.Ordinal));
    }

    [Fact]
    public void The_saving_of_a_change_is_the_difference_of_two_assessments_and_its_price_that_of_two_cost_sheets()
    {
        HelpfulChange first = Help.Ranked.First(change => change.Price > 0);
        Design changed = first.Change.Apply(Shut);

        Assert.Equal(Costing.Of(changed, PriceBooks.Default).Now - Costing.Of(Shut, PriceBooks.Default).Now, first.Price);
        Assert.Equal(Help.WetHours - (Search(changed, new PriceBook([])).WetHours * Glass(changed) / Glass(Shut)), first.WetHoursSaved, 6);
    }

    [Fact]
    public void A_change_that_brings_a_danger_is_listed_apart_and_never_ranked()
    {
        WhatHelps cold = Search(Shut with { Heater = Shut.Heater with { Kind = HeaterKind.None } });
        Assert.All(cold.Ranked, change => Assert.Empty(change.Dangers));
        Assert.All(cold.Dangerous, change => Assert.NotEmpty(change.Dangers));
        foreach (HelpfulChange change in Help.Ranked.Take(5))
        {
            Assert.Empty(Dangers(change.Change.Apply(Shut)).Except(Dangers(Shut)));
        }
    }

    [Fact]
    public void What_the_client_will_not_have_is_left_out_and_counted()
    {
        WhatHelps wished = Search(Shut, wishes: new Wishes { WontHaves = [WontHave.AddedWindow, WontHave.FloorHole] });

        Assert.DoesNotContain(wished.Ranked, change => change.Change.Key.StartsWith("add:window", StringComparison.Ordinal) || change.Change.Key.StartsWith("add:floor", StringComparison.Ordinal));
        Assert.Contains(wished.Refused, refused => refused is { Wont: WontHave.AddedWindow, Count: > 0 });
        Assert.Contains(wished.Refused, refused => refused is { Wont: WontHave.FloorHole, Count: > 0 });
    }

    [Fact]
    public void At_most_sixty_changes_are_assessed_and_the_rest_is_counted()
    {
        int all = SingleChanges.Of(Shut, PriceBooks.Default).Length;
        Assert.True(all > HelpSearch.MostChanges);
        Assert.Equal(all - HelpSearch.MostChanges, Help.LeftOut);
        Assert.True(Help.Ranked.Length + Help.Dangerous.Length + Help.Useless <= HelpSearch.MostChanges);
    }

    [Fact]
    public void No_change_touches_what_is_fitted_or_owned_and_every_one_is_valid() => RandomVans().Sample(
        design =>
        {
            HashSet<string> keys = [];
            foreach (SingleChange change in SingleChanges.Of(design, PriceBooks.Default))
            {
                Design changed = change.Apply(design);
                Assert.True(keys.Add(change.Key), change.Key);
                Assert.Empty(DesignCheck.Errors(changed).Except(DesignCheck.Errors(design)));
                Assert.Null(Placement.Refusal(design, changed));
                foreach (Opening fitted in design.Openings.Where(opening => opening.State == PartState.Fitted))
                {
                    Opening now = Openings.Find(changed, fitted.Id)!;
                    // A deflector or a cover may be hung on a fitted window; the window itself stays.
                    Assert.Equal((fitted.Kind, fitted.Face, fitted.X, fitted.Y, fitted.Z, fitted.Length, fitted.Width, fitted.Fan), (now.Kind, now.Face, now.X, now.Y, now.Z, now.Length, now.Width, now.Fan));
                }

                Assert.All(design.Openings.Where(opening => opening.State == PartState.Owned), owned => Assert.NotNull(Openings.Find(changed, owned.Id)));
                if (design.Heater.State is PartState.Fitted or PartState.Owned)
                {
                    Assert.Equal(design.Heater, changed.Heater);
                }
            }
        },
        iter: 15);

    [Fact]
    public void The_same_question_gets_the_same_answer()
    {
        WhatHelps again = Search(Shut);
        Assert.Equal(Help.Ranked.Select(change => (change.Change.Key, change.WetHoursSaved)), again.Ranked.Select(change => (change.Change.Key, change.WetHoursSaved)));
    }

    private static WhatHelps Search(Design design, PriceBook? book = null, Wishes? wishes = null) =>
        HelpSearch.Of(design, book ?? PriceBooks.Default, wishes, progress: null, TestContext.Current.CancellationToken);

    private static Design ShutVan()
    {
        Design van = Presets.Build("long-high", Layout.RearPlatformBed);
        return van with
        {
            Openings = [.. van.Openings.Select(opening => opening with { Position = opening.Facts.Fixed ? opening.Position : Position.Shut, Fan = opening.Fan is Fan fan ? fan with { Speed = 0 } : null })],
        };
    }

    private static double Glass(Design design) =>
        design.Glazings.Sum(glazing => glazing.Area.SquareMeters)
        + design.Openings.Where(opening => opening.Pane is not null).Sum(opening => opening.Length.Meters * opening.Width.Meters)
        + design.BareMetal.Sum(patch => patch.Area.SquareMeters);

    private static HashSet<string> Dangers(Design design) =>
        [.. Assessor.Assess(design).Findings.Where(finding => finding.Severity == Severity.Danger).Select(finding => finding.Code)];

    private static Gen<Design> RandomVans() =>
        from body in Gen.OneOf(Gen.Const("compact-medium"), Gen.Const("medium-high"), Gen.Const("long-high"))
        from layout in Gen.OneOf(Gen.Const(Layout.RearPlatformBed), Gen.Const(Layout.FixedBedAcross), Gen.Const(Layout.FrontLounge))
        from states in Gen.Int[0, 3].Array[8]
        let van = Presets.Build(body, layout)
        select van with
        {
            Openings = [.. van.Openings.Select((opening, index) => opening with { State = (PartState)states[index % 6] })],
            Heater = van.Heater with { State = (PartState)states[6] },
            BedBaseState = (PartState)states[7],
        };
}
