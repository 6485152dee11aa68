using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>
/// What every panel van comes with before anybody converts it: windows that wind down in the cab's doors, the fresh-air
/// intake before the windscreen, and flaps at the rear that let pressure out when a door is shut. Sizes are our judgement;
/// the real ones are measured. All are shut at first, so that they add nothing to the leakage of the shut body, which was
/// measured with them in it.
/// </summary>
public static class FactoryOpenings
{
    /// <summary>Id of the left cab window of a new van.</summary>
    public const string LeftCabWindowId = "cab-window-left";

    /// <summary>Id of the right cab window of a new van.</summary>
    public const string RightCabWindowId = "cab-window-right";

    /// <summary>Id of the fresh-air flap of a new van.</summary>
    public const string FreshAirFlapId = "fresh-air-flap";

    /// <summary>Id of the pressure-relief flaps of a new van.</summary>
    public const string ReliefFlapsId = "relief-flaps";

    /// <summary>The design with everything the van came with.</summary>
    public static Design With(Design design)
    {
        ArgumentNullException.ThrowIfNull(design);
        Opening[] came =
        [
            CabWindow(design, Face.Left) with { Id = LeftCabWindowId, Name = "Left cab window", State = PartState.Fitted },
            CabWindow(design, Face.Right) with { Id = RightCabWindowId, Name = "Right cab window", State = PartState.Fitted },
            FreshAirFlap(design),
            ReliefFlaps(design),
        ];
        return came.Aggregate(design, Openings.Add);
    }

    /// <summary>
    /// A window that winds down in a cab door. It has no pane of its own: the cab's glass counts it. Open, it lets rain in
    /// and tells a passer-by that somebody is there, so it stays shut while people sleep.
    /// </summary>
    /// <param name="design">The design it is for.</param>
    /// <param name="face">Left or right.</param>
    public static Opening CabWindow(Design design, Face face)
    {
        ArgumentNullException.ThrowIfNull(design);
        double cabM = design.Zones.Where(zone => zone.Kind == ZoneKind.Cab).Select(zone => zone.To.Meters).DefaultIfEmpty(1).Max();
        return new()
        {
            Id = LeftCabWindowId,
            Name = "Cab window",
            Kind = OpeningKind.CabWindow,
            Face = face,
            ZoneId = "",
            X = Length.FromMeters(Math.Round(cabM * 0.6, 3)),
            Y = face == Face.Right ? design.Body.InteriorWidth : Length.Zero,
            Z = design.Body.InteriorHeight * 0.6,
            Length = Length.FromMillimeters(Math.Min(600, Math.Floor(cabM * 1000))),
            Width = Length.FromMillimeters(350),
            FreeShare = 0.9,
            Position = Position.Shut,
            Facts = new OpeningFacts { SeenThrough = true },
        };
    }

    /// <summary>The intake before the windscreen, its lever on recirculation.</summary>
    public static Opening FreshAirFlap(Design design) => Flap(design, Face.Nose, 0.45) with
    {
        Id = FreshAirFlapId,
        Name = "Fresh-air flap",
        Kind = OpeningKind.FreshAirFlap,
        Facts = new OpeningFacts { UsableInRain = true, UsableInDrivingRain = true, OpenAsleep = true, OpenLocked = true },
    };

    /// <summary>
    /// The rubber flaps behind the rear trim. Only pressure opens them, so nobody can count on them by night, and what
    /// they leak while they hang shut is part of the body's leakage.
    /// </summary>
    public static Opening ReliefFlaps(Design design) => Flap(design, Face.Tail, 0.2) with
    {
        Id = ReliefFlapsId,
        Name = "Pressure-relief flaps",
        Kind = OpeningKind.PressureReliefFlap,
        Facts = new OpeningFacts { UsableInRain = true, UsableInDrivingRain = true },
    };

    /// <summary>True when a person sets how far an opening stands open: it can be shut, and it is no flap that only pressure opens.</summary>
    public static bool SetByPeople(Opening opening)
    {
        ArgumentNullException.ThrowIfNull(opening);
        return !opening.Facts.Fixed && opening.Kind != OpeningKind.PressureReliefFlap;
    }

    private static Opening Flap(Design design, Face face, double heightShare) => new()
    {
        Id = FreshAirFlapId,
        Name = "",
        Kind = OpeningKind.FreshAirFlap,
        Face = face,
        ZoneId = "",
        X = face == Face.Nose ? Length.Zero : design.Body.InteriorLength,
        Y = design.Body.InteriorWidth / 2,
        Z = design.Body.InteriorHeight * heightShare,
        Length = Length.FromMillimeters(200),
        Width = Length.FromMillimeters(100),
        FreeShare = 0.5,
        Position = Position.Shut,
        State = PartState.Fitted,
        Facts = new OpeningFacts(),
    };
}
