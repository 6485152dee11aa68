using System.Globalization;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Reports.Plans;

/// <summary>What is looked after when, and what is done when the glass fogs all the same (common practice, no source).</summary>
internal sealed class CareCard(Design design)
{
    /// <summary>The care card, by season of the hemisphere the reader is in.</summary>
    public PairsBlock Seasons() => new(
    [
        new("Every month on the road", Joined(Monthly())),
        new("Before winter", Joined(BeforeWinter())),
        new("In the cold", Joined(InTheCold())),
        new("In spring", Joined(InSpring())),
        new("In the heat", Joined(InTheHeat())),
        new("When it stands unused", Joined(Unused())),
    ]);

    /// <summary>Three checks, what to measure, when we look again.</summary>
    /// <param name="published">Day of publishing.</param>
    public IEnumerable<PlanBlock> StillFogs(DateOnly published)
    {
        yield return new ParagraphBlock("Fogged glass on one cold morning is no failure. When it is wet three mornings in a row, check in this order:");
        yield return new ListBlock(
            [
                $"Is the air really let out? Hold a strip of thin paper before each opening the running card names: it must be pulled or pushed. {(design.Openings.Any(opening => opening.Facts.Screened) ? "A clogged insect screen or a" : "A")} lid that is shut, covered or under snow is the commonest reason.",
                "Is there water nobody counted? Wet clothes, a dog, a leaking pipe or roof, plants, a pan without its lid, a flame that burns without a flue.",
                $"Is one surface colder than it should be? {(HasCovers ? "A loose edge of a cover, a" : "A")} gap in the lining, a bare rib, a mattress that lies tight against the wall.",
            ],
            Numbered: true);
        yield return new ParagraphBlock("Measure, for one week: temperature and humidity at the bed and outdoors, at bedtime and at seven, with two meters that read the same side by side first; and write down who slept, what was cooked, which openings stood how. A photo of the glass beside the reading helps.");
        yield return new ParagraphBlock(string.Create(
            CultureInfo.InvariantCulture,
            $"Send us the readings after the first cold week, and tell us how the first winter went about {AfterWinter(published):d MMMM yyyy}: with them we calculate again with your own van instead of assumptions."));
    }

    /// <summary>The day to look back on the first winter.</summary>
    internal DateOnly AfterWinter(DateOnly published) => FirstWinter.CheckBackOn(
        published, DesignPlaces.Contains(design, design.Stop.PlaceKey) && DesignPlaces.Get(design, design.Stop.PlaceKey).Latitude.Degrees < 0);

    private bool HasCovers => design.Glazings.Select(glazing => glazing.Pane).Concat(design.Openings.Select(opening => opening.Pane).OfType<Pane>()).Any(pane => pane.Cover != Cover.None);

    private bool Burns => design.Household.CookingFuel == CookingFuel.Gas || design.Heater.Kind is not (HeaterKind.None or HeaterKind.Electric);

    private static string Joined(IEnumerable<string> lines) => string.Join("; ", lines.Select((line, index) => index == 0 ? char.ToUpperInvariant(line[0]) + line[1..] : line)) + ".";

    private IEnumerable<string> Monthly()
    {
        yield return $"test every alarm{(Burns ? ", carbon monoxide first" : "")}";
        if (design.Openings.Any(opening => opening.Facts.Screened))
        {
            yield return "brush the insect screens";
        }

        yield return "lift the mattress and look under it";
        if (design.Openings.Any(opening => opening.Facts.Fixed))
        {
            yield return "see that the fixed vents for gas are open and clean";
        }

        if (design.Dryers.Any(dryer => dryer.State != PartState.Later))
        {
            yield return "empty the dryer and clean its filter";
        }
    }

    private IEnumerable<string> BeforeWinter()
    {
        yield return "seals of lids, windows and doors: clean, grease, look for gaps";
        if (design.Heater.Kind is not (HeaterKind.None or HeaterKind.Electric))
        {
            yield return "heater serviced as its maker says, exhaust and air intake free";
        }

        if (Burns)
        {
            yield return "gas system and hoses looked at by a licensed fitter, as your country asks";
        }

        if (HasCovers)
        {
            yield return "covers of the glass tried on, edges mended";
        }

        if (design.Equipment.WaterCarried)
        {
            yield return "tank and pipes drained or kept above freezing";
        }
    }

    private IEnumerable<string> InTheCold()
    {
        yield return "run the van by the running card, an opening stays open while you sleep";
        yield return design.Household.WipesGlass ? "wipe the glass each morning and hang the cloth outside" : "wipe glass and frames when they are wet, and hang the cloth outside";
        yield return "sweep snow off lids and exhaust before the night";
        if (design.Equipment.Battery == BatteryKind.Lithium)
        {
            yield return "do not charge the battery below freezing";
        }
    }

    private static IEnumerable<string> InSpring()
    {
        yield return "take off a panel of the lining, look at skin and sills, and feel the insulation";
        yield return "dry mattress, curtains and cupboards in the sun";
        yield return "wash out the drain holes of sills and doors";
        yield return "touch up paint at every hole that was cut";
    }

    private static IEnumerable<string> InTheHeat()
    {
        yield return "covers outside the glass by day, lids open by night";
        yield return "never leave people or animals in the locked van and rely on a fan";
    }

    private IEnumerable<string> Unused()
    {
        yield return "dry inside, cupboards and bed open, a rain-proof opening ajar";
        if (design.Equipment.GasBottles)
        {
            yield return "gas bottles shut";
        }

        yield return "battery as its maker says";
    }
}
