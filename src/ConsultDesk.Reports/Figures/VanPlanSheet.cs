using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Figures;

/// <summary>The van seen from above: x to the right, the left wall at the bottom.</summary>
internal sealed class VanPlanSheet(Design design, Assessment? assessment, DisplayUnits units, ZoneQuantity? shade)
    : VanSheet(design, assessment, units, shade, RightMargin, scale => Top + (design.Body.InteriorWidth.Meters * scale) + Below)
{
    private const double RightMargin = 74;
    private const double Top = 48;
    private const double Below = 134;
    private const double ArrowLength = 36;

    private double Bottom => Top + (WidthM * Scale);

    public Figure Draw()
    {
        DrawBody();
        Zones();
        Furniture();
        var wetMarks = Glass();
        foreach (var opening in Design.Openings)
        {
            DrawOpening(opening);
        }

        Dimensions();
        Passages();
        Foot(Canvas.Height - 8);
        foreach (var (index, opening) in Design.Openings.Index().Where(numbered => Called(numbered.Item)))
        {
            Callout(index, At(opening), opening.Face is Face.Roof or Face.Floor ? opening.Length.Meters * Scale * 0.62 : 12);
        }

        foreach (var (surface, at) in wetMarks)
        {
            WetMark(surface, at, 10);
        }

        MetalMarks();
        foreach (var part in Others)
        {
            if (part.Zone is { } zone)
            {
                var area = PlaceOf(zone);
                LetterMark(part, new(area.CentreX, area.CentreY), area);
            }
            else
            {
                LetterMark(part, part.Point is { } point ? On(point) : P(LengthM * 0.5, -0.25), null);
            }
        }

        FurnitureNames(piece => OnPlan(piece.X, piece.Y, piece.Length, piece.Width));
        DoorName("Rear doors", P(LengthM + ShellM, WidthM / 2));
        return new Figure
        {
            Id = "van-plan",
            Title = "The van from above",
            AltText = Alt(),
            Width = Canvas.Width,
            Height = Canvas.Height,
            Scale = new DrawingScale(Scale, X(0), Y(0)),
            Elements = Canvas.Elements,
            Legend = Legend(mixing: Design.Passages.Any(passage => ShownHere(passage) && passage.Mixing.CubicMetersPerHour >= 0.5)),
            Table = Table(),
        };
    }

    private double Y(double metresFromLeft) => Bottom - (metresFromLeft * Scale);

    private FigurePoint P(double x, double y) => new(X(x), Y(y));

    private Area2 OnPlan(Length x, Length y, Length length, Length width) =>
        new(X(x.Meters), Y(y.Meters + width.Meters), length.Meters * Scale, width.Meters * Scale);

    /// <summary>Place of an opening on the plan.</summary>
    private FigurePoint At(Opening opening) => opening.Face switch
    {
        Face.Roof or Face.Floor => P(opening.X.Meters, opening.Y.Meters),
        Face.Left => P(opening.X.Meters, 0),
        Face.Right => P(opening.X.Meters, WidthM),
        Face.Nose => P(0, opening.Y.Meters),
        Face.Tail => P(LengthM, opening.Y.Meters),
        _ => throw new ArgumentOutOfRangeException(nameof(opening), opening.Face, "Expected a face of the body."),
    };

    private FigurePoint On(BodyPoint point) => point.Face switch
    {
        Face.Roof or Face.Floor => P(point.X.Meters, point.Y.Meters),
        Face.Left => P(point.X.Meters, 0),
        Face.Right => P(point.X.Meters, WidthM),
        Face.Nose => P(0, point.Y.Meters),
        Face.Tail => P(LengthM, point.Y.Meters),
        _ => throw new ArgumentOutOfRangeException(nameof(point), point.Face, "Expected a face of the body."),
    };

    /// <summary>Where a zone lies on the plan; a cupboard reaches no farther than its depth.</summary>
    private Area2 PlaceOf(Zone zone)
    {
        var (low, width) = zone.Cupboard is { } cupboard
            ? (cupboard.Wall == Face.Left ? Length.Zero : Design.Body.InteriorWidth - cupboard.Depth, cupboard.Depth)
            : (Length.Zero, Design.Body.InteriorWidth);
        return OnPlan(zone.From, low, zone.To - zone.From, width);
    }

    // Roof and floor have no outward direction on a plan: the arrow leans away from the middle of the van.
    private FigurePoint Outward(Opening opening) => opening.Face switch
    {
        Face.Left => new(0, 1),
        Face.Right => new(0, -1),
        Face.Nose => new(-1, 0),
        Face.Tail => new(1, 0),
        Face.Roof or Face.Floor => new(
            opening.X.Meters > LengthM / 2 ? Math.Sqrt(0.5) : -Math.Sqrt(0.5),
            opening.Y.Meters > WidthM / 2 ? -Math.Sqrt(0.5) : Math.Sqrt(0.5)),
        _ => throw new ArgumentOutOfRangeException(nameof(opening), opening.Face, "Expected a face of the body."),
    };

    private void Zones()
    {
        // From above the upper of two zones is seen, and a cupboard before the room it stands in.
        foreach (var zone in Design.Zones.OrderBy(zone => zone.Kind == ZoneKind.Cupboard).ThenBy(zone => zone.Bottom.Meters))
        {
            var area = PlaceOf(zone);
            ShadeZone(zone, area);
            if (zone.Kind == ZoneKind.Cupboard)
            {
                Canvas.Add(new Box(area.X, area.Y, area.Width, area.Height) { Stroke = Ink.Furniture, StrokeWidth = 0.8, Subject = zone.Id });
            }
        }

        foreach (var x in Design.Zones.SelectMany(zone => new[] { zone.From.Meters, zone.To.Meters })
            .Where(x => x > 0.05 && x < LengthM - 0.05).Distinct())
        {
            Canvas.Line(Ink.Rule, 0.8, true, P(x, 0), P(x, WidthM));
        }

        // One row of brackets for the zones that reach the ceiling, one for those below; cupboards have letters.
        foreach (var zone in Design.Zones.Where(zone => zone.Kind != ZoneKind.Cupboard))
        {
            var upper = zone.Top.Meters >= HeightM - 0.05;
            var y = Bottom + 48 + (upper ? 0 : 17);
            var from = X(zone.From.Meters) + 2;
            var to = X(zone.To.Meters) - 2;
            Canvas.Add(new Polyline([new(from, y - 4), new(from, y), new(to, y), new(to, y - 4)]) { Stroke = Ink.Muted, StrokeWidth = 0.8, Subject = zone.Id });
            var name = FigureCanvas.Fit(zone.Name, to - from);
            Canvas.Write((from + to) / 2, y + 11, name, TextAnchor.Middle, Ink.Muted, subject: zone.Id);
            Canvas.Take(new Area2(from, y - 5, to - from, 18), 20);
        }
    }

    private void DrawBody()
    {
        var half = WidthM / 2;
        Canvas.Add(new Polyline(
            Rounded(
                (P(LengthM + ShellM, -ShellM), 0.10 * Scale),
                (P(LengthM + ShellM, WidthM + ShellM), 0.10 * Scale),
                (P(-0.35, WidthM + ShellM), 0.25 * Scale),
                (P(-NoseM, half + (0.80 * half)), 0.35 * Scale),
                (P(-NoseM, half - (0.80 * half)), 0.35 * Scale),
                (P(-0.35, -ShellM), 0.25 * Scale)),
            Closed: true)
        {
            Stroke = Ink.Body,
            StrokeWidth = 1.6,
            Fill = Ink.Body,
            FillOpacity = 0.10,
        });
        Canvas.Take(new Area2(X(0), Top - (ShellM * Scale), LengthM * Scale, ShellM * Scale), 0.5);
        Canvas.Take(new Area2(X(0), Bottom, LengthM * Scale, ShellM * Scale), 0.5);
        Canvas.Add(new Box(X(0), Top, LengthM * Scale, WidthM * Scale, 3) { Stroke = Ink.Body, StrokeWidth = 0.8, Fill = Ink.Paper, FillOpacity = 0.75 });

        // Mirrors, the seam of the rear doors, the crease of the bonnet.
        foreach (var (y, way) in new[] { (WidthM + ShellM, 1.0), (-ShellM, -1.0) })
        {
            Canvas.Add(new Polyline([P(0.30, y), P(0.24, y + (0.20 * way)), P(0.12, y + (0.20 * way)), P(0.16, y)], Closed: true)
            {
                Stroke = Ink.Body,
                StrokeWidth = 1,
                Fill = Ink.Body,
                FillOpacity = 0.10,
            });
        }

        Canvas.Line(Ink.Body, 1, false, P(LengthM, half), P(LengthM + ShellM, half));
        Canvas.Line(Ink.Body, 0.6, false, P(-0.16, half + (0.72 * half)), P(-0.72, half + (0.62 * half)));
        Canvas.Line(Ink.Body, 0.6, false, P(-0.16, half - (0.72 * half)), P(-0.72, half - (0.62 * half)));
    }

    private void Furniture()
    {
        foreach (var piece in Design.Body.Furniture.OrderBy(piece => (piece.Z + piece.Height).Meters))
        {
            var area = OnPlan(piece.X, piece.Y, piece.Length, piece.Width);
            Canvas.Add(new Box(area.X, area.Y, area.Width, area.Height, 2)
            {
                Stroke = InkOf(piece.Kind),
                StrokeWidth = 1,
                Fill = InkOf(piece.Kind),
                FillOpacity = 0.3,
                Subject = piece.Id,
                Hint = NameOf(piece.Kind),
            });
            Canvas.Take(area, piece.Kind == FurnitureKind.Cooker ? 3 : 0.03);
            switch (piece.Kind)
            {
                case FurnitureKind.Bed:
                    Pillows(area, piece.Id);
                    break;
                case FurnitureKind.Cooker:
                    foreach (var share in new[] { 0.28, 0.72 })
                    {
                        var radius = Math.Min(area.Width, area.Height) * 0.2;
                        Canvas.Add(new Circle(area.X + (area.Width * share), area.CentreY, radius) { Stroke = Ink.Furniture, StrokeWidth = 1, Subject = piece.Id });
                    }

                    break;
                case FurnitureKind.CabSeat:
                    // The backrest is at the rear: people look forward.
                    Canvas.Add(new Box(area.Right - (area.Width * 0.22), area.Y, area.Width * 0.22, area.Height, 2)
                    {
                        Stroke = Ink.Furniture,
                        StrokeWidth = 1,
                        Subject = piece.Id,
                    });
                    break;
                case FurnitureKind.Cupboard or FurnitureKind.Lounge:
                    break;
                default:
                    throw new InvalidOperationException($"No drawing for a {piece.Kind}.");
            }
        }
    }

    // Two pillows at the rear end of a bed along the van, at the right end of one across.
    private void Pillows(Area2 bed, string id)
    {
        var along = bed.Width >= bed.Height;
        for (var pillow = 0; pillow < 2; pillow++)
        {
            var area = along
                ? new Area2(bed.Right - (bed.Width * 0.22), bed.Y + (bed.Height * (0.08 + (0.46 * pillow))), bed.Width * 0.18, bed.Height * 0.38)
                : new Area2(bed.X + (bed.Width * (0.08 + (0.46 * pillow))), bed.Y + (bed.Height * 0.04), bed.Width * 0.38, bed.Height * 0.18);
            Canvas.Add(new Box(area.X, area.Y, area.Width, area.Height, 3) { Stroke = Ink.Bed, StrokeWidth = 0.8, Subject = id });
        }
    }

    /// <summary>Fixed glass and panes. A fixed pane's place along the wall is not known: it stands in the middle of its zone.</summary>
    private List<(SurfaceState Surface, FigurePoint At)> Glass()
    {
        var marks = new List<(SurfaceState, FigurePoint)>();
        foreach (var glazing in Design.Glazings)
        {
            var zone = Design.Zones.First(zone => zone.Id == glazing.ZoneId);
            var siblings = Design.Glazings.Where(other => other.Face == glazing.Face && other.ZoneId == glazing.ZoneId).ToList();
            var share = (siblings.IndexOf(glazing) + 0.5) / siblings.Count;
            var wet = Wet.GetValueOrDefault(glazing.Id);
            FigurePoint at;
            switch (glazing.Face)
            {
                case Face.Nose:
                    at = Windscreen(glazing, wet is not null);
                    break;
                case Face.Left or Face.Right:
                    var y = glazing.Face == Face.Left ? 0 : WidthM;
                    var middle = zone.From.Meters + ((zone.To - zone.From).Meters * (zone.Kind == ZoneKind.Cab ? 0.55 : share));
                    var half = Math.Min(glazing.Area.SquareMeters / 0.5, (zone.To - zone.From).Meters * 0.9 / siblings.Count) / 2;
                    GlassStrip(P(middle - half, y), P(middle + half, y), glazing, wet is not null);
                    at = P(middle, y);
                    break;
                case Face.Tail:
                    var halfWidth = Math.Min(glazing.Area.SquareMeters / 0.5, WidthM * 0.9 / siblings.Count) / 2;
                    var centre = WidthM * share;
                    GlassStrip(P(LengthM, centre - halfWidth), P(LengthM, centre + halfWidth), glazing, wet is not null);
                    at = P(LengthM, centre);
                    break;
                case Face.Roof or Face.Floor:
                    var side = Math.Sqrt(glazing.Area.SquareMeters) * Scale;
                    at = P((zone.From.Meters + zone.To.Meters) / 2, WidthM / 2);
                    var pane = new Area2(at.X - (side / 2), at.Y - (side / 2), side, side);
                    Canvas.Add(new Box(pane.X, pane.Y, side, side) { Stroke = Ink.Glass, StrokeWidth = 1.4, Dashed = true, Subject = glazing.Id, Hint = glazing.Name });
                    if (wet is not null)
                    {
                        Hatch(pane, glazing.Id);
                    }

                    break;
                default:
                    throw new InvalidOperationException($"No drawing for glass in {glazing.Face}.");
            }

            if (wet is not null)
            {
                marks.Add((wet, at));
            }
        }

        marks.AddRange(Design.Openings.Where(opening => Wet.ContainsKey(opening.Id)).Select(opening => (Wet[opening.Id], At(opening))));
        return marks;
    }

    private FigurePoint Windscreen(Glazing glazing, bool wet)
    {
        const int Steps = 10;
        var foot = new List<FigurePoint>();
        var head = new List<FigurePoint>();
        for (var step = 0; step <= Steps; step++)
        {
            var across = step / (double)Steps;
            var bulge = 4 * across * (1 - across);
            foot.Add(P(-0.02 - (0.14 * bulge), WidthM * (0.04 + (0.92 * across))));
            head.Add(P(0.40 - (0.10 * bulge), WidthM * (0.10 + (0.80 * across))));
        }

        Canvas.Add(new Polyline([.. foot, .. Enumerable.Reverse(head)], Closed: true)
        {
            Stroke = Ink.Glass,
            StrokeWidth = 1.4,
            Fill = Ink.Glass,
            FillOpacity = 0.25,
            Subject = glazing.Id,
            Hint = glazing.Name,
        });
        if (wet)
        {
            for (var step = 0; step < Steps; step++)
            {
                Canvas.Add(new Polyline([foot[step], head[step + 1]]) { Stroke = Ink.Wet, StrokeWidth = 1, Subject = glazing.Id });
            }
        }

        Canvas.Take(Around([.. foot, .. head]), 0.3);
        return P(0.12, WidthM * 0.5);
    }

    private void DrawOpening(Opening opening)
    {
        var at = At(opening);
        var length = opening.Length.Meters * Scale;
        var share = opening.Position.Share();
        Area2 area;
        switch (opening.Face)
        {
            case Face.Roof or Face.Floor:
                var width = opening.Width.Meters * Scale;
                area = new Area2(at.X - (length / 2), at.Y - (width / 2), length, width);
                Lid(opening, area);
                break;
            case Face.Left or Face.Right:
                area = new Area2(at.X - (length / 2), at.Y - 4, length, 8);
                WallOpening(opening, area, along: true, share);
                break;
            case Face.Nose or Face.Tail:
                area = new Area2(at.X - 4, at.Y - (length / 2), 8, length);
                WallOpening(opening, area, along: false, share);
                break;
            default:
                throw new InvalidOperationException($"No drawing for an opening in {opening.Face}.");
        }

        Canvas.Take(area, 8);
        CoveredMark(opening, area);
        var upright = opening.Face is Face.Roof or Face.Floor;
        FlowArrows(opening, at, Outward(opening), upright ? (Math.Min(length, area.Height) / 2) + 26 : ArrowLength, upright ? 0 : 8);
    }

    /// <summary>A lid or floor vent. What comes later is dashed; a fan shows its blades.</summary>
    private void Lid(Opening opening, Area2 area)
    {
        Canvas.Add(new Box(area.X, area.Y, area.Width, area.Height, 3)
        {
            Stroke = Ink.Opening,
            StrokeWidth = 1.6,
            Dashed = opening.State == PartState.Later,
            Fill = Ink.Paper,
            FillOpacity = 0.8,
            Subject = opening.Id,
            Hint = HintOf(opening),
        });
        if (Wet.ContainsKey(opening.Id))
        {
            Hatch(area, opening.Id);
        }

        if (opening.Fan is { } fan)
        {
            var radius = Math.Min(area.Width, area.Height) * 0.38;
            Canvas.Add(new Circle(area.CentreX, area.CentreY, radius) { Stroke = Ink.Opening, StrokeWidth = 1, Subject = opening.Id });
            for (var blade = 0; blade < 3; blade++)
            {
                var (sin, cos) = Math.SinCos((2 * Math.PI * blade / 3) - (Math.PI / 2));
                var (sinTip, cosTip) = Math.SinCos((2 * Math.PI * blade / 3) - (Math.PI / 2) + 0.6);
                Canvas.Add(new Polyline(
                    [
                        new(area.CentreX, area.CentreY),
                        new(area.CentreX + (cos * radius * 0.9), area.CentreY + (sin * radius * 0.9)),
                        new(area.CentreX + (cosTip * radius * 0.9), area.CentreY + (sinTip * radius * 0.9)),
                    ],
                    Closed: true)
                {
                    Fill = Ink.Opening,
                    FillOpacity = 0.35,
                    Subject = opening.Id,
                });
            }

            // The hub: a dot for air that comes up at the reader, a cross for air that goes down.
            if (fan.Direction == FanDirection.Exhaust)
            {
                Canvas.Add(new Circle(area.CentreX, area.CentreY, 2.4) { Fill = Ink.Opening, Subject = opening.Id });
            }
            else
            {
                Canvas.Add(new Polyline([new(area.CentreX - 3, area.CentreY - 3), new(area.CentreX + 3, area.CentreY + 3)]) { Stroke = Ink.Opening, StrokeWidth = 1.6, Subject = opening.Id });
                Canvas.Add(new Polyline([new(area.CentreX - 3, area.CentreY + 3), new(area.CentreX + 3, area.CentreY - 3)]) { Stroke = Ink.Opening, StrokeWidth = 1.6, Subject = opening.Id });
            }
        }
        else if (opening.Kind == OpeningKind.FloorVent)
        {
            for (var bar = 1; bar < 4; bar++)
            {
                var x = area.X + (area.Width * bar / 4);
                Canvas.Add(new Polyline([new(x, area.Y), new(x, area.Bottom)]) { Stroke = Ink.Opening, StrokeWidth = 0.8, Subject = opening.Id });
            }
        }
        else
        {
            // The diagonals of a lid meet at its hinge side.
            Canvas.Add(new Polyline([new(area.Right, area.Y), new(area.X, area.CentreY), new(area.Right, area.Bottom)]) { Stroke = Ink.Opening, StrokeWidth = 0.8, Subject = opening.Id });
        }
    }

    /// <summary>A window in a wall: the frame, and the part of it that the pane still closes.</summary>
    private void WallOpening(Opening opening, Area2 area, bool along, double share)
    {
        Canvas.Add(new Box(area.X, area.Y, area.Width, area.Height, 1)
        {
            Stroke = Ink.Opening,
            StrokeWidth = 1.6,
            Dashed = opening.State == PartState.Later,
            Fill = Ink.Paper,
            Subject = opening.Id,
            Hint = HintOf(opening),
        });
        var closed = opening.Kind == OpeningKind.HingedWindow ? 1 : 1 - (share * opening.FreeShare);
        var pane = along
            ? new Area2(area.X, area.Y + 2, area.Width * closed, 4)
            : new Area2(area.X + 2, area.Y, 4, area.Height * closed);
        if (opening.Pane is not null)
        {
            Canvas.Add(new Box(pane.X, pane.Y, pane.Width, pane.Height) { Fill = Ink.Glass, FillOpacity = 0.7, Subject = opening.Id });
        }

        if (Wet.ContainsKey(opening.Id))
        {
            Hatch(pane.Grown(1.5), opening.Id);
        }
    }

    // The space under the bed lies below another zone: its passages are seen from the side only.
    private bool ShownHere(Passage passage) =>
        ZoneOf(passage.ZoneA).Kind != ZoneKind.UnderBed && ZoneOf(passage.ZoneB).Kind != ZoneKind.UnderBed;

    private void Passages()
    {
        foreach (var passage in Design.Passages.Where(ShownHere))
        {
            var a = ZoneOf(passage.ZoneA);
            var b = ZoneOf(passage.ZoneB);
            var rearwards = a.From.Meters <= b.From.Meters;
            var x = rearwards ? (a.To.Meters + b.From.Meters) / 2 : (b.To.Meters + a.From.Meters) / 2;

            // Its place across the van is not known: where the drawing is least crowded.
            var y = new[] { 0.50, 0.38, 0.62, 0.26, 0.74 }.Select(share => Y(WidthM * share))
                .MinBy(y => Canvas.Crowding(new Area2(X(x) - 18, y - 20, 36, 28)));
            PassageArrows(passage, new(X(x), y), new(rearwards ? 1 : -1, 0));
        }
    }

    /// <summary>Bare metal has no place in the design: its mark stands in its zone.</summary>
    private void MetalMarks()
    {
        foreach (var metal in Design.BareMetal)
        {
            if (Wet.TryGetValue(metal.Id, out var surface))
            {
                var zone = ZoneOf(metal.ZoneId);
                WetMark(surface, P((zone.From.Meters + zone.To.Meters) / 2, WidthM * 0.14), 2, " on bare metal", OnPlan(zone.From, Length.Zero, zone.To - zone.From, Design.Body.InteriorWidth));
            }
        }
    }

    private void Dimensions()
    {
        var y = Canvas.Height - 34;
        Canvas.Line(Ink.Rule, 0.5, false, new(X(0), Bottom + 8), new(X(0), y + 5));
        Canvas.Line(Ink.Rule, 0.5, false, new(X(LengthM), Bottom + 8), new(X(LengthM), y + 5));
        Dimension(new(X(0), y), new(X(LengthM), y), Units.Format(Measure.LargeLength, Design.Body.InteriorLength) + " inside");
        var x = SheetWidth - 46;
        Canvas.Line(Ink.Rule, 0.5, false, new(X(LengthM) + 10, Top), new(x + 5, Top));
        Canvas.Line(Ink.Rule, 0.5, false, new(X(LengthM) + 10, Bottom), new(x + 5, Bottom));
        Dimension(new(x, Top), new(x, Bottom), Units.Format(Measure.LargeLength, Design.Body.InteriorWidth));
    }

    private string Alt() => string.Create(
        CultureInfo.InvariantCulture,
        $"The van from above, nose to the left, at a scale of 1:{Denominator}. Inside it is {Units.Format(Measure.LargeLength, Design.Body.InteriorLength)} long and {Units.Format(Measure.LargeLength, Design.Body.InteriorWidth)} wide. {OpeningsInWords()}");

    private DataTable Table()
    {
        var known = Assessment is not null;
        ImmutableArray<string> heads = ["No.", "Opening", "Where", "Frame", "Free area", "State"];
        return new DataTable
        {
            Caption = (known, Others.IsEmpty) switch
            {
                (true, true) => "Openings and the air through them",
                (true, false) => "Openings, the air through them, and other parts",
                (false, true) => "Openings",
                (false, false) => "Openings and other parts",
            },
            Heads = known ? [.. heads, "Air in", "Air out"] : heads,
            NumberColumns = known ? [3, 4, 6, 7] : [3, 4],
            Rows =
            [
                .. Design.Openings.Select(Row),
                .. Others.Select(part => (ImmutableArray<string>)
                [
                    part.Letter, part.Name, part.Where, DataTable.Nothing, DataTable.Nothing, part.State(),
                    .. known ? new[] { DataTable.Nothing, DataTable.Nothing } : [],
                ]),
            ],
        };

        ImmutableArray<string> Row(Opening opening, int index)
        {
            ImmutableArray<string> cells =
            [
                NumberOf(index),
                opening.Name,
                FaceWords(opening.Face),
                $"{Units.Number(Measure.SmallLength, opening.Length)}\u00A0×\u00A0{Units.Format(Measure.SmallLength, opening.Width)}",
                Units.Format(Measure.SmallArea, opening.Length * opening.Width * (opening.FreeShare * opening.Position.Share())),
                StateAndStage(opening),
            ];
            return Flows.TryGetValue(opening.Id, out var flow)
                ? [.. cells, Units.Format(flow.In), Units.Format(flow.Out)]
                : known ? [.. cells, "–", "–"] : cells;
        }
    }
}
