using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Findings.Rules;

/// <summary>Gas that burns cabin air without high and low openings that cannot be shut.</summary>
internal static class GasWithoutFixedOpenings
{
    public static Finding? Judge(FindingContext context)
    {
        Design design = context.Design;
        bool cooking = design.Household.CookingFuel == CookingFuel.Gas;
        bool heating = design.Heater.Kind == HeaterKind.UnfluedGas;
        if (!cooking && !heating)
        {
            return null;
        }

        FixedOpenings.Yardstick asked = FixedOpenings.Asked(design);
        Area high = FixedOpenings.High(design);
        Area low = FixedOpenings.Low(design);
        bool fixedEnough = high.SquareMeters >= asked.High.SquareMeters && low.SquareMeters >= asked.Low.SquareMeters;
        if (fixedEnough && OpensInRain(design))
        {
            return null;
        }

        return new Finding
        {
            Code = "gas-without-fixed-openings",
            Severity = Severity.Danger,
            Title = fixedEnough
                ? "Gas burns cabin air and nothing can be opened in the rain"
                : "Gas burns cabin air without enough openings that cannot be shut",
            Explanation = "A flame in the cabin needs fresh air low down and a way out high up, even when everybody forgets to open a window, and more of it while "
                + "somebody cooks, also in the rain. Fans, lids and windows do not count as fixed, because they can be shut. "
                + "The areas below are yardsticks; the local code and a licensed gas fitter decide.",
            Evidence =
            [
                new("Fixed free area high up", high),
                new("Fixed free area near the floor", low),
                new($"Asked for high up by {asked.Label}", asked.High),
                new($"Asked for near the floor by {asked.Label}", asked.Low),
                new("Asked for in all by AS/NZS 5601.2 (from secondary copies)", FixedOpenings.AsNzs5601(design)),
                new("Openings that can be opened while it rains", Scalar.FromAmount(design.Openings.Count(CanBeOpenedInRain))),
            ],
            Remedy = "Fit one fixed vent in the roof and one in or just above the floor, and never cover them. Cook with a hooded lid open besides, fit a carbon "
                + "monoxide alarm, and have the gas installation made and tested by a licensed gas fitter. Or cook with electricity.",
            TriedAs = "The copy adds the fixed vents that are missing, and a rain hood where nothing can be opened in the rain, and takes it that somebody clears snow off them.",
            Apply = AddOpenings,
        };
    }

    private static bool OpensInRain(Design design) => design.Openings.Any(CanBeOpenedInRain);

    private static bool CanBeOpenedInRain(Opening opening) => opening.Facts.UsableInRain && FactoryOpenings.SetByPeople(opening);

    private static Design AddOpenings(Design design)
    {
        FixedOpenings.Yardstick asked = FixedOpenings.Asked(design);
        double highM2 = Math.Max(0, asked.High.SquareMeters - FixedOpenings.High(design).SquareMeters);
        double lowM2 = Math.Max(0, asked.Low.SquareMeters - FixedOpenings.Low(design).SquareMeters);
        design = highM2 > 0 ? AddVent(design, Face.Roof, highM2, "fixed-vent-high", "Fixed vent in the roof", OpeningKind.RoofVent) : design;
        design = lowM2 > 0 ? AddVent(design, Face.Floor, lowM2, "fixed-vent-low", "Fixed vent in the floor", OpeningKind.FloorVent) : design;
        design = OpensInRain(design) ? design : RainHoods.OverLids(design);
        // A vent in the roof that nobody clears of snow would be none.
        return design with { Equipment = design.Equipment with { RoofNotCleared = false } };
    }

    private static Design AddVent(Design design, Face face, double freeM2, string stem, string name, OpeningKind kind)
    {
        const double freeShare = 0.5;
        // A hair above the area asked for, so that rounding cannot leave it short.
        double sideM = Math.Max(0.05, Math.Sqrt(freeM2 * 1.001 / freeShare));
        Opening vent = new()
        {
            Id = Openings.NewId(design, stem),
            Name = name,
            Kind = kind,
            Face = face,
            ZoneId = "",
            X = Length.Zero,
            Y = Length.Zero,
            Z = face == Face.Roof ? design.Body.InteriorHeight : Length.Zero,
            Length = Length.FromMeters(sideM),
            Width = Length.FromMeters(sideM),
            FreeShare = freeShare,
            Position = Position.Full,
            Facts = new OpeningFacts { UsableInRain = true, UsableInDrivingRain = true, OpenAsleep = true, OpenLocked = true, Screened = true, Fixed = true },
        };
        return FreePlaces.First(design, vent) is Opening placed ? Openings.Add(design, placed) : design;
    }
}
