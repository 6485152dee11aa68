using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Reports.Fonts;
using ConsultDesk.Reports.Units;
using UnitsNet;

namespace ConsultDesk.Reports.Figures;

/// <summary>What plan and side view share: scale, callouts, arrows, wet marks, scale bar, legend.</summary>
internal abstract class VanSheet
{
    /// <summary>Width of every van drawing: the text width of an A4 page.</summary>
    public const double SheetWidth = 640;

    /// <summary>How far the nose reaches before the windscreen's foot, in metres. For the drawing only.</summary>
    protected const double NoseM = 0.88;

    /// <summary>Thickness of wall, roof and tail as drawn, in metres.</summary>
    protected const double ShellM = 0.06;

    /// <summary>Less than this many grams a night is not marked.</summary>
    protected const double MarkedGrams = 0.5;

    // One unit is a CSS pixel, 1/96 inch, so that 1 m at 1:1 is 1000 / 25.4 * 96 units.
    private const double UnitsPerMetreAtFullSize = 1000 / 25.4 * 96;

    private static readonly int[] Scales = [20, 25, 30, 35, 40, 45, 50, 60, 75, 100];

    private readonly ZoneQuantity? _shade;

    protected VanSheet(Design design, Assessment? assessment, DisplayUnits units, ZoneQuantity? shade, double rightMargin, Func<double, double> height)
    {
        _shade = shade;
        Design = design;
        Assessment = assessment;
        Units = units;
        var lengthM = design.Body.InteriorLength.Meters + NoseM + ShellM;
        Denominator = Scales.First(scale => lengthM * UnitsPerMetreAtFullSize / scale <= SheetWidth - LeftMargin - rightMargin || scale == Scales[^1]);
        Scale = UnitsPerMetreAtFullSize / Denominator;

        // What the van does not need is shared between both sides.
        Left = LeftMargin + ((SheetWidth - LeftMargin - rightMargin - (lengthM * Scale)) / 2);
        Canvas = new FigureCanvas(SheetWidth, Math.Ceiling(height(Scale)));
        LengthM = design.Body.InteriorLength.Meters;
        WidthM = design.Body.InteriorWidth.Meters;
        HeightM = design.Body.InteriorHeight.Meters;
        Flows = assessment?.Air.Openings.ToDictionary(flow => flow.OpeningId) ?? [];
        LargestFlow = Math.Max(1e-9, Flows.Values.Select(flow => Math.Max(flow.In.CubicMetersPerSecond, flow.Out.CubicMetersPerSecond))
            .Concat(assessment?.Air.Passages.Select(flow => Math.Abs(flow.Net.CubicMetersPerSecond)) ?? [])
            .DefaultIfEmpty(0).Max());
        Wet = assessment?.Surfaces.Where(surface => surface.CondensedPerNight.Grams >= MarkedGrams).ToDictionary(surface => surface.Id) ?? [];
    }

    protected Design Design { get; }

    protected Assessment? Assessment { get; }

    protected DisplayUnits Units { get; }

    protected FigureCanvas Canvas { get; }

    /// <summary>Units per metre.</summary>
    protected double Scale { get; }

    protected int Denominator { get; }

    protected double LengthM { get; }

    protected double WidthM { get; }

    protected double HeightM { get; }

    protected Dictionary<string, OpeningFlow> Flows { get; }

    protected Dictionary<string, SurfaceState> Wet { get; }

    protected bool AnyIn => Flows.Values.Any(flow => IsFlow(flow.In));

    protected bool AnyOut => Flows.Values.Any(flow => IsFlow(flow.Out));

    private static double LeftMargin => 14;

    private double Left { get; }

    private double LargestFlow { get; }

    /// <summary>Horizontal place of a distance from the windscreen.</summary>
    protected double X(double metres) => Left + ((metres + NoseM) * Scale);

    protected static bool IsFlow(VolumeFlow flow) => flow.CubicMetersPerHour >= 0.5;

    /// <summary>Number of an opening in drawing and table.</summary>
    protected static string NumberOf(int index) => (index + 1).ToString(CultureInfo.InvariantCulture);

    /// <summary>How far it stands open and what its fan does, in words.</summary>
    protected static string StateOf(Opening opening) => opening.State == PartState.Later ? "later"
        : opening.Covered ? "covered"
        : opening.Fan is { Speed: > 0 } fan && opening.Position != Position.Shut
        ? $"{OpenWords(opening.Position)}, fan {(fan.Direction == FanDirection.Exhaust ? "out" : "in")} {DisplayUnits.Metric.Format(Ratio.FromPercent(Math.Round(fan.Speed * 100)))}"
        : opening.Fan is null ? OpenWords(opening.Position) : $"{OpenWords(opening.Position)}, fan off";

    protected static string OpenWords(Position position) => position switch
    {
        Position.Shut => "shut",
        Position.Ajar => "ajar",
        Position.Half => "half open",
        Position.Full => "fully open",
        _ => throw new ArgumentOutOfRangeException(nameof(position), position, "Expected shut, ajar, half or full."),
    };

    protected static string FaceWords(Face face) => face switch
    {
        Face.Roof => "Roof",
        Face.Floor => "Floor",
        Face.Left => "Left wall",
        Face.Right => "Right wall",
        Face.Nose => "Nose",
        Face.Tail => "Rear doors",
        _ => throw new ArgumentOutOfRangeException(nameof(face), face, "Expected a face of the body."),
    };

    /// <summary>How far a part has come, in a word.</summary>
    protected static string StageOf(PartState state) => state switch
    {
        PartState.Fitted => "fitted",
        PartState.Owned => "owned",
        PartState.Proposed => "proposed",
        PartState.Later => "later",
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Expected how far a part has come."),
    };

    /// <summary>State and stage of an opening, for a table.</summary>
    protected static string StateAndStage(Opening opening) =>
        opening.State == PartState.Later ? StateOf(opening) : $"{StateOf(opening)}; {StageOf(opening.State)}";

    /// <summary>Zones are shaded by a quantity of their air.</summary>
    protected bool IsShaded => _shade is not null && Assessment is not null;

    /// <summary>The air of a zone; null before it is known.</summary>
    protected ZoneState? AirOf(Zone zone) => Assessment?.Zones.FirstOrDefault(state => state.ZoneId == zone.Id);

    /// <summary>A zone in the shade of the quantity chosen, or nothing to see, and its numbers for who points at it.</summary>
    protected void ShadeZone(Zone zone, Area2 area)
    {
        var hint = HintOf(zone);
        if (_shade is { } quantity && AirOf(zone) is { } state)
        {
            foreach (var element in ZoneShades.Shade(area, ZoneShades.StepOf(quantity, ZoneShades.Of(quantity, state)), zone.Id, hint))
            {
                Canvas.Add(element);
            }
        }
        else
        {
            Canvas.Add(new Box(area.X, area.Y, area.Width, area.Height) { Fill = Ink.Paper, FillOpacity = 0, Subject = zone.Id, Hint = hint });
        }
    }

    /// <summary>What is written into a zone: temperature and humidity, or what it is shaded by when that is another.</summary>
    protected string? AirWords(Zone zone) => AirOf(zone) is not { } state ? null
        : _shade switch
        {
            ZoneQuantity.AirAge => $"air {Units.Format(state.AgeOfAir)} old",
            ZoneQuantity.CarbonDioxide => $"{Units.Format(state.CarbonDioxide)} CO₂",
            _ => $"{Units.Format(state.Temperature)}, {Units.Format(state.RelativeHumidity)}",
        };

    private string HintOf(Zone zone) => AirOf(zone) is { } state
        ? $"{zone.Name}: {Units.Format(state.Temperature)}, {Units.Format(state.RelativeHumidity)}, dew point {Units.Format(state.DewPoint)}, air {Units.Format(state.AgeOfAir)} old, {Units.Format(state.CarbonDioxide)} CO₂"
        : zone.Name;

    protected Zone ZoneOf(string id) => Design.Zones.First(zone => zone.Id == id);

    /// <summary>Flow through an opening in words, or null when there is none or it is not known.</summary>
    protected string? FlowOf(Opening opening)
    {
        if (!Flows.TryGetValue(opening.Id, out var flow))
        {
            return null;
        }

        return (IsFlow(flow.In), IsFlow(flow.Out)) switch
        {
            (true, true) => $"in {Units.Number(Measure.AirFlow, flow.In)}, out {Units.Format(flow.Out)}",
            (true, false) => $"in {Units.Format(flow.In)}",
            (false, true) => $"out {Units.Format(flow.Out)}",
            (false, false) => null,
        };
    }

    protected string HintOf(Opening opening) => FlowOf(opening) is { } flow
        ? $"{opening.Name}: {StateOf(opening)}, {flow}"
        : $"{opening.Name}: {StateOf(opening)}";

    /// <summary>
    /// The arrows of one opening: they end at it for air coming in and start at it for air going out, whatever the
    /// view. Both are drawn side by side when air passes both ways.
    /// </summary>
    /// <param name="opening">The opening.</param>
    /// <param name="at">Its place in the drawing.</param>
    /// <param name="outward">Unit vector from inside to outside in the drawing.</param>
    /// <param name="length">Length of the arrow.</param>
    /// <param name="overlap">How much of the length lies on the inside.</param>
    protected void FlowArrows(Opening opening, FigurePoint at, FigurePoint outward, double length, double overlap)
    {
        if (!Flows.TryGetValue(opening.Id, out var flow))
        {
            return;
        }

        var both = IsFlow(flow.In) && IsFlow(flow.Out);
        var aside = both ? 8 : 0;
        if (IsFlow(flow.Out))
        {
            Draw(Ink.AirOut, flow.Out, -overlap, length - overlap, aside);
        }

        if (IsFlow(flow.In))
        {
            Draw(Ink.AirIn, flow.In, length - overlap, -overlap, -aside);
        }

        void Draw(Ink ink, VolumeFlow amount, double from, double to, double shift)
        {
            var start = Along(from, shift);
            var end = Along(to, shift);
            var width = ArrowWidth(amount.CubicMetersPerSecond);
            Canvas.Add(new Arrow([start, end], 6 + (1.6 * width)) { Stroke = ink, StrokeWidth = width, Subject = opening.Id, Hint = HintOf(opening) });
            Canvas.Take(Around(start, end).Grown(3), 12);
        }

        FigurePoint Along(double distance, double shift) => new(
            at.X + (outward.X * distance) - (outward.Y * shift),
            at.Y + (outward.Y * distance) + (outward.X * shift));
    }

    protected double ArrowWidth(double flow) => 1.2 + (4 * Math.Sqrt(Math.Abs(flow) / LargestFlow));

    protected static Area2 Around(params ReadOnlySpan<FigurePoint> points)
    {
        double left = double.PositiveInfinity, top = double.PositiveInfinity, right = double.NegativeInfinity, bottom = double.NegativeInfinity;
        foreach (var point in points)
        {
            (left, top) = (Math.Min(left, point.X), Math.Min(top, point.Y));
            (right, bottom) = (Math.Max(right, point.X), Math.Max(bottom, point.Y));
        }

        return new(left, top, right - left, bottom - top);
    }

    /// <summary>
    /// True for an opening whose number is written into the drawing. What every van comes with and stands shut is drawn
    /// without one: it says nothing, and the table has it.
    /// </summary>
    protected bool Called(Opening opening) =>
        opening.Kind is not (OpeningKind.CabWindow or OpeningKind.FreshAirFlap or OpeningKind.PressureReliefFlap)
        || opening.State != PartState.Fitted || opening.Covered || opening.Position != Position.Shut || FlowOf(opening) is not null;

    /// <summary>The number of an opening in a circle, its state and flow beside it, and a leader to its place.</summary>
    protected void Callout(int index, FigurePoint at, double gap)
    {
        const double Radius = 8;
        var opening = Design.Openings[index];
        string[] lines = FlowOf(opening) is { } flow ? [StateOf(opening), flow] : [StateOf(opening)];

        // In steps, so that another digit seldom finds its label another place.
        var textWidth = 12 * Math.Ceiling(NarrowRows.WidestLetters * lines.Max(line => ReportFonts.Width(line, FigureCanvas.TextSize)) / 12);
        var height = lines.Length == 1 ? 2 * Radius : 24;
        var place = Canvas.Find(at.X, at.Y, (2 * Radius) + 5 + textWidth, height, gap, leader: true)
            ?? throw new InvalidOperationException($"The drawing has no room for opening {NumberOf(index)}.");
        var circle = new FigurePoint(place.X + Radius, place.CentreY);
        var end = new FigurePoint(Math.Clamp(at.X, place.X, place.Right), Math.Clamp(at.Y, place.Y, place.Bottom));
        if (Math.Sqrt(Math.Pow(end.X - at.X, 2) + Math.Pow(end.Y - at.Y, 2)) > 10)
        {
            Canvas.Add(new Polyline([new(at.X, at.Y), end]) { Stroke = Ink.Rule, StrokeWidth = 0.7, Subject = opening.Id });
        }

        Canvas.Add(new Box(place.X - 1, place.Y - 1, place.Width + 2, place.Height + 2, 3) { Fill = Ink.Paper, FillOpacity = 0.85, Subject = opening.Id });
        NumberMark(index, circle, Radius);
        for (var line = 0; line < lines.Length; line++)
        {
            var baseline = place.CentreY + 3.6 + ((line - ((lines.Length - 1) / 2.0)) * 12);
            Canvas.Add(new Label(place.X + (2 * Radius) + 5, baseline, lines[line], FigureCanvas.TextSize)
            {
                Fill = line == 0 && lines.Length > 1 ? Ink.Muted : Ink.Text,
                Subject = opening.Id,
            });
        }
    }

    /// <summary>Number of an opening in a mark that says how far it has come: filled, square, open or dashed.</summary>
    protected void NumberMark(int index, FigurePoint at, double radius)
    {
        var opening = Design.Openings[index];
        var hint = HintOf(opening);
        Canvas.Add(opening.State switch
        {
            PartState.Fitted => new Circle(at.X, at.Y, radius) { Fill = Ink.Opening, Stroke = Ink.Opening, StrokeWidth = 1.2, Subject = opening.Id, Hint = hint },
            PartState.Owned => new Box(at.X - radius, at.Y - radius, 2 * radius, 2 * radius) { Fill = Ink.Paper, Stroke = Ink.Opening, StrokeWidth = 1.2, Subject = opening.Id, Hint = hint },
            PartState.Proposed => new Circle(at.X, at.Y, radius) { Fill = Ink.Paper, Stroke = Ink.Opening, StrokeWidth = 1.2, Subject = opening.Id, Hint = hint },
            PartState.Later => new Circle(at.X, at.Y, radius) { Fill = Ink.Paper, Stroke = Ink.Opening, StrokeWidth = 1.2, Dashed = true, Subject = opening.Id, Hint = hint },
            _ => throw new InvalidOperationException($"No mark for {opening.State}."),
        });
        Canvas.Add(new Label(at.X, at.Y + 3.6, NumberOf(index), FigureCanvas.TextSize, TextAnchor.Middle, Bold: true)
        {
            Fill = opening.State == PartState.Fitted ? Ink.Paper : Ink.Text,
            Subject = opening.Id,
        });
    }

    /// <summary>A letter in a small box for a part that is no opening.</summary>
    protected void LetterMark(OtherPart part, FigurePoint at, Area2? within)
    {
        const double Size = 13;
        var place = Canvas.Find(at.X, at.Y, Size, Size, -Size / 2, within is { } room && room.Width > Size + 2 && room.Height > Size + 2 ? room : null, worst: 200)
            ?? Canvas.Find(at.X, at.Y, Size, Size, 4, leader: true)
            ?? throw new InvalidOperationException($"The drawing has no room for {part.Name}.");
        var end = new FigurePoint(Math.Clamp(at.X, place.X, place.Right), Math.Clamp(at.Y, place.Y, place.Bottom));
        if (part.Point is not null && Math.Sqrt(Math.Pow(end.X - at.X, 2) + Math.Pow(end.Y - at.Y, 2)) > 6)
        {
            Canvas.Add(new Polyline([at, end]) { Stroke = Ink.Rule, StrokeWidth = 0.7, Subject = part.Id });
        }

        Canvas.Add(new Box(place.X, place.Y, Size, Size, 2)
        {
            Fill = Ink.Paper,
            Stroke = Ink.Muted,
            StrokeWidth = 1.2,
            Dashed = part.Stage == PartState.Later,
            Subject = part.Id,
            Hint = $"{part.Name}, {part.InWords()}",
        });
        Canvas.Add(new Label(place.CentreX, place.CentreY + 3.2, part.Letter, FigureCanvas.TextSize, TextAnchor.Middle) { Fill = Ink.Text, Subject = part.Id });
    }

    /// <summary>What stands in the van besides openings and furniture, in the order of its letters.</summary>
    protected ImmutableArray<OtherPart> Others
    {
        get
        {
            var equipment = Design.Equipment;
            var parts = new List<OtherPart>();
            if (Design.Heater.Kind != HeaterKind.None)
            {
                Add("heater", "Heater", Design.Heater.ZoneId, Design.Heater.State);
            }

            foreach (var dryer in Design.Dryers)
            {
                Add(dryer.Id, dryer.Name, dryer.ZoneId, dryer.State, dryer.Running ? "runs" : "off");
            }

            foreach (var fan in Design.CirculationFans)
            {
                Add(fan.Id, fan.Name, fan.ZoneA, fan.State, fan.Running ? "runs" : "off");
            }

            foreach (var cupboard in Design.Zones.Where(zone => zone.Kind == ZoneKind.Cupboard))
            {
                var open = cupboard.Cupboard?.Air == CupboardAir.OpenTopAndBottom;
                Add(cupboard.Id, cupboard.Name, cupboard.Id, null, open ? "open at top and bottom" : "closed");
            }

            if (equipment.Battery != BatteryKind.None)
            {
                Add("battery", "House battery", equipment.BatteryZoneId, null);
            }

            if (equipment.WaterCarried)
            {
                Add("water", "Water", equipment.WaterZoneId, null);
            }

            if (equipment.GasLocker is { } locker)
            {
                parts.Add(new OtherPart("gas-locker", LetterOf(parts.Count), "Gas locker", null, locker, FaceWords(locker.Face), null, null));
            }

            if (equipment.HeaterExhaust is { } exhaust)
            {
                parts.Add(new OtherPart("heater-exhaust", LetterOf(parts.Count), "Heater exhaust", null, exhaust, FaceWords(exhaust.Face), null, null));
            }

            return [.. parts];

            void Add(string id, string name, string? zoneId, PartState? stage, string? does = null) => parts.Add(new OtherPart(
                id, LetterOf(parts.Count), name, zoneId is null ? null : ZoneOf(zoneId), null, zoneId is null ? "Outside" : ZoneOf(zoneId).Name, stage, does));
        }
    }

    /// <summary>What each part is called in the drawings, by its path in the stored text: openings by number, others by letter.</summary>
    internal IEnumerable<KeyValuePair<string, string>> Marks() => Design.Openings.Select((opening, index) => KeyValuePair.Create($"openings[{opening.Id}]", NumberOf(index)))
        .Concat(Others.Select(part => KeyValuePair.Create(
            part.Id == "heater" ? "heater"
            : Design.Dryers.Any(dryer => dryer.Id == part.Id) ? $"dryers[{part.Id}]"
            : Design.CirculationFans.Any(fan => fan.Id == part.Id) ? $"circulationFans[{part.Id}]"
            : part.Id,
            part.Letter)));

    // After z come two letters.
    protected static string LetterOf(int index) => index < 26
        ? ((char)('a' + index)).ToString()
        : string.Create(CultureInfo.InvariantCulture, $"{(char)('a' + (index % 26))}{index / 26}");

    /// <summary>Something in the van that is no opening and no furniture.</summary>
    /// <param name="Id">Id of the part.</param>
    /// <param name="Letter">Its letter in drawing and table.</param>
    /// <param name="Name">Its name.</param>
    /// <param name="Zone">The zone it stands in, or null.</param>
    /// <param name="Point">Its place on the body, or null.</param>
    /// <param name="Where">Where it is, in words.</param>
    /// <param name="Stage">How far it has come, or null when that is not recorded.</param>
    /// <param name="Does">What it does, in words, or null.</param>
    protected sealed record OtherPart(string Id, string Letter, string Name, Zone? Zone, BodyPoint? Point, string Where, PartState? Stage, string? Does)
    {
        /// <summary>Where it is, what it does and how far it has come.</summary>
        public string InWords() => string.Join(", ", new[] { Where.ToLowerInvariant(), Does, Stage is { } stage ? StageOf(stage) : null }.Where(text => text is not null));

        /// <summary>What it does and how far it has come.</summary>
        public string State() => string.Join("; ", new[] { Does, Stage is { } stage ? StageOf(stage) : null }.Where(text => text is not null)) is { Length: > 0 } text
            ? text
            : DataTable.Nothing;
    }

    /// <summary>A drop and the grams of a night, near a wet surface.</summary>
    protected void WetMark(SurfaceState surface, FigurePoint at, double gap, string what = "", Area2? within = null)
    {
        const double Drop = 9;
        var text = $"{Units.Format(surface.CondensedPerNight)}{(surface.Frost ? " frost" : "")}{what}";
        var width = Drop + 4 + (NarrowRows.WidestLetters * ReportFonts.Width(text, FigureCanvas.TextSize, bold: true));
        var room = within is { } area && area.Width > width + 2 ? within : null;
        var place = Canvas.Find(at.X, at.Y, width, 13, gap, room, leader: true)
            ?? throw new InvalidOperationException($"The drawing has no room for the wet mark of '{surface.Id}'.");
        var end = new FigurePoint(Math.Clamp(at.X, place.X, place.Right), Math.Clamp(at.Y, place.Y, place.Bottom));
        if (Math.Sqrt(Math.Pow(end.X - at.X, 2) + Math.Pow(end.Y - at.Y, 2)) > 8)
        {
            Canvas.Add(new Polyline([at, end]) { Stroke = Ink.Wet, StrokeWidth = 0.7, Subject = surface.Id });
        }

        Canvas.Add(new Box(place.X - 1, place.Y - 1, place.Width + 2, place.Height + 2, 3) { Fill = Ink.Paper, FillOpacity = 0.85, Subject = surface.Id });
        Canvas.Add(new Polyline(DropShape(place.X + (Drop / 2), place.CentreY, Drop), Closed: true)
        {
            Fill = Ink.Wet,
            Subject = surface.Id,
            Hint = $"{surface.Name}: {Units.Format(surface.CondensedPerNight)} a night",
        });
        Canvas.Add(new Label(place.X + Drop + 4, place.CentreY + 3.6, text, FigureCanvas.TextSize, Bold: true) { Fill = Ink.Wet, Subject = surface.Id });
    }

    /// <summary>Glass seen from its edge, and its middle.</summary>
    protected FigurePoint GlassStrip(FigurePoint from, FigurePoint to, Glazing glazing, bool wet)
    {
        var area = Around(from, to).Grown(2.5);
        Canvas.Add(new Box(area.X, area.Y, area.Width, area.Height) { Stroke = Ink.Glass, StrokeWidth = 1, Fill = Ink.Glass, FillOpacity = 0.35, Subject = glazing.Id, Hint = glazing.Name });
        Canvas.Take(area, 2);
        if (wet)
        {
            Hatch(area, glazing.Id);
        }

        return new(area.CentreX, area.CentreY);
    }

    /// <summary>Names of the furniture where there is room for them; what lies behind one another is named once.</summary>
    protected void FurnitureNames(Func<Furniture, Area2> areaOf)
    {
        var written = new List<(string Name, Area2 Area)>();
        foreach (var piece in Design.Body.Furniture)
        {
            var area = areaOf(piece);
            var name = NameOf(piece.Kind);
            var width = ReportFonts.Width(name, FigureCanvas.TextSize);
            if (written.Any(other => other.Name == name && other.Area.Overlap(area) > 0.5 * area.Width * area.Height))
            {
                continue;
            }

            if (Canvas.Find(area.CentreX, area.CentreY, width, FigureCanvas.TextSize, -width / 2, area, worst: 150) is { } place)
            {
                written.Add((name, area));
                Canvas.Add(new Label(place.X, place.Y + 8, name, FigureCanvas.TextSize) { Fill = Ink.Muted, Subject = piece.Id });
            }
            else if (piece.Kind is FurnitureKind.Bed or FurnitureKind.Cooker
                && Canvas.Find(area.CentreX, area.CentreY, width, FigureCanvas.TextSize, area.Height / 2, leader: true) is { } beside)
            {
                // Too narrow to write into, and looked for by everybody: named beside it.
                written.Add((name, area));
                Canvas.Add(new Polyline([new(area.CentreX, area.CentreY), new(Math.Clamp(area.CentreX, beside.X, beside.Right), Math.Clamp(area.CentreY, beside.Y, beside.Bottom))])
                {
                    Stroke = Ink.Rule,
                    StrokeWidth = 0.7,
                    Subject = piece.Id,
                });
                Canvas.Add(new Label(beside.X, beside.Y + 8, name, FigureCanvas.TextSize) { Fill = Ink.Muted, Subject = piece.Id });
            }
        }
    }

    /// <summary>A door of the body by its name, beside it where there is room.</summary>
    protected void DoorName(string name, FigurePoint at, Area2? within = null)
    {
        var width = ReportFonts.Width(name, FigureCanvas.TextSize);
        if (Canvas.Find(at.X, at.Y, width, FigureCanvas.TextSize, within is null ? 8 : -width / 2, within, worst: 150) is { } place)
        {
            Canvas.Add(new Label(place.X, place.Y + 8, name, FigureCanvas.TextSize) { Fill = Ink.Muted });
        }
    }

    /// <summary>A cross over an opening that lining or furniture covers.</summary>
    protected void CoveredMark(Opening opening, Area2 area)
    {
        if (opening.Covered)
        {
            Canvas.Add(new Polyline([new(area.X, area.Y), new(area.Right, area.Bottom)]) { Stroke = Ink.Text, StrokeWidth = 1.4, Subject = opening.Id });
            Canvas.Add(new Polyline([new(area.Right, area.Y), new(area.X, area.Bottom)]) { Stroke = Ink.Text, StrokeWidth = 1.4, Subject = opening.Id });
        }
    }

    /// <summary>Slanting lines in the ink of wetness, cut to a box.</summary>
    protected void Hatch(Area2 area, string subject)
    {
        const double Spacing = 5;
        for (var offset = -area.Height; offset < area.Width; offset += Spacing)
        {
            var from = Math.Max(0, offset);
            var to = Math.Min(area.Width, offset + area.Height);
            if (to - from > 0.5)
            {
                Canvas.Add(new Polyline([new(area.X + from, area.Bottom - (from - offset)), new(area.X + to, area.Bottom - (to - offset))])
                {
                    Stroke = Ink.Wet,
                    StrokeWidth = 1,
                    Subject = subject,
                });
            }
        }
    }

    /// <summary>Net flow and mixing between two zones across a line in the drawing.</summary>
    /// <param name="passage">The passage.</param>
    /// <param name="at">Where it is.</param>
    /// <param name="towardsB">Unit vector from zone A to zone B in the drawing.</param>
    protected void PassageArrows(Passage passage, FigurePoint at, FigurePoint towardsB)
    {
        if (Assessment?.Air.Passages.FirstOrDefault(flow => flow.PassageId == passage.Id) is not { } known)
        {
            return;
        }

        const double Half = 15;
        var lines = new List<string>();
        var hint = $"{passage.Name}: {Units.Format(known.Net)} net, {Units.Format(known.Mixing)} mixing";
        if (IsFlow(VolumeFlow.FromCubicMetersPerSecond(Math.Abs(known.Net.CubicMetersPerSecond))))
        {
            var sign = Math.Sign(known.Net.CubicMetersPerSecond);
            var width = ArrowWidth(known.Net.CubicMetersPerSecond);
            Add([Shifted(-Half * sign, 0), Shifted(Half * sign, 0)], width, dashed: false);
            lines.Add(Units.Format(VolumeFlow.FromCubicMetersPerSecond(Math.Abs(known.Net.CubicMetersPerSecond))));
        }

        if (IsFlow(known.Mixing))
        {
            Add([Shifted(-Half * 0.7, -9), Shifted(Half * 0.7, -9)], 1.1, dashed: true);
            Add([Shifted(Half * 0.7, -15), Shifted(-Half * 0.7, -15)], 1.1, dashed: true);
            lines.Add($"mixing {Units.Format(known.Mixing)}");
        }

        // Both numbers of a passage stay together, or a reader cannot tell whose they are.
        const double Leading = 11;
        var labelWidth = NarrowRows.WidestLetters * lines.Select(text => ReportFonts.Width(text, FigureCanvas.TextSize)).DefaultIfEmpty(0).Max();
        if (lines.Count > 0 && Canvas.Find(at.X, at.Y, labelWidth, Leading * lines.Count, 10) is { } place)
        {
            Canvas.Add(new Box(place.X - 1, place.Y - 1, place.Width + 2, place.Height + 2, 3) { Fill = Ink.Paper, FillOpacity = 0.85, Subject = passage.Id });
            for (var line = 0; line < lines.Count; line++)
            {
                Canvas.Add(new Label(place.X, place.Y + ((line + 1) * Leading) - 2.4, lines[line], FigureCanvas.TextSize) { Fill = Ink.AirWithin, Subject = passage.Id });
            }
        }

        void Add(ImmutableArray<FigurePoint> points, double width, bool dashed)
        {
            Canvas.Add(new Arrow(points, 5 + (1.4 * width)) { Stroke = Ink.AirWithin, StrokeWidth = width, Dashed = dashed, Subject = passage.Id, Hint = hint });
            Canvas.Take(Around(points.AsSpan()).Grown(3), 12);
        }

        FigurePoint Shifted(double along, double aside) => new(
            at.X + (towardsB.X * along) - (towardsB.Y * aside),
            at.Y + (towardsB.Y * along) + (towardsB.X * aside));
    }

    /// <summary>A dimension line with ticks and its value.</summary>
    protected void Dimension(FigurePoint from, FigurePoint to, string text)
    {
        const double Tick = 4;
        var upright = Math.Abs(to.X - from.X) < 0.5;
        Canvas.Line(Ink.Rule, 0.8, false, from, to);
        foreach (var end in new[] { from, to })
        {
            Canvas.Line(Ink.Rule, 0.8, false, new(end.X - Tick, end.Y + Tick), new(end.X + Tick, end.Y - Tick));
        }

        Canvas.Take(Around(from, to).Grown(2), 4);
        if (upright)
        {
            Canvas.Write(from.X + 6, ((from.Y + to.Y) / 2) + 3.6, text, ink: Ink.Text);
        }
        else
        {
            Canvas.Write((from.X + to.X) / 2, from.Y - 4, text, TextAnchor.Middle);
        }
    }

    /// <summary>Scale bar with its scale, and what leaks.</summary>
    protected void Foot(double y)
    {
        var symbol = Units.Symbol(Measure.LargeLength);
        var count = symbol == "ft" ? 3 : 1;
        var bar = (Length)Units.Quantity(Measure.LargeLength, count);
        var left = X(-NoseM);
        var right = left + (bar.Meters * Scale);
        Canvas.Add(new Polyline([new(left, y - 4), new(left, y), new(right, y), new(right, y - 4)])
        {
            Stroke = Ink.Text,
            StrokeWidth = 1.2,
            Subject = "scale-bar",
        });
        Canvas.Write(right + 8, y, string.Create(CultureInfo.InvariantCulture, $"{count}{DisplayUnits.NoBreakSpace}{symbol}; 1:{Denominator} when the plan is printed at full size"), ink: Ink.Muted);
        if (Assessment is { } known)
        {
            Canvas.Write(
                SheetWidth - 4,
                y,
                $"Through cracks: in {Units.Number(Measure.AirFlow, known.Air.LeakageIn)}, out {Units.Format(known.Air.LeakageOut)}",
                TextAnchor.End,
                Ink.Muted);
        }
    }

    /// <summary>The signs that are drawn.</summary>
    protected ImmutableArray<LegendEntry> Legend(bool mixing) => Legend(AnyIn, AnyOut, Assessment is { Air.Passages.Length: > 0 }, mixing, Wet.Count > 0);

    /// <summary>The signs that may come to be drawn, whatever the air does.</summary>
    public ImmutableArray<LegendEntry> WholeLegend()
    {
        var legend = Legend(isIn: true, isOut: true, within: !Design.Passages.IsEmpty, mixing: !Design.Passages.IsEmpty, wet: true);
        return Design.Openings.Any(opening => opening.Face == Face.Right) ? legend.Add(OnTheRight) : legend;
    }

    /// <summary>What thin lines mean.</summary>
    protected static LegendEntry OnTheRight { get; } = new(LegendMark.Thin, Ink.Opening, "On the right wall, behind");

    private ImmutableArray<LegendEntry> Legend(bool isIn, bool isOut, bool within, bool mixing, bool wet)
    {
        var legend = ImmutableArray.CreateBuilder<LegendEntry>();
        foreach (var state in Design.Openings.Select(opening => opening.State).Distinct().Order())
        {
            legend.Add(new(MarkOf(state), Ink.Opening, $"Opening, numbered as in the table: {StageOf(state)}"));
        }

        if (Design.Openings.Any(opening => opening.Covered))
        {
            legend.Add(new(LegendMark.Cross, Ink.Text, "Covered by lining or furniture: no air passes"));
        }

        legend.AddRange(Others.Select(part => new LegendEntry(LegendMark.Square, Ink.Muted, $"{part.Letter} {part.Name}{(part.Stage == PartState.Later ? ", later" : "")}")));
        if (isIn)
        {
            legend.Add(new(LegendMark.Arrow, Ink.AirIn, "Outdoor air in: arrow ends at the opening"));
        }

        if (isOut)
        {
            legend.Add(new(LegendMark.Arrow, Ink.AirOut, "Inside air out: arrow starts at the opening"));
        }

        if (within)
        {
            legend.Add(new(LegendMark.Arrow, Ink.AirWithin, "Air from zone to zone"));
        }

        if (mixing)
        {
            legend.Add(new(LegendMark.Dashed, Ink.AirWithin, "Mixing both ways"));
        }

        if (wet)
        {
            legend.Add(new(LegendMark.Dot, Ink.Wet, "Gets wet: grams in one night"));
        }

        if (isIn || isOut)
        {
            legend.Add(new(LegendMark.Line, Ink.Rule, "A wider arrow is more air"));
        }

        return legend.ToImmutable();
    }

    protected static LegendMark MarkOf(PartState state) => state switch
    {
        PartState.Fitted => LegendMark.Dot,
        PartState.Owned => LegendMark.Square,
        PartState.Proposed => LegendMark.Ring,
        PartState.Later => LegendMark.DashedRing,
        _ => throw new ArgumentOutOfRangeException(nameof(state), state, "Expected how far a part has come."),
    };

    /// <summary>Every opening with state and flow, then leakage and wet surfaces, in sentences.</summary>
    protected string OpeningsInWords()
    {
        var sentences = new List<string>();
        for (var index = 0; index < Design.Openings.Length; index++)
        {
            var opening = Design.Openings[index];
            var flow = FlowOf(opening) is { } words ? ", " + words : "";
            sentences.Add($"{NumberOf(index)} {opening.Name}, {FaceWords(opening.Face).ToLowerInvariant()}, {StateOf(opening)}{flow}{(opening.State is PartState.Later ? "" : ", " + StageOf(opening.State))}.");
        }

        if (sentences.Count == 0)
        {
            sentences.Add("The van has no opening that was made.");
        }

        sentences.AddRange(Others.Select(part => $"{part.Letter} {part.Name}, {part.InWords()}."));

        if (Assessment is { } known)
        {
            sentences.Add($"Cracks let in {Units.Format(known.Air.LeakageIn)} and let out {Units.Format(known.Air.LeakageOut)}.");
            sentences.Add(Wet.Count == 0
                ? "No glass and no bare metal gets wet in this night."
                : "Wet by morning: " + string.Join(", ", Wet.Values.Select(surface => $"{surface.Name} {Units.Format(surface.CondensedPerNight)}")) + ".");
        }

        return string.Join(" ", sentences);
    }

    /// <summary>A polygon with rounded corners, sampled.</summary>
    protected static ImmutableArray<FigurePoint> Rounded(params ReadOnlySpan<(FigurePoint Point, double Radius)> corners)
    {
        const int Steps = 6;
        var points = ImmutableArray.CreateBuilder<FigurePoint>();
        for (var index = 0; index < corners.Length; index++)
        {
            var (corner, radius) = corners[index];
            var before = corners[(index + corners.Length - 1) % corners.Length].Point;
            var after = corners[(index + 1) % corners.Length].Point;
            var start = Towards(corner, before, radius);
            var end = Towards(corner, after, radius);
            for (var step = 0; step <= (radius > 0 ? Steps : 0); step++)
            {
                var t = step / (double)Steps;
                points.Add(new(
                    ((1 - t) * (1 - t) * start.X) + (2 * t * (1 - t) * corner.X) + (t * t * end.X),
                    ((1 - t) * (1 - t) * start.Y) + (2 * t * (1 - t) * corner.Y) + (t * t * end.Y)));
            }
        }

        return points.ToImmutable();

        static FigurePoint Towards(FigurePoint from, FigurePoint to, double distance)
        {
            var length = Math.Sqrt(Math.Pow(to.X - from.X, 2) + Math.Pow(to.Y - from.Y, 2));
            var share = length == 0 ? 0 : Math.Min(0.5, distance / length);
            return new(from.X + ((to.X - from.X) * share), from.Y + ((to.Y - from.Y) * share));
        }
    }

    /// <summary>Name of a piece of furniture as a client would say it.</summary>
    protected static string NameOf(FurnitureKind kind) => kind switch
    {
        FurnitureKind.Bed => "Bed",
        FurnitureKind.Cooker => "Cooker",
        FurnitureKind.Cupboard => "Cupboard",
        FurnitureKind.Lounge => "Lounge",
        FurnitureKind.CabSeat => "Seat",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Expected a kind of furniture."),
    };

    protected static Ink InkOf(FurnitureKind kind) =>
        kind is FurnitureKind.Bed or FurnitureKind.Lounge ? Ink.Bed : Ink.Furniture;

    private static ImmutableArray<FigurePoint> DropShape(double x, double y, double size)
    {
        const int Steps = 12;
        var radius = size * 0.36;
        var centre = y + (size * 0.14);
        var points = ImmutableArray.CreateBuilder<FigurePoint>();
        points.Add(new(x, y - (size / 2)));
        for (var step = 0; step <= Steps; step++)
        {
            var angle = (-0.2 * Math.PI) + (1.4 * Math.PI * step / Steps);
            var (sin, cos) = Math.SinCos(angle);
            points.Add(new(x + (cos * radius), centre + (sin * radius)));
        }

        return points.ToImmutable();
    }
}
