using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Envelope;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>What a design is before anything that comes later is bought: this is what is assessed.</summary>
public static class LaterParts
{
    // Begins the ids of the places kept for later openings; no part of a design is called so.
    private const string KeptPlace = "\u0001later:";

    /// <summary>
    /// The design without the parts that come later; the same design when there are none. A later cab divider leaves
    /// the gap open, and a later bed base counts as a closed board, the least air there is.
    /// </summary>
    public static Design Without(Design design)
    {
        ArgumentNullException.ThrowIfNull(design);
        if (!Any(design))
        {
            return design;
        }

        Equipment equipment = design.Equipment;
        design = design with
        {
            Openings = [.. design.Openings.Where(opening => opening.State != PartState.Later).Select(Now)],
            Glazings = [.. design.Glazings.Select(glazing => IsLater(glazing.Pane) ? glazing with { Pane = Bare(glazing.Pane) } : glazing)],
            CirculationFans = [.. design.CirculationFans.Where(fan => fan.State != PartState.Later)],
            Dryers = [.. design.Dryers.Where(dryer => dryer.State != PartState.Later)],
            Heater = IsLater(design.Heater)
                ? design.Heater with { Kind = HeaterKind.None, State = PartState.Proposed, PriceKey = null }
                : design.Heater,
            Walls = Now(design.Walls),
            Roof = Now(design.Roof),
            Floor = Now(design.Floor),
            Equipment = equipment with
            {
                CarbonMonoxideAlarm = Now(equipment.CarbonMonoxideAlarm),
                SmokeAlarm = Now(equipment.SmokeAlarm),
                LowGasAlarm = Now(equipment.LowGasAlarm),
                Extinguisher = Now(equipment.Extinguisher),
            },
        };
        design = IsLaterDivider(design) ? CabDividers.With(design, CabDivider.Open) with { CabDividerState = PartState.Proposed } : design;
        return IsLaterBedBase(design) ? Beds.With(design, BedBase.Solid) with { BedBaseState = PartState.Proposed } : design;
    }

    /// <summary>
    /// The design after a change that sees only what is there now: what comes later is taken out before and put back after,
    /// unless the change put something in its place. The places of later openings stay taken for the change.
    /// </summary>
    public static Design Around(Design design, Func<Design, Design> change)
    {
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(change);
        if (!Any(design))
        {
            return change(design);
        }

        Design now = Without(design);
        now = now with
        {
            Body = now.Body with
            {
                HiddenParts = [.. now.Body.HiddenParts, .. design.Openings.Where(opening => opening.State == PartState.Later).Select(Kept)],
            },
        };
        Design changed = change(now);
        return ReferenceEquals(changed, now) ? design : WithLater(design, now, changed);
    }

    private static HiddenPart Kept(Opening opening) => new()
    {
        Id = KeptPlace + opening.Id,
        Kind = HiddenPartKind.Rib,
        Name = opening.Name,
        Face = opening.Face,
        X = opening.X,
        Y = opening.Y,
        Z = opening.Z,
        Length = opening.Length,
        Width = opening.Width,
    };

    private static Design WithLater(Design design, Design now, Design changed)
    {
        Equipment equipment = changed.Equipment;
        Equipment before = design.Equipment;
        return changed with
        {
            Body = changed.Body with
            {
                HiddenParts = [.. changed.Body.HiddenParts.Where(part => !part.Id.StartsWith(KeptPlace, StringComparison.Ordinal))],
            },
            Openings =
            [
                .. WithLater(design.Openings, changed.Openings, opening => opening.Id, opening => opening.State, (opening, id) => opening with { Id = id })
                    .Select(opening => opening.Pane is { Cover: Cover.None } bare && design.Openings.FirstOrDefault(other => other.Id == opening.Id)?.Pane is Pane pane && IsLater(pane)
                        ? opening with { Pane = bare with { Cover = pane.Cover, CoverState = PartState.Later } }
                        : opening),
            ],
            Glazings =
            [
                .. changed.Glazings.Select(glazing => glazing.Pane.Cover == Cover.None && design.Glazings.FirstOrDefault(other => other.Id == glazing.Id)?.Pane is Pane pane && IsLater(pane)
                    ? glazing with { Pane = glazing.Pane with { Cover = pane.Cover, CoverState = PartState.Later } }
                    : glazing),
            ],
            CirculationFans = WithLater(design.CirculationFans, changed.CirculationFans, fan => fan.Id, fan => fan.State, (fan, id) => fan with { Id = id }),
            Dryers = WithLater(design.Dryers, changed.Dryers, dryer => dryer.Id, dryer => dryer.State, (dryer, id) => dryer with { Id = id }),
            Heater = IsLater(design.Heater) && changed.Heater.Kind == HeaterKind.None
                ? changed.Heater with { Kind = design.Heater.Kind, State = PartState.Later, PriceKey = design.Heater.PriceKey }
                : changed.Heater,
            Walls = WithLater(design.Walls, changed.Walls),
            Roof = WithLater(design.Roof, changed.Roof),
            Floor = WithLater(design.Floor, changed.Floor),
            Equipment = equipment with
            {
                CarbonMonoxideAlarm = equipment.CarbonMonoxideAlarm ?? before.CarbonMonoxideAlarm,
                SmokeAlarm = equipment.SmokeAlarm ?? before.SmokeAlarm,
                LowGasAlarm = equipment.LowGasAlarm ?? before.LowGasAlarm,
                Extinguisher = equipment.Extinguisher ?? before.Extinguisher,
            },
            CabDivider = changed.CabDivider == now.CabDivider ? design.CabDivider : changed.CabDivider,
            CabDividerState = changed.CabDivider == now.CabDivider ? design.CabDividerState : changed.CabDividerState,
            BedBase = changed.BedBase == now.BedBase ? design.BedBase : changed.BedBase,
            BedBaseState = changed.BedBase == now.BedBase ? design.BedBaseState : changed.BedBaseState,
            // The same object: the change left it alone, so it gets back what the later divider or bed base gives it.
            Passages =
            [
                .. changed.Passages.Select(passage => now.Passages.Any(other => ReferenceEquals(other, passage))
                    ? design.Passages.FirstOrDefault(other => other.Id == passage.Id) ?? passage
                    : passage),
            ],
        };
    }

    // In the order of the design, what is new at the end; a new part that took the id of a later one gets another.
    private static ImmutableArray<T> WithLater<T>(
        ImmutableArray<T> design, ImmutableArray<T> changed, Func<T, string> id, Func<T, PartState> state, Func<T, string, T> named)
    {
        ImmutableArray<T> later = [.. design.Where(part => state(part) == PartState.Later)];
        HashSet<string> taken = [.. later.Select(id), .. changed.Select(id)];
        return
        [
            .. design.SelectMany(part => state(part) == PartState.Later ? [part] : changed.Where(other => id(other) == id(part))),
            .. changed.Where(part => !design.Any(other => id(other) == id(part) && state(other) != PartState.Later))
                .Select(part => later.Any(other => id(other) == id(part)) ? named(part, Free(id(part))) : part),
        ];

        string Free(string stem)
        {
            string free = Enumerable.Range(2, taken.Count + 1)
                .Select(number => string.Create(CultureInfo.InvariantCulture, $"{stem}-{number}")).First(candidate => !taken.Contains(candidate));
            taken.Add(free);
            return free;
        }
    }

    // Each later layer goes back behind the layer it lay behind, so that the others keep their order.
    private static LayeredAssembly WithLater(LayeredAssembly design, LayeredAssembly changed)
    {
        List<Layer> layers = [.. changed.Layers];
        string? previous = null;
        foreach (Layer layer in design.Layers)
        {
            if (layer.State == PartState.Later)
            {
                string id = layer.Id;
                for (int number = 2; layers.Any(other => other.Id == id); number++)
                {
                    id = string.Create(CultureInfo.InvariantCulture, $"{layer.Id}-{number}");
                }

                layers.Insert(previous is null ? 0 : layers.FindIndex(other => other.Id == previous) + 1, layer with { Id = id });
                previous = id;
            }
            else if (layers.Any(other => other.Id == layer.Id))
            {
                previous = layer.Id;
            }
        }

        return layers.Count == changed.Layers.Length ? changed : changed with { Layers = [.. layers] };
    }

    private static bool Any(Design design) =>
        design.Openings.Any(opening => opening.State == PartState.Later || IsLater(opening.Pane))
        || design.Glazings.Any(glazing => IsLater(glazing.Pane))
        || design.CirculationFans.Any(fan => fan.State == PartState.Later)
        || design.Dryers.Any(dryer => dryer.State == PartState.Later)
        || IsLater(design.Heater)
        || IsLater(design.Walls) || IsLater(design.Roof) || IsLater(design.Floor)
        || design.Equipment is { CarbonMonoxideAlarm: PartState.Later } or { SmokeAlarm: PartState.Later }
            or { LowGasAlarm: PartState.Later } or { Extinguisher: PartState.Later }
        || IsLaterDivider(design) || IsLaterBedBase(design);

    private static bool IsLater(Pane? pane) => pane is { CoverState: PartState.Later, Cover: not Cover.None };

    private static bool IsLater(Heater heater) => heater is { State: PartState.Later, Kind: not HeaterKind.None };

    private static bool IsLater(LayeredAssembly assembly) => assembly.Layers.Any(layer => layer.State == PartState.Later);

    private static bool IsLaterDivider(Design design) => design is { CabDividerState: PartState.Later, CabDivider: not CabDivider.Open };

    private static bool IsLaterBedBase(Design design) => design is { BedBaseState: PartState.Later, BedBase: not BedBase.Solid };

    private static Opening Now(Opening opening) => IsLater(opening.Pane) ? opening with { Pane = Bare(opening.Pane!) } : opening;

    private static Pane Bare(Pane pane) => pane with { Cover = Cover.None, CoverState = PartState.Proposed };

    private static PartState? Now(PartState? state) => state == PartState.Later ? null : state;

    /// <summary>The assembly without the layers that come later; the same when there are none.</summary>
    internal static LayeredAssembly Now(LayeredAssembly assembly) => !IsLater(assembly)
        ? assembly
        : assembly with { Layers = [.. assembly.Layers.Where(layer => layer.State != PartState.Later)] };
}
