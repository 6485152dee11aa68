using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Fonts;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Figures;

/// <summary>The van seen from the left: x to the right, height upwards; what lies on the right wall has thin lines.</summary>
internal sealed class VanSideSheet(Design design, Assessment? assessment, DisplayUnits units, ZoneQuantity? shade)
    : VanSheet(design, assessment, units, shade, RightMargin, scale => Top + ((design.Body.FloorAboveGround + design.Body.InteriorHeight).Meters * scale) + Below)
{
    private const double RightMargin = 96;
    private const double Top = 66;
    private const double Below = 44;
    private const double WheelM = 0.34;
    private const double RoofM = 0.07;

    private double FloorM => Design.Body.FloorAboveGround.Meters;

    private double GroundY => Top + ((FloorM + HeightM) * Scale);

    /// <summary>Height of the windscreen's foot above the floor; for the drawing only.</summary>
    private double WaistM => Math.Min(1.25 - FloorM, 0.5 * HeightM);

    public Figure Draw()
    {
        DrawBody();
        Zones();
        Inside();
        var wetMarks = Glass();
        foreach (var opening in Design.Openings)
        {
            DrawOpening(opening);
        }

        Dimensions();
        ZoneNames();
        Passages();
        Foot(Canvas.Height - 8);
        foreach (var (index, opening) in Design.Openings.Index().Where(numbered => Called(numbered.Item)))
        {
            Callout(index, At(opening), opening.Face is Face.Roof or Face.Floor ? 14 : opening.Width.Meters * Scale * 0.55);
        }

        foreach (var (surface, at) in wetMarks)
        {
            WetMark(surface, at, 6);
        }

        foreach (var part in Others)
        {
            if (part.Zone is { } zone)
            {
                var area = ZoneArea(zone);
                LetterMark(part, new(area.CentreX, area.Bottom - (area.Height * 0.3)), area);
            }
            else
            {
                LetterMark(part, part.Point is { } point ? On(point) : P(LengthM * 0.5, -0.2), null);
            }
        }

        FurnitureNames(SideArea);
        DoorName("Rear doors", P(LengthM + ShellM, HeightM / 2));
        if (Design.Zones.FirstOrDefault(zone => zone.Kind == ZoneKind.Cab) is { } cab)
        {
            var door = Around(P(0.34, WaistM), P(cab.To.Meters - 0.14, 0.36 - FloorM));
            DoorName("Cab door", new(door.CentreX, door.CentreY), door);
        }

        return new Figure
        {
            Id = "van-side",
            Title = "The van from the left",
            AltText = Alt(),
            Width = Canvas.Width,
            Height = Canvas.Height,
            Scale = new DrawingScale(Scale, X(0), Y(0)),
            Elements = Canvas.Elements,
            Legend =
            [
                .. Legend(mixing: Design.Passages.Any(passage => passage.Mixing.CubicMetersPerHour >= 0.5)),
                .. Design.Openings.Any(opening => opening.Face == Face.Right)
                    ? new[] { OnTheRight }
                    : [],
            ],
            Table = Table(),
        };
    }

    /// <summary>The van without words, and the places of what changes through a night.</summary>
    public NightScene Scene()
    {
        DrawBody();
        Inside();
        Glass();
        foreach (var opening in Design.Openings)
        {
            DrawOpening(opening);
        }

        FurnitureNames(SideArea);
        var cooker = Design.Body.Furniture.FirstOrDefault(piece => piece.Kind == FurnitureKind.Cooker);
        return new NightScene
        {
            Base = new Figure
            {
                Id = "night-scene",
                Title = "The van from the left",
                AltText = "The van from the left, nose to the left.",
                Width = Canvas.Width,
                Height = Canvas.Height - Below + 8,
                Elements = Canvas.Elements,
                Legend = [],
                Table = new DataTable { Caption = "The van from the left", Heads = ["Part"], Rows = [] },
            },
            Body = Outline().Points,
            BeforeScreen = BeforeScreen,
            Zones =
            [
                .. Design.Zones.Where(zone => zone.Kind != ZoneKind.Cupboard).Select(zone => (zone, ZoneArea(zone)))
                    .Select(pair => new SceneZone(pair.zone.Id, pair.zone.Name, pair.Item2.X, pair.Item2.Y, pair.Item2.Width, pair.Item2.Height)),
            ],
            Openings = [.. Design.Openings.Select(opening => new SceneOpening(opening.Id, opening.Name, At(opening), Outward(opening)))],
            Passages = [.. Design.Passages.Select(PassageAt)],
            Glass = [.. Design.Glazings.Select(Pane).Concat(Design.Openings.Where(opening => opening.Pane is not null && opening.Face == Face.Left).Select(PaneOf)).OfType<SceneGlass>()],
            Cooker = cooker is null ? null : P(cooker.X.Meters + (cooker.Length.Meters / 2), (cooker.Z + cooker.Height).Meters),
        };
    }

    private ScenePassage PassageAt(Passage passage)
    {
        var (a, b) = (ZoneOf(passage.ZoneA), ZoneOf(passage.ZoneB));
        var (left, right) = (Math.Max(a.From.Meters, b.From.Meters), Math.Min(a.To.Meters, b.To.Meters));
        if (right - left > 0.05)
        {
            return new(passage.Id, P(left + ((right - left) * 0.72), Math.Max(a.Bottom.Meters, b.Bottom.Meters)), new(0, a.Bottom.Meters < b.Bottom.Meters ? -1 : 1));
        }

        var rearwards = a.From.Meters < b.From.Meters;
        return new(
            passage.Id,
            P(rearwards ? (a.To.Meters + b.From.Meters) / 2 : (b.To.Meters + a.From.Meters) / 2, passage.Bottom.Meters + (0.35 * (passage.Top - passage.Bottom).Meters)),
            new(rearwards ? 1 : -1, 0));
    }

    // The windscreen as a thick line, a pane in the left wall as it lies there, the rear glass from its edge.
    private SceneGlass? Pane(Glazing glazing)
    {
        switch (glazing.Face)
        {
            case Face.Nose:
                var (foot, top) = (P(0.03, WaistM + 0.04), P(ScreenTopX * 0.93, WaistM + ((ScreenTop - WaistM) * 0.93)));
                return new(glazing.Id, [new(foot.X + 2, foot.Y), new(top.X + 2, top.Y), new(top.X + 9, top.Y), new(foot.X + 9, foot.Y)]);
            case Face.Left:
                return new(glazing.Id, Corners(SidePaneArea(glazing)));
            case Face.Tail:
                var (low, high) = (P(LengthM, WaistM), P(LengthM, Math.Min(HeightM - 0.1, WaistM + 0.5)));
                return new(glazing.Id, [new(low.X - 5, low.Y), new(high.X - 5, high.Y), new(high.X, high.Y), new(low.X, low.Y)]);
            default:
                return null;
        }
    }

    private SceneGlass PaneOf(Opening opening)
    {
        var (at, length, height) = (At(opening), opening.Length.Meters * Scale, opening.Width.Meters * Scale);
        return new(opening.Id, Corners(new Area2(at.X - (length / 2), at.Y - (height / 2), length, height)));
    }

    private static ImmutableArray<FigurePoint> Corners(Area2 area) => [new(area.X, area.Y), new(area.Right, area.Y), new(area.Right, area.Bottom), new(area.X, area.Bottom)];

    /// <summary>Vertical place of a height above the floor.</summary>
    private double Y(double metresAboveFloor) => GroundY - ((FloorM + metresAboveFloor) * Scale);

    private FigurePoint P(double x, double z) => new(X(x), Y(z));

    private FigurePoint At(Opening opening) => opening.Face switch
    {
        Face.Roof => P(opening.X.Meters, HeightM + RoofM),
        Face.Floor => P(opening.X.Meters, 0),
        Face.Left or Face.Right => P(opening.X.Meters, opening.Z.Meters),
        Face.Nose => P(0, opening.Z.Meters),
        Face.Tail => P(LengthM, opening.Z.Meters),
        _ => throw new ArgumentOutOfRangeException(nameof(opening), opening.Face, "Expected a face of the body."),
    };

    private FigurePoint On(BodyPoint point) => point.Face switch
    {
        Face.Roof => P(point.X.Meters, HeightM + RoofM),
        Face.Floor => P(point.X.Meters, 0),
        Face.Left or Face.Right => P(point.X.Meters, point.Z.Meters),
        Face.Nose => P(0, point.Z.Meters),
        Face.Tail => P(LengthM, point.Z.Meters),
        _ => throw new ArgumentOutOfRangeException(nameof(point), point.Face, "Expected a face of the body."),
    };

    // The side walls have no outward direction in this view: their arrow leans down towards the reader.
    private static FigurePoint Outward(Opening opening) => opening.Face switch
    {
        Face.Roof => new(0, -1),
        Face.Floor => new(0, 1),
        Face.Left or Face.Right => new(-Math.Sqrt(0.5), Math.Sqrt(0.5)),
        Face.Nose => new(-1, 0),
        Face.Tail => new(1, 0),
        _ => throw new ArgumentOutOfRangeException(nameof(opening), opening.Face, "Expected a face of the body."),
    };

    private void Zones()
    {
        // A cupboard stands before or behind a zone: it is shaded where it is seen from above.
        foreach (var zone in Design.Zones.Where(zone => zone.Kind != ZoneKind.Cupboard))
        {
            ShadeZone(zone, ZoneArea(zone));
        }

        if (IsShaded && Design.Zones.Any(zone => zone.Kind == ZoneKind.Cab))
        {
            // The windscreen slopes through the box of the cab: what lies before it is no air of the van.
            Canvas.Add(new Polyline(BeforeScreen, Closed: true) { Fill = Ink.Paper });
            Canvas.Add(Outline());
        }
    }

    private Area2 ZoneArea(Zone zone) => new(
        X(zone.From.Meters),
        Y(zone.Top.Meters),
        (zone.To - zone.From).Meters * Scale,
        (zone.Top - zone.Bottom).Meters * Scale);

    private double ScreenTop => Math.Min(HeightM + RoofM - 0.08, WaistM + 0.80);

    private double ScreenTopX => 0.62 * (ScreenTop - WaistM);

    private double ForeheadX => ScreenTopX + (0.45 * (HeightM + RoofM - ScreenTop)) + 0.12;

    private ImmutableArray<FigurePoint> BeforeScreen =>
        [P(-0.02, WaistM), P(ScreenTopX, ScreenTop), P(ForeheadX, HeightM + RoofM), P(-0.02, HeightM + RoofM)];

    private Polyline Outline()
    {
        var roof = HeightM + RoofM;
        var sill = 0.30 - FloorM;
        return new Polyline(
            Rounded(
                (P(LengthM + ShellM, sill), 0.05 * Scale),
                (P(LengthM + ShellM, roof), 0.14 * Scale),
                (P(ForeheadX, roof), 0.25 * Scale),
                (P(ScreenTopX, ScreenTop), 0.15 * Scale),
                (P(0, WaistM), 0.10 * Scale),
                (P(-0.60, WaistM - 0.17), 0.20 * Scale),
                (P(-NoseM, WaistM - 0.42), 0.15 * Scale),
                (P(-NoseM, sill + 0.06), 0.08 * Scale),
                (P(-0.74, sill), 0.05 * Scale)),
            Closed: true)
        {
            Stroke = Ink.Body,
            StrokeWidth = 1.6,
        };
    }

    private void DrawBody()
    {
        var roof = HeightM + RoofM;
        var sill = 0.30 - FloorM;
        var (screenTop, screenTopX, foreheadX) = (ScreenTop, ScreenTopX, ForeheadX);

        Canvas.Line(Ink.Rule, 1, false, new(X(-NoseM) - 6, GroundY), new(X(LengthM) + 18, GroundY));
        Canvas.Take(new Area2(X(-NoseM), GroundY - 1, (LengthM + NoseM) * Scale, 2), 6);
        Canvas.Add(Outline() with { Fill = Ink.Body, FillOpacity = 0.08 });

        foreach (var x in new[] { -0.10, (LengthM * 0.74) - 0.05 })
        {
            Canvas.Add(new Circle(X(x), GroundY - (WheelM * Scale), (WheelM + 0.06) * Scale) { Fill = Ink.Paper, Stroke = Ink.Body, StrokeWidth = 1 });
            Canvas.Add(new Circle(X(x), GroundY - (WheelM * Scale), WheelM * Scale) { Fill = Ink.Body, FillOpacity = 0.35, Stroke = Ink.Body, StrokeWidth = 1.4 });
            Canvas.Add(new Circle(X(x), GroundY - (WheelM * Scale), WheelM * 0.5 * Scale) { Fill = Ink.Paper, Stroke = Ink.Body, StrokeWidth = 1 });
            Canvas.Take(new Area2(X(x - WheelM), GroundY - (2 * WheelM * Scale), 2 * WheelM * Scale, 2 * WheelM * Scale), 1);
        }

        // Headlight, the cab door behind the windscreen, the bumper's seam.
        Canvas.Add(new Polyline([P(-0.82, WaistM - 0.38), P(-0.62, WaistM - 0.24), P(-0.62, WaistM - 0.40)], Closed: true) { Stroke = Ink.Body, StrokeWidth = 0.8 });
        Canvas.Line(Ink.Body, 0.6, false, P(-NoseM, sill + 0.22), P(-0.55, sill + 0.22));
        if (Design.Zones.FirstOrDefault(zone => zone.Kind == ZoneKind.Cab) is { } cab)
        {
            Canvas.Line(Ink.Body, 0.6, false, P(0.30, sill + 0.30), P(0.30, WaistM - 0.02), P(screenTopX + 0.22, screenTop - 0.06), P(cab.To.Meters - 0.1, screenTop - 0.06), P(cab.To.Meters - 0.1, sill + 0.08));
        }

        Canvas.Take(new Area2(X(foreheadX), Y(roof) - 1, (LengthM - foreheadX) * Scale, RoofM * Scale), 0.3);

        // Floor and ceiling of the inside.
        Canvas.Line(Ink.Body, 1, false, P(0.05, 0), P(LengthM, 0));
        Canvas.Line(Ink.Body, 0.8, false, P(foreheadX + 0.05, HeightM), P(LengthM, HeightM));
        Canvas.Line(Ink.Body, 0.8, false, P(LengthM, 0), P(LengthM, HeightM));
    }

    private void Inside()
    {
        foreach (var zone in Design.Zones)
        {
            foreach (var x in new[] { zone.From.Meters, zone.To.Meters })
            {
                if (x > 0.05 && x < LengthM - 0.05)
                {
                    Canvas.Line(Ink.Rule, 0.8, true, P(x, zone.Bottom.Meters), P(x, zone.Top.Meters));
                }
            }

            foreach (var z in new[] { zone.Bottom.Meters, zone.Top.Meters })
            {
                if (z > 0.05 && z < HeightM - 0.05)
                {
                    Canvas.Line(Ink.Rule, 0.8, true, P(zone.From.Meters, z), P(zone.To.Meters, z));
                }
            }
        }

        foreach (var piece in Design.Body.Furniture.OrderByDescending(piece => piece.Y.Meters))
        {
            var area = SideArea(piece);
            Canvas.Add(new Box(area.X, area.Y, area.Width, area.Height, 2)
            {
                Stroke = InkOf(piece.Kind),
                StrokeWidth = 0.9,
                Fill = InkOf(piece.Kind),
                FillOpacity = 0.3,
                Subject = piece.Id,
                Hint = NameOf(piece.Kind),
            });
            Canvas.Take(area, 0.02);
        }
    }

    private Area2 SideArea(Furniture piece) => new(
        X(piece.X.Meters),
        Y((piece.Z + piece.Height).Meters),
        piece.Length.Meters * Scale,
        piece.Height.Meters * Scale);

    private List<(SurfaceState Surface, FigurePoint At)> Glass()
    {
        var marks = new List<(SurfaceState, FigurePoint)>();
        foreach (var glazing in Design.Glazings)
        {
            if (glazing.Face is Face.Right or Face.Floor)
            {
                continue;
            }

            var wet = Wet.GetValueOrDefault(glazing.Id);
            var at = glazing.Face switch
            {
                Face.Nose => WindscreenPane(glazing, wet is not null),
                Face.Left => SidePane(glazing, wet is not null),
                Face.Tail => GlassStrip(P(LengthM + (ShellM / 2), WaistM), P(LengthM + (ShellM / 2), Math.Min(HeightM - 0.1, WaistM + 0.5)), glazing, wet is not null),
                _ => GlassStrip(
                    P((ZoneOf(glazing.ZoneId).From.Meters + ZoneOf(glazing.ZoneId).To.Meters - Math.Sqrt(glazing.Area.SquareMeters)) / 2, HeightM + (RoofM / 2)),
                    P((ZoneOf(glazing.ZoneId).From.Meters + ZoneOf(glazing.ZoneId).To.Meters + Math.Sqrt(glazing.Area.SquareMeters)) / 2, HeightM + (RoofM / 2)),
                    glazing,
                    wet is not null),
            };
            if (wet is not null)
            {
                marks.Add((wet, at));
            }
        }

        marks.AddRange(Design.Openings
            .Where(opening => opening.Face != Face.Right && Wet.ContainsKey(opening.Id))
            .Select(opening => (Wet[opening.Id], At(opening))));
        return marks;
    }

    private FigurePoint WindscreenPane(Glazing glazing, bool wet)
    {
        var screenTop = Math.Min(HeightM + RoofM - 0.08, WaistM + 0.80);
        var top = P(0.62 * (screenTop - WaistM) * 0.93, WaistM + ((screenTop - WaistM) * 0.93));
        var foot = P(0.03, WaistM + 0.04);
        Canvas.Add(new Polyline([foot, top]) { Stroke = Ink.Glass, StrokeWidth = 4, Subject = glazing.Id, Hint = glazing.Name });
        if (wet)
        {
            Canvas.Add(new Polyline([new(foot.X + 4, foot.Y), new(top.X + 4, top.Y)]) { Stroke = Ink.Wet, StrokeWidth = 2, Dashed = true, Subject = glazing.Id });
        }

        Canvas.Take(Around(foot, top), 0.5);
        return new((foot.X + top.X) / 2, (foot.Y + top.Y) / 2);
    }

    private Area2 SidePaneArea(Glazing glazing)
    {
        var zone = ZoneOf(glazing.ZoneId);
        var siblings = Design.Glazings.Where(other => other.Face == Face.Left && other.ZoneId == glazing.ZoneId).ToList();
        var share = (siblings.IndexOf(glazing) + 0.5) / siblings.Count;
        var middle = zone.From.Meters + ((zone.To - zone.From).Meters * (zone.Kind == ZoneKind.Cab ? 0.62 : share));
        var height = Math.Min(0.5, HeightM - WaistM - 0.12);
        var half = Math.Min(glazing.Area.SquareMeters / height, (zone.To - zone.From).Meters * 0.62 / siblings.Count) / 2;
        return new Area2(X(middle - half), Y(WaistM + height), 2 * half * Scale, height * Scale);
    }

    private FigurePoint SidePane(Glazing glazing, bool wet)
    {
        var area = SidePaneArea(glazing);
        Canvas.Add(new Box(area.X, area.Y, area.Width, area.Height, 3)
        {
            Stroke = Ink.Glass,
            StrokeWidth = 1.2,
            Fill = Ink.Glass,
            FillOpacity = 0.25,
            Subject = glazing.Id,
            Hint = glazing.Name,
        });
        Canvas.Take(area, 0.2);
        if (wet)
        {
            Hatch(area, glazing.Id);
        }

        return new(area.CentreX, area.CentreY);
    }

    private void DrawOpening(Opening opening)
    {
        var at = At(opening);
        var length = opening.Length.Meters * Scale;
        var high = opening.Face is Face.Roof or Face.Floor ? 8 : opening.Width.Meters * Scale;
        var wide = opening.Face is Face.Nose or Face.Tail ? 8 : length;
        switch (opening.Face)
        {
            case Face.Roof:
                RoofLid(opening, at, length);
                FlowArrows(opening, at, Outward(opening), 46, 14);
                break;
            case Face.Floor:
                Canvas.Add(new Box(at.X - (length / 2), at.Y, length, 5) { Stroke = Ink.Opening, StrokeWidth = 1.6, Dashed = opening.State == PartState.Later, Fill = Ink.Paper, Subject = opening.Id, Hint = HintOf(opening) });
                Canvas.Take(new Area2(at.X - (length / 2), at.Y, length, 5), 8);
                FlowArrows(opening, at, Outward(opening), 38, 16);
                break;
            case Face.Left or Face.Right:
                Window(opening, at, length);
                FlowArrows(opening, at, Outward(opening), 44, 4);
                break;
            case Face.Nose or Face.Tail:
                var height = opening.Width.Meters * Scale;
                Canvas.Add(new Box(at.X - 1, at.Y - (height / 2), 6, height) { Stroke = Ink.Opening, StrokeWidth = 1.6, Dashed = opening.State == PartState.Later, Fill = Ink.Paper, Subject = opening.Id, Hint = HintOf(opening) });
                Canvas.Take(new Area2(at.X - 1, at.Y - (height / 2), 6, height), 8);
                FlowArrows(opening, at, Outward(opening), 36, 8);
                break;
            default:
                throw new InvalidOperationException($"No drawing for an opening in {opening.Face}.");
        }

        CoveredMark(opening, new Area2(at.X - (wide / 2), at.Y - (high / 2), wide, high));
    }

    /// <summary>The frame in the roof and the lid over it, raised as far as it stands open; a fan hangs in the frame.</summary>
    private void RoofLid(Opening opening, FigurePoint at, double length)
    {
        const double LargestAngle = 50 * Math.PI / 180;
        var frame = new Area2(at.X - (length / 2), at.Y - 3, length, 6);
        Canvas.Add(new Box(frame.X, frame.Y, frame.Width, frame.Height) { Stroke = Ink.Opening, StrokeWidth = 1.4, Dashed = opening.State == PartState.Later, Fill = Ink.Paper, Subject = opening.Id, Hint = HintOf(opening) });
        var (sin, cos) = Math.SinCos(LargestAngle * opening.Position.Share());
        Canvas.Add(new Polyline([new(frame.X, frame.Y - 2), new(frame.X + (cos * length), frame.Y - 2 - (sin * length))])
        {
            Stroke = Ink.Opening,
            StrokeWidth = 2.2,
            Subject = opening.Id,
        });
        Canvas.Take(Around(new FigurePoint(frame.X, frame.Bottom), new(frame.Right, frame.Y - 2 - (sin * length))), 4);
        if (opening.Fan is { } fan)
        {
            var y = frame.Bottom + 5;
            Canvas.Add(new Box(frame.X + (length * 0.12), frame.Bottom, length * 0.76, 10, 2) { Stroke = Ink.Opening, StrokeWidth = 1, Fill = Ink.Paper, Subject = opening.Id });
            var tip = fan.Direction == FanDirection.Exhaust ? frame.Bottom + 2 : frame.Bottom + 8;
            var tail = fan.Direction == FanDirection.Exhaust ? frame.Bottom + 8 : frame.Bottom + 2;
            foreach (var x in new[] { at.X - (length * 0.22), at.X + (length * 0.22) })
            {
                Canvas.Add(new Polyline([new(x - 4, tail), new(x, tip), new(x + 4, tail)]) { Stroke = Ink.Opening, StrokeWidth = 1.2, Subject = opening.Id });
            }

            Canvas.Take(new Area2(frame.X, frame.Bottom, length, y + 5 - frame.Bottom), 8);
        }
    }

    private void Window(Opening opening, FigurePoint at, double length)
    {
        var height = opening.Width.Meters * Scale;
        var area = new Area2(at.X - (length / 2), at.Y - (height / 2), length, height);
        Canvas.Add(new Box(area.X, area.Y, area.Width, area.Height, 3)
        {
            Stroke = Ink.Opening,
            StrokeWidth = opening.Face == Face.Right ? 0.8 : 1.6,
            Dashed = opening.State == PartState.Later,
            Fill = Ink.Paper,
            FillOpacity = 0.6,
            Subject = opening.Id,
            Hint = HintOf(opening),
        });
        var open = opening.Position.Share();
        if (opening.Pane is not null)
        {
            // A sliding pane uncovers its part of the frame; a cab window sinks; a hinged pane covers it still.
            var pane = opening.Kind switch
            {
                OpeningKind.SlidingWindow => area with { Width = area.Width * (1 - (open * opening.FreeShare)) },
                OpeningKind.CabWindow => new Area2(area.X, area.Y + (area.Height * open * opening.FreeShare), area.Width, area.Height * (1 - (open * opening.FreeShare))),
                OpeningKind.HingedWindow or OpeningKind.RoofVent or OpeningKind.FloorVent => area,
                _ => throw new InvalidOperationException($"No drawing for a {opening.Kind}."),
            };
            Canvas.Add(new Box(pane.X + 1.5, pane.Y + 1.5, Math.Max(0, pane.Width - 3), Math.Max(0, pane.Height - 3)) { Fill = Ink.Glass, FillOpacity = 0.35, Subject = opening.Id });
            if (opening.Kind == OpeningKind.SlidingWindow)
            {
                Canvas.Add(new Polyline([new(pane.Right, area.Y), new(pane.Right, area.Bottom)]) { Stroke = Ink.Opening, StrokeWidth = 1, Subject = opening.Id });
            }

            if (Wet.ContainsKey(opening.Id) && opening.Face == Face.Left)
            {
                Hatch(pane, opening.Id);
            }
        }

        Canvas.Take(area, 1);
    }

    private void Passages()
    {
        foreach (var passage in Design.Passages)
        {
            var a = ZoneOf(passage.ZoneA);
            var b = ZoneOf(passage.ZoneB);
            var left = Math.Max(a.From.Meters, b.From.Meters);
            var right = Math.Min(a.To.Meters, b.To.Meters);
            if (right - left > 0.05)
            {
                // One above the other: the arrow stands on the common level.
                var upwards = a.Bottom.Meters < b.Bottom.Meters;
                PassageArrows(passage, P(left + ((right - left) * 0.72), Math.Max(a.Bottom.Meters, b.Bottom.Meters)), new(0, upwards ? -1 : 1));
            }
            else
            {
                var rearwards = a.From.Meters < b.From.Meters;
                var x = rearwards ? (a.To.Meters + b.From.Meters) / 2 : (b.To.Meters + a.From.Meters) / 2;

                // Anywhere between its lower and its upper edge: where the drawing is least crowded.
                var y = new[] { 0.5, 0.35, 0.65, 0.2, 0.8 }
                    .Select(share => Y(passage.Bottom.Meters + (share * (passage.Top - passage.Bottom).Meters)))
                    .MinBy(y => Canvas.Crowding(new Area2(X(x) - 18, y - 20, 36, 28)));
                PassageArrows(passage, new(X(x), y), new(rearwards ? 1 : -1, 0));
            }
        }
    }

    /// <summary>Name and state of the air of each zone.</summary>
    private void ZoneNames()
    {
        foreach (var zone in Design.Zones.Where(zone => zone.Kind != ZoneKind.Cupboard))
        {
            var area = ZoneArea(zone);
            var name = FigureCanvas.Fit(zone.Name, area.Width - 8, bold: true);
            var text = AirWords(zone);
            var width = Math.Max(ReportFonts.Width(name, FigureCanvas.TextSize, bold: true), text is null ? 0 : ReportFonts.Width(text, FigureCanvas.TextSize));
            var height = text is null ? 12 : 24;
            var inner = area.Grown(-3);
            if (zone.Kind == ZoneKind.Cab)
            {
                // The windscreen slopes through the front of the cab's box.
                var behindScreen = Math.Min(0.62 * Scale, Math.Max(0, inner.Width - width - 2));
                inner = inner with { X = inner.X + behindScreen, Width = inner.Width - behindScreen };
            }

            if (Canvas.Find(inner.CentreX, inner.Y + (inner.Height * 0.3), width, height, -10, inner.Width > width && inner.Height > height ? inner : null) is not { } place)
            {
                continue;
            }

            Canvas.Add(new Box(place.X - 1, place.Y - 1, place.Width + 2, place.Height + 2, 3) { Fill = Ink.Paper, FillOpacity = 0.7, Subject = zone.Id });
            Canvas.Add(new Label(place.CentreX, place.Y + 9, name, FigureCanvas.TextSize, TextAnchor.Middle, Bold: true) { Fill = Ink.Muted, Subject = zone.Id });
            if (text is not null)
            {
                Canvas.Add(new Label(place.CentreX, place.Y + 21, text, FigureCanvas.TextSize, TextAnchor.Middle) { Fill = Ink.Text, Subject = zone.Id });
            }
        }
    }

    private void Dimensions()
    {
        var x = X(LengthM) + 30;
        Canvas.Line(Ink.Rule, 0.5, false, new(X(LengthM) + 10, Y(HeightM)), new(x + 5, Y(HeightM)));
        Canvas.Line(Ink.Rule, 0.5, false, new(X(LengthM) + 10, Y(0)), new(x + 5, Y(0)));
        Dimension(new(x, Y(HeightM)), new(x, Y(0)), Units.Format(Measure.LargeLength, Design.Body.InteriorHeight));
        Dimension(new(x, Y(0)), new(x, GroundY), Units.Format(Measure.LargeLength, Design.Body.FloorAboveGround));
    }

    private string Alt()
    {
        var zones = Assessment is { } known
            ? " Air by zone: " + string.Join(", ", known.Zones.Select(state => $"{ZoneOf(state.ZoneId).Name} {Units.Format(state.Temperature)} and {Units.Format(state.RelativeHumidity)}")) + "."
            : "";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"The van from the left, nose to the left, at a scale of 1:{Denominator}. Inside it is {Units.Format(Measure.LargeLength, Design.Body.InteriorHeight)} high; its floor lies {Units.Format(Measure.LargeLength, Design.Body.FloorAboveGround)} above the ground.{zones} {OpeningsInWords()}");
    }

    private DataTable Table() => new()
    {
        Caption = "Where the openings are",
        Heads = ["No.", "Opening", "Where", "Behind the windscreen’s foot", "From the left wall", "Above the floor", "Above the ground"],
        NumberColumns = [3, 4, 5, 6],
        Rows = [.. Design.Openings.Select(Row)],
    };

    private ImmutableArray<string> Row(Opening opening, int index)
    {
        var y = opening.Face switch
        {
            Face.Left => Length.Zero,
            Face.Right => Design.Body.InteriorWidth,
            _ => opening.Y,
        };
        var z = opening.Face switch
        {
            Face.Roof => Design.Body.InteriorHeight,
            Face.Floor => Length.Zero,
            _ => opening.Z,
        };
        return
        [
            NumberOf(index),
            opening.Name,
            FaceWords(opening.Face),
            Units.Format(Measure.LargeLength, opening.Face == Face.Nose ? Length.Zero : opening.Face == Face.Tail ? Design.Body.InteriorLength : opening.X),
            Units.Format(Measure.LargeLength, y),
            Units.Format(Measure.LargeLength, z),
            Units.Format(Measure.LargeLength, z + Design.Body.FloorAboveGround),
        ];
    }
}
