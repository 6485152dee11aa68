using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Costs;

/// <summary>Which of the client's wishes an option breaks, as far as it can be checked. Looks and order are never judged.</summary>
public static class WishCheck
{
    /// <summary>
    /// Rise of a fan's sound pressure level per tenfold speed, dB: fan laws, sound power goes with the fifth power of
    /// speed (AMCA and ASHRAE handbooks; recalled).
    /// </summary>
    public const double DecibelPerDecadeOfSpeed = 50;

    /// <summary>The wishes that are broken, in the order of the form. Parts that come later count: they are part of the option.</summary>
    /// <param name="design">The option.</param>
    /// <param name="cost">What it costs.</param>
    /// <param name="wishes">What the client wants.</param>
    public static ImmutableArray<BrokenWish> Broken(Design design, CostSheet cost, Wishes wishes)
    {
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(cost);
        ArgumentNullException.ThrowIfNull(wishes);
        ImmutableArray<BrokenWish>.Builder broken = ImmutableArray.CreateBuilder<BrokenWish>();
        if (cost.Now > wishes.BudgetNow)
        {
            broken.Add(new BrokenWish(BrokenWishKind.BudgetNow) { Over = cost.Now - wishes.BudgetNow });
        }

        if (cost.Later > wishes.BudgetLater)
        {
            broken.Add(new BrokenWish(BrokenWishKind.BudgetLater) { Over = cost.Later - wishes.BudgetLater });
        }

        foreach (WontHave wont in Enum.GetValues<WontHave>().Where(wont => wishes.WontHaves.Contains(wont)))
        {
            ImmutableArray<string> parts = [.. PartsBreaking(design, wont)];
            if (!parts.IsEmpty)
            {
                broken.Add(new BrokenWish(BrokenWishKind.WontHave) { WontHave = wont, Parts = parts });
            }
        }

        if (wishes.LoudestAtBedDba is double loudest)
        {
            (Opening Opening, double Dba)[] louder =
            [
                .. design.Openings.Select(opening => (Opening: opening, Dba: NightSoundDba(design, opening)))
                    .Where(fan => fan.Dba > loudest).Select(fan => (fan.Opening, fan.Dba!.Value)),
            ];
            if (louder.Length > 0)
            {
                broken.Add(new BrokenWish(BrokenWishKind.NoiseAtBed)
                {
                    SoundDba = louder.Max(fan => fan.Dba),
                    Parts = [.. louder.Select(fan => fan.Opening.Name)],
                });
            }
        }

        return broken.ToImmutable();
    }

    /// <summary>
    /// Names of the parts that break one won't-have; empty when it is kept. The rules: a second roof hole is every hole in
    /// the roof beyond the first, fitted ones counted but only those not fitted named. An added window is a window that
    /// is not fitted. Visible outside is what is not fitted and shows above the roof line or in a wall: roof vents and
    /// fans, windows, parts on the roof, and covers hung outside. Gas is bottles, a gas cooker or a gas heater, whatever its state. A floor hole
    /// is a vent in the floor that is not fitted. A fan at night is one that runs and may stay open asleep.
    /// </summary>
    public static IEnumerable<string> PartsBreaking(Design design, WontHave wont)
    {
        ArgumentNullException.ThrowIfNull(design);
        return wont switch
        {
            WontHave.SecondRoofHole => RoofHolesBeyondTheFirst(design),
            WontHave.AddedWindow => NotFitted(design).Where(IsWindow).Select(opening => opening.Name),
            WontHave.VisibleOutside => VisibleOutside(design),
            WontHave.Gas => Gas(design),
            WontHave.FloorHole => NotFitted(design).Where(opening => opening.Face == Face.Floor).Select(opening => opening.Name),
            WontHave.FanAtNight => design.Openings.Where(opening => RunsAtNight(opening)).Select(opening => opening.Name)
                .Concat(design.CirculationFans.Where(fan => fan.Running).Select(fan => fan.Name)),
            _ => throw new ArgumentOutOfRangeException(nameof(wont), wont, "Expected something a client may refuse."),
        };
    }

    /// <summary>
    /// Sound of an opening's fan at the speed it is set to, dB(A) at 1 m: L = L full + 50 lg(speed). Null when it does not
    /// run by night beside a bed, or nobody knows its sound.
    /// </summary>
    public static double? NightSoundDba(Design design, Opening opening)
    {
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(opening);
        // A fan over another room still sounds in a van with no wall between, so every roof fan counts as beside the bed.
        return design.Household.Sleepers > 0 && RunsAtNight(opening) && opening.Fan is { SoundDba: double full, Speed: double speed }
            ? full + (DecibelPerDecadeOfSpeed * Math.Log10(speed))
            : null;
    }

    private static bool RunsAtNight(Opening opening) => opening is { Fan.Speed: > 0, Facts.OpenAsleep: true } && opening.Position != Position.Shut;

    private static bool IsWindow(Opening opening) => opening.Kind is OpeningKind.SlidingWindow or OpeningKind.HingedWindow;

    private static IEnumerable<Opening> NotFitted(Design design) => design.Openings.Where(opening => opening.State != PartState.Fitted);

    private static IEnumerable<string> RoofHolesBeyondTheFirst(Design design)
    {
        // Fitted holes come first: what is there already is the first hole.
        Opening[] holes = [.. design.Openings.Where(opening => opening.Face == Face.Roof).OrderBy(opening => opening.State != PartState.Fitted)];
        return holes.Skip(1).Where(opening => opening.State != PartState.Fitted).Select(opening => opening.Name);
    }

    private static IEnumerable<string> VisibleOutside(Design design) =>
    [
        .. NotFitted(design).Where(opening => opening.Face == Face.Roof || IsWindow(opening)).Select(opening => opening.Name),
        .. design.Body.RoofParts.Where(part => part.State != PartState.Fitted).Select(part => part.Name),
        .. design.Glazings.Where(glazing => OutsideCover(glazing.Pane)).Select(glazing => "Cover: " + glazing.Name),
        .. design.Openings.Where(opening => OutsideCover(opening.Pane)).Select(opening => "Cover: " + opening.Name),
    ];

    private static bool OutsideCover(Pane? pane) => pane is { Cover: Cover.Outside or Cover.OutsideLoose };

    private static IEnumerable<string> Gas(Design design)
    {
        if (design.Equipment.GasBottles)
        {
            yield return "Gas bottles";
        }

        if (design.Household.CookingFuel == CookingFuel.Gas)
        {
            yield return "Gas cooker";
        }

        if (design.Heater.Kind is HeaterKind.RoomSealedGas or HeaterKind.UnfluedGas)
        {
            yield return "Gas heater";
        }
    }
}
