using System.Globalization;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Findings;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Web.Workspace;

/// <summary>What the choices of a design are called on the screen.</summary>
public static class Words
{
    private static readonly string[] Months =
        ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];

    /// <summary>What is wrong, in the reader's units.</summary>
    public static string Of(DesignError error, DisplayUnits? units) => units is null || error.Template is null
        ? error.Message
        : string.Format(CultureInfo.InvariantCulture, error.Template, [.. error.Quantities.Select(quantity => (object)(quantity is Length
            ? units.Format(Measure.SmallLength, quantity)
            : units.Format(quantity)))]);

    /// <summary>Words as the beginning of a line: the first letter large.</summary>
    public static string Capital(string words)
    {
        ArgumentNullException.ThrowIfNull(words);
        return words.Length == 0 ? words : char.ToUpperInvariant(words[0]) + words[1..];
    }

    /// <summary>What zones are shaded by, in a word for a button.</summary>
    public static string Of(ZoneQuantity quantity) => quantity switch
    {
        ZoneQuantity.AirAge => "Air age",
        ZoneQuantity.Humidity => "Humidity",
        ZoneQuantity.Temperature => "Temperature",
        ZoneQuantity.CarbonDioxide => "CO₂",
        _ => throw Unknown(quantity),
    };

    /// <summary>Name of a month, 1 to 12.</summary>
    public static string Month(int month) => Months[month - 1];

    public static string Of(Shelter shelter) => shelter switch
    {
        Shelter.Sheltered => "Among buildings or trees",
        Shelter.Ordinary => "Ordinary camp site",
        Shelter.Exposed => "Open coast, pass or plain",
        _ => throw Unknown(shelter),
    };

    public static string Of(Position position) => position switch
    {
        Position.Shut => "Shut",
        Position.Ajar => "Ajar",
        Position.Half => "Half",
        Position.Full => "Full",
        _ => throw Unknown(position),
    };

    public static string Of(FanDirection direction) => direction switch
    {
        FanDirection.Exhaust => "Out (exhaust)",
        FanDirection.Intake => "In (intake)",
        _ => throw Unknown(direction),
    };

    public static string Of(RoofPlace place) => place switch
    {
        RoofPlace.Front => "Front",
        RoofPlace.Middle => "Middle",
        RoofPlace.Rear => "Rear",
        _ => throw Unknown(place),
    };

    public static string Of(OpeningKind kind) => kind switch
    {
        OpeningKind.RoofVent => "Roof vent",
        OpeningKind.SlidingWindow => "Sliding window",
        OpeningKind.HingedWindow => "Hinged window",
        OpeningKind.CabWindow => "Cab window",
        OpeningKind.FloorVent => "Floor vent",
        OpeningKind.CabWindowVent => "Grille in a cab window",
        OpeningKind.FreshAirFlap => "The van's fresh-air flap",
        OpeningKind.PressureReliefFlap => "The van's pressure-relief flap",
        _ => throw Unknown(kind),
    };

    public static string Of(Face face) => face switch
    {
        Face.Roof => "Roof",
        Face.Floor => "Floor",
        Face.Left => "Left wall",
        Face.Right => "Right wall",
        Face.Nose => "Nose",
        Face.Tail => "Rear doors",
        _ => throw Unknown(face),
    };

    public static string Of(GlassKind glass) => glass switch
    {
        GlassKind.SinglePane => "Single glass",
        GlassKind.DoublePane => "Double glass",
        GlassKind.AcrylicDouble => "Double acrylic",
        _ => throw Unknown(glass),
    };

    public static string Of(Cover cover) => cover switch
    {
        Cover.None => "No cover",
        Cover.InsideLoose => "Inside, loose edges",
        Cover.InsideTight => "Inside, sealed edges",
        Cover.Outside => "Outside, fastened edges",
        Cover.OutsideLoose => "Outside, loose edges",
        _ => throw Unknown(cover),
    };

    public static string Of(HeaterKind kind) => kind switch
    {
        HeaterKind.None => "No heater",
        HeaterKind.RoomSealedLiquidFuel => "Room-sealed, diesel or petrol",
        HeaterKind.RoomSealedGas => "Room-sealed, gas",
        HeaterKind.UnfluedGas => "Unflued gas",
        HeaterKind.Electric => "Electric",
        HeaterKind.Hydronic => "Hydronic, diesel boiler",
        HeaterKind.WoodStove => "Wood stove",
        _ => throw Unknown(kind),
    };

    public static string Of(AirLayerVentilation ventilation) => ventilation switch
    {
        AirLayerVentilation.Unventilated => "Still air",
        AirLayerVentilation.SlightlyVentilated => "Slightly ventilated",
        AirLayerVentilation.WellVentilated => "Well ventilated",
        _ => throw Unknown(ventilation),
    };

    public static string Of(Severity severity) => severity switch
    {
        Severity.Danger => "Danger",
        Severity.Warning => "Warning",
        Severity.Advice => "Advice",
        Severity.Note => "Note",
        _ => throw Unknown(severity),
    };

    public static string Of(Presence presence) => presence switch
    {
        Presence.Nights => "To sleep only, 22:00 to 07:00",
        Presence.EveningsAndNights => "Evenings and nights, 17:00 to 08:30",
        Presence.AllDay => "All day but an hour at noon",
        _ => throw Unknown(presence),
    };

    public static string Of(BedBase bedBase) => bedBase switch
    {
        BedBase.Solid => "Closed board",
        BedBase.Slatted => "Slats with gaps",
        BedBase.VentilatedUnderlay => "Spacer mat that keeps air under it",
        _ => throw Unknown(bedBase),
    };

    public static string Of(LiningGaps gaps) => gaps switch
    {
        LiningGaps.Sealed => "Sealed edges and screw holes",
        LiningGaps.ClipsAndSeams => "Clips and seams as usually fitted",
        LiningGaps.PlannedAirGap => "Planned air gap, open top and bottom",
        _ => throw Unknown(gaps),
    };

    public static string Of(SteelCondition steel) => steel switch
    {
        SteelCondition.Unknown => "Nobody has looked",
        SteelCondition.Bare => "Bare or primed, no rust",
        SteelCondition.LightRust => "Light rust",
        SteelCondition.RustTreated => "Rust removed and treated",
        SteelCondition.Coated => "Coated over sound steel",
        SteelCondition.CoatedOverRust => "Coated over untreated rust",
        _ => throw Unknown(steel),
    };

    public static string Of(BatteryKind battery) => battery switch
    {
        BatteryKind.None => "No house battery",
        BatteryKind.Lead => "Lead: flooded, gel or glass mat",
        BatteryKind.Lithium => "Lithium iron phosphate, unheated",
        BatteryKind.HeatedLithium => "Lithium iron phosphate, self-heating",
        _ => throw Unknown(battery),
    };

    public static string Of(HiddenPartKind part) => part switch
    {
        HiddenPartKind.Rib => "Rib",
        HiddenPartKind.Airbag => "Airbag",
        HiddenPartKind.Wiring => "Wiring",
        HiddenPartKind.Tank => "Tank",
        HiddenPartKind.DoorTrack => "Door track",
        _ => throw Unknown(part),
    };

    public static string Of(PartState state) => state switch
    {
        PartState.Fitted => "Fitted",
        PartState.Owned => "Owned",
        PartState.Proposed => "Proposed",
        PartState.Later => "Later",
        _ => throw Unknown(state),
    };

    public static string Of(Origin origin) => origin switch
    {
        Origin.Assumed => "Assumed",
        Origin.Told => "Told",
        Origin.Measured => "Measured",
        _ => throw Unknown(origin),
    };

    public static string Of(BuildStage stage) => stage switch
    {
        BuildStage.Unknown => "Nobody has said",
        BuildStage.EmptyShell => "Empty shell",
        BuildStage.PartlyBuilt => "Partly built, walls or roof still open",
        BuildStage.LivedIn => "Lived in",
        _ => throw Unknown(stage),
    };

    public static string Of(CabDivider divider) => divider switch
    {
        CabDivider.Open => "Nothing",
        CabDivider.Curtain => "Curtain that hangs loose",
        CabDivider.InsulatedCurtain => "Insulated curtain, fastened edges",
        CabDivider.Bulkhead => "Bulkhead with its door shut",
        _ => throw Unknown(divider),
    };

    public static string Of(CupboardAir air) => air switch
    {
        CupboardAir.Closed => "Closed",
        CupboardAir.OpenTopAndBottom => "Open at top and bottom",
        _ => throw Unknown(air),
    };

    public static string Of(DryerKind kind) => kind switch
    {
        DryerKind.Compressor => "Compressor dehumidifier",
        DryerKind.Desiccant => "Desiccant dehumidifier",
        DryerKind.AbsorberTub => "Absorber tub",
        _ => throw Unknown(kind),
    };

    public static string Of(RoofPartKind kind) => kind switch
    {
        RoofPartKind.SolarPanel => "Solar panel",
        RoofPartKind.Rack => "Roof rack",
        RoofPartKind.RoofBar => "Cross bar",
        RoofPartKind.Awning => "Awning",
        RoofPartKind.Other => "Other",
        _ => throw Unknown(kind),
    };

    /// <summary>That a depth has no result, as the head of the message why.</summary>
    public static string NotCalculated(AssessmentDepth depth) => depth switch
    {
        AssessmentDepth.Night => "This could not be calculated.",
        AssessmentDepth.Year => "The year could not be calculated.",
        AssessmentDepth.Bands => "How far the numbers can be off could not be calculated.",
        _ => throw Unknown(depth),
    };

    private static ArgumentOutOfRangeException Unknown<T>(T value) => new(nameof(value), value, "There is no word for it.");
}
