using System.Collections.Immutable;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Figures;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Plans;

/// <summary>
/// The holes that are still to be cut: size, centre from two datums, what lies behind. What is fitted has its hole already.
/// The check list and the treatment of the edges are common practice, no source.
/// </summary>
internal sealed class CutSheet(Design design, DisplayUnits units)
{
    /// <summary>Nearer than this a hidden part is named beside the hole, metres: a saw, a flange and a screw need the room. Our judgement.</summary>
    private const double NearM = 0.06;

    private readonly IReadOnlyDictionary<string, string> _marks = VanDrawing.Marks(design);

    /// <summary>The openings whose hole is still to be cut, in the order of their numbers.</summary>
    public ImmutableArray<Opening> Holes { get; } =
    [
        .. design.Openings.Where(opening => opening.State != PartState.Fitted
            && opening.Kind is OpeningKind.RoofVent or OpeningKind.SlidingWindow or OpeningKind.HingedWindow or OpeningKind.FloorVent),
    ];

    /// <summary>True when something is still to be cut, the heater's own holes among it.</summary>
    public bool Any => !Holes.IsEmpty || HeaterPasses;

    private bool HeaterPasses => design.Heater is { State: PartState.Proposed or PartState.Owned, Kind: not (HeaterKind.None or HeaterKind.Electric or HeaterKind.UnfluedGas) };

    /// <summary>The blocks of the section.</summary>
    public IEnumerable<PlanBlock> Blocks()
    {
        yield return new ParagraphBlock(
            "Cutting the body is for a body shop, or for somebody who has done it before. The vehicle maker’s guidelines for body builders say where nobody may cut, local codes and the licensed trades come before this sheet, and so does the template that comes with each part: "
            + "the sizes here are those of the free frame we calculated with. Measure every place inside and outside before the first hole.");
        yield return new TableBlock(Table());
        if (!Holes.IsEmpty)
        {
            var drawing = VanDrawing.Plan(design, null, units);
            yield return new FigureBlock(drawing with
            {
                Id = "van-positions",
                Title = "Where the parts go, from above",
                AltText = "The van from above with every opening and part under the number or letter it has in the parts list and in the cut sheet. "
                    + string.Join("; ", Holes.Select(hole => $"{_marks[$"openings[{hole.Id}]"]} {hole.Name}, {Datums(hole)}")) + ".",
                Table = drawing.Table with { Caption = "Numbers and letters of the drawing" },
            });
        }

        yield return new ParagraphBlock("Before each cut:");
        yield return new ListBlock([.. Checks()], Numbered: true);
        yield return new ParagraphBlock("Each bare edge, on the day it is cut:");
        yield return new ListBlock(
            [
                "File it smooth, take the swarf out with a vacuum cleaner and a magnet: each chip left behind is a spot of rust.",
                "Clean with the solvent the primer’s maker names, prime with a zinc or epoxy primer, let it dry, paint.",
                "A rib or a frame of timber around the hole carries the flange where the sheet would drum or bend.",
                "Set the flange in the sealant its maker names for painted metal, screw it down evenly, and leave a full bead all round; test it with a hose before the lining goes on.",
            ],
            Numbered: false);
        yield return new ParagraphBlock("Solvent, primer and sealant: doors and windows open, gloves, a mask with the filter their makers name, no flame and no spark.");
    }

    private DataTable Table() => new()
    {
        Caption = "Cut sheet: holes that are still to be cut",
        Heads = ["No.", "Hole", "Clear size", "Centre from two datums", "What lies behind"],
        Wordy = true,

        // A number of one digit needs no column of words.
        NumberColumns = [0],
        Rows =
        [
            .. Holes.Select(hole => ImmutableArray.Create(
                _marks[$"openings[{hole.Id}]"],
                $"{hole.Name}, {FaceWords(hole.Face)}{(hole.State == PartState.Later ? "; later" : "")}",
                Size(hole),
                Datums(hole),
                string.Join("; ", Behind(hole)))),
            .. HeaterPasses
                ? new[]
                {
                    ImmutableArray.Create(
                        _marks.GetValueOrDefault("heater", DataTable.Nothing),
                        "Exhaust and combustion air of the heater",
                        "by its maker’s template",
                        design.Equipment.HeaterExhaust is { } exhaust ? "exhaust ends at the " + Point(exhaust) : "by its maker’s instructions",
                        "a fitter the heater’s maker approves decides; exhaust away from openings, tank, lines and tyres"),
                }
                : [],
        ],
    };

    private string Size(Opening hole) => $"{units.Number(Measure.SmallLength, hole.Length)}\u00A0×\u00A0{units.Format(Measure.SmallLength, hole.Width)}"
        + (hole.Face is Face.Roof or Face.Floor ? ", along × across" : hole.Face is Face.Nose or Face.Tail ? ", across × high" : ", along × high");

    /// <summary>The hole's centre: along the van from both ends, and from the centre line or the finished floor.</summary>
    internal string Datums(Opening hole)
    {
        var fromFront = $"{Long(hole.X)} behind the windscreen’s foot ({Long(design.Body.InteriorLength - hole.X)} before the rear doors)";
        return hole.Face switch
        {
            Face.Roof or Face.Floor => $"{fromFront}; {Across(hole.Y)}",
            Face.Left or Face.Right => $"{fromFront}; {Long(hole.Z)} above the finished floor",
            _ => $"{Across(hole.Y)}; {Long(hole.Z)} above the finished floor",
        };
    }

    private string Point(BodyPoint point) => $"{FaceWords(point.Face)}, " + (point.Face switch
    {
        Face.Roof or Face.Floor => $"{Long(point.X)} behind the windscreen’s foot, {Across(point.Y)}",
        Face.Left or Face.Right => $"{Long(point.X)} behind the windscreen’s foot",
        _ => Across(point.Y),
    });

    private string Across(Length fromLeft)
    {
        var off = fromLeft - (design.Body.InteriorWidth / 2);
        return Math.Abs(off.Millimeters) < 2 ? "on the centre line" : $"{Long(off.Abs())} {(off.Meters < 0 ? "left" : "right")} of the centre line";
    }

    // Cut to the millimetre: a length of the room is told to the centimetre.
    private string Long(Length length) => units.Format(Measure.SmallLength, length);

    /// <summary>What is known behind a hole and near it; and where to look when nothing is.</summary>
    internal IEnumerable<string> Behind(Opening hole)
    {
        var known = false;
        foreach (var part in design.Body.HiddenParts.Where(part => part.Face == hole.Face))
        {
            var gap = Gap(hole, part);
            if (gap > NearM)
            {
                continue;
            }

            known = true;
            yield return gap <= 0
                ? $"{part.Name} ({Kind(part.Kind)}) is cut: move the hole"
                : $"{part.Name} ({Kind(part.Kind)}) {Long(Length.FromMeters(gap))} away";
        }

        yield return (known ? "look besides for " : "nothing is recorded; look for ") + (hole.Face switch
        {
            Face.Roof => "roof bows, wiring along the edges, curtain airbags over the cab and the doors",
            Face.Floor => "fuel tank and its lines, brake lines, wiring, frame rails, exhaust",
            Face.Left or Face.Right => "ribs, wiring, the track of a sliding door, the fuel filler, belts and their anchors, side airbags",
            _ => "ribs, locks and their rods, wiring and washer hose of the doors",
        });
    }

    private static double Gap(Opening hole, HiddenPart part)
    {
        var (holeAlong, holeUp) = Centre(hole.Face, hole.X, hole.Y, hole.Z);
        var (partAlong, partUp) = Centre(part.Face, part.X, part.Y, part.Z);
        var along = Math.Abs(holeAlong - partAlong) - ((hole.Length.Meters + part.Length.Meters) / 2);
        var up = Math.Abs(holeUp - partUp) - ((hole.Width.Meters + part.Width.Meters) / 2);
        return along <= 0 && up <= 0 ? Math.Max(along, up) : Math.Sqrt(Math.Pow(Math.Max(0, along), 2) + Math.Pow(Math.Max(0, up), 2));

        static (double Along, double Up) Centre(Face face, Length x, Length y, Length z) => (
            face is Face.Nose or Face.Tail ? y.Meters : x.Meters,
            face is Face.Roof or Face.Floor ? y.Meters : z.Meters);
    }

    private static string Kind(HiddenPartKind kind) => kind switch
    {
        HiddenPartKind.Rib => "rib or roof bow",
        HiddenPartKind.Airbag => "airbag",
        HiddenPartKind.Wiring => "wiring",
        HiddenPartKind.Tank => "tank or its lines",
        HiddenPartKind.DoorTrack => "door track",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Expected a kind of hidden part."),
    };

    private IEnumerable<string> Checks()
    {
        yield return "The vehicle maker’s guidelines for this very body allow a hole here; nothing load-bearing, no airbag and no belt anchor is near.";
        yield return "The panel was seen from behind, lining off and with a light: ribs, wiring, lines, tank and door track are found and marked on both sides.";
        yield return "The battery is disconnected, and airbags are left alone: they are a licensed workshop’s work.";
        yield return "The part and its template are at hand, its flange lies flat, and its lid and the doors open without meeting anything inside or outside.";
        yield return "A small hole from the inside, through the marked centre, comes out where the outside mark is.";
        yield return "The area is masked, the edge for the saw is taped, swarf is caught inside, eyes, ears and hands are protected.";
        if (Holes.Any(hole => hole.Face == Face.Roof))
        {
            yield return "On the roof: a board to spread your weight, somebody at the foot of the ladder, dry weather for two days.";
        }
    }

    private static string FaceWords(Face face) => face switch
    {
        Face.Roof => "roof",
        Face.Floor => "floor",
        Face.Left => "left wall",
        Face.Right => "right wall",
        Face.Nose => "nose",
        Face.Tail => "rear doors",
        _ => throw new ArgumentOutOfRangeException(nameof(face), face, "Expected a face of the body."),
    };
}
